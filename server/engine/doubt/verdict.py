"""The four verdicts, and the rule that a verdict on a limit follows.

Inside the limits by the guard band or more: go. Outside by the guard band or more: rework or replace. In between the
reading cannot decide, and the verdict is to measure again.

References
----------
1. ISO 14253-1:2017 and JCGM 106:2012, 8.3: guard bands, here one-sided 95 % at each limit.
"""

from ..request.units import say

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


def judge_limit(value: float, guard: float, limit: float, lower: bool, outside: str) -> str:
    """Verdict on a value against one limit.

    Parameters
    ----------
    value : float
        The measured value.
    guard : float
        Guard band, at least 0, in the same unit.
    limit : float
        The limit, in the same unit.
    lower : bool
        Whether the value has to lie above it; otherwise below.
    outside : str
        Verdict beyond the limit: REWORK or REPLACE.

    Returns
    -------
    str
        GO, `outside` or MEASURE_AGAIN.

    Examples
    --------
    >>> [judge_limit(value, 4.0, 70.0, True, REWORK) for value in (80.0, 72.0, 60.0)]
    ['go', 'measure_again', 'rework']
    """
    inside_by = value - limit if lower else limit - value
    if inside_by >= guard:
        return GO
    return outside if inside_by <= -guard else MEASURE_AGAIN


def written_band(low: float | None, high: float | None, si: str, unit: str) -> str:
    """A band as sentences give it."""
    if low is not None and high is not None:
        return f"{say(low, si, unit)} to {say(high, si, unit)}"
    return f"at least {say(low, si, unit)}" if low is not None else f"at most {say(high or 0.0, si, unit)}"
