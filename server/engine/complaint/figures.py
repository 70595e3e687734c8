"""Figures that complaints go by: what a lock does at a place, each most likely and with its range."""

from typing import NamedTuple

from ..corner.axle import Wheels, wheels_at, yaw_moment
from ..corner.difference import SOLID, Locks, solid_difference
from ..corner.doubt import spread
from ..corner.limits import most_of
from ..corner.unit_locks import UnitLocks
from ..drive.lock import Lock, lock_at
from ..drive.lock_range import Cause, range_of
from .places import Place, Spot

PUSH = "push"
ROUND = "round"
STEADY = "steady"
SLIP = "slip"
MOST = "most"
GAP = "gap"
SCRUB = "scrub"

FIGURES = {
    PUSH: "how far the difference pushes the nose out on power, at most, as a side force at the other axle",
    ROUND: "how far it helps the tail round on power, at most, as a side force at the other axle",
    STEADY: "how far it pushes the nose out on engine braking, which steadies the car, as a side force there",
    SLIP: "how much further it would do so if the plates did not slip, as a side force there",
    MOST: "torque at which the inner wheel begins to slide",
    GAP: "share of what both wheels could put down that is left when the inner one begins to slide",
    SCRUB: "lock from preload as a share of what the tyres would hold against it in a tight turn",
}

Figure = NamedTuple("Figure", [("value", float), ("low", float), ("high", float)])

Drive = NamedTuple(
    "Drive",
    [
        # The greatest difference that pushes the nose out, N·m, and the torque at which it is reached.
        ("difference", float),
        ("torque", float),
    ],
)

ROUNDS = 40


def at_spot(spot: Spot) -> Wheels:
    """Both wheels of a spot."""
    return wheels_at(spot.corner.axle, spot.corner.lateral)


def side_force(spot: Spot, difference: float) -> float:
    """The side force at the other axle that turns the car as much as a difference does, N, without its sign."""
    return abs(yaw_moment(spot.corner.axle, difference)) / spot.corner.axle.base


def end_of(spot: Spot, wheels: Wheels, lock: Lock) -> float:
    """Torque up to which the inner wheel holds at full throttle, N·m."""
    most = most_of(lock, wheels)
    return most if spot.power is None else min(most, spot.power)


def greatest_push(spot: Spot, wheels: Wheels, lock: Lock) -> Drive:
    """The largest difference that pushes the nose out from no throttle to full, and the torque at which it is.

    The demand of a solid axle rises up to where the inner wheel slides, if at all, and then only falls; the lock only
    rises. So it is at the top of the demand, or where both meet after it.
    """
    turning, end = spot.corner.turning, end_of(spot, wheels, lock)
    slow, fast = (1.0 - turning) * wheels.stiff_out, (1.0 + turning) * wheels.stiff_in
    low = 0.0
    if slow < fast:
        at_rest = 4.0 * turning * wheels.stiff_in * wheels.stiff_out
        low = max(0.0, min(end, (2.0 * wheels.left_in * (slow + fast) - at_rest) / (2.0 * fast)))
    demand = solid_difference(wheels, turning, low)
    if demand <= lock_at(lock, low):
        return Drive(max(0.0, demand), low)
    if solid_difference(wheels, turning, end) >= lock_at(lock, end):
        return Drive(lock_at(lock, end), end)
    high = end
    for _ in range(ROUNDS):
        middle = (low + high) / 2.0
        if solid_difference(wheels, turning, middle) > lock_at(lock, middle):
            low = middle
        else:
            high = middle
    return Drive(lock_at(lock, low), low)


def on_coast(spot: Spot, wheels: Wheels, lock: Lock) -> float:
    """Difference on engine braking, or on as much of it as both wheels hold, N·m."""
    torque = min(spot.braking, most_of(lock, wheels))
    return max(0.0, min(solid_difference(wheels, spot.corner.turning, -torque), lock_at(lock, torque)))


def round_at(spot: Spot, wheels: Wheels, lock: Lock) -> float:
    """The largest difference that helps the tail round, N·m: it only grows with the throttle."""
    end = end_of(spot, wheels, lock)
    return max(0.0, min(-solid_difference(wheels, spot.corner.turning, end), lock_at(lock, end)))


def gap_at(wheels: Wheels, lock: Lock) -> float:
    """Share of what both wheels could put down that is left when the inner one begins to slide."""
    both = wheels.left_in + wheels.left_out
    return max(0.0, 1.0 - most_of(lock, wheels) / both) if both > 0.0 else 0.0


def scrub_at(spot: Spot, wheels: Wheels, lock: Lock) -> float:
    """Lock from preload as a share of the difference that a solid axle would have at no throttle."""
    demand = solid_difference(wheels, spot.corner.turning, 0.0)
    return lock.preload / demand if demand > 0.0 else 0.0


def figure_at(name: str, spot: Spot, locks: Locks) -> float:
    """One of `FIGURES` at a spot: N, N·m or a share."""
    wheels = at_spot(spot)
    if name == PUSH:
        return side_force(spot, greatest_push(spot, wheels, locks.drive).difference)
    if name == ROUND:
        return side_force(spot, round_at(spot, wheels, locks.drive))
    if name == STEADY:
        return side_force(spot, on_coast(spot, wheels, locks.coast))
    if name == SLIP:
        least = on_coast(spot, wheels, locks.coast)
        return side_force(spot, max(0.0, on_coast(spot, wheels, SOLID.coast) - least))
    if name == MOST:
        return most_of(locks.drive, wheels)
    if name == GAP:
        return gap_at(wheels, locks.drive)
    return scrub_at(spot, wheels, locks.drive)


def lock_ends(lock: Lock, causes: list[Cause]) -> tuple[Lock, Lock]:
    """A lock with preload and locking value both at their least, and both at their most, 95 % each."""
    preloads = range_of(lambda possible: possible.preload, lock, causes)
    slopes = range_of(lambda possible: possible.ramp, lock, causes)
    return Lock(preloads[0], slopes[0], lock.adds), Lock(preloads[1], slopes[1], lock.adds)


def both_ends(unit: UnitLocks) -> tuple[Locks, Locks]:
    """Both locks of a unit at their least and at their most."""
    drive = lock_ends(unit.locks.drive, unit.drive_causes)
    coast = lock_ends(unit.locks.coast, unit.coast_causes)
    return Locks(drive[0], coast[0]), Locks(drive[1], coast[1])


def figure_of(name: str, place: Place, unit: UnitLocks) -> Figure:
    """A figure at a place with its range: each thing at both its ends by itself, and their squares added."""
    value = figure_at(name, place.likely, unit.locks)
    pairs = [
        (figure_at(name, first, unit.locks), figure_at(name, second, unit.locks)) for first, second in place.others
    ]
    least, greatest = both_ends(unit)
    pairs.append((figure_at(name, place.likely, least), figure_at(name, place.likely, greatest)))
    low, high = spread(value, pairs)
    return Figure(value, low, high)


BY_PRELOAD, BY_RAMPS = "preload", "ramps"


def held_by(name: str, place: Place, locks: Locks) -> str:
    """Whether preload or ramps set a figure at a place; where they add, which of them is more."""
    spot, wheels = place.likely, at_spot(place.likely)
    lock, torque = locks.drive, 0.0
    if name == PUSH:
        torque = greatest_push(spot, wheels, lock).torque
    elif name in (STEADY, SLIP):
        lock = locks.coast
        torque = min(spot.braking, most_of(lock, wheels))
    elif name in (MOST, GAP):
        torque = most_of(lock, wheels)
    elif name == ROUND:
        torque = end_of(spot, wheels, lock)
    return BY_RAMPS if lock.ramp * torque > lock.preload else BY_PRELOAD
