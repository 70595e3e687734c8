"""Stresses of a disc spring at the five points where it can set or crack.

References
----------
1. DIN EN 16984:2017, Disc springs - Calculation.
2. DIN 2093:2013-12, stresses of the dimension tables.
"""

import math
from typing import NamedTuple

from .spring import Disc, cone_height, k1, k4

# From about here on a disc that is pressed flat sets: DIN EN 16984 for spring steel at rest.
SETTING_NMM2 = 1600.0

Stresses = NamedTuple(
    "Stresses",
    [
        # In the middle of the section, at its pivot: says whether a disc sets.
        ("om", float),
        # Inner edge, above and below.
        ("i", float),
        ("ii", float),
        # Outer edge, below and above.
        ("iii", float),
        ("iv", float),
    ],
)


def k2(delta: float) -> float:
    """Coefficient K2 of [1]_, from delta = De / Di > 1."""
    log = math.log(delta)
    return 6 / math.pi * ((delta - 1) / log - 1) / log


def k3(delta: float) -> float:
    """Coefficient K3 of [1]_, from delta = De / Di > 1."""
    return 3 / math.pi * (delta - 1) / math.log(delta)


def stresses(disc: Disc, s: float) -> Stresses:
    """Stresses of one disc.

    Parameters
    ----------
    disc : Disc
        The disc.
    s : float
        Deflection, mm, from 0 to `flat_at`.

    Returns
    -------
    Stresses
        N/mm2; below 0 is compression.

    Notes
    -----
    Above at point I is the side of the tip of the cone. A disc cracks from II or III, under tension, when its load
    changes often, and sets when OM passes about 1 600 N/mm2.

    Examples
    --------
    Series A, 25 x 12.2 x 1.5: 1 091 N/mm2 at III for 0.75 h0, and 1 622 N/mm2 in compression when flat [2]_.

    >>> disc = Disc(25.0, 12.2, 1.5, 2.05, 206000.0, 0.3, 1.5)
    >>> h0 = cone_height(disc)
    >>> round(stresses(disc, 0.75 * h0).iii), round(stresses(disc, h0).om)
    (1091, -1622)
    """
    delta, t = disc.de / disc.di, disc.reduced
    bend, turn, k = k2(delta), k3(delta), k4(disc)
    unit = 4 * disc.elastic / (1 - disc.poisson**2) * t * t / (k1(delta) * disc.de**2) * k * s / t
    lean = k * ((disc.l0 - t) / t - s / (2 * t))
    return Stresses(
        -unit * 3 / math.pi,
        -unit * (bend * lean + turn),
        -unit * (bend * lean - turn),
        -unit / delta * ((bend - 2 * turn) * lean - turn),
        -unit / delta * ((bend - 2 * turn) * lean + turn),
    )


def flat_stress(disc: Disc) -> float:
    """Stress at OM when the disc is flat, N/mm2; below 0, compression.

    With contact flats it is the one at h0, by which [2]_ tables it and [1]_ sets its limit; the disc is flat a little
    later.
    """
    return stresses(disc, cone_height(disc)).om
