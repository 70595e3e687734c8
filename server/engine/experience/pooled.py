"""Lines of several units of one kind, each drawn towards the others as far as its own readings are few.

Reading i of unit j is y = (b0 + u0j) + (b1 + u1j) x + e. The fixed b0 and b1 are the kind's own line; u0 and u1 are how
a unit differs from it, e how a single reading does, all normal and independent. With the ratios of the variances of u0
and u1 to that of e given, everything else follows in closed form: the kind's line by generalized least squares, each
unit's by the best linear unbiased prediction, and how far off that may be. The ratios are found by restricted maximum
likelihood (REML), or gone through in steps: see `band`.

References
----------
1. N. M. Laird, J. H. Ware, Random-effects models for longitudinal data, Biometrics 38 (1982), 963-974: the model.
2. D. A. Harville, Maximum likelihood approaches to variance component estimation and to related problems, Journal of
   the American Statistical Association 72 (1977), 320-338: the restricted likelihood and the prediction's variance.
"""

import math
from typing import Any, NamedTuple

# What is known of the levels of units' lines.
POOLED = "pooled"
FREE = "free"
NONE = "none"

# A ratio at which levels draw each other no more.
APART = 1e4

# Log-ratios of standard deviations that the search goes through first, and how exactly it ends.
# The first stands for a ratio of 0; beyond the last scatter could not be told from 0.
COARSE = (-9.0, -3.0, -2.0, -1.0, 0.0, 1.0, 2.0, 3.5)
FAR = 6.0
FINE = 1e-7

# A sum of squares below this share of the whole is rounding.
ROUNDING = 1e-13

Sums = NamedTuple(
    "Sums",
    [
        # Readings of one unit: how many, and their sums and sums of products, x and y about the middle of all.
        ("count", int),
        ("x", float),
        ("xx", float),
        ("y", float),
        ("xy", float),
        ("yy", float),
    ],
)

Fit = NamedTuple(
    "Fit",
    [
        # The kind's line: value at the middle of x, and rise for each scaled x.
        ("level", float),
        ("rise", float),
        # Inverse of its information, for a scatter of 1: (level, both, rise).
        ("inverse", Any),
        # Sum of squares that is left, and restricted log-likelihood without it and its power.
        ("left", float),
        ("log_rest", float),
    ],
)

Prediction = NamedTuple(
    "Prediction",
    [
        # The unit's own line, as `Fit` has the kind's.
        ("level", float),
        ("rise", float),
        # Its squared doubt for a scatter of 1: (level, both, rise).
        ("doubt", Any),
    ],
)


class Pooled:
    """Readings of several units.

    Parameters
    ----------
    units : list of list of (float, float)
        Each unit's readings, x and y; a unit may have none. Two different x among all at least, or one that is not 0.
    levels : str
        `POOLED`, where units' levels belong to a kind; `FREE`, where each unit has its own, which says nothing of the
        others; `NONE`, where every line goes through 0 at x = 0, and has a rise alone.

    Attributes
    ----------
    middle : float
        Middle of all x.
    step : float
        Spread of x within a unit, which x is scaled by.
    base : float
        Middle of all y.
    count, fixed : int
        Readings of all units, and figures that nothing draws towards others: the kind's line, and free levels.
    """

    def __init__(self, units: list[list[tuple[float, float]]], levels: str = POOLED) -> None:
        through = self.through = levels == NONE
        with_readings = len([unit for unit in units if unit])
        self.fixed = 1 if through else 1 + with_readings if levels == FREE else 2
        points = [point for unit in units for point in unit]
        self.count = len(points)
        self.middle = 0.0 if through else sum(x for x, _ in points) / self.count
        self.base = 0.0 if through else sum(y for _, y in points) / self.count
        size = math.sqrt(sum(x * x for x, _ in points) / self.count)
        self.step = (size if through else spread_within(units) or spread_within([points])) or 1.0
        self.sums = [self.sums_of(unit) for unit in units]

    def sums_of(self, unit: list[tuple[float, float]]) -> Sums:
        """One unit's sums."""
        rows = [(self.scaled(x), y - self.base) for x, y in unit]
        # Through 0 nothing tells of a level.
        level = 0 if self.through else 1
        return Sums(
            level * len(rows),
            level * sum(x for x, _ in rows),
            sum(x * x for x, _ in rows),
            level * sum(y for _, y in rows),
            sum(x * y for x, y in rows),
            sum(y * y for _, y in rows),
        )

    def scaled(self, x: float) -> float:
        """An x about the middle, in steps."""
        return (x - self.middle) / self.step

    def fit(self, level: float, rise: float) -> Fit | None:
        """The kind's line where units differ by so many times the scatter of readings, at the middle and in their rise.

        None where the readings do not tell a line.
        """
        p11 = p12 = p22 = q1 = q2 = whole = log_det = 0.0
        a, b = level * level, rise * rise
        for unit in self.sums:
            s11, s12, s22, det = shrink(unit, level, rise)
            log_det += math.log(det)
            n, x, xx, y, xy = unit.count, unit.x, unit.xx, unit.y, unit.xy
            # What the unit tells of the kind's line, in the form in which nothing cancels for large ratios.
            square = n * xx - x * x
            p11 += (n + b * square) / det
            p12 += x / det
            p22 += (xx + a * square) / det
            q1 += (y + b * (xx * y - x * xy)) / det
            q2 += (xy + a * (n * xy - x * y)) / det
            whole += unit.yy - (s11 * y * y + 2 * s12 * y * xy + s22 * xy * xy)
        if self.through:
            if p22 <= 0.0:
                return None
            rest = -0.5 * (log_det + math.log(p22))
            return Fit(0.0, q2 / p22, (0.0, 0.0, 1.0 / p22), max(0.0, whole - q2 * q2 / p22), rest)
        det = p11 * p22 - p12 * p12
        if det <= ROUNDING * p11 * p22:
            return None
        inverse = (p22 / det, -p12 / det, p11 / det)
        first = inverse[0] * q1 + inverse[1] * q2
        second = inverse[1] * q1 + inverse[2] * q2
        left = max(0.0, whole - first * q1 - second * q2)
        return Fit(first, second, inverse, left, -0.5 * (log_det + math.log(det)))

    def likelihood(self, level: float, rise: float) -> float:
        """Restricted log-likelihood, but for a constant, with the scatter at its best [2]_."""
        fit = self.fit(level, rise)
        if fit is None or fit.left <= 0.0:
            return -math.inf
        return fit.log_rest - 0.5 * (self.count - self.fixed) * math.log(fit.left)

    def predict(self, fit: Fit, unit: int, level: float, rise: float) -> Prediction:
        """A unit's own line: the kind's, drawn to its own readings as far as these are many."""
        own = self.sums[unit]
        s11, s12, s22, det = shrink(own, level, rise)
        off, lean = own.y - own.count * fit.level - own.x * fit.rise, own.xy - own.x * fit.level - own.xx * fit.rise
        # How much of the kind's line is left in the unit's: 1 less S A.
        a, b = level * level, rise * rise
        k11, k12 = (1 + b * own.xx) / det, -a * own.x / det
        k21, k22 = -b * own.x / det, (1 + a * own.count) / det
        v11, v12, v22 = fit.inverse
        d11 = s11 + k11 * (v11 * k11 + v12 * k12) + k12 * (v12 * k11 + v22 * k12)
        d12 = s12 + k11 * (v11 * k21 + v12 * k22) + k12 * (v12 * k21 + v22 * k22)
        d22 = s22 + k21 * (v11 * k21 + v12 * k22) + k22 * (v12 * k21 + v22 * k22)
        return Prediction(fit.level + s11 * off + s12 * lean, fit.rise + s12 * off + s22 * lean, (d11, d12, d22))

    def reml(self) -> tuple[float, float]:
        """The two ratios of standard deviations at which the restricted likelihood is highest; 0 where it is there."""
        heights = {
            (a, b): self.likelihood(ratio_of(a), ratio_of(b)) for a in range(len(COARSE)) for b in range(len(COARSE))
        }
        tops = []
        for a, b in heights:
            beside = [heights.get((a + i, b + j), -math.inf) for i in (-1, 0, 1) for j in (-1, 0, 1)]
            if heights[(a, b)] >= max(beside):
                tops.append(climb(self.likelihood, (heights[(a, b)], COARSE[a], COARSE[b])))
        top = max(tops)
        return ratio_at(top[1]), ratio_at(top[2])


def spread_within(units: list[list[tuple[float, float]]]) -> float:
    """Spread of x within units that have several readings; 0 where none has two different ones."""
    squares, free = 0.0, 0
    for unit in units:
        if len(unit) > 1:
            middle = sum(x for x, _ in unit) / len(unit)
            squares += sum((x - middle) ** 2 for x, _ in unit)
            free += len(unit) - 1
    return math.sqrt(squares / free) if free else 0.0


def shrink(unit: Sums, level: float, rise: float) -> tuple[float, float, float, float]:
    """What is left of a unit's differences once its readings are known, for a scatter of 1, and a determinant.

    With R the two ratios on a diagonal and A the unit's information, S = R (1 + R A R)^-1 R, and det(1 + R A R).
    """
    a, b = level * level, rise * rise
    square = unit.count * unit.xx - unit.x * unit.x
    det = 1 + a * unit.count + b * unit.xx + a * b * square
    return a * (1 + b * unit.xx) / det, -a * b * unit.x / det, b * (1 + a * unit.count) / det, det


def ratio_at(log: float) -> float:
    """A ratio by its logarithm; one that is too small to tell from 0 is 0."""
    return 0.0 if log <= COARSE[0] else math.exp(log)


def ratio_of(place: int) -> float:
    """The ratio at a place of the coarse search."""
    return ratio_at(COARSE[place])


def climb(likelihood: Any, start: tuple[float, float, float]) -> tuple[float, float, float]:
    """From a start, (likelihood, log of one ratio, of the other), to the peak, in steps that halve where none gains.

    The way that gained last is gone on first, a little further each time.
    """
    top, level, rise = start
    step = 1.0
    while step > FINE:
        gained = False
        for a, b in ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, -1), (1, -1), (-1, 1)):
            ahead = step
            while True:
                there = (max(level + a * ahead, COARSE[0]), max(rise + b * ahead, COARSE[0]))
                height = likelihood(ratio_at(there[0]), ratio_at(there[1])) if max(there) < FAR else -math.inf
                if height <= top:
                    break
                top, (level, rise), gained, ahead = height, there, True, 2 * ahead
        if not gained:
            step *= 0.5
    return top, level, rise
