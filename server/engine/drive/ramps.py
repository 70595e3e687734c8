"""Ramps: how drive and coast torque press the packs, and how far that locks the unit.

The cross pins push the ramp rings apart as wedges, and bevel gears that bear on them help; see `unit.pressing`.
"""

from typing import Any

from ..request.fields import Group, Number, Whole
from ..request.rounded import fixed
from ..request.units import say
from ..request.written_in import with_written_in
from ..unit.friction import friction_warning
from ..unit.marks import marked_concerns
from ..unit.pressing import RAMPS, Pressing, pressed
from ..unit.spring_warnings import concern
from .known_unit import (
    BUILT_NOW,
    BY_HAND,
    Known,
    adds_to_ramps,
    known_unit,
    lock_of,
    lock_per_newton,
    preload_lock,
    ramps_in_use,
    warm_force,
)
from .lock import Lock, bias_ratio, holds_to, lock_at, percent, range_in_words, takes_over_at, takes_over_in_words
from .lock_range import Cause, ends_of, range_of, shares_of

# Ramps shallower than this may wedge: common practice, no source.
SHALLOW_DEG = 20.0

FORM = Group(
    with_written_in(
        {
            "built": BUILT_NOW,
            "unit": BY_HAND["unit"],
            "ramps": Group(RAMPS.fields, RAMPS.meaning, default=None),
            "crush_mm": BY_HAND["crush_mm"],
            "measured_nm": BY_HAND["measured_nm"],
            "most_nm": Number(10, 20000, "nm", "largest torque into the case to draw to", default=1000.0),
            "points": Whole(3, 201, "points of each curve", default=41),
        },
        "write_in",
    ),
    "what the ramps do; ramps given here are tried in place of the unit's own",
)


def locking(lock: Lock) -> float:
    """The locking value without the preload."""
    return lock.ramp


def from_preload(lock: Lock) -> float:
    """The lock from preload alone, N·m."""
    return lock.preload


def curve(lock: Lock, causes: list[Cause], most: float, points: int) -> list[dict[str, Any]]:
    """The lock over the torque into the case, a row for each point, with its range."""
    rows = []
    for place in range(points):
        torque = most * place / (points - 1)
        held = lock_at(lock, torque)
        low, high = ends_of(lambda possible, at=torque: lock_at(possible, at), lock, causes)
        solid = held >= torque
        rows.append(
            {
                "torque_nm": torque,
                "lock_nm": held,
                "low_nm": low,
                "high_nm": high,
                "locking_value": 1.0 if solid else held / torque,
                "bias_ratio": None if solid else bias_ratio(held / torque),
            }
        )
    return rows


def bias_in_words(locking_value: float) -> str:
    """A bias ratio as a table shows it."""
    bias = bias_ratio(locking_value)
    return "locked" if bias is None else fixed(bias, 1)


def figures_of_side(lock: Lock, causes: list[Cause], angle: float, torque_unit: str) -> dict[str, Any]:
    """One direction of torque as results hold it: its figures and their range."""
    low, high = range_of(locking, lock, causes)
    return {
        "angle_deg": angle,
        "locking_value": lock.ramp,
        "locking_low": low,
        "locking_high": high,
        "locking": percent(lock.ramp),
        "locking_range": range_in_words(percent(low), percent(high)),
        "bias_ratio": bias_ratio(lock.ramp),
        "bias_low": bias_ratio(low),
        "bias_high": bias_ratio(high),
        "bias": bias_in_words(lock.ramp),
        "bias_range": range_in_words(bias_in_words(low), bias_in_words(high)),
        "solid": lock.ramp >= 1.0,
        "takes_over_nm": takes_over_at(lock),
        "takes_over": takes_over_in_words(lock, torque_unit),
        "holds_to_nm": holds_to(lock),
        "doubt": shares_of(locking, causes),
    }


def side(lock: Lock, causes: list[Cause], angle: float, request: dict[str, Any]) -> dict[str, Any]:
    """The same with its curve."""
    row = figures_of_side(lock, causes, angle, request["write_in"])
    row["curve"] = curve(lock, causes, request["most_nm"], request["points"])
    return row


def pressing_row(pressing: Pressing, each: float) -> dict[str, Any]:
    """What presses the packs, as results hold it: forces for each N·m, and what each does to the locking value."""
    shares = [f"ramps {fixed(100 * each * pressing.ramps, 0)} %"]
    if pressing.gears > 0.0:
        shares.append(f"bevel gears {fixed(100 * each * pressing.gears, 0)} % more")
    if pressing.ears > 0.0:
        shares.append(f"the rings' ears {fixed(100 * each * pressing.ears, 0)} % less")
    return {
        "pressed_by": ", ".join(shares) if len(shares) > 1 else "",
        "axial_n_per_nm": pressed(pressing),
        "from_ramps": each * pressing.ramps,
        "from_gears": each * pressing.gears,
        "from_ears": 0.0 - each * pressing.ears,
    }


def ramp_concerns(sides: dict[str, dict[str, Any]], shallowest: float) -> list[dict[str, Any]]:
    """What to know about the ramps as they are fitted."""
    concerns = []
    for way in ("drive", "coast"):
        value, high = sides[way]["locking_value"], sides[way]["locking_high"]
        if value >= 1.0:
            text = (
                f"On {way} the ramps lock it solid whatever the preload (locking value {fixed(value, 2)}): under "
                "torque the wheels cannot turn at different speeds. Check angle, faces and friction."
            )
            concerns.append(concern("solid_" + way, text))
        elif high >= 1.0:
            text = (
                f"On {way} it may lock solid: the locking value is most likely {fixed(value, 2)}, but may be up to "
                f"{fixed(high, 2)}, since friction is never known exactly."
            )
            concerns.append(concern("may_lock_" + way, text))
    if shallowest < SHALLOW_DEG:
        text = f"A ramp below {fixed(SHALLOW_DEG, 0)}° presses very hard and may wedge: check that it releases again."
        concerns.append(concern("shallow", text))
    return concerns


def warm_row(known: Known, each: float) -> dict[str, Any] | None:
    """What the preload comes to once the unit is warm, or None."""
    force = warm_force(known)
    if force is None:
        return None
    change = 100.0 * (force / known.force - 1.0)
    return {"preload_n": force, "preload_lock_nm": each * force, "change_percent": change}


def other_pairs(known: Known, given: dict[str, Any]) -> list[dict[str, Any]]:
    """What each other pair of ramps of the unit would do in place of those `given`, in words, on drive and on coast."""
    rows = []
    for place, pair in enumerate(known.definition["other_ramps"]):
        tried, row = given.copy(), {"name": pair["name"]}
        tried.update({name: pair[name] for name in ("drive_deg", "coast_deg")})
        if pair["pin_radius_mm"] is not None:
            tried["pin_radius_mm"] = pair["pin_radius_mm"]
        for way in ("drive", "coast"):
            lock, _, causes = lock_of(known, tried, tried[way + "_deg"], f"{known.path}.other_ramps.{place}")
            low, high = range_of(locking, lock, causes)
            row[way] = {
                "angle_deg": tried[way + "_deg"],
                "locking_value": lock.ramp,
                "locking": percent(lock.ramp),
                "locking_range": range_in_words(percent(low), percent(high)),
            }
        rows.append(row)
    return rows


def basis_of(known: Known) -> str:
    """What the lock was worked out from, in one sentence."""
    if known.force is None:
        return (
            "Worked out from the torque measured since and the friction of its definition: the spring or the depth is "
            "not known, so how hard the ramps press depends on that friction."
        )
    if known.measured is None:
        return (
            "Worked out from the unit as it is built now; no torque was measured since, so by the friction of its "
            "definition."
        )
    return "Worked out from the unit as it is built now, with the torque measured since."


def ramps(request: dict[str, Any]) -> dict[str, Any]:
    """What the ramps do to the lock, on drive and on coast, for each way the rings can be fitted.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        preload_n and crush_mm (None where the measured torque serves without them), mu, preload_lock_nm (both packs
        together) with its low and high and what its doubt is made of; measured, whether friction follows from a
        measured torque; basis, what it rests on in words; warm; adds, whether the spring adds to the ramps; fittings, a
        row each for as_is and turned_over (drive and coast angles change places), with drive and coast: angle_deg,
        locking_value of ramps and gears without the preload, bias_ratio (None when solid), each with low, high and a
        text; solid, takes_over_nm, takes_over (the same in words), holds_to_nm, what presses, doubt and curve; others,
        the lock of each other pair of ramps that the unit has; warnings.

    Raises
    ------
    BadInput
        A unit without ramps, or one that contradicts itself.

    References
    ----------
    1. Locking value: difference over sum of the two output torques, the common definition. The rest is statics.
    """
    known = known_unit(request)
    given, path = ramps_in_use(known, request["ramps"])
    each, sides = lock_per_newton(known), {}
    for way in ("drive", "coast"):
        angle = given[way + "_deg"]
        lock, pressing, causes = lock_of(known, given, angle, path)
        sides[way] = side(lock, causes, angle, request)
        sides[way].update(pressing_row(pressing, each))
    # The causes of either flank will do: the lock from preload alone has no flank.
    low, high = range_of(from_preload, lock, causes)
    warning = None if known.force is None else friction_warning(known.mu)
    torque_unit = request["write_in"]
    likely = preload_lock(known)
    return {
        "crush_mm": known.crush,
        "preload_n": known.force,
        "mu": known.mu,
        "measured": known.measured is not None and known.force is not None,
        "basis": basis_of(known),
        "adds": adds_to_ramps(known),
        "preload_lock_nm": likely,
        "preload_lock_low_nm": low,
        "preload_lock_high_nm": high,
        "preload_doubt": shares_of(from_preload, causes),
        "breakaway_nm": likely * known.built.stated / 2,
        "warm": warm_row(known, each),
        "text": f"From preload alone both packs hold {say(likely, 'nm', torque_unit)} between the outputs "
        f"({say(low, 'nm', torque_unit)} to {say(high, 'nm', torque_unit)}).",
        "fittings": [
            {"fitted": "as_is", "drive": sides["drive"], "coast": sides["coast"]},
            {"fitted": "turned_over", "drive": sides["coast"], "coast": sides["drive"]},
        ],
        "others": other_pairs(known, given),
        "warnings": marked_concerns(known.definition, friction=known.measured is None)
        + ([] if warning is None else [concern("friction", warning)])
        + ramp_concerns(sides, min(given["drive_deg"], given["coast_deg"])),
    }
