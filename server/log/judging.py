"""The server's own verdict on an entry that a device has judged already."""

import math
from typing import Any

from server.engine import KINDS, calc

RELATIVE = 1e-9
# Below this a figure is nothing but rounding, in every unit that the engine uses.
NOTHING = 1e-12


def judge(entry: dict[str, Any]) -> tuple[dict[str, Any], bool]:
    """Judge an entry again.

    Parameters
    ----------
    entry : dict
        With its kind, its body as typed and the result as it was shown.

    Returns
    -------
    tuple
        (this engine's result, whether it is the one that was shown).

    Raises
    ------
    BadInput
        The engine cannot use the body; the field is counted from the body.
    """
    judged = calc(KINDS[entry["kind"]].calculation, entry["body"])
    return judged, same(judged, entry["shown"])


def same(one: object, other: object) -> bool:
    """Whether two results say the same: words equal, figures equal to 1e-9 of themselves.

    >>> same({"value_nm": 100.0}, {"value_nm": 100.00000000001}), same("go", "rework")
    (True, False)
    """
    if isinstance(one, bool) or isinstance(other, bool):
        return one is other
    if isinstance(one, int | float) and isinstance(other, int | float):
        return math.isclose(one, other, rel_tol=RELATIVE, abs_tol=NOTHING)
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(one[name], other[name]) for name in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(same(*pair) for pair in zip(one, other))
    return one == other
