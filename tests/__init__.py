"""Slipbook's tests. `python -m tests` runs linters, type checks and all of them."""
