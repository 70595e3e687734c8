"""Judges an entry again on the server, after the device did."""

import math
from typing import Any

from ..engine import KINDS, calc_stored

RELATIVE = 1e-9
# Below this a figure is only rounding error, in every unit that the engine uses.
NOTHING = 1e-12


def judge(entry: dict[str, Any]) -> tuple[dict[str, Any], bool]:
    """Judge an entry again.

    Parameters
    ----------
    entry : dict
        Its kind, its body as typed, the result as it was shown and the version of the engine that showed it.

    Returns
    -------
    tuple
        (this engine's result, whether it agrees with the result that was shown).

    Raises
    ------
    BadInput
        The engine cannot use the body; the field's path starts in the body.
    """
    result = calc_stored(KINDS[entry["kind"]].calculation, entry["body"], entry.get("engine", ""))
    return result, agrees(result, entry["shown"])


def agrees(ours: Any, shown: Any) -> bool:
    """Whether two results, as JSON gives them, agree: equal words, and figures equal to 1e-9 of their size.

    >>> agrees({"value_nm": 100.0}, {"value_nm": 100.00000000001}), agrees("go", "rework"), agrees(1, True)
    (True, False, False)
    """
    kind, other_kind = type(ours), type(shown)
    if kind is float or kind is int:
        is_number = other_kind is float or other_kind is int
        return is_number and (ours == shown or math.isclose(ours, shown, rel_tol=RELATIVE, abs_tol=NOTHING))
    if kind is not other_kind:
        return False
    # Plain loops, because every figure of every entry is compared here.
    if kind is dict:
        if ours.keys() != shown.keys():
            return False
        for name, value in ours.items():
            other = shown[name]
            if not (value == other if type(value) is str else agrees(value, other)):
                return False
        return True
    if kind is list:
        if len(ours) != len(shown):
            return False
        for value, other in zip(ours, shown):  # noqa: SIM110
            if not agrees(value, other):
                return False
        return True
    return bool(ours == shown)
