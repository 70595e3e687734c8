"""Plates that were measured too long ago to go by: how many days and outings since."""

from typing import Any, NamedTuple

from ..request.dates import day_number, day_of
from .timeline import corrected_time
from .used import time_of, used_lives, used_since

# Where a unit does not say how often its plates are measured: common practice, no source.
USUAL_DAYS = 365

Stale = NamedTuple(
    "Stale",
    [
        # Beside the stack that is worked out from them, and as something that is due.
        ("text", str),
        ("due", str),
    ],
)


def oldest_of(
    rows: list[dict[str, Any]], rebuilds: list[dict[str, Any]], chain: list[dict[str, Any]]
) -> dict[str, Any] | None:
    """What of the plates is known longest: a measurement, or a rebuild; None where neither is.

    Parameters
    ----------
    rows : list of dict
        Newest measurement of each plate that is in the unit now.
    rebuilds : list of dict
        By time. A plate that was not measured since it was fitted is known from the rebuild that fitted it, and one of
        which nothing was ever written from the last one, which had it in hand.
    chain : list of dict
        The definition's places; empty where it has none.
    """
    fitted = {part["slot"]: rebuild for rebuild in rebuilds for part in rebuild["shown"]["fitted"]}
    slots = [item["slot"] for item in chain if item.get("part") in ("friction", "separator")] or sorted(fitted)
    measured = {row["slot"] for row in rows}
    dated = rows + [fitted.get(slot, rebuilds[-1]) for slot in slots if rebuilds and slot not in measured]
    dated = dated or rebuilds[-1:]
    return min(dated, key=lambda row: (known_from(row), row["id"])) if dated else None


def known_from(row: dict[str, Any]) -> str:
    """When a plate was measured or fitted, in UTC, from what `oldest_of` answers."""
    text: str = row.get("corrected_at") or corrected_time(row)
    return text


def outings_since(live: list[dict[str, Any]], at: str) -> int | None:
    """Outings since a time in UTC, over all rebuilds; None where nothing tells of them.

    A check counts its outings from the rebuild before it. Of a measurement between two checks the earlier one's count.
    """
    outings: int | None = used_since(used_lives(live), lambda entry: time_of(entry) > at)["outings"]
    return outings


def plates_due(oldest: dict[str, Any] | None, every: int | None) -> str | None:
    """The last day on which the plates may be gone by; None where nothing is known of them.

    Parameters
    ----------
    oldest, every
        As `stale_plates` takes them.

    Examples
    --------
    >>> plates_due({"at": "2026-05-03T10:00:00Z", "id": "a"}, 30), plates_due(None, 30)
    ('2026-06-02', None)
    """
    if oldest is None:
        return None
    return day_of(day_number(oldest["at"][:10]) + (USUAL_DAYS if every is None else int(every)))


def stale_plates(
    live: list[dict[str, Any]],
    oldest: dict[str, Any] | None,
    every: int | None,
    today: str | None,
) -> Stale | None:
    """Where the plates were measured too long ago, what to say of it; None where they were not.

    Parameters
    ----------
    live : list of dict
        The unit's entries that stand, by time.
    oldest : dict or None
        What of its plates is known longest, as `oldest_of` gives it.
    every : int or None
        Days after which the unit's plates are measured again; `USUAL_DAYS` if None.
    today : str or None
        The day to judge by.
    """
    last = plates_due(oldest, every)
    if oldest is None or last is None or today is None or today <= last:
        return None
    days, most = day_number(today) - day_number(oldest["at"][:10]), USUAL_DAYS if every is None else every
    outings = outings_since(live, known_from(oldest))
    word = "" if outings is None else " and 1 outing" if outings == 1 else f" and {outings} outings"
    since = f"{days} days{word} ago"
    return Stale(
        f"Plates last measured on {oldest['at'][:10]}, {since}, and {most} days are allowed: measure them before you "
        "go by this stack.",
        f"Measure the plates: last done {since}, {most} days are allowed.",
    )
