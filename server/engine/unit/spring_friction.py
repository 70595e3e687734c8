"""Friction between nested discs and at their edges: more load while a column is closed, less while it is let go.

References
----------
1. DIN EN 16984:2017, Disc springs - Calculation, load of a column with friction; from memory.
"""

from typing import Any


def lost_share(spring: dict[str, Any]) -> float:
    """Share of a column's load that friction takes, w_M (n - 1) + w_R, from the checked fields of a spring.

    0 where neither is given. Discs of the standard have w_M 0.005 to 0.03 and w_R 0.03 to 0.05 in series A, 0.003 to
    0.02 and 0.02 to 0.04 in series B, 0.002 to 0.015 and 0.01 to 0.03 in series C [1]_.

    >>> round(lost_share({"parallel": 3, "surface_friction": 0.015, "edge_friction": 0.03}), 6)
    0.06
    """
    between, edge = spring["surface_friction"] or 0.0, spring["edge_friction"] or 0.0
    return float(between * (spring["parallel"] - 1) + edge)


def has_friction(spring: dict[str, Any]) -> bool:
    """Whether a spring's friction was given."""
    return spring["surface_friction"] is not None or spring["edge_friction"] is not None


def load_factors(spring: dict[str, Any]) -> tuple[float, float]:
    """Load of a column while it is closed and while it is let go, over that of its curve.

    Parameters
    ----------
    spring : dict
        Checked fields of a spring.

    Returns
    -------
    tuple
        (1 or more, 1 or less); both 1 without friction.

    Notes
    -----
    Over a small travel ds the press does the work F ds: what n discs store, n P ds, and what friction takes, which
    grows with the press's own force: F = n P + lost F while closing, F = n P - lost F while letting go.

    Examples
    --------
    >>> [round(factor, 3) for factor in load_factors({"parallel": 2, "surface_friction": 0.02, "edge_friction": 0.03})]
    [1.053, 0.952]
    """
    lost = lost_share(spring)
    return 1.0 / (1.0 - lost), 1.0 / (1.0 + lost)
