"""Ramps: how drive and coast torque press the packs, and how far that locks the unit.

The cross pins push the ramp rings apart as wedges. Half of the torque that comes in goes through each ring, at the
radius of the pins.
"""

import math
from typing import Any, NamedTuple

from ..request.errors import BadInput
from ..request.fields import Group, Number, Whole
from ..request.units import say
from ..request.written_in import with_words
from ..unit.as_built import DEFINITION, built_of, crush_of, friction_of, needs_preload, torque_per_newton
from ..unit.definition import FORM as UNIT_FORM
from ..unit.friction import questioned
from ..unit.spring_warnings import concern

BETWEEN_RINGS = "between_rings"

# Ramps shallower than this may wedge: common practice, no source.
SHALLOW_DEG = 20.0

FORM = Group(
    with_words(
        {
            "unit": DEFINITION,
            "ramps": UNIT_FORM.fields["ramps"],
            "crush_mm": Number(0, 100, "mm", "crush, where it is not that of the definition", default=None),
            "measured_nm": Number(
                0.5, 5000, "nm", "breakaway torque measured at this crush, as the order states it", default=None
            ),
            "most_nm": Number(10, 20000, "nm", "largest torque into the case to draw to", default=1000.0),
            "points": Whole(3, 201, "points of each curve", default=41),
        },
        "write_in",
    ),
    "what the ramps do; ramps given here are tried in place of the unit's own",
)

Lock = NamedTuple(
    "Lock",
    [
        # Lock of both packs together from preload alone, N·m.
        ("preload", float),
        # Locking value from the ramps alone.
        ("ramp", float),
        # Whether the spring between the rings adds to the ramps; in line with the packs the larger of both counts.
        ("adds", bool),
    ],
)


def axial_per_torque(angle: float, mu: float, radius: float) -> float:
    """Axial force on each pack for each N·m of torque into the case, N.

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


def bias_ratio(locking: float) -> float | None:
    """Ratio of the two output torques at a locking value from 0; None from 1 up, where it locks solid.

    >>> round(bias_ratio(0.25), 3), round(bias_ratio(0.40), 3)
    (1.667, 2.333)
    """
    return (1.0 + locking) / (1.0 - locking) if locking < 1.0 else None


def lock_at(lock: Lock, torque: float) -> float:
    """Difference of the output torques that the packs can hold, N·m, at a torque into the case.

    Notes
    -----
    A spring in line with the packs is relieved by the ramps: the packs feel the larger of the two. A spring between the
    rings pushes the same way as the ramps: the packs feel both.
    """
    by_ramps = lock.ramp * torque
    return lock.preload + by_ramps if lock.adds else max(lock.preload, by_ramps)


def takes_over_at(lock: Lock) -> float | None:
    """Torque into the case from which the ramps press harder than the spring, N·m; None where they never do or add."""
    if lock.adds or lock.ramp <= 0.0:
        return None
    return lock.preload / lock.ramp


def takes_over_in_words(lock: Lock, unit: str = "nm") -> str:
    """From where on the ramps press harder than the spring, as a table says it, in a unit of torque.

    >>> takes_over_in_words(Lock(100.0, 0.4, True)), takes_over_in_words(Lock(100.0, 0.4, False))
    ('they add from the start', '250.0 N·m')
    >>> takes_over_in_words(Lock(100.0, 0.0, True))
    'never'
    """
    there = takes_over_at(lock)
    if there is not None:
        return say(there, "nm", unit)
    return "they add from the start" if lock.adds and lock.ramp > 0.0 else "never"


def holds_to(lock: Lock) -> float | None:
    """Torque into the case up to which the unit turns as one whatever the grip, N·m; None where it always does."""
    if lock.ramp >= 1.0:
        return None
    return lock.preload / (1.0 - lock.ramp) if lock.adds else lock.preload


def side(lock: Lock, angle: float, most: float, points: int, shown: str) -> dict[str, Any]:
    """One direction of torque as results hold it: its figures and its curve."""
    rows = []
    for place in range(points):
        torque = most * place / (points - 1)
        held = lock_at(lock, torque)
        solid = held >= torque
        rows.append(
            {
                "torque_nm": torque,
                "lock_nm": held,
                "locking_value": 1.0 if solid else held / torque,
                "bias_ratio": None if solid else bias_ratio(held / torque),
            }
        )
    return {
        "angle_deg": angle,
        "locking_value": lock.ramp,
        "bias_ratio": bias_ratio(lock.ramp),
        "solid": lock.ramp >= 1.0,
        "takes_over_nm": takes_over_at(lock),
        "takes_over": takes_over_in_words(lock, shown),
        "holds_to_nm": holds_to(lock),
        "curve": rows,
    }


def ramps(request: dict[str, Any]) -> dict[str, Any]:
    """What the ramps do to the lock, on drive and on coast, for each way the rings can be fitted.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        preload_n, mu, preload_lock_nm (both packs together); fittings, a row each for as_is and turned_over (drive and
        coast angles change places), with drive and coast: angle_deg, locking_value of the ramps alone, bias_ratio (None
        when solid), solid, takes_over_nm, takes_over (the same in words), holds_to_nm, axial_n_per_nm and curve;
        warnings.

    Raises
    ------
    BadInput
        A unit without ramps, or one that contradicts itself.

    References
    ----------
    1. Locking value: difference over sum of the two output torques, the common definition. The rest is statics.
    """
    definition = request["unit"]
    built = built_of(definition)
    given = request["ramps"] or definition["ramps"]
    if given is None:
        raise BadInput("ramps", "Give the ramps: the pins' radius and the angles for drive and coast.")
    crush, field = request["crush_mm"], "crush_mm"
    if crush is None:
        crush, field = crush_of(built, built.solids), "unit.cavity_mm"
    force = needs_preload(built, crush, field)
    measured = request["measured_nm"]
    mu = built.mu if measured is None else friction_of(built, measured, force)
    # Both packs together, for each newton: the case held, the wrench feels just that.
    each = torque_per_newton(built, mu) * 2 / built.stated
    shown = request["write_in"]
    adds = definition["layout"] == BETWEEN_RINGS
    found = []
    doubt = questioned(mu)
    if doubt is not None:
        found.append(concern("friction", doubt))
    fittings = []
    angles = {"drive": given["drive_deg"], "coast": given["coast_deg"]}
    for name, drive, coast in (("as_is", "drive", "coast"), ("turned_over", "coast", "drive")):
        row: dict[str, Any] = {"fitted": name}
        for way, cut in (("drive", drive), ("coast", coast)):
            axial = axial_per_torque(angles[cut], given["mu"], given["pin_radius_mm"])
            lock = Lock(each * force, each * axial, adds)
            row[way] = side(lock, angles[cut], request["most_nm"], request["points"], shown)
            row[way]["axial_n_per_nm"] = axial
            if lock.ramp >= 1.0 and name == "as_is":
                found.append(
                    concern(
                        "solid_" + way,
                        f"On {way} the ramps alone lock it solid (locking value {lock.ramp:.2f}): it will not "
                        "let the wheels turn apart under torque. Check angle, faces and friction.",
                    )
                )
        fittings.append(row)
    if min(angles["drive"], angles["coast"]) < SHALLOW_DEG:
        text = f"A ramp below {SHALLOW_DEG:.0f}° presses very hard and may wedge: check that it lets go again."
        found.append(concern("shallow", text))
    return {
        "crush_mm": crush,
        "preload_n": force,
        "mu": mu,
        "preload_lock_nm": each * force,
        "breakaway_nm": each * force * built.stated / 2,
        "text": f"From preload alone both packs hold {say(each * force, 'nm', shown)} between the outputs.",
        "fittings": fittings,
        "warnings": found,
    }
