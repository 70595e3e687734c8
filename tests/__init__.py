"""Slipbook's tests. `python -m tests` runs linters, type checks and all of them."""

# Over which store tests run that are not about files: see `tests/server/stores.py`.
STORE = "SLIPBOOK_TEST_STORE"
