"""Height of the centre of gravity, measured by lifting one axle.

References
----------
1. W. F. and D. L. Milliken, Race Car Vehicle Dynamics: measuring the height of the centre of gravity; from memory.
"""

import math
from typing import Any

from ..request.errors import BadInput
from ..request.field_names import quoted
from ..request.fields import Choice, Group, Number

# How far off one reading of the scales may be, as a share of the car's weight: common practice, no source.
SCALES_WITHIN = 0.001
# How far off a height or a lift read with a tape may be, mm: common practice, no source.
TAPE_WITHIN_MM = 5.0

LIFTED = Group(
    {
        "axle": Choice(
            {"front": "the front axle", "rear": "the rear axle"},
            "the axle that was lifted",
            label="Axle that was lifted",
        ),
        "lift_mm": Number(
            50, 1500, "mm", "how far its hubs were lifted above their height on level ground", label="Hubs lifted by"
        ),
        "gained_kg": Number(
            0.1,
            1000,
            "kg",
            "weight that the scales under the other axle then gained",
            label="Weight that the other axle gained",
        ),
        "hub_mm": Number(
            100, 1000, "mm", "height of the hubs on level ground", label="Height of the hubs on level ground"
        ),
    },
    "the height of the centre of gravity as it was measured by lifting an axle",
    default=None,
    label="Height of the centre of gravity",
)

CAUTION = (
    "A lifted car can roll or slip off: lift it with a hoist or crane that is made for the load, on level ground, with "
    "blocks under it that would hold it, chocks where the scales let them, and nobody under or beside it. Lock the "
    "springs at ride height, fill the tank or empty it, put the driver's weight in the seat, leave the brakes off and "
    "the gearbox in neutral so that the wheels can roll."
)


def height_of(lifted: dict[str, Any], mass: float, wheelbase: float, path: str) -> float:
    """Height of the centre of gravity, mm.

    Parameters
    ----------
    lifted : dict
        Checked by `LIFTED`.
    mass : float
        Of the whole car as it was weighed, kg.
    wheelbase : float
        From axle to axle, mm.
    path : str
        Path of `lifted`, for refusals.

    Notes
    -----
    Moments about the axle that stays down: h = hub + gained L / (m tan(theta)), sin(theta) = lift / L.

    Examples
    --------
    >>> lifted = {"lift_mm": 600, "gained_kg": 18.0, "hub_mm": 300, "axle": "rear"}
    >>> round(height_of(lifted, 1000.0, 2400.0, ""), 1)
    467.3
    """
    if lifted["lift_mm"] >= 0.6 * wheelbase:
        raise BadInput(path + ".lift_mm", "This must be well below the wheelbase: check both figures.")
    tilt = math.asin(lifted["lift_mm"] / wheelbase)
    height: float = lifted["hub_mm"] + lifted["gained_kg"] * wheelbase / (mass * math.tan(tilt))
    if height > 0.6 * wheelbase:
        raise BadInput(
            path + ".gained_kg",
            f"That puts the centre of gravity far too high: check this and {quoted(LIFTED, 'lift_mm')}.",
        )
    return height


def height_within(lifted: dict[str, Any], mass: float, wheelbase: float) -> float:
    """How far off that height may be, mm, by the scales, the lift and the tape."""
    tilt = math.asin(lifted["lift_mm"] / wheelbase)
    arm = wheelbase / (mass * math.tan(tilt))
    by_scales = SCALES_WITHIN * mass * math.sqrt(2.0) * arm
    by_lift = lifted["gained_kg"] * arm * TAPE_WITHIN_MM / lifted["lift_mm"]
    return math.sqrt(by_scales**2 + by_lift**2 + TAPE_WITHIN_MM**2)
