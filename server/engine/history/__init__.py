"""What a unit's entries come to: what stands, where the preload went, and when wear will meet a limit."""
