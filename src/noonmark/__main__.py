"""`python -m noonmark`."""

from noonmark.cli import main

main()
