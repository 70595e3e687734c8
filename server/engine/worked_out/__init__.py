"""What cannot be measured, worked out from what can: depth, free height and friction, each with its doubt."""
