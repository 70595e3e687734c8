"""Outings since the rebuild at each torque check: counted in the log where they are logged, else as the check says."""

from typing import Any

from ..request.errors import BadInput
from ..request.fields import Whole, is_empty
from ..torque_check.compare import BEDDING_OUTINGS

OUTINGS = Whole(0, 1000, "outings since the rebuild", default=None)


def outings_typed(check: dict[str, Any]) -> int | None:
    """Outings that a unit had since its rebuild by the entry of a torque check; None where it does not say.

    >>> outings_typed({"body": {"circumstances": {"outings": {"typed": "4", "unit": ""}}}}), outings_typed({"body": {}})
    (4, None)
    """
    given = (check["body"].get("circumstances") or {}).get("outings")
    if is_empty(given):
        return None
    try:
        return int(OUTINGS.read(given, "outings"))
    except BadInput:
        # An entry that an older form accepted.
        return None


def outings_of(entry: dict[str, Any]) -> int | None:
    """Outings that a unit had since its rebuild when it was looked at; None where nothing tells.

    Entries of `live_entries` hold what is counted in the log; a check without it says what was typed.

    >>> check = {"kind": "torque_check", "body": {"circumstances": {"outings": "4"}}}
    >>> outings_of(check), outings_of({"kind": "torque_check", "body": {}, "counted": {"outings": 5, "hours": 1.5}})
    (4, 5)
    """
    counted = entry.get("counted")
    if counted is not None:
        outings: int | None = counted["outings"]
        return outings
    return outings_typed(entry)


def hours_of(entry: dict[str, Any]) -> float | None:
    """Hours that a unit ran since its rebuild when it was looked at; None where some of them are not logged."""
    counted = entry.get("counted")
    if counted is not None:
        hours: float | None = counted["hours"]
        return hours
    return 0.0 if outings_typed(entry) == 0 else None


def is_fresh(check: dict[str, Any]) -> bool:
    """Whether a torque check was taken fresh from a rebuild, before the plates bedded in.

    >>> is_fresh({"body": {"circumstances": {"outings": "0"}}}), is_fresh({"body": {"circumstances": {"outings": 1}}})
    (True, False)
    """
    outings = outings_of(check)
    return outings is not None and outings < BEDDING_OUTINGS
