"""How far off a lock may be: every figure that is not known exactly, and the range that they leave together.

Friction of plates, ramps and ears is never known exactly, so a lock is shown as a range everywhere.

References
----------
1. JCGM 100:2008 (GUM), 4.3.7 (anywhere between two ends), 4.3.9 (the ends are less likely than the middle), 5.1.
"""

import math
from typing import Any, NamedTuple

from ..doubt.budget import INFINITE, TWO_SIDED_95, Part, shares
from .lock import Lock

# From the distance of an end to a standard uncertainty [1]: ends that are hardly likely, ends as likely as the middle,
# and an end of 95 %.
TAPERED = math.sqrt(6.0)
EVEN = math.sqrt(3.0)
NORMAL = TWO_SIDED_95

Cause = NamedTuple(
    "Cause",
    [
        # Short name, and what it is in a few words for the user.
        ("name", str),
        ("meaning", str),
        # The lock with this at its one end and at its other, and everything else as it is most likely.
        ("first", Lock),
        ("second", Lock),
        # From the distance of an end to a standard uncertainty: TAPERED, EVEN or NORMAL.
        ("spread", float),
    ],
)


def range_of(figure: Any, likely: Lock, causes: list[Cause]) -> tuple[float, float]:
    """The least and the most that a figure of a lock may be, 95 %.

    Parameters
    ----------
    figure : callable
        Lock -> number.
    likely : Lock
        With everything as it is most likely.
    causes : list of Cause
        What may be off, independent of each other.

    Notes
    -----
    Each cause is followed to both its ends on its own. Where these lie unevenly about the likely figure, the range
    moves that way: in full for a cause that may lie anywhere between its ends, such as a tolerance of +10 and -5 %, and
    only as far as the bend of the curve moves the mean for a cause that is hardly ever at its ends.

    Examples
    --------
    >>> off = Cause("plates", "", Lock(80.0, 0.3, False), Lock(120.0, 0.5, False), TAPERED)
    >>> [round(end, 3) for end in range_of(lambda lock: lock.ramp, Lock(100.0, 0.4, False), [off])]
    [0.32, 0.48]
    """
    likely_figure = figure(likely)
    middle, variance = likely_figure, 0.0
    for cause in causes:
        first, second = figure(cause.first), figure(cause.second)
        uneven = (first + second) / 2.0 - likely_figure
        middle += uneven if cause.spread == EVEN else uneven / cause.spread**2
        variance += ((second - first) / 2.0 / cause.spread) ** 2
    off = NORMAL * math.sqrt(variance)
    return max(0.0, min(likely_figure, middle - off)), max(likely_figure, middle + off)


def ends_of(figure: Any, likely: Lock, causes: list[Cause]) -> tuple[float, float]:
    """The same for a figure that grows with preload and locking value, 95 %.

    In line the larger of the two counts. Following each cause to its ends on its own would miss that kink, so the ends
    of both are taken together.
    """
    if likely.adds:
        return range_of(figure, likely, causes)
    preloads = range_of(lambda lock: lock.preload, likely, causes)
    slopes = range_of(lambda lock: lock.ramp, likely, causes)
    ends = [figure(Lock(preloads[place], slopes[place], False)) for place in (0, 1)]
    return ends[0], ends[1]


def shares_of(figure: Any, causes: list[Cause]) -> list[dict[str, Any]]:
    """Each cause's share of the doubt of a figure, largest first: name, meaning and share; the shares add up to 1."""
    parts = []
    for cause in causes:
        off = abs(figure(cause.second) - figure(cause.first)) / 2.0
        if off > 0.0:
            parts.append(Part(cause.name, cause.meaning, off / cause.spread, INFINITE))
    return [{name: row[name] for name in ("name", "meaning", "share")} for row in shares(parts)]
