"""From what a tool reads to the torque that limits are stated for: lever, drag, way of holding, and the ramps.

Notes
-----
A small turn of the turned output by an angle, the case free and the other output held, turns the case by half of it:
both packs slip by half, and the wrench feels the mean of the packs and half of the case's drag. With the case held the
other output turns backwards by the whole angle: the wrench feels both packs and the drag of both wheels.

With the case held the pins carry what the free output takes, twice over, since the gears push them alike on both sides.
The ramps turn that into a push on the packs. A spring between the rings is pushed beside: with T0 the torque of a pack
from preload alone, S the locking value of the flank and d the drag on the free output, a pack has T = T0 + S (T + d).
A spring in line is relieved by as much, and nothing changes while S (T0 + d) is below T0.

With the case free the pins carry the case's drag, and what one pack holds more than the other.

References
----------
1. Virtual work and statics, worked out by another road in `tests/reference/test_held.py`.
"""

from typing import Any, NamedTuple

from ..request.errors import BadInput, inside
from ..request.rounded import fixed
from ..unit.held import HELD, packs_in_torque
from ..unit.ramp_lock import COAST, DRIVE, NOT_KNOWN, LockingValue, adds_to_preload, knows_lock, lock_of
from .form import FORWARD
from .wrench import wrench_factor

# A flank that is taken to lock by more than this share of what is left would make a reading worth nothing.
LEAST_LEFT = 0.1

Chain = NamedTuple(
    "Chain",
    [
        # Torque at the shaft for one unit on the tool's scale, N·m each.
        ("leverage", float),
        # Torque of the bar's own weight, N·m.
        ("bar_nm", float),
        # Stated torque for each N·m at the shaft: hub, way of holding and ramps.
        ("transfer", float),
        # What drag adds to the stated torque, N·m.
        ("drag_nm", float),
    ],
)


def flank_of(direction: str) -> str:
    """The flank that is loaded when an output is turned forward or in reverse.

    Turned forward, as the wheel rolls, the output pushes the pins forward against the case, as the wheels do on coast.
    """
    return COAST if direction == FORWARD else DRIVE


def with_locks_kept(request: dict[str, Any]) -> dict[str, Any]:
    """The same request, with room for the locking values of its build, which are asked for again and again."""
    request = request.copy()
    request["locks"] = {}
    return request


def lock_in(request: dict[str, Any], direction: str) -> LockingValue | None:
    """Locking value of the flank that a direction loads; None where the build does not tell."""
    kept = request.get("locks", {})
    if direction not in kept:
        build = request["build"]
        known = build is not None and knows_lock(build)
        kept[direction] = lock_of(build, flank_of(direction)) if known else None
    lock: LockingValue | None = kept[direction]
    return lock


def wheels_of(request: dict[str, Any], held: str) -> tuple[float, float]:
    """Drag on the turned wheel and on the one that turns backwards, N·m at the wheel.

    One figure stands for each of two wheels that turn.
    """
    drag = request["drag"]
    if drag is None:
        return 0.0, 0.0
    turned, other = drag["wheel_nm"], drag["other_wheel_nm"]
    if not turns_both_wheels(held):
        return turned or 0.0, 0.0
    return (other or 0.0 if turned is None else turned), (turned or 0.0 if other is None else other)


def turns_both_wheels(held: str) -> bool:
    """Whether the other wheel turns as well, backwards."""
    return held == "car_both_wheels_up"


def chain_by(request: dict[str, Any], held: str, locking: float, uneven: float) -> Chain:
    """How a reading becomes the stated torque where the ramps add to the preload with this locking value, or 0."""
    bar = request["bar"]
    leverage = wrench_factor(request["adapter"]) if bar is None else bar["length_mm"] / 1000
    stated, hub = packs_in_torque(request["stated_for"]), request["hub_ratio"]
    turned, other = wheels_of(request, held)
    case = 0.0 if request["drag"] is None else request["drag"]["case_nm"]
    if packs_in_torque(held) == 1:
        share = 1.0 - 0.5 * locking * uneven
        drag = share * (turned / hub + 0.5 * case) + 0.5 * locking * case
    else:
        share = 0.5 * (1.0 - locking)
        drag = share * (turned + other) / hub + locking * other / hub
    return Chain(leverage, 0.0 if bar is None else bar["moment_nm"], stated * share / hub, stated * drag)


def chain_of(request: dict[str, Any], held: str, direction: str = FORWARD) -> Chain:
    """How a reading becomes the torque that the limits are stated for.

    Parameters
    ----------
    request : dict
        A checked breakaway request.
    held : str
        Way of holding, a key of `HELD`; the request's own, or another to see what it would do.
    direction : str
        Forward or reverse: each loads its own flank.
    """
    lock = lock_in(request, direction)
    if lock is None or not adds_to_preload(request["build"]):
        return chain_by(request, held, 0.0, 0.0)
    return chain_by(request, held, lock.value, lock.uneven)


def ends_of(request: dict[str, Any], held: str, direction: str) -> list[Chain]:
    """The same with the least and the most that the ramps may lock; empty where they do not add to the preload."""
    lock = lock_in(request, direction)
    if lock is None or not adds_to_preload(request["build"]):
        return []
    most = min(lock.most, 1.0 - LEAST_LEFT * (1.0 - lock.value))
    return [chain_by(request, held, value, lock.uneven) for value in (lock.least, most)]


def stated(reading: float, chain: Chain) -> float:
    """The stated torque, N·m, of one reading in the tool's unit."""
    return (reading * chain.leverage + chain.bar_nm) * chain.transfer - chain.drag_nm


def reading_at(torque: float, chain: Chain) -> float:
    """What the tool would read at a stated torque, the inverse of `stated`."""
    return ((torque + chain.drag_nm) / chain.transfer - chain.bar_nm) / chain.leverage


def can_be_read(request: dict[str, Any], held: str, directions: list[str]) -> bool:
    """Whether a torque tells of the preload, held so and turned so."""
    build = request["build"]
    if build is None or packs_in_torque(held) == 1:
        return True
    locks = [lock_in(request, direction) for direction in directions]
    if adds_to_preload(build) or build["layout"] == NOT_KNOWN:
        return not any(lock is None or lock.value >= 1.0 for lock in locks) and build["layout"] != NOT_KNOWN
    return not any(lock is not None and lock.value >= 1.0 for lock in locks)


def refuse_locked(request: dict[str, Any], directions: list[str], field: str) -> None:
    """Refuse a reading that cannot tell of the preload.

    Parameters
    ----------
    request : dict
        A checked breakaway request.
    directions : list of str
        Those that were read.
    field : str
        Path of the readings.
    """
    held, build = request["held"], request["build"]
    if can_be_read(request, held, directions):
        return
    instead = "Hold one output instead, with the case free"
    if build["layout"] == NOT_KNOWN:
        raise BadInput(
            "held",
            "Say where the unit's spring sits: between the ramp rings the ramps press too while the case is held, and "
            f"the torque reads far too high. {instead}.",
        )
    for direction in directions:
        lock = lock_in(request, direction)
        if lock is None:
            raise BadInput(
                "held",
                "The spring sits between the ramp rings, so the ramps press too while the case is held, and their "
                f"angles are not known. {instead}, or give the ramps in the unit's definition.",
            )
        if lock.value >= 1.0:
            raise BadInput(
                inside(field, direction),
                f"That flank cannot be turned: by its ramps the unit locks solid {HELD[held][1]}, turned {direction} "
                f"(locking value {fixed(lock.value, 2)}). {instead}, or check the ramps and the friction.",
            )
