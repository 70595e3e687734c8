"""The disc spring: a cone of spring steel whose load rises with deflection, bends over, and may fall.

References
----------
1. J. O. Almen, A. Laszlo, The uniform-section disk spring, Trans. ASME 58 (1936), 305-314.
2. DIN EN 16984:2017, Disc springs - Calculation.
3. DIN EN 16983:2017, Disc springs - Quality specifications - Dimensions.
"""

import math
from typing import Any, NamedTuple

from ..request.errors import BadInput, inside
from ..request.field_names import quoted
from ..request.fields import Group, Number, Whole
from ..request.units import say

# Spring steel as DIN EN 16984 takes it.
STEEL_NMM2 = 206000.0
STEEL_POISSON = 0.3

FIELDS = Group(
    {
        "de_mm": Number(5, 400, "mm", "outside diameter", label="Outside diameter De"),
        "di_mm": Number(2, 390, "mm", "inside diameter", label="Inside diameter Di"),
        "t_mm": Number(0.1, 20, "mm", "thickness of the disc", label="Thickness t"),
        "l0_mm": Number(0.15, 40, "mm", "free height of one disc", label="Free height l0"),
        "flats_t_mm": Number(
            0.1, 20, "mm", "reduced thickness of a disc with contact flats", default=None, label="Reduced thickness t'"
        ),
        "parallel": Whole(1, 8, "discs nested the same way, which add their loads", default=1, label="Discs nested"),
        "series": Whole(
            1, 8, "nests turned against each other, which share the travel", default=1, label="Stacked in series"
        ),
        "surface_friction": Number(
            0,
            0.05,
            "",
            "friction between nested discs, w_M of DIN EN 16984; left out if empty",
            default=None,
            label="Friction between nested discs",
        ),
        "edge_friction": Number(
            0,
            0.05,
            "",
            "friction at a column's edges, w_R of DIN EN 16984; left out if empty",
            default=None,
            label="Friction at their edges",
        ),
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
        # The thickness to calculate with, mm: t, or t' of a disc with contact flats.
        ("reduced", float),
    ],
)

Column = NamedTuple(
    "Column",
    [
        ("disc", Disc),
        # Discs nested the same way in each nest.
        ("parallel", int),
        # Nests turned against each other, over all places that hold springs.
        ("nests", int),
    ],
)


def disc_of(spring: dict[str, Any], path: str = "spring") -> Disc:
    """A `Disc` from checked fields; refuses one that cannot exist."""
    flats = spring["flats_t_mm"]
    disc = Disc(
        spring["de_mm"],
        spring["di_mm"],
        spring["t_mm"],
        spring["l0_mm"],
        spring["elastic_nmm2"],
        spring["poisson"],
        spring["t_mm"] if flats is None else flats,
    )
    if disc.di > 0.95 * disc.de:
        raise BadInput(inside(path, "di_mm"), f"This must be well below {quoted(FIELDS, 'de_mm')}.")
    if disc.t > (disc.de - disc.di) / 4:
        raise BadInput(inside(path, "t_mm"), "This disc is too thick for its width: check thickness and diameters.")
    if disc.l0 <= disc.t:
        raise BadInput(
            inside(path, "l0_mm"), "The free height must be above the thickness: otherwise the disc is flat."
        )
    if cone_height(disc) > 4 * disc.t:
        raise BadInput(inside(path, "l0_mm"), "The free height is more than five times the thickness: check both.")
    if not 0.85 * disc.t <= disc.reduced <= disc.t:
        raise BadInput(
            inside(path, "flats_t_mm"),
            f"The reduced thickness must be a little below the thickness, {say(disc.t, 'mm')}: "
            "check it, or leave it empty for a disc without flats.",
        )
    return disc


def cone_height(disc: Disc) -> float:
    """h0, free height less thickness, mm: what tables and the usual travel go by; see `flat_at` for the end of it."""
    return disc.l0 - disc.t


def flat_at(disc: Disc) -> float:
    """How far one disc can be squeezed until it is flat, mm.

    Notes
    -----
    h0 without contact flats; with them h0' = l0 - t' by [2]_, since the flats are taken off the disc's own thickness.

    Examples
    --------
    Series A, 200 x 102 x 12, reduced to 11.25, has 0.75 mm more than its cone height of 4.2.

    >>> flat_at(Disc(200.0, 102.0, 12.0, 16.2, STEEL_NMM2, STEEL_POISSON, 11.25))
    4.949999999999999
    """
    return disc.l0 - disc.reduced


def with_free_height(disc: Disc, l0: float) -> Disc:
    """The same disc with another free height, mm: one that has set, or stands higher than its table."""
    return Disc(disc.de, disc.di, disc.t, l0, disc.elastic, disc.poisson, disc.reduced)


def k1(delta: float) -> float:
    """Coefficient K1 of [2]_, from delta = De / Di > 1."""
    log = math.log(delta)
    return ((delta - 1) / delta) ** 2 / ((delta + 1) / (delta - 1) - 2 / log) / math.pi


def k4(disc: Disc) -> float:
    """Coefficient K4 of [2]_ for contact flats; 1 without them.

    Notes
    -----
    Flats shorten the lever between the two edges, which would raise the load; the reduced thickness brings it back.
    """
    if disc.reduced == disc.t:
        return 1.0
    ratio, height = disc.reduced / disc.t, disc.l0 / disc.t
    c1 = ratio**2 / ((height / 4 - ratio + 3 / 4) * (5 * height / 8 - ratio + 3 / 8))
    c2 = c1 / ratio**3 * (5 / 32 * (height - 1) ** 2 + 1)
    return math.sqrt(math.sqrt(c1 * c1 / 4 + c2) - c1 / 2)


def stiffness(disc: Disc) -> float:
    """4 E / (1 - nu^2) · t^3 / (K1 De^2) · K4^2, the factor that load, rate and energy share, N/mm."""
    modulus = 4 * disc.elastic / (1 - disc.poisson**2)
    return modulus * disc.reduced**3 / (k1(disc.de / disc.di) * disc.de**2) * k4(disc) ** 2


def shape(disc: Disc) -> float:
    """K4 · h0 / t: below sqrt 2 the load rises all the way, above it peaks before the disc is flat."""
    return k4(disc) * flat_at(disc) / disc.reduced


def load(disc: Disc, s: float) -> float:
    """Load of one disc.

    Parameters
    ----------
    disc : Disc
        The disc.
    s : float
        Deflection, mm, from 0 to `flat_at`; the formula goes on beyond, the disc does not.

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

    >>> disc = Disc(50.0, 25.4, 3.0, 4.1, STEEL_NMM2, STEEL_POISSON, 3.0)
    >>> round(load(disc, 0.75 * cone_height(disc)), -1)
    11980.0
    """
    x, h = k4(disc) * s / disc.reduced, shape(disc)
    return stiffness(disc) * s * ((h - x) * (h - x / 2) + 1)


def rate(disc: Disc, s: float) -> float:
    """How fast the load of one disc rises at deflection `s`, N/mm: the derivative of `load`, below 0 past a peak."""
    x, h = k4(disc) * s / disc.reduced, shape(disc)
    return stiffness(disc) * (h * h - 3 * h * x + 1.5 * x * x + 1)


def energy(disc: Disc, s: float) -> float:
    """Energy that one disc holds at deflection `s`, J: the integral of `load` from 0.

    Examples
    --------
    >>> disc = Disc(50.0, 25.4, 3.0, 4.1, STEEL_NMM2, STEEL_POISSON, 3.0)
    >>> round(energy(disc, 0.8), 2)
    4.8
    """
    x, h = k4(disc) * s / disc.reduced, shape(disc)
    return stiffness(disc) * s * s * ((h - x / 2) ** 2 + 1) / 2000.0


def peak(disc: Disc) -> float | None:
    """Deflection at which the load of one disc peaks, mm; None for one whose load rises until it is flat."""
    h = shape(disc)
    below = h * h / 3 - 2 / 3
    if below <= 0:
        return None
    s = (h - math.sqrt(below)) * disc.reduced / k4(disc)
    return s if s < flat_at(disc) else None


def rising_until(disc: Disc) -> float:
    """End of the rising branch, mm: the peak, or flat."""
    top = peak(disc)
    return flat_at(disc) if top is None else top


def deflection_for(disc: Disc, force: float, field: str = "") -> float:
    """Deflection of one disc at a load, on the rising branch: the inverse of `load`.

    Parameters
    ----------
    disc : Disc
        The disc.
    force : float
        Load of one disc, N, 0 or more.
    field : str
        Path of the field that the load stands in, for the refusal.

    Returns
    -------
    float
        mm, 0 to `rising_until`.

    Raises
    ------
    BadInput
        More than the disc can give.

    Examples
    --------
    >>> disc = Disc(50.0, 25.4, 3.0, 4.1, STEEL_NMM2, STEEL_POISSON, 3.0)
    >>> round(deflection_for(disc, load(disc, 0.6)), 9)
    0.6
    """
    low, high = 0.0, rising_until(disc)
    most = load(disc, high)
    if force > most:
        raise BadInput(field, f"One disc gives at most {say(most, 'n')}: {say(force, 'n')} needs another spring.")
    s = high * force / most
    # Newton's steps, kept between bounds that close in: near a peak the rate vanishes and alone they would leap away.
    for _ in range(100):
        error = load(disc, s) - force
        low, high = (low, s) if error > 0 else (s, high)
        slope = rate(disc, s)
        leap = s - error / slope if slope > 0 else low
        following = leap if low < leap < high else (low + high) / 2
        if abs(following - s) <= 1e-15 * high:
            break
        s = following
    return s


def free_height(column: Column) -> float:
    """Height of the unloaded column, mm: nested discs lie in one another and add their thickness only."""
    return column.nests * (column.disc.l0 + (column.parallel - 1) * column.disc.reduced)


def column_load(column: Column, squeeze: float) -> float:
    """Load of a column, N, squeezed by `squeeze` mm in all; friction between nested discs is left out."""
    return column.parallel * load(column.disc, squeeze / column.nests)


def column_energy(column: Column, squeeze: float) -> float:
    """Energy that a column holds, J, squeezed by `squeeze` mm in all."""
    return column.parallel * column.nests * energy(column.disc, squeeze / column.nests)


def column_squeeze(column: Column, force: float, field: str = "") -> float:
    """How far a column is squeezed under `force` N, mm, on the rising branch; refuses what it cannot give."""
    return column.nests * deflection_for(column.disc, force / column.parallel, field)
