"""A figure that follows from others, with the doubt that they leave: each is followed to both its ends.

References
----------
1. JCGM 100:2008 (GUM), 4.3.7 (anywhere between two ends) and 5.1 (independent causes add as squares).
2. JCGM 101:2008, 5.2: what holds 95 % of a sum of even and normal parts: `doubt.coverage`.
"""

import math
from typing import Any, NamedTuple

from ..doubt.budget import INFINITE, TWO_SIDED_95, Part, shares
from ..doubt.coverage import half_width

# From the distance of an end to a standard uncertainty: ends as likely as the middle, and ends that hold 95 %.
EVEN = math.sqrt(3.0)
NORMAL = TWO_SIDED_95

Off = NamedTuple(
    "Off",
    [
        # Short name, and what it is in a few words for the user.
        ("name", str),
        ("meaning", str),
        # By how much it may lie below and above what is taken; the first is 0 or less.
        ("low", float),
        ("high", float),
        # EVEN or NORMAL.
        ("spread", float),
    ],
)

Figure = NamedTuple(
    "Figure",
    [
        ("value", float),
        # Standard uncertainty, and the ends between which 95 % lie.
        ("u", float),
        ("low", float),
        ("high", float),
        # What the doubt is made of: see `budget.shares`.
        ("doubt", Any),
    ],
)


class Untold(Exception):
    """A cause, at one of its ends, leaves no answer."""


def normal(name: str, meaning: str, u: float) -> Off:
    """A normal cause of a standard uncertainty."""
    return Off(name, meaning, -NORMAL * u, NORMAL * u, NORMAL)


def even(name: str, meaning: str, within: float) -> Off:
    """A cause that may lie anywhere within an amount either way."""
    return Off(name, meaning, -within, within, EVEN)


def figure_of(answer: Any, offs: list[Off]) -> Figure:
    """A figure and its doubt.

    Parameters
    ----------
    answer : callable
        Amounts by name that causes are off by, those left out by nothing -> the figure.
    offs : list of Off
        Independent causes.

    Notes
    -----
    Where both ends of a cause lie unevenly about the figure, the interval moves: in full for a cause that may lie
    anywhere, and for a normal one as far as the bend moves the mean.

    Examples
    --------
    >>> drawn = figure_of(lambda off: 10.0 + 2.0 * off.get("gap", 0.0), [even("gap", "", 0.1)])
    >>> round(drawn.u, 3), round(drawn.low, 2), round(drawn.high, 2)
    (0.115, 9.81, 10.19)
    """
    value = answer({})
    middle = 0.0
    normals: list[Part] = []
    evens: list[Part] = []
    for off in offs:
        if off.low == off.high:
            continue
        low, high = answer({off.name: off.low}), answer({off.name: off.high})
        uneven = (low + high) / 2.0 - value
        middle += uneven if off.spread == EVEN else uneven / NORMAL**2
        part = Part(off.name, off.meaning, abs(high - low) / 2.0 / off.spread, INFINITE)
        (evens if off.spread == EVEN else normals).append(part)
    half = half_width(normals, evens)
    parts = normals + evens
    rows = [{name: row[name] for name in ("name", "meaning", "share")} for row in shares(parts)]
    u = math.sqrt(sum(part.u**2 for part in parts))
    return Figure(value, u, min(value, value + middle - half), max(value, value + middle + half), rows)
