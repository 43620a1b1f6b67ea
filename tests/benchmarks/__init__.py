"""Benchmarks: run by hand, never by the tests. Each figure is a ratio against a baseline measured in the same run."""
