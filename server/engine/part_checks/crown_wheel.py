"""By how much backlash changes where the crown wheel moves sideways: from its geometry, from tries, or as is usual."""

import math
from typing import Any, NamedTuple

from ..doubt.budget import TWO_SIDED_95, even
from ..request.errors import BadInput

# Backlash for each mm sideways where nothing is known of the gears: common practice, no source.
USUAL_RATIO, USUAL_LOW, USUAL_HIGH = 0.7, 0.5, 0.9
# The angles hold at the middle of the tooth, and the contact is somewhere near it: common practice, no source.
GEOMETRY_WITHIN = 0.1
# Radius at the heel over radius at the middle of the tooth, where nobody gave both: common practice, no source.
USUAL_HEEL, HEEL_LOW, HEEL_HIGH = 1.1, 1.0, 1.2
# Sideways for each mm that the pinion goes deeper, so that backlash stays: common practice, no source.
USUAL_WITH_PINION = 0.25
# What a pack of shims may be off by, measured with a micrometer: common practice, no source.
SHIM_MM = 0.005
# A slope that is less sure than this share of itself teaches nothing.
SURE_ENOUGH = 0.5

Ratio = NamedTuple(
    "Ratio",
    [
        # Change of backlash for each mm that the crown wheel moves away from the pinion, as the gauge reads it.
        ("value", float),
        ("low", float),
        ("high", float),
        # A word of `RATIOS`.
        ("source", str),
    ],
)

RATIOS = {
    "tries": "measured, from what was tried",
    "geometry": "from the gears' angles",
    "usual": "common practice, no source",
}

Slope = NamedTuple("Slope", [("value", float), ("expanded", float)])


def cone_of(gears: dict[str, Any]) -> float | None:
    """Pitch cone angle of the crown wheel in radians, from the drawing or from both numbers of teeth.

    With shafts at a right angle its tangent is the ratio of the teeth [1]_; a hypoid pinion's offset changes it by a
    few degrees, and its sine by less than 5 %.

    References
    ----------
    1. ISO 23509:2016, bevel and hypoid gear geometry, from memory.
    """
    if gears["cone_deg"] is not None:
        return math.radians(gears["cone_deg"])
    crown, pinion = gears["crown_teeth"], gears["pinion_teeth"]
    if crown is None or pinion is None:
        return None
    if pinion >= crown:
        raise BadInput("gears.pinion_teeth", "The pinion has fewer teeth than the crown wheel.")
    return math.atan(crown / pinion)


def by_geometry(gears: dict[str, Any] | None) -> Ratio | None:
    """Backlash for each mm sideways from the gears; None where pressure angle, spiral angle or cone angle is missing.

    Notes
    -----
    Each flank's normal at the pitch point has the part sin(pressure) sin(cone) along the crown wheel's axis, and
    cos(pressure) cos(spiral) along its circumference. Sliding sideways by 1 mm opens one flank by the first; turning
    back until it touches takes tan(pressure) sin(cone) / cos(spiral) of circumference. What the spiral adds to one
    flank it takes from the other, so that the backlash, both together, is

        2 tan(pressure) sin(cone) / cos(spiral)

    at the middle of the tooth. Makers' handbooks of bevel gears give the same for setting them; from memory. A gauge
    further out reads more by the radius; square to the flank that it touches, less by cos(pressure) cos(spiral).
    """
    if gears is None or gears["pressure_deg"] is None or gears["spiral_deg"] is None:
        return None
    cone = cone_of(gears)
    if cone is None:
        return None
    pressure = math.radians(gears["pressure_deg"])
    spiral = math.radians(gears["spiral_deg"])
    other = pressure if gears["other_pressure_deg"] is None else math.radians(gears["other_pressure_deg"])
    ratio = (math.tan(pressure) + math.tan(other)) * math.sin(cone) / math.cos(spiral)
    if gears["along"] == "tooth":
        ratio *= math.cos(pressure) * math.cos(spiral)
    middle, gauge = gears["mean_radius_mm"], gears["gauge_radius_mm"]
    if middle is not None and gauge is not None:
        if not 0.5 * middle <= gauge <= 2 * middle:
            text = "This must be between half and twice “Pitch radius, middle of the tooth”."
            raise BadInput("gears.gauge_radius_mm", text)
        out = low = high = gauge / middle
    else:
        out, low, high = USUAL_HEEL, HEEL_LOW, HEEL_HIGH
    within = GEOMETRY_WITHIN * ratio * out
    return Ratio(
        ratio * out,
        ratio * out - math.sqrt(within**2 + (ratio * (out - low)) ** 2),
        ratio * out + math.sqrt(within**2 + (ratio * (high - out)) ** 2),
        "geometry",
    )


def with_pinion(gears: dict[str, Any] | None) -> float:
    """How far away the crown wheel moves for each mm that the pinion goes deeper, so that backlash stays.

    The flank's normal has the part sin(pressure) cos(cone) along the pinion's axis: the cotangent of the cone angle,
    with shafts that meet at a right angle; what is usual, where nothing is known.
    """
    cone = None if gears is None else cone_of(gears)
    return USUAL_WITH_PINION if cone is None else 1 / math.tan(cone)


def position(shims: dict[str, Any]) -> float | None:
    """Where the shims put the crown wheel, mm away from the pinion; None unless both sides are known.

    Both bearings give way alike, so that of a shim on one side alone half shifts the crown wheel.
    """
    behind, tooth = shims["behind_mm"], shims["tooth_mm"]
    return None if behind is None or tooth is None else (tooth - behind) / 2


def total(shims: dict[str, Any]) -> float | None:
    """All shims of the carrier, mm; None unless both sides are known."""
    behind, tooth = shims["behind_mm"], shims["tooth_mm"]
    return None if behind is None or tooth is None else tooth + behind


def slope_of(points: list[tuple[float, float]], u_along: float, u_up: float) -> Slope | None:
    """The line through what was tried, by least squares, with its expanded uncertainty (k = 1.96).

    Parameters
    ----------
    points : list of pair
        Shims (mm) and what was read there.
    u_along, u_up : float
        Standard uncertainty of each. From three points on, what they scatter counts where it is more.

    Returns
    -------
    Slope or None
        None with less than two different shims.

    References
    ----------
    1. JCGM 100:2008, 5.1.2, H.3.
    """
    count = len(points)
    if count < 2:
        return None
    middle = sum(x for x, _ in points) / count
    height = sum(y for _, y in points) / count
    spread = sum((x - middle) ** 2 for x, _ in points)
    if spread < 1e-12:
        return None
    slope = sum((x - middle) * (y - height) for x, y in points) / spread
    variance = u_up**2 + (slope * u_along) ** 2
    if count > 2:
        rest = sum((y - height - slope * (x - middle)) ** 2 for x, y in points)
        variance = max(variance, rest / (count - 2))
    return Slope(slope, TWO_SIDED_95 * math.sqrt(variance / spread))


def is_sure(slope: Slope | None) -> bool:
    """Whether a slope rises, and is known well enough to go by."""
    return slope is not None and slope.value > 0 and slope.expanded <= SURE_ENOUGH * slope.value


def shim_doubt(sides: int) -> float:
    """Standard uncertainty of the sum of so many packs of shims, mm."""
    return math.sqrt(sides) * even(SHIM_MM)
