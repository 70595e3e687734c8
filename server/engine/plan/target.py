"""What a rebuild aims at: the torque that is wanted, and the stacks that give it."""

from ..request.units import say
from ..request.written_in import WrittenIn
from ..unit.as_built import Built, crush_of, longest_rise, preload, torque_per_newton
from .bedding import Lost
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
    bedding : Lost, optional
        What bedding in takes, where the plan aims above the order by it.
    """

    def __init__(self, built: Built, mu: float, torque: float, tolerance: float, bedding: Lost | None = None) -> None:
        self.built = built
        # What is said of what a plan rests on: of the spring, nothing.
        self.ground = ""
        self.each = torque_per_newton(built, mu)
        self.torque = torque
        self.tolerance = tolerance
        self.bedding = bedding
        # Of a window that is closed at both ends, rounding must not shut out an end.
        slack = 1e-9 * torque
        least = micrometres(max(0.0, -crush_of(built, 0.0)))
        self.least = least
        self.most = most = least + int(longest_rise(built) * 1000.0)
        self.most_torque = self.torque_at(most)
        self.low = self.first_above(torque - tolerance - slack, least, most)
        self.high = self.first_above(torque + tolerance + slack, least, most) - 1

    def met_by(self, beds_in: bool) -> tuple[float, float, float]:
        """Torques between which a first check means that the order is met, and the doubt about both, N·m.

        Where bedding in is known to take something, it has to be met after that; a stack that stays has bedded in.
        """
        bedding = self.bedding if beds_in else None
        loss, scatter = (0.0, 0.0) if bedding is None else (bedding.loss, bedding.scatter)
        return self.torque - self.tolerance + loss, self.torque + self.tolerance + loss, scatter

    def crush_at(self, total: int) -> float:
        """Crush, mm, of a stack `total` micrometres thick without its springs."""
        return crush_of(self.built, total / 1000.0)

    def preload_at(self, total: int) -> float:
        """Axial force, N, of a stack `total` micrometres thick without its springs."""
        return preload(self.built, self.crush_at(total))

    def torque_at(self, total: int) -> float:
        """Stated torque, N·m, of a stack `total` micrometres thick without its springs."""
        return self.each * self.preload_at(total)

    def now_at(self, total: int) -> float:
        """The same of the stack as it is fitted."""
        return self.torque_at(total)

    def at_most(self, written_in: WrittenIn) -> str:
        """What is said where the torque is more than the spring can give."""
        most = say(self.most_torque, "nm", written_in.nm)
        return (
            f"This spring gives {most} at most before its load peaks or it is flat: it needs another spring, or more "
            "sliding faces."
        )

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
