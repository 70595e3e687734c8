"""What a new disc spring may differ by from its table.

References
----------
1. DIN EN 16983:2017, tolerances on load and free height, as a spring maker's table gives them; above 6 mm from memory.
"""

# Up to this thickness, mm: load at 0.75 h0 above and below its table, %; free height above and below, mm.
TOLERANCES = [
    (1.25, 25.0, 7.5, 0.10, 0.05),
    (2.0, 15.0, 7.5, 0.15, 0.08),
    (3.0, 15.0, 7.5, 0.20, 0.10),
    (6.0, 10.0, 5.0, 0.30, 0.15),
]
THICKER = (5.0, 5.0, 0.30, 0.30)


def row_for(t: float) -> tuple[float, float, float, float]:
    """Load above and below, %, free height above and below, mm, of a new disc `t` mm thick."""
    for most, load_above, load_below, height_above, height_below in TOLERANCES:
        # The first row ends below 1.25 mm, the others with their own thickness.
        if t < most or (t == most and most > TOLERANCES[0][0]):
            return load_above, load_below, height_above, height_below
    return THICKER


def load_tolerance(t: float) -> tuple[float, float]:
    """How far the load of a new disc may lie above and below its table, in percent.

    >>> load_tolerance(1.2), load_tolerance(1.25), load_tolerance(3.5)
    ((25.0, 7.5), (15.0, 7.5), (10.0, 5.0))
    """
    return row_for(t)[:2]


def height_tolerance(t: float) -> tuple[float, float]:
    """How far the free height of a new disc may lie above and below its table, mm.

    >>> height_tolerance(2.0), height_tolerance(2.5)
    ((0.15, 0.08), (0.2, 0.1))
    """
    return row_for(t)[2:]
