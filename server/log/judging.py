"""The server's own verdict on an entry that a device has judged already."""

import math
from typing import Any

from ..engine import KINDS, calc

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


def same(one: Any, other: Any) -> bool:
    """Whether two results, as JSON gives them, say the same: words equal, figures equal to 1e-9 of themselves.

    >>> same({"value_nm": 100.0}, {"value_nm": 100.00000000001}), same("go", "rework"), same(1, True)
    (True, False, False)
    """
    kind, its = type(one), type(other)
    if kind is float or kind is int:
        return (its is float or its is int) and math.isclose(one, other, rel_tol=RELATIVE, abs_tol=NOTHING)
    if kind is not its:
        return False
    # Plain loops, since every figure of every entry comes through here.
    if kind is dict:
        if one.keys() != other.keys():
            return False
        for name, value in one.items():  # noqa: SIM110
            if not same(value, other[name]):
                return False
        return True
    if kind is list:
        if len(one) != len(other):
            return False
        for value, beside in zip(one, other):  # noqa: SIM110
            if not same(value, beside):
                return False
        return True
    return bool(one == other)
