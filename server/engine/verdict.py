"""The four verdicts, and the rule that a verdict on a limit follows.

Inside the limits by the guard band: go. Outside by the guard band: rework or replace. In between the reading cannot
say, and the verdict is to measure again.

References
----------
1. ISO 14253-1:2017 and JCGM 106:2012, 8.3: guard bands, here one-sided 95 % at each limit.
"""

GO = "go"
MEASURE_AGAIN = "measure_again"
REWORK = "rework"
REPLACE = "replace"

# From best to worst.
ORDER = [GO, MEASURE_AGAIN, REWORK, REPLACE]

WORDS = {
    GO: "go",
    MEASURE_AGAIN: "measure again",
    REWORK: "rework",
    REPLACE: "replace",
}


def worst(verdicts: list[str]) -> str:
    """The verdict of a whole from those of its parts.

    >>> worst(["go", "replace", "measure_again"])
    'replace'
    """
    return max(verdicts, key=ORDER.index)


def judge(value: float, guard: float, low: float | None, high: float | None, outside: str) -> str:
    """Verdict on a value with a guard band against one limit or two.

    Parameters
    ----------
    value : float
        The measured value.
    guard : float
        Guard band, at least 0, in the same unit.
    low, high : float or None
        Limits in the same unit; None where there is none on that side.
    outside : str
        Verdict beyond a limit: REWORK or REPLACE.

    Returns
    -------
    str
        GO, `outside` or MEASURE_AGAIN.

    Examples
    --------
    >>> [judge(value, 4.0, 70.0, 120.0, REWORK) for value in (80.0, 72.0, 60.0)]
    ['go', 'measure_again', 'rework']
    """
    if (low is not None and value <= low - guard) or (high is not None and value >= high + guard):
        return outside
    if (low is None or value >= low + guard) and (high is None or value <= high - guard):
        return GO
    return MEASURE_AGAIN


def gap_to_limit(value: float, low: float | None, high: float | None) -> float:
    """Distance from the value to the nearest limit: the guard band must be smaller than this to decide."""
    gaps = [abs(value - limit) for limit in (low, high) if limit is not None]
    return min(gaps)
