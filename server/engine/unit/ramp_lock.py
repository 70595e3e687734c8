"""How far the packs are locked by the torque of the cross pins, as a wrench feels it while the case is held.

References
----------
1. Statics: see `pressing`, which also says how well friction is known.
"""

from typing import Any, NamedTuple

from ..request.fields import Choice, Field, Group, Number, Whole
from .friction import pack_torque
from .pressing import (
    EARS_FRICTION_WITHIN,
    GEARS_WITHIN,
    PLATES_FRICTION_WITHIN,
    RAMP_FRICTION_WITHIN,
    Pressing,
    pressed,
    pressing_of,
)
from .stack import BETWEEN_RINGS, LAYOUTS, SPRING, layout_of

NOT_KNOWN = "not_known"
PLACES_OF_SPRING = {NOT_KNOWN: "not known"}
PLACES_OF_SPRING.update(LAYOUTS)

DRIVE = "drive"
COAST = "coast"


def build_form(ramps: Field) -> Group:
    """The fields of what a wrench feels of a unit besides its preload; `ramps` are those of its definition."""
    return Group(
        {
            "layout": Choice(PLACES_OF_SPRING, "where the spring sits"),
            "first_faces": Whole(0, 200, "sliding faces of the first pack", default=None),
            "second_faces": Whole(0, 200, "sliding faces of the second pack", default=None),
            "radius_mm": Number(2, 400, "mm", "effective radius of the plates", default=None),
            "mu": Number(0.02, 0.5, "", "coefficient of friction, plates in oil", default=None),
            "ramps": ramps,
        },
        "how the unit is built, as far as a wrench feels it besides the preload",
        default=None,
    )


def build_of_unit(definition: dict[str, Any], faces: dict[str, int] | None, radius: float | None) -> dict[str, Any]:
    """What a torque check needs to know of a unit, the fields of `build_form`, as far as it is known.

    Parameters
    ----------
    definition : dict
        A unit's definition, in SI.
    faces : dict or None
        Sliding faces of the first and the second pack.
    radius : float or None
        Effective radius of the plates, mm.
    """
    friction, chain = definition.get("friction"), definition.get("chain") or []
    layout = definition.get("layout")
    if layout is None and any(item["part"] == SPRING for item in chain):
        layout = layout_of(chain, None)
    return {
        "layout": layout or NOT_KNOWN,
        "first_faces": faces["first"] if faces else None,
        "second_faces": faces["second"] if faces else None,
        "radius_mm": radius,
        "mu": friction["mu"] if friction else None,
        "ramps": definition.get("ramps"),
    }


LockingValue = NamedTuple(
    "LockingValue",
    [
        # Locking value of one flank by the figures given.
        ("value", float),
        # The least and the most that it may be, by how well friction is known.
        ("least", float),
        ("most", float),
        # Difference of the two packs' faces as a share of their mean.
        ("uneven", float),
    ],
)


def locking_value(pressing: Pressing, pack_nm_per_n: float) -> float:
    """Locking value of a flank: torque of both packs for each N·m of the pins.

    Parameters
    ----------
    pressing : Pressing
        What presses the packs while the pins carry torque.
    pack_nm_per_n : float
        Torque of one pack for each newton that presses it, N·m.

    Examples
    --------
    >>> round(locking_value(Pressing(10.0, 0.0, 0.0), 0.02), 9)
    0.4
    """
    return 2.0 * pack_nm_per_n * pressed(pressing)


def knows_lock(build: dict[str, Any]) -> bool:
    """Whether a unit's build tells how far its ramps lock."""
    return all(build[name] is not None for name in ("first_faces", "second_faces", "radius_mm", "mu", "ramps"))


def pressing_within(ramps: dict[str, Any], angle: float, way: float) -> Pressing:
    """What presses the packs with every friction and thrust at one end of its range: `way` -1 presses least, 1 most."""
    other, ears = ramps.copy(), ramps.get("ears")
    other["mu"] = max(0.0, ramps["mu"] - way * RAMP_FRICTION_WITHIN)
    other["gears"] = ramps.get("gears")
    other["ears"] = None
    if ears is not None:
        other["ears"] = {"radius_mm": ears["radius_mm"], "mu": max(0.0, ears["mu"] - way * EARS_FRICTION_WITHIN)}
    pressing = pressing_of(other, angle)
    return Pressing(pressing.ramps, pressing.gears * (1 + way * GEARS_WITHIN), pressing.ears)


def lock_of(build: dict[str, Any], flank: str) -> LockingValue:
    """Locking value of a flank, `DRIVE` or `COAST`, of a unit whose build `knows_lock`.

    Notes
    -----
    Where the packs have different numbers of faces, the pack of the free output counts. Which that is is not known, so
    the least and the most cover both.
    """
    ramps, faces = build["ramps"], (build["first_faces"], build["second_faces"])
    angle = ramps[flank + "_deg"]

    def lock(count: float, way: float) -> float:
        mu = build["mu"] * (1 + way * PLATES_FRICTION_WITHIN)
        return locking_value(pressing_within(ramps, angle, way), pack_torque(count, mu, build["radius_mm"], 1.0))

    return LockingValue(
        lock(0.5 * (faces[0] + faces[1]), 0.0),
        lock(min(faces), -1.0),
        lock(max(faces), 1.0),
        2.0 * abs(faces[0] - faces[1]) / max(1, faces[0] + faces[1]),
    )


def adds_to_preload(build: dict[str, Any]) -> bool:
    """Whether the ramps add to the spring from the first newton on; in line they count only once they press harder."""
    return bool(build["layout"] == BETWEEN_RINGS)
