"""The disc spring: a cone of spring steel whose load rises with deflection, bends over, and may fall.

References
----------
1. J. O. Almen, A. Laszlo, The uniform-section disk spring, Trans. ASME 58 (1936), 305-314.
2. DIN EN 16984:2017, Disc springs - Calculation.
3. DIN EN 16983:2017, Disc springs - Quality specifications - Dimensions.
"""

import math
from typing import Any, NamedTuple

from .errors import BadInput, inside
from .fields import Group, Number, Whole

# Spring steel as DIN EN 16984 takes it.
STEEL_NMM2 = 206000.0
STEEL_POISSON = 0.3

FIELDS = Group(
    {
        "de_mm": Number(5, 400, "mm", "outside diameter"),
        "di_mm": Number(2, 390, "mm", "inside diameter"),
        "t_mm": Number(0.1, 20, "mm", "thickness of the disc"),
        "l0_mm": Number(0.15, 40, "mm", "free height of one disc"),
        "parallel": Whole(1, 8, "discs nested the same way, which add their loads", default=1),
        "series": Whole(1, 8, "nests turned against each other, which share the travel", default=1),
        "elastic_nmm2": Number(10000, 400000, "nmm2", "modulus of elasticity", default=STEEL_NMM2),
        "poisson": Number(0.0, 0.49, "", "Poisson's ratio", default=STEEL_POISSON),
    },
    "a disc spring, or a column of equal ones at one place",
)

Disc = NamedTuple(
    "Disc",
    [
        # Outside and inside diameter, thickness and free height of one disc, mm.
        ("de", float),
        ("di", float),
        ("t", float),
        ("l0", float),
        # Modulus of elasticity, N/mm2, and Poisson's ratio.
        ("elastic", float),
        ("poisson", float),
    ],
)


def disc_of(spring: dict[str, Any], path: str = "spring") -> Disc:
    """A `Disc` from checked fields; refuses one that cannot exist."""
    disc = Disc(
        spring["de_mm"],
        spring["di_mm"],
        spring["t_mm"],
        spring["l0_mm"],
        spring["elastic_nmm2"],
        spring["poisson"],
    )
    if disc.di > 0.95 * disc.de:
        raise BadInput(inside(path, "di_mm"), "The inside diameter must be well below the outside diameter.")
    if disc.t > (disc.de - disc.di) / 4:
        raise BadInput(inside(path, "t_mm"), "This disc is too thick for its width: check thickness and diameters.")
    if disc.l0 <= disc.t:
        raise BadInput(
            inside(path, "l0_mm"), "The free height must be above the thickness: otherwise the disc is flat."
        )
    if cone_height(disc) > 4 * disc.t:
        raise BadInput(inside(path, "l0_mm"), "The free height is more than five times the thickness: check both.")
    return disc


def cone_height(disc: Disc) -> float:
    """h0, the height of the cone, mm: free height less thickness."""
    return disc.l0 - disc.t


def k1(delta: float) -> float:
    """Coefficient K1 of [2]_, from delta = De / Di > 1."""
    log = math.log(delta)
    return ((delta - 1) / delta) ** 2 / ((delta + 1) / (delta - 1) - 2 / log) / math.pi


def load(disc: Disc, s: float) -> float:
    """Load of one disc without contact flats.

    Parameters
    ----------
    disc : Disc
        The disc.
    s : float
        Deflection, mm, from 0 to h0; the formula goes on beyond, the disc does not.

    Returns
    -------
    float
        N.

    Notes
    -----
    Above 0.75 h0 the disc rolls on to its edges and the real load climbs above the formula.

    Examples
    --------
    Series A, 50 x 25.4 x 3, tabled at 12 000 N for 0.75 h0 [3]_.

    >>> disc = Disc(50.0, 25.4, 3.0, 4.1, STEEL_NMM2, STEEL_POISSON)
    >>> round(load(disc, 0.75 * cone_height(disc)), -1)
    11980.0
    """
    h0, t = cone_height(disc), disc.t
    stiff = 4 * disc.elastic / (1 - disc.poisson**2) * t**4 / (k1(disc.de / disc.di) * disc.de**2)
    return stiff * (s / t) * ((h0 / t - s / t) * (h0 / t - s / (2 * t)) + 1)
