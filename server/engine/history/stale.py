"""Plates that were measured too long ago to go by: how many days and outings since."""

from typing import Any

from ..request.dates import day_number
from ..request.fields import is_empty, parse
from .timeline import corrected_time

# Where a unit does not say how often its plates are measured: common practice, no source.
USUAL_DAYS = 365


def oldest_of(rows: list[dict[str, Any]], rebuilt: dict[str, Any] | None) -> dict[str, Any] | None:
    """What of the plates is known longest: a measurement, or the last rebuild; None where neither is."""
    dated = rows + ([] if rebuilt is None else [rebuilt])
    return min(dated, key=lambda row: (row["at"], row["id"])) if dated else None


def outings_since(live: list[dict[str, Any]], at: str) -> int | None:
    """Outings since a time in UTC by the checks, over all rebuilds; None where no check gives them.

    A check counts its outings from the rebuild before it. Of a measurement between two checks the earlier one's count.
    """
    earlier, highest, before, has_outings = 0, 0, 0, False
    for entry in live:
        outings = (entry["body"].get("circumstances") or {}).get("outings")
        since_then = corrected_time(entry) > at
        if entry["kind"] == "rebuild":
            earlier, highest = earlier + highest, 0
        elif entry["kind"] == "torque_check" and not is_empty(outings):
            highest = max(highest, int(parse(outings, "outings")))
            has_outings = has_outings or since_then
        if not since_then:
            before = earlier + highest
    return earlier + highest - before if has_outings else None


def stale_plates(
    live: list[dict[str, Any]],
    rows: list[dict[str, Any]],
    rebuilt: dict[str, Any] | None,
    every: int | None,
    today: str | None,
) -> str:
    """A sentence where the plates were measured too long ago; empty where they were not.

    Parameters
    ----------
    live : list of dict
        The unit's entries that stand, by time.
    rows : list of dict
        Newest measurement of each plate that is in it now.
    rebuilt : dict or None
        The last rebuild.
    every : int or None
        Days after which the unit's plates are measured again; `USUAL_DAYS` if None.
    today : str or None
        The day to judge by.
    """
    oldest = oldest_of(rows, rebuilt)
    if oldest is None or today is None:
        return ""
    days, most = day_number(today) - day_number(oldest["at"][:10]), USUAL_DAYS if every is None else every
    if days <= most:
        return ""
    outings = outings_since(live, oldest.get("corrected_at") or corrected_time(oldest))
    word = "" if outings is None else " and 1 outing" if outings == 1 else f" and {outings} outings"
    return (
        f"Plates last measured on {oldest['at'][:10]}, {days} days{word} ago, and {most} days are allowed: measure "
        "them before you go by this stack."
    )
