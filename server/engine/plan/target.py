"""What a rebuild aims at: the torque that is wanted, and the stacks that give it."""

from typing import Any

from ..unit.as_built import Built, crush_of, longest_rise, preload, torque_per_newton
from .places import Stack, micrometres


class Aim:
    """The torque that is wanted, and what a stack of a given thickness gives.

    Parameters
    ----------
    built : Built
        The unit with the spring and the sliding faces to plan for.
    mu : float
        Coefficient of friction, apparent or assumed.
    torque, tolerance : float
        What is wanted, N·m.
    """

    def __init__(self, built: Built, mu: float, torque: float, tolerance: float) -> None:
        self.built = built
        self.each = torque_per_newton(built, mu)
        self.torque = torque
        self.tolerance = tolerance
        # Of a window that is closed at both ends, rounding must not shut out an end.
        slack = 1e-9 * torque
        least = micrometres(max(0.0, -crush_of(built, 0.0)))
        self.most = most = least + int(longest_rise(built) * 1000.0)
        self.most_torque = self.torque_at(most)
        self.low = self.first_above(torque - tolerance - slack, least, most)
        self.high = self.first_above(torque + tolerance + slack, least, most) - 1

    def crush_at(self, total: int) -> float:
        """Crush, mm, of a stack `total` micrometres thick without its springs."""
        return crush_of(self.built, total / 1000.0)

    def torque_at(self, total: int) -> float:
        """Stated torque, N·m, of a stack `total` micrometres thick without its springs."""
        return self.each * preload(self.built, self.crush_at(total))

    def miss(self, total: int) -> float:
        """How far the torque is off, N·m."""
        return abs(self.torque_at(total) - self.torque)

    def first_above(self, torque: float, least: int, most: int) -> int:
        """Thinnest stack from `least` to `most` that gives more than `torque`; `most` + 1 where none does."""
        if self.torque_at(most) <= torque:
            return most + 1
        while least < most:
            middle = (least + most) // 2
            if self.torque_at(middle) > torque:
                most = middle
            else:
                least = middle + 1
        return least


def chosen(stack: Stack, aim: Aim, balance: int) -> dict[str, Any]:
    """The best arrangement of a stack for an aim, as results hold it."""
    best = stack.best(aim.low, aim.high, aim.miss, balance)
    if best is None:
        return {"possible": False}
    total = best.total + stack.closed
    crush = aim.crush_at(total)
    return {
        "possible": True,
        "proven": best.proven,
        "changes": best.changes,
        "torque_nm": aim.torque_at(total),
        "off_nm": aim.torque_at(total) - aim.torque,
        "crush_mm": crush,
        "preload_n": preload(aim.built, crush),
        "apart_mm": best.apart / 1000.0,
        "solids_mm": total / 1000.0,
        "stack": stack.rows(best),
    }
