"""From what a driver feels to what to change: the computed figure behind a complaint, and what a change does to it."""
