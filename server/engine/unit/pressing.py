"""What presses the packs while the cross pins carry torque: ramps, bevel gears, and the ears that hold the rings back.

The cross pins push the ramp rings apart as wedges. Half of their torque goes through each ring, at the radius of the
pins, into the slots of the case, at the radius of the ears; and half through each side gear, at its pitch radius.

References
----------
1. Ramps and ears: statics of a wedge with friction.
2. Axial force of a straight bevel gear, Wa = Wt tan(phi) sin(gamma): J. E. Shigley, Mechanical Engineering Design,
   bevel gears, force analysis; from memory.
"""

import math
from typing import Any, NamedTuple

from ..request.errors import BadInput, inside
from ..request.fields import Group, Listing, Number, Text, Whole, YesNo

# How far off friction may be, either way: of plates as a share of the coefficient; of pins on ramps and of ears in
# their slots in the coefficient itself. Common practice, no source.
PLATES_FRICTION_WITHIN = 0.2
RAMP_FRICTION_WITHIN = 0.03
EARS_FRICTION_WITHIN = 0.05

# How far off the gears' thrust may be, as a share of it, for figures taken off the teeth and for the friction between
# them: common practice, no source.
GEARS_WITHIN = 0.1

EARS = Group(
    {
        "radius_mm": Number(
            5, 300, "mm", "radius at which the rings' ears bear in the case's slots", label="Ears bear at radius"
        ),
        "mu": Number(
            0, 0.4, "", "coefficient of friction of ear in slot", default=0.1, label="Friction of ear in slot"
        ),
    },
    "the ramp rings' ears",
    default=None,
)

GEARS = Group(
    {
        "on_packs": YesNo(
            "whether the side gears bear on the ramp rings or packs, and not on the case",
            label="What do the side gears bear on?",
        ),
        "pressure_deg": Number(
            10, 35, "deg", "pressure angle of the teeth", label="Pressure angle of the teeth, degrees"
        ),
        "pitch_radius_mm": Number(
            5, 200, "mm", "radius of a side gear at the middle of its teeth", label="Side gear, radius at mid tooth"
        ),
        "cone_deg": Number(
            10,
            85,
            "deg",
            "pitch cone angle of a side gear, from its own shaft",
            default=None,
            label="Cone angle of a side gear, degrees",
        ),
        "side_teeth": Whole(
            5, 60, "teeth of a side gear, where its cone angle is not known", default=None, label="Teeth of a side gear"
        ),
        "pinion_teeth": Whole(
            5, 60, "teeth of a pinion, where the cone angle is not known", default=None, label="Teeth of a pinion"
        ),
    },
    "the bevel gears",
    default=None,
)

RAMPS = Group(
    {
        "pin_radius_mm": Number(5, 200, "mm", "radius at which the cross pins bear on the ramps", label="Pin radius"),
        "drive_deg": Number(5, 90, "deg", "drive ramp angle from the plane of rotation", label="Drive ramp, degrees"),
        "coast_deg": Number(5, 90, "deg", "coast ramp angle from the plane of rotation", label="Coast ramp, degrees"),
        "mu": Number(
            0, 0.4, "", "coefficient of friction of pin on ramp", default=0.1, label="Friction of pin on ramp"
        ),
        "ears": EARS,
        "gears": GEARS,
    },
    "the ramp rings, and what else presses the packs",
    default=None,
)

# Rings are cut with several pairs of ramps, and kept in several pairs: the unit runs with one of them at a time.
OTHER_RAMPS = Listing(
    Group(
        {
            "name": Text(40, "what this pair is called", label="Name"),
            "drive_deg": Number(5, 90, "deg", "drive ramp angle from the plane of rotation", label="drive, degrees"),
            "coast_deg": Number(5, 90, "deg", "coast ramp angle from the plane of rotation", label="coast, degrees"),
            "pin_radius_mm": Number(
                5,
                200,
                "mm",
                "radius at which the cross pins bear on them; as on the ramps in use if empty",
                default=None,
                label="pin radius",
            ),
        },
        "a pair of ramps",
    ),
    0,
    12,
    "other pairs of ramps that it can run with, on the same rings or on others",
    default=[],
    nouns="pairs of ramps",
)

Pressing = NamedTuple(
    "Pressing",
    [
        # Axial force on each pack for each N·m of torque into the case, N: of the ramps, of the bevel gears, and what
        # the ears take from both.
        ("ramps", float),
        ("gears", float),
        ("ears", float),
    ],
)


def axial_per_torque(angle: float, mu: float, radius: float) -> float:
    """Axial force of the ramps on each pack for each N·m of torque into the case, N.

    Parameters
    ----------
    angle : float
        Ramp angle from the plane of rotation, degrees, above 0 up to 90.
    mu : float
        Coefficient of friction of pin on ramp.
    radius : float
        Radius at which the pins bear, mm.

    Returns
    -------
    float
        0 where friction alone holds the wedge, at 90 degrees or a little before.

    Notes
    -----
    F = T / (2 r) · cot(alpha + phi) with phi = atan mu: the wedge with friction, from statics.

    Examples
    --------
    >>> round(axial_per_torque(45.0, 0.0, 50.0), 9), axial_per_torque(90.0, 0.0, 50.0)
    (10.0, 0.0)
    """
    # cot(alpha + phi), written so that 90 degrees give exactly nothing.
    sine, cosine = math.sin(math.radians(angle)), math.cos(math.radians(angle))
    if angle >= 90.0 or cosine <= mu * sine:
        return 0.0
    return 1000.0 / (2.0 * radius) * (cosine - mu * sine) / (sine + mu * cosine)


def cone_of(gears: dict[str, Any], path: str) -> float:
    """Pitch cone angle of a side gear, degrees: as given, else by its teeth, the shafts being square to each other.

    Raises
    ------
    BadInput
        Neither the angle nor both numbers of teeth.
    """
    given: float | None = gears["cone_deg"]
    if given is not None:
        return given
    if gears["side_teeth"] is None or gears["pinion_teeth"] is None:
        raise BadInput(
            inside(path, "cone_deg"), "Give the cone angle, or count the teeth of a side gear and of a pinion."
        )
    return math.degrees(math.atan2(gears["side_teeth"], gears["pinion_teeth"]))


def thrust_per_torque(pressure: float, cone: float, radius: float) -> float:
    """Axial force of a side gear for each N·m of torque into the case, N.

    Parameters
    ----------
    pressure, cone : float
        Pressure angle and pitch cone angle of the side gear, degrees.
    radius : float
        Its radius at the middle of the teeth, mm.

    Notes
    -----
    Wa = Wt tan(phi) sin(gamma) [2]_, with half of the torque at each side gear. It pushes the gear away from the
    pinions whichever way it is driven.

    Examples
    --------
    >>> round(thrust_per_torque(22.5, 58.0, 30.0), 2)
    5.85
    """
    return 1000.0 / (2.0 * radius) * math.tan(math.radians(pressure)) * math.sin(math.radians(cone))


def pressing_of(ramps: dict[str, Any], angle: float, path: str = "ramps") -> Pressing:
    """What presses each pack at a ramp angle, degrees.

    Parameters
    ----------
    ramps : dict
        Checked by `RAMPS`.
    angle : float
        The ramp in use, degrees.
    path : str
        Path of `ramps`, for refusals.

    Notes
    -----
    While torque rises the rings move outwards and the ears' friction holds them back, by mu T / (2 R). While it falls
    friction of ramps and ears acts the other way and the packs let go later: that is left out.
    """
    ears, gears = ramps["ears"], ramps["gears"]
    thrust = 0.0
    if gears is not None:
        cone = cone_of(gears, inside(path, "gears"))
        if gears["on_packs"]:
            thrust = thrust_per_torque(gears["pressure_deg"], cone, gears["pitch_radius_mm"])
    held = 0.0 if ears is None else 1000.0 * ears["mu"] / (2.0 * ears["radius_mm"])
    return Pressing(axial_per_torque(angle, ramps["mu"], ramps["pin_radius_mm"]), thrust, held)


def pressed(pressing: Pressing) -> float:
    """Axial force that reaches each pack for each N·m of torque into the case, N; 0 where the ears' friction holds it.

    >>> pressed(Pressing(10.0, 5.0, 1.0)), pressed(Pressing(0.0, 0.0, 1.0))
    (14.0, 0.0)
    """
    return max(0.0, pressing.ramps + pressing.gears - pressing.ears)
