"""Benchmarks: medians, and ratios to a peak loop of the same run."""
