"""A straight line through readings, and the band in which the next reading will lie.

References
----------
1. NIST/SEMATECH e-Handbook of Statistical Methods, 4.5.1: prediction intervals.
2. NIST Statistical Reference Datasets, linear regression, Norris: certified values.
"""

import math
from typing import NamedTuple

from .student_t import t_quantile

Line = NamedTuple(
    "Line",
    [
        # Value where x is 0, and rise for each x.
        ("intercept", float),
        ("slope", float),
        # Standard deviations of the two.
        ("intercept_sd", float),
        ("slope_sd", float),
        # Scatter of single readings about the line, and its degrees of freedom.
        ("scatter", float),
        ("dof", int),
        ("count", int),
        # Middle of the readings, and the sum of squared distances of x from it.
        ("middle_x", float),
        ("middle_y", float),
        ("sxx", float),
    ],
)


def fitted(xs: list[float], ys: list[float]) -> Line:
    """Least squares.

    Parameters
    ----------
    xs, ys : list of float
        Three readings or more, not all at one x.

    Examples
    --------
    >>> line = fitted([0.0, 1.0, 2.0], [1.0, 3.0, 5.0])
    >>> line.intercept, line.slope, line.scatter
    (1.0, 2.0, 0.0)
    """
    count = len(xs)
    middle_x, middle_y = sum(xs) / count, sum(ys) / count
    sxx = sum((x - middle_x) ** 2 for x in xs)
    slope = sum((x - middle_x) * (y - middle_y) for x, y in zip(xs, ys)) / sxx
    left = sum((y - middle_y - slope * (x - middle_x)) ** 2 for x, y in zip(xs, ys))
    scatter = math.sqrt(left / (count - 2))
    return Line(
        middle_y - slope * middle_x,
        slope,
        scatter * math.sqrt(1 / count + middle_x**2 / sxx),
        scatter / math.sqrt(sxx),
        scatter,
        count - 2,
        count,
        middle_x,
        middle_y,
        sxx,
    )


def value_at(line: Line, x: float) -> float:
    """The line's value."""
    return line.middle_y + line.slope * (x - line.middle_x)


def band_at(line: Line, x: float, tail: float) -> float:
    """Half width of the band that the next reading at `x` leaves on one side with probability `tail` [1]_."""
    spread = math.sqrt(1 + 1 / line.count + (x - line.middle_x) ** 2 / line.sxx)
    return t_quantile(tail, line.dof) * line.scatter * spread


def meets(line: Line, limit: float, start: float) -> float | None:
    """Where the line comes to `limit`, from `start` on; None where it does not."""
    if line.slope == 0.0:
        return None
    x = line.middle_x + (limit - line.middle_y) / line.slope
    return x if x >= start else None


def band_meets(line: Line, limit: float, lower: bool, start: float, tail: float) -> float | None:
    """Where the band's edge first comes to a limit.

    Parameters
    ----------
    line : Line
        The line.
    limit : float
        The limit.
    lower : bool
        Whether readings have to lie above the limit; otherwise below.
    start : float
        Where to look from, such as the last reading.
    tail : float
        One-sided probability of a reading beyond the edge.

    Returns
    -------
    float or None
        `start` where the edge is past the limit already; None where it never comes to it.

    Notes
    -----
    With u = x - mean x, m the distance of the mean from the limit on the good side and c = t · scatter, the edge meets
    the limit where (m + b u)^2 = c^2 (1 + 1/n + u^2 / Sxx), of which only roots with m + b u >= 0 are on this edge.
    """
    sign = 1.0 if lower else -1.0
    if sign * (value_at(line, start) - limit) <= band_at(line, start, tail):
        return start
    m, b = sign * (line.middle_y - limit), sign * line.slope
    c = t_quantile(tail, line.dof) * line.scatter
    ahead = 1 + 1 / line.count
    square, rest = b * b - c * c / line.sxx, m * m - c * c * ahead
    # Half the root of the discriminant, with the parts that cancel for small scatter cancelled by hand.
    inner = b * b * ahead + rest / line.sxx
    if inner < 0.0:
        return None
    half = c * math.sqrt(inner)
    large = -(m * b + half) if m * b >= 0 else half - m * b
    roots = [large / square] if square != 0.0 else []
    roots += [rest / large] if large != 0.0 else []
    roots = [line.middle_x + u for u in roots if m + b * u >= -1e-9 * abs(m)]
    later = [x for x in roots if x >= start]
    return min(later) if later else None
