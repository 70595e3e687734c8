"""The interval that holds 95 % of a sum, where the largest part may lie anywhere between two ends.

A normal interval of such a sum is too wide: nothing lies beyond the ends. The largest of those parts is taken as it is,
and everything else together as normal.

References
----------
1. JCGM 101:2008, 5.2 and 6.4.2: the distribution of a sum, a rectangular part.
"""

import math

from .budget import TWO_SIDED_95, Part, whole_dof
from .student_t import t_quantile

SHARE = 0.95
STEPS = 60


def below(z: float) -> float:
    """Integral of the standard normal distribution function up to `z`."""
    return z * 0.5 * math.erfc(-z / math.sqrt(2.0)) + math.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi)


def share_within(x: float, half: float, u: float) -> float:
    """Share of the sum of an even part within +/- `half` and a normal one of `u` that lies within +/- `x`.

    >>> round(share_within(1.96, 0.0, 1.0), 3), share_within(0.95, 1.0, 0.0), round(share_within(1.5, 1.0, 0.5), 3)
    (0.95, 0.95, 0.958)
    """
    if half < 1e-6 * u:
        return math.erf(x / u / math.sqrt(2.0))
    if u < 1e-6 * half:
        return min(1.0, x / half)
    return u / half * (below((x + half) / u) - below((x - half) / u)) - 1.0


def half_width(parts: list[Part], evens: list[Part]) -> float:
    """Half of the interval that holds 95 % of a sum, in the unit of its parts.

    Parameters
    ----------
    parts, evens : list of Part
        Normal parts, and those that may lie anywhere between two ends, independent of each other.

    Examples
    --------
    Anywhere within +/- 1, and a normal part beside it.

    >>> tool = Part("tool", "", 1.0 / math.sqrt(3.0), float("inf"))
    >>> round(half_width([], [tool]), 3), round(half_width([Part("repeats", "", 0.5, float("inf"))], [tool]), 3)
    (0.95, 1.451)
    """
    largest = max([part.u for part in evens] + [0.0])
    half = largest * math.sqrt(3.0)
    square = sum(part.u**2 for part in parts) + sum(part.u**2 for part in evens) - largest**2
    u = math.sqrt(max(0.0, square))
    if half == 0.0 and u == 0.0:
        return 0.0
    if u > 0.0:
        # Degrees of freedom of the whole sum: with even parts beside them, few readings matter less.
        u *= t_quantile((1.0 - SHARE) / 2.0, whole_dof(parts + evens)) / t_quantile((1.0 - SHARE) / 2.0, math.inf)
    low, high = 0.0, half + 2.0 * TWO_SIDED_95 * u
    for _ in range(STEPS):
        middle = 0.5 * (low + high)
        if share_within(middle, half, u) < SHARE:
            low = middle
        else:
            high = middle
    return high
