"""Benchmarks: medians, and their ratios to a peak loop of the same run (`make bench`)."""
