"""A car as the workshop knows it, as far as a corner needs it."""
