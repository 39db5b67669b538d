"""The command line: a thin face over design, study, cards and sheets."""

from noonmark.cli.app import main

__all__ = ["main"]
