"""The lock of a unit: the difference of its output torques that the packs hold, against the torque into the case."""

from typing import NamedTuple

from ..request.rounded import fixed
from ..request.units import say

Lock = NamedTuple(
    "Lock",
    [
        # Lock of both packs together from preload alone, N·m.
        ("preload", float),
        # Locking value without the preload: of the ramps, and of what else presses.
        ("ramp", float),
        # Whether the spring between the rings adds to the ramps; in line with the packs the larger of both counts.
        ("adds", bool),
    ],
)


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


def percent(locking: float) -> str:
    """A locking value as it is said.

    >>> percent(0.434), percent(1.2)
    ('43 %', 'locked')
    """
    return "locked" if locking >= 1.0 else f"{fixed(100.0 * locking, 0)} %"


def range_in_words(low: str, high: str) -> str:
    """A range as a table says it; blank where both ends are written alike.

    >>> range_in_words("34 %", "52 %"), range_in_words("78 %", "locked"), range_in_words("0 %", "0 %")
    ('34 to 52 %', '78 % to locked', '')
    """
    if low == high:
        return ""
    if low.endswith(" %") and high.endswith(" %"):
        low = low[:-2]
    return f"{low} to {high}"
