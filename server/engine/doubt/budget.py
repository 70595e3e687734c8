"""How good a measured value is: the parts of its doubt, their sum, and the guard band at a limit.

References
----------
1. JCGM 100:2008 (GUM), 4.2, 4.3, 5.1.2, G.4.1, G.6.4.
2. JCGM 106:2012, 8.3: guarded acceptance.
3. ISO 14253-1:2017: rules for deciding conformity.
4. M. Ballico, Limitations of the Welch-Satterthwaite approximation for measurement uncertainty calculations, Metrologia
   37 (2000), 61-64, from memory: with few readings beside a large certified part it promises too much.
"""

import math
from typing import Any, NamedTuple

from .student_t import t_quantile

INFINITE = float("inf")

# The risk of a wrong "go" or a wrong "rework" at one limit.
RISK = 0.05

# With fewer degrees of freedom than this, parts known by statement raise them less: see `effective_dof`.
HARDLY_ANY = 1.5

# Standard uncertainties to either side that hold 95 % of a normal distribution.
TWO_SIDED_95 = 1.96

Part = NamedTuple(
    "Part",
    [
        # Short name, such as "repeats".
        ("name", str),
        # What it is, in a few words for the user.
        ("meaning", str),
        # Standard uncertainty in the unit of the result.
        ("u", float),
        # Degrees of freedom; `INFINITE` for what is known by statement.
        ("dof", float),
    ],
)

Doubt = NamedTuple(
    "Doubt",
    [
        # Combined standard uncertainty.
        ("u", float),
        # Effective degrees of freedom, rounded down as [1] G.4.1 allows, or INFINITE: see `effective_dof`.
        ("dof", float),
        # Two-sided 95 % expanded uncertainty.
        ("expanded", float),
        # One-sided 95 % guard band.
        ("guard", float),
    ],
)


def even(half_width: float) -> float:
    """Standard uncertainty of a value that may lie anywhere within +/- `half_width` [1]_ 4.3.7.

    >>> round(even(3 ** 0.5), 12)
    1.0
    """
    return half_width / math.sqrt(3.0)


def mean(values: list[float]) -> float:
    """Arithmetic mean of one value or more."""
    return sum(values) / len(values)


def scatter(values: list[float]) -> float:
    """Experimental standard deviation of two values or more [1]_ 4.2.2.

    >>> scatter([1.0, 2.0, 3.0])
    1.0
    """
    middle = mean(values)
    return math.sqrt(sum((value - middle) ** 2 for value in values) / (len(values) - 1))


def effective_dof(parts: list[Part]) -> float:
    """Effective degrees of freedom of a sum of parts, not rounded.

    Returns
    -------
    float
        `INFINITE` where no part has finite degrees of freedom.

    Notes
    -----
    Parts that were read (finite degrees of freedom) are combined by Welch and Satterthwaite [1]_ G.4.1. For parts known
    by statement beside them the same formula would multiply the degrees of freedom by 1 / share^2, share being what
    the readings make up of the variance. A scatter that came out small by chance would then look well known, and a risk
    of 5 % becomes 8 % with two readings [4]_. Multiplied by 1 / share the risk stays at 5 %, and with a single degree
    of freedom by the root of 1 / share: `test_risk` checks it with random draws.
    """
    read = sum(part.u**2 for part in parts if part.dof < INFINITE)
    weight = sum(part.u**4 / part.dof for part in parts if part.dof < INFINITE)
    if weight <= 0.0:
        return INFINITE
    dof = read**2 / weight
    share = read / sum(part.u**2 for part in parts)
    return dof / share if dof > HARDLY_ANY else dof / math.sqrt(share)


def whole_dof(parts: list[Part]) -> float:
    """Effective degrees of freedom, rounded down, which can only widen the guard band [1]_ G.4.1."""
    dof = effective_dof(parts)
    # A sum that rounding leaves a hair below a whole number is that number.
    return dof if dof == INFINITE else max(1.0, math.floor(dof * (1 + 1e-9)))


def guard_of(parts: list[Part]) -> float:
    """One-sided 95 % guard band of a sum of parts."""
    return t_quantile(RISK, whole_dof(parts)) * math.sqrt(sum(part.u**2 for part in parts))


def combine(parts: list[Part]) -> Doubt:
    """Doubt of a value from independent parts.

    Parameters
    ----------
    parts : list of Part
        At least one.

    Returns
    -------
    Doubt
        In the unit of the parts.

    Examples
    --------
    Three parts of 0.25, 0.57 and 0.82 with 9, 4 and 14 degrees of freedom come to 1.03 with 19 [1]_ G.4.1.

    >>> parts = [Part("a", "", 0.25, 9), Part("b", "", 0.57, 4), Part("c", "", 0.82, 14)]
    >>> round(combine(parts).u, 2), round(effective_dof(parts), 1)
    (1.03, 19.0)
    """
    u = math.sqrt(sum(part.u**2 for part in parts))
    dof = whole_dof(parts)
    return Doubt(u, dof, t_quantile(RISK / 2, dof) * u, t_quantile(RISK, dof) * u)


def shares(parts: list[Part]) -> list[dict[str, Any]]:
    """Each part's share of the variance, largest first; the shares add up to 1."""
    total = sum(part.u**2 for part in parts)
    rows = [
        {
            "name": part.name,
            "meaning": part.meaning,
            "u": part.u,
            "share": part.u**2 / total if total else 0.0,
        }
        for part in parts
    ]
    return sorted(rows, key=lambda row: (-row["share"], row["name"]))
