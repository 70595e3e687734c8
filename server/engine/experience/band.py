"""What the next reading of a unit may come to, when nobody knows how much units of its kind differ.

A band that takes the most likely ratios of the variances for known is too narrow with few units [1]_. So all ratios are
gone through, each with the weight that the readings give it: the restricted likelihood is what is left of the readings'
probability once the kind's line is taken out under a flat prior [2]_. Each ratio gives a Student's t for the next
reading; the band holds 95 % of their mixture.

Before any reading is looked at, a ratio of standard deviations is taken to be about one, with the long tail of half a
Cauchy distribution [3]_, and the scatter of single readings is taken to be what the caller says, as if it had been seen
in `SEEN` degrees of freedom. With many units and readings neither matters.

References
----------
1. R. N. Kackar, D. A. Harville, Approximations for standard errors of estimators of fixed and random effects in mixed
   linear models, Journal of the American Statistical Association 79 (1984), 853-862.
2. D. A. Harville, Bayesian inference for variance components using only error contrasts, Biometrika 61 (1974), 383-385.
3. A. Gelman, Prior distributions for variance parameters in hierarchical models, Bayesian Analysis 1 (2006), 515-533.
4. M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964), 25.4.30.
"""

import math
from typing import Any, NamedTuple

from ..doubt.student_t import t_quantile, t_upper_tail
from .pooled import APART, FREE, NONE, POOLED, Fit, Pooled

# Degrees of freedom that a scatter known beforehand counts for: no source.
SEEN = 4

# Nodes that each ratio is gone through by.
STEPS = 14

# Ratios that count for less than this share of the most likely one are left out.
SLIGHT = 1e-4

# How often the stretch that is gone through is drawn closer about the ratios that count, and how much is worth it.
CLOSER = 5
WORTH = 0.7

TWO_SIDED = 0.95

Node = NamedTuple(
    "Node",
    [
        ("weight", float),
        # The unit's line and its squared doubt, for a scatter of 1.
        ("line", Any),
        # Scatter of single readings.
        ("scatter", float),
    ],
)

Spot = NamedTuple(
    "Spot",
    [
        ("ratio", float),
        # Share of what is believed of ratios before any reading was seen: where it lies, and how much it stands for.
        ("place", float),
        ("share", float),
        # Ends of the stretch that it belongs to.
        ("low", float),
        ("high", float),
    ],
)


def gauss(count: int) -> list[tuple[float, float]]:
    """Nodes from 0 to 1 of Gauss's rule, with their weights [4]_.

    >>> [(round(node, 4), round(weight, 4)) for node, weight in gauss(2)]
    [(0.2113, 0.5), (0.7887, 0.5)]
    """
    rows = []
    for step in range(count):
        x = -math.cos(math.pi * (step + 0.75) / (count + 0.5))
        for _ in range(8):
            before, here = 0.0, 1.0
            for order in range(count):
                before, here = here, ((2 * order + 1) * x * here - order * before) / (order + 1)
            slope = count * (before - x * here) / (1 - x * x)
            x -= here / slope
        rows.append((0.5 * (1 + x), 1 / ((1 - x * x) * slope * slope)))
    return rows


NODES = gauss(STEPS)


def spots(known: float | None, low: float, high: float) -> list[Spot]:
    """A ratio that is known, or those of a stretch of half a Cauchy distribution, which is even in the angle."""
    if known is not None:
        return [Spot(known, 0.5, 1.0, 0.0, 1.0)]
    places = [(low + (high - low) * node, (high - low) * weight) for node, weight in NODES]
    return [Spot(math.tan(0.5 * math.pi * place), place, share, low, high) for place, share in places]


def length(row: list[Spot]) -> float:
    """How long a stretch is."""
    return row[0].high - row[0].low


def about(row: list[Spot], counting: list[int]) -> tuple[float, float]:
    """The stretch about the ratios that count, up to the next one on either side."""
    first, last = min(counting) - 1, max(counting) + 1
    return row[first].place if first >= 0 else row[0].low, row[last].place if last < len(row) else row[0].high


class Band:
    """The line of one unit among its kind, and the band in which its next reading lies.

    Parameters
    ----------
    units : list of list of (float, float)
        Readings of every unit, x and y.
    own : int
        Which of them is asked about.
    scatter : float
        What single readings are taken to scatter by before any was seen; above 0.
    seen : int
        Degrees of freedom that this counts for.
    levels : str
        What is known of the levels of their lines: see `Pooled`.

    Attributes
    ----------
    dof : int
        Degrees of freedom of every t.
    slope : float
        Rise of the unit's line for each x.
    """

    def __init__(
        self,
        units: list[list[tuple[float, float]]],
        own: int,
        scatter: float,
        seen: int = SEEN,
        levels: str = POOLED,
    ) -> None:
        self.pooled = Pooled(units, levels)
        self.dof = self.pooled.count - self.pooled.fixed + seen
        # With one unit alone nothing depends on how units differ.
        lone = not any(unit for place, unit in enumerate(units) if place != own)
        level = {NONE: 0.0, FREE: APART}.get(levels, 0.0 if lone else None)
        self.nodes = self.weighed(level, 0.0 if lone else None, own, seen * scatter * scatter)
        self.level: float = sum(node.weight * node.line.level for node in self.nodes)
        self.rise: float = sum(node.weight * node.line.rise for node in self.nodes)
        self.slope = self.rise / self.pooled.step

    def weighed(self, level: float | None, rise: float | None, own: int, before: float) -> list[Node]:
        """The unit's line for pairs of ratios, each known or gone through, with the weight of each."""
        levels, rises = spots(level, 0.0, 1.0), spots(rise, 0.0, 1.0)
        rows = self.counting(levels, rises, before)
        # With many readings few ratios count, and these may lie between two nodes of the whole.
        for _ in range(CLOSER):
            low_level, high_level = about(levels, [row[1] for row in rows])
            low_rise, high_rise = about(rises, [row[2] for row in rows])
            if high_level - low_level > WORTH * length(levels) and high_rise - low_rise > WORTH * length(rises):
                break
            levels, rises = spots(level, low_level, high_level), spots(rise, low_rise, high_rise)
            rows = self.counting(levels, rises, before)
        most = max(row[0] for row in rows)
        weights = [math.exp(height - most) * levels[a].share * rises[b].share for height, a, b, _, _ in rows]
        whole = sum(weights)
        return [
            Node(
                weight / whole,
                self.pooled.predict(fit, own, levels[a].ratio, rises[b].ratio),
                math.sqrt(left / self.dof),
            )
            for weight, (_, a, b, fit, left) in zip(weights, rows)
        ]

    def counting(
        self, levels: list[Spot], rises: list[Spot], before: float
    ) -> list[tuple[float, int, int, Fit, float]]:
        """Likelihood, places of both ratios, the kind's line and what is left, of the pairs that count."""
        fits = []
        for a, level in enumerate(levels):
            for b, rise in enumerate(rises):
                fit = self.pooled.fit(level.ratio, rise.ratio)
                if fit is not None:
                    left = fit.left + before
                    fits.append((fit.log_rest - 0.5 * self.dof * math.log(left), a, b, fit, left))
        most = max(row[0] for row in fits)
        return [row for row in fits if row[0] > most + math.log(SLIGHT)]

    def value(self, x: float) -> float:
        """What is expected at `x`."""
        return self.pooled.base + self.level + self.rise * self.pooled.scaled(x)

    def half(self, x: float, share: float = TWO_SIDED, ahead: int = 1) -> float:
        """Half width of the band that holds `share` of the next readings at `x`; with 0 `ahead` of the line itself."""
        z = self.pooled.scaled(x)
        middle = self.level + self.rise * z
        ts = []
        for node in self.nodes:
            d11, d12, d22 = node.line.doubt
            square = ahead + d11 + 2 * d12 * z + d22 * z * z
            off = node.line.level + node.line.rise * z - middle
            ts.append((node.weight, off, node.scatter * math.sqrt(square)))
        return half_of(ts, self.dof, share)

    def slope_half(self, share: float = TWO_SIDED) -> float:
        """How far off the rise of the unit's line may be."""
        ts = [
            (node.weight, node.line.rise - self.rise, node.scatter * math.sqrt(node.line.doubt[2]))
            for node in self.nodes
        ]
        return half_of(ts, self.dof, share) / self.pooled.step


def outside(ts: list[tuple[float, float, float]], dof: int, half: float) -> float:
    """Probability that a mixture of t's, (weight, middle, scale) each, lies further off 0 than `half`."""
    return sum(
        weight * (upper((half - off) / scale, dof) + upper((half + off) / scale, dof)) for weight, off, scale in ts
    )


def upper(t: float, dof: int) -> float:
    """Probability of a t above any value."""
    return t_upper_tail(t, dof) if t >= 0 else 1.0 - t_upper_tail(-t, dof)


def half_of(ts: list[tuple[float, float, float]], dof: int, share: float) -> float:
    """Half width about 0 that holds `share` of a mixture of t's, by Newton's steps kept between two ends."""
    factor = t_quantile((1 - share) / 2, dof)
    if len(ts) == 1:
        return float(factor * ts[0][2])
    low, half = 0.0, factor * math.sqrt(sum(weight * (scale * scale + off * off) for weight, off, scale in ts))
    high = math.inf
    for _ in range(60):
        above = outside(ts, dof, half) - (1 - share)
        if above > 0:
            low = half
        else:
            high = half
        step = above / slope_outside(ts, dof, half)
        if abs(step) < 1e-13 * half:
            break
        ahead = half + step
        half = ahead if low < ahead < high else (low + min(high, 2 * half + low)) / 2
    return float(half)


def slope_outside(ts: list[tuple[float, float, float]], dof: int, half: float) -> float:
    """How fast what lies outside falls with the half width."""
    constant = math.exp(math.lgamma(0.5 * (dof + 1)) - math.lgamma(0.5 * dof)) / math.sqrt(dof * math.pi)
    power = -0.5 * (dof + 1)
    total: float = sum(
        weight
        * ((1 + ((half - off) / scale) ** 2 / dof) ** power + (1 + ((half + off) / scale) ** 2 / dof) ** power)
        / scale
        for weight, off, scale in ts
    )
    return constant * total
