"""A unit on the car: lock of the ramps on drive and coast, and traction."""
