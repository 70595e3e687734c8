"""Planning by what builds have shown, where the spring is not known: a target and an outcome as `Front` wants them.

Torque is the line of `torque_line` and its spread that line's band, with what the pieces may be off added as a square.
Both hold within the thickness that was built, and nothing is planned outside it.
"""

import math
from typing import Any

from ..doubt.budget import TWO_SIDED_95
from ..doubt.student_t import t_quantile
from ..experience.band import TWO_SIDED, upper
from ..experience.torque_line import TorqueLine
from ..request.units import say
from ..request.written_in import WrittenIn
from .outcome import Doubts


class SeenAim:
    """The torque that is wanted, and what a stack gives by the builds; as `Aim`, which works by the spring.

    Parameters
    ----------
    line : TorqueLine
        What the builds say.
    torque, tolerance : float
        What is wanted, N·m.
    """

    # Torque for each newton: there is no force to go by.
    each = None
    # What bedding in takes: the builds had been bedded in when they were checked.
    bedding = None

    def __init__(self, line: TorqueLine, torque: float, tolerance: float) -> None:
        self.line, self.torque, self.tolerance = line, torque, tolerance
        self.ground = line.text
        self.least, self.most = math.ceil(line.low * 1000.0 - 1e-6), math.floor(line.high * 1000.0 + 1e-6)
        self.most_torque = line.torque(line.high)
        self.low = max(self.least, math.ceil(self.size_at(torque - tolerance) - 1e-6))
        self.high = min(self.most, math.floor(self.size_at(torque + tolerance) + 1e-6))

    def size_at(self, torque: float) -> float:
        """Thickness, micrometres, at which the line comes to a torque."""
        line = self.line
        size: float = 1000.0 * (line.low + (torque - line.torque(line.low)) / line.band.slope)
        return size

    def torque_at(self, total: int) -> float:
        """Stated torque, N·m, of a stack `total` micrometres thick without its springs."""
        return self.line.torque(total / 1000.0)

    def now_at(self, total: int) -> float | None:
        """The same of the stack as it is fitted; None where none so thick was built."""
        return self.torque_at(total) if self.line.has_seen(total / 1000.0) else None

    def met_by(self, beds_in: bool) -> tuple[float, float, float]:
        """Torques between which the order is met, and the doubt about both, N·m; bedding in changes nothing here."""
        return self.torque - self.tolerance, self.torque + self.tolerance, 0.0

    def crush_at(self, total: int) -> None:
        """Nothing is known of the spring."""

    def preload_at(self, total: int) -> None:
        """Nothing is known of the spring."""

    def at_most(self, written_in: WrittenIn) -> str:
        """What is said where the torque is beyond all that was built."""
        return f"No stack that was built gives more than {say(self.most_torque, 'nm', written_in.nm)}."


class SeenOutcome:
    """What a rebuild may come to by the builds; as `Outcome`, which works by the spring.

    Notes
    -----
    The band's half width is worked out at both ends and in the middle of what was built; its square is drawn through
    these as a parabola, which it is where the variances are known.
    """

    def __init__(self, line: TorqueLine) -> None:
        self.line = line
        self.dof = line.band.dof
        self.factor = t_quantile((1 - TWO_SIDED) / 2, self.dof)
        middle, reach = (line.low + line.high) / 2, (line.high - line.low) / 2
        first, second, third = [line.half(middle + place * reach) ** 2 for place in (-1, 0, 1)]
        self.middle, self.reach = middle, reach
        self.square = (second, (third - first) / 2, (first + third) / 2 - second)

    def half(self, total: int) -> float:
        """How far off the torque may come out by the builds alone, N·m, 95 %."""
        z = (total / 1000.0 - self.middle) / self.reach
        return math.sqrt(self.square[0] + (self.square[1] + self.square[2] * z) * z)

    def plates(self, doubts: Doubts) -> float:
        """What the fitted pieces' thickness brings, N·m, one standard deviation."""
        return float(self.line.band.slope) * math.sqrt(doubts.comes + doubts.widest**2 / 3)

    def whole(self, total: int, doubts: Doubts) -> float:
        """How far off the torque may come out, N·m, 95 %."""
        return math.sqrt(self.half(total) ** 2 + (TWO_SIDED_95 * self.plates(doubts)) ** 2)

    def chance(self, total: int, doubts: Doubts, low: float, high: float, scatter: float = 0.0) -> float:
        """Chance that the torque comes out from `low` to `high`, N·m; `scatter` is for what bedding in takes."""
        middle, scale = self.line.torque(total / 1000.0), self.whole(total, doubts) / self.factor
        within = upper((low - middle) / scale, self.dof) - upper((high - middle) / scale, self.dof)
        return max(0.0, min(1.0, within))

    def interval(self, total: int, doubts: Doubts) -> tuple[float, float]:
        """The torques that 19 of 20 rebuilds come out between, N·m."""
        middle, half = self.line.torque(total / 1000.0), self.whole(total, doubts)
        return max(0.0, middle - half), max(0.0, middle + half)

    def shares(self, total: int, doubts: Doubts) -> dict[str, Any]:
        """What each doubt does to the torque for itself, N·m; `builds` is that of the line and of the next build."""
        return {
            "plates": self.plates(doubts),
            "places": 0.0,
            "spring_above": 0.0,
            "spring_below": 0.0,
            "reading": 0.0,
            "friction_above": 0.0,
            "friction_below": 0.0,
            "builds": self.half(total),
        }
