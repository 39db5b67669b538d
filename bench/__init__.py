"""Benchmarks: medians, and their ratios to a peak loop of the same run (`make bench`)."""

from noonmark.cli.app import spare_threads

spare_threads()  # before numpy is loaded, as the command does
