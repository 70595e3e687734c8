"""A unit: its definition, the unit as built, its stack, spring and friction, and what closing it takes."""
