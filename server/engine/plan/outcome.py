"""How the torque of a rebuild may come out: every doubt carried to the torque, and the chance to meet the order.

What is not known exactly, and how each is taken to be spread:

- thickness of a piece that is fitted, of one that stays and of one that goes: evenly, by its own doubt; the depth too;
- free height of a disc: evenly within its tolerance when new, or within its gauge's doubt; all discs of a unit alike;
- the torque that was measured: normally, by its expanded uncertainty. It brings the friction and the spring's load with
  it, whatever both are, so that only what changes from then on counts;
- where none was measured: friction by a factor of 2.5 either way, which is the range of plates in oil, as 95 % of a
  normal distribution on the logarithm; load of the spring evenly within its tolerance when new.

The height and what shifts both builds alike are gone through in steps, since they bend the curve; the rest is added as
squares, the largest even part as it is.

References
----------
1. JCGM 101:2008, 5.11 and 6.4: propagation of distributions; even and normal ones.
2. DIN EN 16983:2017, tolerances of new discs: `spring_tolerance`.
3. M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964), 25.4.46: Hermite integration, three points.
"""

import math
from typing import Any, NamedTuple

from ..doubt.budget import TWO_SIDED_95
from ..unit.as_built import Built, crush_of
from ..unit.friction import LEAST_MU, MOST_MU
from ..unit.spring import Column, flat_at, k4, shape, stiffness, with_free_height
from ..unit.spring_tolerance import height_tolerance, load_tolerance

# Standard deviation of the logarithm of an assumed friction.
MU_LOG = 0.5 * math.log(MOST_MU / LEAST_MU) / TWO_SIDED_95

# Steps that the spring's height is gone through in: one where it was gauged to little of the crush, and many where what
# it may be off by is a good part of it.
HEIGHT_STEPS = 4
FINE_STEPS = 16

SLIGHT_SHARE = 0.1
FINE_SHARE = 0.5

# Where the common shift is this large a share of the crush, it is gone through in three steps instead of one.
BENDS = 0.01
SHIFTS = ((-math.sqrt(3.0), 1 / 6), (0.0, 2 / 3), (math.sqrt(3.0), 1 / 6))
STEPPED = 0.75

# Below this share of the normal part an even one is added as a square.
SLIGHT = 0.06

# No normal part reaches further than so many standard deviations.
FAR = 9.0

# A torque below this is none.
LEAST_NM = 1e-6

Curve = NamedTuple(
    "Curve",
    [
        # Load of a column, N, at a crush x, mm: ((a x + b) x + c) x, up to where it is flat.
        ("a", float),
        ("b", float),
        ("c", float),
        ("flat", float),
    ],
)

Doubts = NamedTuple(
    "Doubts",
    [
        # Variance of what stays as it is, of what comes out and of what is fitted, mm2.
        ("stays", float),
        ("goes", float),
        ("comes", float),
        # The largest doubt among what comes out and among what is fitted, which those two leave out, mm.
        ("widest_gone", float),
        ("widest", float),
    ],
)

Part = NamedTuple(
    "Part",
    [
        ("weight", float),
        ("middle", float),
        # Standard deviation of the normal part, and half width of the even one.
        ("sd", float),
        ("half", float),
    ],
)


def curve_of(springs: Column, rise: float) -> Curve:
    """The load of a column whose discs all stand `rise` mm higher than they are taken to."""
    disc = with_free_height(springs.disc, springs.disc.l0 + rise)
    h, slope = shape(disc), k4(disc) / disc.reduced
    each = springs.parallel * stiffness(disc) / springs.nests
    slope /= springs.nests
    flat = springs.nests * flat_at(disc)
    return Curve(0.5 * each * slope * slope, -1.5 * each * h * slope, each * (h * h + 1), flat)


def load_at(curve: Curve, crush: float) -> float:
    """N at a crush, mm; 0 where the stack is loose, and no more than flat."""
    x = max(0.0, min(crush, curve.flat))
    return ((curve.a * x + curve.b) * x + curve.c) * x


def rate_at(curve: Curve, crush: float) -> float:
    """N for each mm at a crush; 0 where the stack is loose or flat."""
    if not 0.0 < crush < curve.flat:
        return 0.0
    return (3 * curve.a * crush + 2 * curve.b) * crush + curve.c


def normal_below(z: float) -> float:
    """Probability of a standard normal below `z`."""
    return 0.5 * math.erfc(-z / math.sqrt(2.0))


def normal_sum(z: float) -> float:
    """The integral of `normal_below` up to `z`."""
    return z * normal_below(z) + math.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi)


def part_of(weight: float, middle: float, variance: float, halves: list[float]) -> Part:
    """A part of the spread from a normal variance and some even half widths; the largest of them stays even."""
    widest = max(halves)
    variance += (sum(half * half for half in halves) - widest * widest) / 3
    if widest * widest <= SLIGHT * SLIGHT * variance:
        return Part(weight, middle, math.sqrt(variance + widest * widest / 3), 0.0)
    return Part(weight, middle, max(math.sqrt(variance), 1e-6 * widest), widest)


def below(parts: list[Part], value: float) -> float:
    """Probability that it comes out below `value`."""
    total = 0.0
    for weight, middle, sd, half in parts:
        off = value - middle
        if abs(off) >= half + FAR * sd:
            share = 1.0 if off >= 0.0 else 0.0
        elif half > 0.0:
            share = sd * (normal_sum((off + half) / sd) - normal_sum((off - half) / sd)) / (2 * half)
        else:
            share = normal_below(off / sd)
        total += weight * share
    return total


class Outcome:
    """What a rebuild may come to.

    Parameters
    ----------
    built : Built
        The unit with the spring and the sliding faces to plan for.
    each : float
        Torque for each newton that is planned with, N·m.
    now : int
        Thickness of the stack as it is fitted, without its springs, micrometres.
    measured : dict or None
        torque_nm and expanded_nm of the unit as it is fitted.
    gauged : float or None
        How far off the free height of each disc may be, either way, mm; None for the tolerance of a new disc.
    before : Built, optional
        The unit that the torque was measured with, where it had another spring.
    mu_log : float
        Standard deviation of the logarithm of the friction, where no torque was measured.
    """

    def __init__(
        self,
        built: Built,
        each: float,
        now: int,
        measured: dict[str, Any] | None,
        gauged: float | None,
        before: Built | None = None,
        mu_log: float = MU_LOG,
    ) -> None:
        self.built = built
        self.mu_log = mu_log
        self.before = before
        self.each = each
        self.measured = measured
        self.log = measured is None
        disc = built.springs.disc
        above, under = height_tolerance(disc.t)
        # Nobody has gauged a spring that is still in its box.
        exact = gauged is not None and before is None
        low, high = (-gauged, gauged) if exact and gauged is not None else (-under, above)
        # A disc is never lower than flat.
        low = max(low, -0.9 * flat_at(disc))
        self.crush_now = crush_of(built if before is None else before, now / 1000.0)
        share = built.springs.nests * (high - low) / max(self.crush_now, 0.001)
        steps = FINE_STEPS if share > FINE_SHARE and not self.log else HEIGHT_STEPS
        if exact and share <= SLIGHT_SHARE:
            steps = 1
        self.rises = [low + (high - low) * step / steps for step in range(steps + 1)]
        self.curves = [curve_of(built.springs, rise) for rise in self.rises]
        self.old = self.curves if before is None else [curve_of(before.springs, 0.0)] * len(self.rises)
        # A spring that was in the unit when it was measured brings its height to both builds.
        self.old_rises = self.rises if before is None else [0.0] * len(self.rises)
        self.size, self.relative = self.scales(before, gauged)

    def scales(self, before: Built | None, gauged: float | None) -> tuple[float, float]:
        """(N·m for each newton or for the ratio of two loads, relative variance that comes whatever is fitted)."""
        above, under = (share / 100 for share in load_tolerance(self.built.springs.disc.t))
        load = ((above + under) / 2) ** 2 / 3
        if self.measured is None:
            return self.each * (1 + (above - under) / 2), load + self.mu_log**2
        torque = self.measured["torque_nm"]
        reading = (self.measured["expanded_nm"] / TWO_SIDED_95 / torque) ** 2
        nominal = load_at(curve_of((before or self.built).springs, 0.0), self.crush_now)
        # Faces or friction may be others than those that were measured.
        size = self.each * nominal
        if before is None:
            return size, reading
        old_above, old_under = (share / 100 for share in load_tolerance(before.springs.disc.t))
        high, low = height_tolerance(before.springs.disc.t) if gauged is None else (gauged, gauged)
        tall = load_at(curve_of(before.springs, high), self.crush_now + before.springs.nests * high)
        short = load_at(curve_of(before.springs, -low), self.crush_now - before.springs.nests * low)
        old = ((old_above + old_under) / 2) ** 2 / 3 + ((tall - short) / 2 / nominal) ** 2 / 3
        return size, reading + load + old

    def parts(self, total: int, doubts: Doubts, more: float = 0.0) -> list[Part]:
        """The spread of the torque of a stack `total` micrometres thick; of its logarithm where none was measured.

        `more` is a standard deviation, N·m, that comes on top.
        """
        crush, nests = crush_of(self.built, total / 1000.0), self.built.springs.nests
        spread = math.sqrt(doubts.stays)
        crushes = [crush] if self.log else [crush, self.crush_now]
        bends = spread > BENDS * max(min(crushes), 0.001)
        shifts = [(spread * math.sqrt(STEPPED) * z, weight) for z, weight in SHIFTS] if bends else [(0.0, 1.0)]
        rest = doubts.stays * (1 - STEPPED) if bends else doubts.stays
        parts: list[Part] = []
        for shift, weight in shifts:
            edges = [
                self.edge(index, crush + nests * rise + shift, self.crush_now + nests * old_rise + shift)
                for index, (rise, old_rise) in enumerate(zip(self.rises, self.old_rises))
            ]
            for lower, upper in zip(edges, edges[1:]):
                if lower is not None and upper is not None:
                    parts.append(self.between(lower, upper, weight, rest, doubts, more))
        whole = sum(part.weight for part in parts)
        return [Part(part.weight / whole, part.middle, part.sd, part.half) for part in parts] if parts else []

    def edge(self, index: int, crush: float, crush_now: float) -> tuple[float, float, float] | None:
        """(torque, relative rate of it by what is fitted, and by what was); None where there was no preload."""
        curve = self.curves[index]
        force = load_at(curve, crush)
        rate = rate_at(curve, crush) / force if force > 0 else 0.0
        if self.log:
            return max(self.size * force, LEAST_NM), rate, 0.0
        was = load_at(self.old[index], crush_now)
        if was <= 0:
            return None
        return max(self.size * force / was, LEAST_NM), rate, rate_at(self.old[index], crush_now) / was

    def between(
        self,
        lower: tuple[float, float, float],
        upper: tuple[float, float, float],
        weight: float,
        rest: float,
        doubts: Doubts,
        more: float,
    ) -> Part:
        """The part between two heights of the spring."""
        torque = (lower[0] + upper[0]) / 2
        new, old = (lower[1] + upper[1]) / 2, (lower[2] + upper[2]) / 2
        variance = self.relative + new * new * doubts.comes + old * old * doubts.goes + (new - old) ** 2 * rest
        variance += (more / torque) ** 2
        halves = [abs(upper[0] - lower[0]) / 2 / torque, abs(new) * doubts.widest, abs(old) * doubts.widest_gone]
        if self.log:
            return part_of(weight, math.log(torque), variance, halves)
        return part_of(weight, torque, variance * torque * torque, [half * torque for half in halves])

    def chance(self, total: int, doubts: Doubts, low: float, high: float, more: float = 0.0) -> float:
        """Chance that the torque comes out from `low` to `high`, N·m; for `more` see `parts`."""
        parts = self.parts(total, doubts, more)
        if self.log:
            low, high = (math.log(max(value, LEAST_NM)) for value in (low, high))
        return max(0.0, min(1.0, below(parts, high) - below(parts, low)))

    def shares(self, total: int, doubts: Doubts) -> dict[str, float]:
        """What each doubt does to the torque for itself, N·m: standard deviations, or how far up and down it may go."""
        crush, nests = crush_of(self.built, total / 1000.0), self.built.springs.nests
        middle = curve_of(self.built.springs, 0.0)
        force = load_at(middle, crush)
        torque = self.each * force
        new = rate_at(middle, crush) / force if force > 0 else 0.0
        old = 0.0
        ends = []
        for index, rise in enumerate(self.rises):
            edge = self.edge(index, crush + nests * rise, self.crush_now + nests * self.old_rises[index])
            if edge is not None:
                # The mean of a load tolerance that reaches further up than down is no part of the height's.
                ends.append(edge[0] * self.each / self.size - torque if self.log else edge[0] - torque)
        reading = up = down = 0.0
        above, under = (share / 100 for share in load_tolerance(self.built.springs.disc.t))
        load_up, load_down = (above * torque, under * torque) if self.log or self.before is not None else (0.0, 0.0)
        if self.measured is None:
            reach = TWO_SIDED_95 * self.mu_log
            up, down = torque * (math.exp(reach) - 1), torque * (1 - math.exp(-reach))
        else:
            springs = (self.before or self.built).springs
            was = curve_of(springs, 0.0)
            old = rate_at(was, self.crush_now) / load_at(was, self.crush_now)
            reading = torque * self.measured["expanded_nm"] / TWO_SIDED_95 / self.measured["torque_nm"]
        gone = doubts.goes + doubts.widest_gone**2 / 3
        places = math.sqrt(old * old * gone + (new - old) ** 2 * doubts.stays)
        return {
            "plates": abs(torque * new) * math.sqrt(doubts.comes + doubts.widest**2 / 3),
            "places": torque * places,
            "spring_above": math.sqrt(max([0.0] + ends) ** 2 + load_up**2),
            "spring_below": math.sqrt(min([0.0] + ends) ** 2 + load_down**2),
            "reading": reading,
            "friction_above": up,
            "friction_below": down,
        }

    def interval(self, total: int, doubts: Doubts) -> tuple[float, float]:
        """The torques that 19 of 20 rebuilds come out between, N·m."""
        parts = self.parts(total, doubts)
        ends = [quantile(parts, share) for share in (0.025, 0.975)]
        if self.log:
            ends = [math.exp(value) for value in ends]
        return max(0.0, ends[0]), max(0.0, ends[1])


def quantile(parts: list[Part], share: float) -> float:
    """Value below which it comes out with this probability."""
    low = min(part.middle - 6 * part.sd - part.half for part in parts)
    high = max(part.middle + 6 * part.sd + part.half for part in parts)
    for _ in range(32):
        middle = (low + high) / 2
        if below(parts, middle) < share:
            low = middle
        else:
            high = middle
    return (low + high) / 2
