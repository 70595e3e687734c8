"""How far a new disc spring may differ from its table.

References
----------
1. DIN EN 16983:2017, tolerances on load and free height, as a spring maker's table gives them; above 6 mm from memory.
"""

from .spring import Column, column_energy, column_load, cone_height, flat_at, load, rising_until, with_free_height

# The share of its travel at which the load of a new disc is tested.
TEST_TRAVEL = 0.75

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


def most_to_expect(column: Column, squeeze: float) -> tuple[float, float]:
    """Largest load, N, and energy, J, of a column of new discs on its way to `squeeze` mm of the table's discs.

    Parameters
    ----------
    column : Column
        Discs as their table has them.
    squeeze : float
        mm of the whole column; below 0 the stack is loose, and a higher spring may reach the cover still.

    Notes
    -----
    Two extremes that [1]_ allows: a disc of the table's height whose load is as high as allowed, and a disc as tall as
    allowed with the same load where it is tested. At a small travel the height counts more. A load that peaks before
    flat has to be held at its peak on the way, however far it falls beyond.

    Examples
    --------
    Series A, 50 x 25.4 x 3: 15 % more at three quarters of its travel, where it is tested, 39 % at a third [1]_.

    >>> from server.engine.unit.spring import Disc
    >>> column = Column(Disc(50.0, 25.4, 3.0, 4.1, 206000.0, 0.3, 3.0), 1, 1)
    >>> [round(most_to_expect(column, s)[0] / column_load(column, s), 2) for s in (0.825, 0.4)]
    [1.15, 1.39]
    """
    disc = column.disc
    more, height = 1 + load_tolerance(disc.t)[0] / 100, height_tolerance(disc.t)[0]
    tall = with_free_height(disc, disc.l0 + height)
    test = TEST_TRAVEL * cone_height(disc)
    same = more * load(disc, test) / load(tall, test + height)
    loads, energies = [], []
    for extreme, taller, factor in ((disc, 0.0, more), (tall, height, same)):
        springs = Column(extreme, column.parallel, column.nests)
        reached = max(0.0, squeeze + column.nests * taller)
        loads.append(factor * column_load(springs, min(reached, column.nests * rising_until(extreme))))
        energies.append(factor * column_energy(springs, min(reached, column.nests * flat_at(extreme))))
    return max(loads), max(energies)
