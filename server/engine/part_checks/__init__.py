"""Parts measured against their limits: plates, springs, ramp rings, and the unit back in its axle."""
