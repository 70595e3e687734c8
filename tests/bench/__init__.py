"""Measures: `python -m tests.bench` prints each figure beside what it is compared with, from the same run."""
