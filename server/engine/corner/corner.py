"""A steady corner: what the differential does to a driven axle at one lateral acceleration and one throttle.

Left out: grip that falls past its peak, aerodynamics, roll angle, steer angle, rolling resistance, transients.
"""

import math
from typing import Any

from ..drive.candidates import FITTED
from ..drive.known_unit import BUILT_NOW
from ..drive.lock import Lock
from ..request.errors import BadInput
from ..request.fields import Choice, Field, Group, Number, YesNo
from ..request.units import say
from ..request.written_in import with_written_in
from ..unit.pressing import RAMPS
from .axle import STIFFNESS, STIFFNESS_HIGH, STIFFNESS_LOW, Axle, mean_grip, side_left, yaw_moment
from .balanced import (
    Corner,
    Shared,
    beyond_most,
    carried_at,
    holds_together,
    is_simple,
    lifting_torque,
    lifts_at,
    most_at,
    turned_by,
    turning_point,
)
from .difference import INNER_FASTER, LOCKED, OPEN, OUTER_FASTER, SOLID, Locks, held_at, state_of
from .limits import at_limit, even_lock
from .unit_locks import UnitLocks, range_on_drive, unit_locks

AXLES = {"rear": "the rear axle is driven", "front": "the front axle is driven"}

# The axle and its corner; grip, load sensitivity and stiffness have usual figures: common practice, no source.
ON_AXLE: dict[str, Field] = {
    "axle": Choice(AXLES, "which axle is driven", default="rear"),
    "mass_kg": Number(100, 10000, "kg", "mass of the whole car with its driver"),
    "cg_mm": Number(50, 2000, "mm", "height of its centre of gravity"),
    "track_mm": Number(500, 3000, "mm", "from wheel to wheel on the driven axle"),
    "wheelbase_mm": Number(1000, 6000, "mm", "from axle to axle"),
    "weight_share": Number(0.05, 0.95, "", "share of the weight on the driven axle"),
    "transfer_share": Number(0, 1, "", "share of the load transfer across that the driven axle carries", default=0.5),
    "tyre_mm": Number(100, 1500, "mm", "rolling radius of the driven wheels"),
    "grip": Number(0.02, 3, "", "coefficient of friction sideways of the tyres at their standing load"),
    "along": Number(0.3, 2, "", "grip along as a share of that sideways", default=1.0),
    "sensitivity": Number(0, 1 / 3, "", "share of the grip that is lost where the load doubles", default=0.1),
    "stiffness": Number(2, 200, "", "force along for each newton of load at a slip of 1", default=STIFFNESS),
}

IN_CORNER: dict[str, Field] = ON_AXLE.copy()
IN_CORNER.update(
    {
        "lateral_ms2": Number(0, 40, "ms2", "lateral acceleration"),
        "radius_m": Number(2, 1e6, "m", "radius of the corner, to the middle of the axle"),
        "torque_nm": Number(-50000, 50000, "nm", "torque at the axle; below 0 the engine brakes"),
        "built": BUILT_NOW,
        "ramps": Group(RAMPS.fields, "ramps to try in place of the unit's own", default=None),
        "fitted": Choice(FITTED, "how the rings are fitted", default="as_is"),
        "preload_nm": Number(
            0, 10000, "nm", "without a unit: lock of both packs together from preload alone", default=None
        ),
        "s_drive": Number(0, 1e6, "", "without a unit: locking value of the drive ramps alone", default=None),
        "s_coast": Number(0, 1e6, "", "without a unit: locking value of the coast ramps alone", default=None),
        "adds": YesNo("without a unit: whether the spring sits between the rings and adds", default=False),
        "pitch": YesNo("whether driving force shifts load along the car", default=False),
        "yaw_balance": YesNo("whether side forces of both axles balance what the differential turns", default=False),
    }
)

FORM = Group(with_written_in(IN_CORNER, "write_in"), "a driven axle in a steady corner")


def locks_in_use(request: dict[str, Any]) -> UnitLocks:
    """The locks of the unit as built, with what may be off of them; or those that were given, as they are."""
    by_hand = ("preload_nm", "s_drive", "s_coast")
    if request["built"] is not None:
        for name in by_hand:
            if request[name] is not None:
                raise BadInput(name, "Leave this empty: it follows from the unit as it is built now.")
        return unit_locks(request["built"], request["ramps"], request["fitted"])
    for name in by_hand:
        if request[name] is None:
            raise BadInput(name, "Give the unit, as it is built now, or its preload and both locking values.")
    adds, preload = request["adds"], request["preload_nm"]
    ways = (request["s_drive"], request["s_coast"])
    if request["fitted"] != "as_is":
        ways = (ways[1], ways[0])
    return UnitLocks(Locks(Lock(preload, ways[0], adds), Lock(preload, ways[1], adds)), [], [], [])


def axle_of(request: dict[str, Any], stiffness: float | None = None) -> Axle:
    """The axle of a checked request, or of the same with another stiffness of its tyres."""
    return Axle(
        request["axle"] == "rear",
        request["mass_kg"],
        request["weight_share"],
        request["transfer_share"],
        request["cg_mm"] / 1000.0,
        request["track_mm"] / 1000.0,
        request["wheelbase_mm"] / 1000.0,
        request["tyre_mm"] / 1000.0,
        request["grip"],
        request["along"],
        request["sensitivity"],
        request["stiffness"] if stiffness is None else stiffness,
        request.get("pitch", False),
        request.get("yaw_balance", False),
    )


def corner_of(request: dict[str, Any], stiffness: float | None = None) -> Corner:
    """The corner of a checked request."""
    turning = request["track_mm"] / 2000.0 / request["radius_m"]
    return Corner(axle_of(request, stiffness), request["lateral_ms2"], turning)


def turning_band(request: dict[str, Any]) -> tuple[float, float]:
    """The least and the most torque, N·m, at which it turns from nose to tail: tyres differ in stiffness."""
    given = request["stiffness"]
    ends = [
        turning_point(corner_of(request, stiffness))
        for stiffness in (min(STIFFNESS_LOW, given), max(STIFFNESS_HIGH, given))
    ]
    return min(ends), max(ends)


def shared_of(corner: Corner, locks: Locks, wanted: float, most: float, coast: float) -> Shared:
    """How the wheels share as much of a torque, N·m, as they put down: `most` on drive, `coast` on engine braking."""
    # Nothing put down is 0, and not -0.
    torque = max(-coast, min(most, wanted)) + 0.0
    if is_simple(corner):
        return turned_by(corner, locks, torque, 0.0)
    # An axle that only the load of more torque would hold slides, and puts down nothing.
    return carried_at(corner, locks, torque) or turned_by(corner, locks, 0.0, 0.0)


def is_beyond(wanted: float, put_down: float) -> bool:
    """Whether the wheels do not put down all of a torque, N·m."""
    return abs(wanted) - abs(put_down) > 1e-6 * abs(wanted)


def state_there(shared: Shared, wanted: float, lifts: float | None = None) -> str:
    """Which wheel turns faster at a torque that is wanted, N·m, or that both turn at one speed, or that all slides.

    Where all is put down up to a torque that `lifts` the other axle, N·m, no wheel need slide.
    """
    if shared.wheels.use >= 1.0:
        return SLIDES
    if is_beyond(wanted, shared.torque) and (lifts is None or abs(shared.torque) < lifts):
        # The inner wheel spins or is dragged, unless the plates make both let go together.
        if holds_together(shared):
            return LOCKED
        return INNER_FASTER if wanted > 0.0 else OUTER_FASTER
    return state_of(shared.demand, shared.held)


def speed_difference(corner: Corner, shared: Shared, state: str, sliding: bool) -> float | None:
    """By how many percent of the car's speed the outer wheel turns faster; None where a wheel slides freely."""
    # Wheels that slide sideways are held together by the plates alone.
    if state == LOCKED or (state == SLIDES and shared.held > 0.0):
        return 0.0
    if sliding:
        return None
    speeds = []
    for sign, stiff in ((-1.0, shared.wheels.stiff_in), (1.0, shared.wheels.stiff_out)):
        torque = (shared.torque - sign * shared.difference) / 2.0
        slip = torque / stiff if stiff > 0.0 else 0.0
        speeds.append((1.0 + sign * corner.turning) * (1.0 + slip))
    return 100.0 * (speeds[1] - speeds[0])


def text_of(answer: dict[str, Any], wanted_nm: float, is_gone: bool, unit: str) -> str:
    """What happens there, in a sentence or two; `is_gone` where the torque takes the axle off its line."""
    if answer["state"] == SLIDES:
        return "The axle slides sideways whatever the differential does: the corner asks for more than the tyres have."
    if answer.get("other_lifted", False):
        other = "front" if wanted_nm > 0.0 else "rear"
        lifts, wanted = (say(abs(torque), "nm", unit) for torque in (answer["lifts_nm"], wanted_nm))
        text = f"The {other} wheels leave the ground at {lifts} of {wanted}: the car no longer holds its line"
        return text + ", and what more torque does is not worked out."
    if is_beyond(wanted_nm, answer["put_down_nm"]):
        put_down, wanted = (say(abs(torque), "nm", unit) for torque in (answer["put_down_nm"], wanted_nm))
        which = "Both wheels slide" if answer["state"] == LOCKED else "The inner wheel slides"
        text = f"{which}: {put_down} of {wanted} reach the ground."
        return text + " The axle leaves its line." if is_gone else text
    lead = {
        LOCKED: "Both wheels turn at one speed",
        OUTER_FASTER: "The outer wheel turns faster",
    }.get(answer["state"], "The inner wheel turns faster")
    if abs(answer["yaw_side_n"]) < 1.0:
        return f"{lead}, and the differential turns the car neither way."
    way = "pushes the nose out" if answer["yaw_nm"] < 0.0 else "helps the tail round"
    force = say(abs(answer["yaw_side_n"]), "n")
    return f"{lead}, and the difference {way}, as {force} sideways at the other axle would."


# Where the corner alone asks for more than the tyres have.
SLIDES = "slides"


def corner(request: dict[str, Any]) -> dict[str, Any]:
    """What a differential does to a driven axle in a steady corner.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        load, grip, side and left (torque that is left beside the side force) of the inner and the outer wheel, lifted,
        use (share of the grip that the side force takes; from 1 up it slides); lock_nm, what the plates can hold at the
        torque put down; demand_nm, inner less outer torque of a solid axle, difference_nm, that of the unit; inner_nm
        and outer_nm; put_down_nm of the torque asked for; state, which wheel is faster; inner_at_limit,
        outer_at_limit; speed_difference_percent, by how much of the car's speed the outer wheel turns faster, None
        where a wheel slides freely; most_nm, beyond which not all is put down on drive since the inner wheel slides,
        or both do, with its range where the unit is given; gone_nm, where the axle leaves its line, None if
        it keeps it however much the inner wheel spins; open_nm and solid_nm, the same as most_nm of an open and a solid
        axle; coast_most_nm and coast_gone_nm, the same as most_nm and gone_nm on engine braking; changes_at_nm,
        where the difference turns from pushing the nose out to helping the tail round, with its band by tyres of a
        stiffness of 15 to 30, or as given where that lies beyond; even_lock, locking value from which both wheels let
        go together; yaw_nm, the moment that turns it further in, and yaw_side_n, the side force at the other axle that
        does the same; side_spare_n, side force to spare, and spun_side_spare_n on drive with the inner wheel spinning,
        None where the other axle lifts before that; speed_ms; text; warnings, what was worked out. With `pitch`, also
        lifts_nm, torque at which the other axle leaves the ground: on drive of a rear axle, on engine braking of a
        front one; other_lifted, whether the torque asked for lifts it.

    Raises
    ------
    BadInput
        Neither a unit nor its figures, or both.

    Notes
    -----
    A torque that the wheels cannot put down spins or drags one: then everything is given for as much as they do, and
    `state` tells what comes of the rest. Wheels turn apart only where the plates hold less than the difference with
    which both slide; where they hold more, both slide at one speed.

    No limit lies beyond `lifts_nm`: with the other axle in the air the car tips or no longer steers, and no load is
    left to shift. A torque beyond it is answered as one just at it would be. How the other axle's load lies on its
    two wheels is not looked at: the inner one may leave the ground sooner.
    """
    unit, here = locks_in_use(request), corner_of(request)
    locks, wanted_nm = unit.locks, request["torque_nm"]
    most, coast_most = most_at(here, locks), most_at(here, locks, -1.0)
    shared = shared_of(here, locks, wanted_nm, most, coast_most)
    spins, drags = beyond_most(here, locks, most), beyond_most(here, locks, coast_most, -1.0)
    gone = spins.gone if wanted_nm >= 0.0 else drags.gone
    wheels, difference = shared.wheels, shared.difference
    inner, outer = (shared.torque + difference) / 2.0, (shared.torque - difference) / 2.0
    limits = [at_limit(inner, wheels.left_in), at_limit(outer, wheels.left_out)]
    lifts = lifts_at(here.axle, wanted_nm)
    state = state_there(shared, wanted_nm, lifts)
    side_share = min(1.0, wheels.use) if wheels.side >= 0.0 else -min(1.0, wheels.use)
    yaw_nm = yaw_moment(here.axle, difference)
    low, high = range_on_drive(lambda lock: most_at(here, Locks(lock, locks.coast)), unit)
    changes = turning_band(request)
    answer = {
        "load_inner_n": wheels.load_in,
        "load_outer_n": wheels.load_out,
        "lifted": wheels.load_in <= 0.0,
        "grip_inner": mean_grip(here.axle, wheels.load_in, wheels.force_in),
        "grip_outer": mean_grip(here.axle, wheels.load_out, wheels.force_out),
        "side_inner_n": side_share * wheels.force_in,
        "side_outer_n": side_share * wheels.force_out,
        "use": wheels.use,
        "left_inner_nm": wheels.left_in,
        "left_outer_nm": wheels.left_out,
        "lock_nm": held_at(locks, shared.torque),
        "demand_nm": shared.demand,
        "difference_nm": difference,
        "inner_nm": inner,
        "outer_nm": outer,
        "put_down_nm": shared.torque,
        "state": state,
        "inner_at_limit": limits[0],
        "outer_at_limit": limits[1],
        "speed_difference_percent": speed_difference(here, shared, state, limits[0] or limits[1]),
        "most_nm": most,
        "most_low_nm": low,
        "most_high_nm": high,
        "gone_nm": spins.gone,
        "open_nm": most_at(here, OPEN),
        "solid_nm": most_at(here, SOLID),
        "coast_most_nm": coast_most,
        "coast_gone_nm": drags.gone,
        "changes_at_nm": turning_point(here),
        "changes_low_nm": changes[0],
        "changes_high_nm": changes[1],
        "even_lock": even_lock(wheels),
        "yaw_nm": yaw_nm,
        "yaw_side_n": yaw_nm / here.axle.base,
        "side_spare_n": side_left(wheels, inner, outer),
        "spun_side_spare_n": spins.spun_spare,
        "speed_ms": math.sqrt(request["lateral_ms2"] * request["radius_m"]),
        "warnings": unit.concerns,
    }
    if here.axle.pitch:
        answer["lifts_nm"] = lifting_torque(here.axle)
        # The line is held until then, whether or not the inner wheel spins by itself before.
        lifts_first = lifts is not None and gone is not None and gone >= lifts
        answer["other_lifted"] = lifts_first and is_beyond(wanted_nm, answer["lifts_nm"])
    is_gone = gone is not None and abs(wanted_nm) > gone
    answer["text"] = text_of(answer, wanted_nm, is_gone, request["write_in"])
    return answer
