"""A driven axle in a corner: what its wheels can put down, and what the differential does to the car."""
