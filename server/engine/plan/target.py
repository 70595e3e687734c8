"""What a rebuild aims at: the torque that is wanted, and the stacks that give it."""

from ..unit.as_built import Built, crush_of, longest_rise, preload, torque_per_newton
from .places import micrometres


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
