"""Benchmarks: `make bench` writes build/bench.json."""

from noonmark.cli.app import spare_threads

spare_threads()  # before numpy is loaded, as the command does
