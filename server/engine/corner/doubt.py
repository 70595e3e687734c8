"""How far the limits of a corner may be off, by what is not known exactly of the car and of the lock."""

import math

from ..drive.lock_range import ends_of
from .axle import wheels_at
from .balanced import Corner
from .difference import turns_at
from .limits import put_down
from .unit_locks import UnitLocks


def spread(value: float, pairs: list[tuple[float, float]]) -> tuple[float, float]:
    """The least and the most of a figure, by what it comes to with each cause at its one end and at its other.

    The causes are independent, so their squares add up, for each side by itself.

    >>> spread(10.0, [(7.0, 13.0), (10.0, 14.0)])
    (7.0, 15.0)
    """
    below = sum(min(0.0, first - value, second - value) ** 2 for first, second in pairs)
    above = sum(max(0.0, first - value, second - value) ** 2 for first, second in pairs)
    return max(0.0, value - math.sqrt(below)), value + math.sqrt(above)


def most_ranges(
    likely: Corner, others: list[tuple[Corner, Corner]], units: list[UnitLocks]
) -> list[tuple[float, float]]:
    """For each lock the least and the most torque at which the inner wheel begins to slide, N·m, by car and lock."""

    def ends(corner: Corner) -> tuple[float, float]:
        wheels = wheels_at(corner.axle, corner.lateral)
        return min(wheels.left_in, wheels.left_out), max(wheels.left_in, wheels.left_out)

    here = ends(likely)
    around = [(ends(first), ends(second)) for first, second in others]
    rows = []
    for unit in units:
        lock = unit.locks.drive
        pairs = [(put_down(lock, *first), put_down(lock, *second)) for first, second in around]
        if unit.drive_causes:
            pairs.append(ends_of(lambda possible: put_down(possible, *here), lock, unit.drive_causes))
        rows.append(spread(put_down(lock, *here), pairs))
    return rows


def turn_range(likely: Corner, others: list[tuple[Corner, Corner]]) -> tuple[float, float, float]:
    """Torque at which it turns from nose to tail, N·m, with its range by the car's figures."""

    def turn(corner: Corner) -> float:
        return turns_at(wheels_at(corner.axle, corner.lateral), corner.turning)

    value = turn(likely)
    low, high = spread(value, [(turn(first), turn(second)) for first, second in others])
    return value, low, high
