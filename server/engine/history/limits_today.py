"""Measurements held against the limits that their unit has today, where these were others when it was measured.

An entry keeps its verdict as it was shown. What stands is the worse of that one and of what today's limit makes of the
same figures, since a limit may be changed by mistake in either direction; a measurement anew settles it.
"""

from typing import Any

from ..doubt.verdict import REPLACE, WORDS, judge_limit, worst
from ..request.units import say, unit_labels
from ..unit.features import band_of, outside_of
from .built_now import SAME_MM, limit_of
from .later import badness


def is_same(one: float | None, other: float | None) -> bool:
    """Whether two limits are the same but for rounding.

    >>> is_same(None, None), is_same(2.3, 2.3 + 1e-9), is_same(2.3, None)
    (True, True, False)
    """
    if one is None or other is None:
        return one is other
    return abs(one - other) < SAME_MM


def in_words(band: tuple[float | None, float | None], unit: str) -> str:
    """Limits of a length, as a sentence has them.

    >>> in_words((2.3, None), "mm"), in_words((None, 0.3), "mm"), in_words((None, None), "mm")
    ('at least 2.300 mm', 'at most 0.300 mm', 'none')
    """
    low, high = band
    if low is not None and high is not None:
        return f"{say(low, 'mm', unit)} to {say(high, 'mm', unit)}"
    if high is not None:
        return f"at most {say(high, 'mm', unit)}"
    return "none" if low is None else f"at least {say(low, 'mm', unit)}"


def held_against(
    row: dict[str, Any],
    was: tuple[float | None, float | None],
    now: tuple[float | None, float | None],
    outside: str,
    unit: str,
) -> dict[str, Any]:
    """A measured part, by the limits of today.

    Parameters
    ----------
    row : dict
        verdict and reason as they were shown, lowest_mm, guard_mm, and where it has one highest_mm.
    was, now : (float or None, float or None)
        Lowest and highest that was allowed then, and is today, mm.
    outside : str
        Verdict beyond a limit.
    unit : str
        Unit of length that the sentence is written in.

    Returns
    -------
    dict
        The row itself where its limits are the same or nothing was measured; else a copy whose reason names today's,
        and whose verdict is the worse of both.
    """
    lowest, highest = row["lowest_mm"], row.get("highest_mm")
    # 0 limits nothing from below.
    if lowest is None or (is_same(was[0] or None, now[0] or None) and is_same(was[1], now[1])):
        return row
    guard = row["guard_mm"] or 0.0
    verdicts = [] if now[0] is None else [judge_limit(lowest, guard, now[0], True, outside)]
    if now[1] is not None and highest is not None:
        verdicts.append(judge_limit(highest, guard, now[1], False, outside))
    anew = worst(verdicts) if verdicts else None
    today = f"{row['reason']} Today's limit: {in_words(now, unit)}"
    row = row.copy()
    if badness(anew) > badness(row["verdict"]):
        row["verdict"], row["reason"] = anew, f"{today}, so {WORDS[str(anew)]}."
    elif badness(anew) < badness(row["verdict"]):
        row["reason"] = f"{today}. Measure it again, to be judged by that."
    else:
        row["reason"] = f"{today}."
    return row


def entry_of(checks: list[dict[str, Any]], row: dict[str, Any]) -> dict[str, Any]:
    """The measurement that a row came from."""
    return next(check for check in checks if check["id"] == row["id"])


def unit_of(check: dict[str, Any]) -> str:
    """The unit of length that a measurement's sentences are written in: what is added to one is written in that too."""
    unit = check["body"].get("write_in")
    return unit if unit in unit_labels("mm") else "mm"


def shown_row(check: dict[str, Any], table: str, key: str, name: str) -> dict[str, Any]:
    """What an entry showed of a part."""
    shown: dict[str, Any] = next(row for row in check["shown"][table] if row[key] == name)
    return shown


def plate_today(
    row: dict[str, Any],
    checks: list[dict[str, Any]],
    chain: list[dict[str, Any]],
    fitted: dict[str, dict[str, Any]],
) -> dict[str, Any]:
    """A measured plate by the limit of its place today; what a rebuild fitted with a limit of its own keeps that.

    Parameters
    ----------
    row : dict
        Its last measurement.
    checks : list of dict
        Measurements of plates, that one among them.
    chain : list of dict
        The places of the definition, in SI.
    fitted : dict
        By slot what rebuilds had fitted when it was measured.
    """
    slot = row["slot"]
    item = next((item for item in chain if item["slot"] == slot and item.get("new_mm")), None)
    if item is None or row["minimum_mm"] is None or fitted.get(slot, {}).get("minimum_mm"):
        return row
    # Entries of long ago do not have the thickness when new.
    check = entry_of(checks, row)
    new = shown_row(check, "plates", "slot", slot).get("new_mm") or item["new_mm"]
    limit = limit_of(item, new, row)
    if limit is None:
        return row
    return held_against(row, (row["minimum_mm"], None), (limit, None), REPLACE, unit_of(check))


def plates_today(
    rows: dict[str, Any],
    checks: list[dict[str, Any]],
    defined: dict[str, Any] | None,
    fitted: dict[str, dict[str, Any]],
) -> dict[str, Any]:
    """The last measurement of each plate by the limits of today: see `plate_today`."""
    chain = (defined or {}).get("chain") or []
    return {slot: plate_today(rows[slot], checks, chain, fitted) for slot in rows}


def feature_today(row: dict[str, Any], feature: dict[str, Any], check: dict[str, Any]) -> dict[str, Any]:
    """A feature as an inspection found it, with its limits of then, by those of its definition today."""
    was = (row["low_mm"], row["high_mm"])
    return held_against(row, was, band_of(feature), outside_of(feature), unit_of(check))
