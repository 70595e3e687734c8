"""Where a disc spring's curve meets a load: once, twice beside a peak, or nowhere."""

from ..unit.spring import Disc, deflection_for, flat_at, load, rising_until

# Halvings of the falling branch: as exact as its figures are.
HALVINGS = 60


def crossings(disc: Disc, force: float) -> list[float]:
    """Deflections at which one disc gives a load, mm, from loose to flat.

    Parameters
    ----------
    disc : Disc
        The disc.
    force : float
        Load of one disc, N, above 0.

    Examples
    --------
    A disc whose load peaks gives most loads above that of the flat disc twice.

    >>> steep = Disc(100.0, 51.0, 2.0, 5.6, 206000.0, 0.3, 2.0)
    >>> len(crossings(steep, 3000.0)), len(crossings(steep, load(steep, 3.0))), crossings(steep, 1e6)
    (1, 2, [])
    """
    top, flat = rising_until(disc), flat_at(disc)
    if force > load(disc, top):
        return []
    found = [deflection_for(disc, force)]
    if top < flat and force > load(disc, flat):
        low, high = top, flat
        for _ in range(HALVINGS):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if load(disc, middle) > force else (low, middle)
        found.append(0.5 * (low + high))
    return found
