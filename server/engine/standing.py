"""What stands: everything that a screen shows of a unit, derived from its entries in this one place.

Entries are never changed. A correction names the entry that it replaces, and both stay; what stands counts the newest.
"""

from typing import Any

from .fields import Checked, Day, Group, Listing
from .verdict import GO, worst

RECHECK_AFTER_DAYS = 365


FORM = Group(
    {
        "entries": Listing(
            Checked("an entry of the log"), 0, 100000, "all entries of one unit, in any order", nouns="entries"
        ),
        "today": Day("the day to judge by what is due", default=None),
    },
    "what stands for one unit",
)


def by_device_time(entry: dict[str, Any]) -> tuple[str, str]:
    """Order in which things were done, as far as the devices' clocks can be believed."""
    return (instant(entry["at"]), entry["id"])


def by_arrival(entry: dict[str, Any]) -> tuple[int, str, str]:
    """Order in which entries reached the log; those on their way come last."""
    arrived = entry.get("seq")
    return (arrived if arrived is not None else 1 << 52, instant(entry["at"]), entry["id"])


def instant(at: str) -> str:
    """A time with offset as sortable text in UTC.

    Parameters
    ----------
    at : str
        ISO 8601 with offset, such as "2026-05-03T10:20:00+02:00"; "Z" for UTC.

    Examples
    --------
    >>> instant("2026-05-03T00:20:00+02:00")
    '2026-05-02T22:20:00.000'
    """
    if at.endswith("Z"):
        stamp, minutes = at[:-1], 0
    else:
        stamp, sign = at[:-6], -1 if at[-6] == "-" else 1
        minutes = sign * (int(at[-5:-3]) * 60 + int(at[-2:]))
    date, clock = stamp[:10], stamp[11:]
    pieces = (clock + ":00").split(":")
    seconds = pieces[2]
    whole, _, part = seconds.partition(".")
    fraction = (part + "000")[:3]
    total = int(pieces[0]) * 60 + int(pieces[1]) - minutes
    day = day_number(date) + total // 1440
    total %= 1440
    return f"{day_of(day)}T{total // 60:02d}:{total % 60:02d}:{int(whole):02d}.{fraction}"


def day_number(day: str) -> int:
    """Days since 1 March of the year 0, proleptic Gregorian.

    >>> day_number("2026-03-01") - day_number("2026-02-28")
    1
    """
    year, month, date = int(day[:4]), int(day[5:7]), int(day[8:10])
    # Counting years from March puts the leap day last, which makes the month lengths regular.
    if month < 3:
        year, month = year - 1, month + 12
    return 365 * year + year // 4 - year // 100 + year // 400 + (153 * (month - 3) + 2) // 5 + date - 1


def day_of(number: int) -> str:
    """The day with this number, the inverse of `day_number`.

    >>> day_of(day_number("2028-02-29"))
    '2028-02-29'
    """
    cycle, rest = number // 146097, number % 146097
    year = (rest - rest // 1460 + rest // 36524 - rest // 146096) // 365
    in_year = rest - (365 * year + year // 4 - year // 100)
    month = (5 * in_year + 2) // 153
    date = in_year - (153 * month + 2) // 5 + 1
    year += 400 * cycle
    month += 3
    if month > 12:
        year, month = year + 1, month - 12
    return f"{year:04d}-{month:02d}-{date:02d}"


def row_of(entry: dict[str, Any]) -> dict[str, Any]:
    """What a screen needs of a judged entry."""
    shown = entry["shown"]
    return {
        "id": entry["id"],
        "at": entry["at"],
        "who": entry.get("who", ""),
        "verdict": shown.get("verdict"),
        "reason": shown.get("reason", ""),
        "value_nm": shown.get("value_nm"),
        "guard_nm": shown.get("guard_nm"),
        "low_nm": shown.get("low_nm"),
        "high_nm": shown.get("high_nm"),
        "findings": shown.get("findings", []),
        "agrees": entry.get("agrees"),
    }


def plate_rows(checks: list[dict[str, Any]]) -> dict[str, Any]:
    """The newest row of every slot that was ever measured, from checks in order of time."""
    rows = {}
    for entry in checks:
        for row in entry["shown"].get("plates", []):
            rows[row["slot"]] = {
                "slot": row["slot"],
                "verdict": row["verdict"],
                "reason": row["reason"],
                "lowest_mm": row["lowest_mm"],
                "minimum_mm": row["minimum_mm"],
                "at": entry["at"],
                "id": entry["id"],
            }
    return rows


def due_list(torque: dict[str, Any] | None, rows: dict[str, Any], today: str | None) -> list[dict[str, Any]]:
    """What is due to be done, most pressing first."""
    found = []
    if torque is None:
        found.append({"name": "torque", "text": "Never torque-checked: check it before it runs."})
    else:
        for finding in torque["findings"]:
            if finding["name"] == "fresh":
                found.append(
                    {
                        "name": "recheck",
                        "text": "Checked fresh from a rebuild: check again after the first outing.",
                    }
                )
    if not rows:
        found.append({"name": "plates", "text": "Plates never measured: open it once a season and measure them."})
    elif today is not None:
        oldest = min(row["at"][:10] for row in rows.values())
        if day_number(today) - day_number(oldest) > RECHECK_AFTER_DAYS:
            found.append({"name": "plates", "text": f"Plates last measured on {oldest}: open it once a season."})
    return found


def standing(request: dict[str, Any]) -> dict[str, Any]:
    """What stands for a unit.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; entries of one unit in any order, delivered or not.

    Returns
    -------
    dict
        unit_id; unit (its definition that stands) and derived (its figures); verdict and reason, the worst of the last
        torque check and of every plate's last measurement; looked_at; torque; by_slot; due; trend (all torque checks
        that stand, by time); replaced (id -> id of its correction); contested (definitions that another device
        overwrote without having seen them).
    """
    entries = request["entries"]
    replaced = {}
    for entry in sorted(entries, key=by_arrival):
        if entry.get("replaces"):
            replaced[entry["replaces"]] = entry["id"]
    live = sorted([entry for entry in entries if entry["id"] not in replaced], key=by_device_time)
    definitions = sorted([entry for entry in live if entry["kind"] == "unit"], key=by_arrival)
    torques = [row_of(entry) for entry in live if entry["kind"] == "torque_check"]
    plate_checks = [entry for entry in live if entry["kind"] == "plate_check"]
    rows = plate_rows(plate_checks)
    unit = definitions[-1] if definitions else None
    if unit is not None:
        slots = [item["slot"] for item in unit["body"]["chain"]]
        rows = {slot: rows[slot] for slot in slots if slot in rows}
    torque = torques[-1] if torques else None
    judged = ([torque] if torque else []) + list(rows.values())
    verdict = worst([row["verdict"] for row in judged]) if judged else None
    looks = torques + [row_of(entry) for entry in plate_checks]
    reason = "Not looked at yet."
    if verdict == GO:
        reason = torque["reason"] if torque else "Every measured plate is above its limit."
    elif verdict is not None:
        reason = next(row["reason"] for row in judged if row["verdict"] == verdict)
    return {
        "unit_id": entries[0]["unit"] if entries else None,
        "unit": unit["body"] if unit else None,
        "derived": unit["shown"] if unit else None,
        "verdict": verdict,
        "reason": reason,
        "looked_at": max(looks, key=lambda row: instant(row["at"]))["at"] if looks else None,
        "torque": torque,
        "by_slot": rows,
        "due": due_list(torque, rows, request["today"]),
        "trend": [{name: row[name] for name in ("id", "at", "value_nm", "guard_nm", "verdict")} for row in torques],
        "replaced": replaced,
        "contested": [],
        "disagrees": [entry["id"] for entry in live if entry.get("agrees") is False],
    }


def kit_standing(request: dict[str, Any]) -> dict[str, Any]:
    """The kit that stands: every tool by its newest entry, those no longer in use left out.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; the entries that belong to no unit.

    Returns
    -------
    dict
        tools, by name: id (of the entry that brought it in), tool (wrench, scale or micrometer), name, body.
    """
    entries = sorted([entry for entry in request["entries"] if entry["kind"] == "kit"], key=by_arrival)
    replaced = {entry["replaces"] for entry in entries if entry.get("replaces")}
    tools = {}
    for entry in entries:
        if entry["id"] not in replaced:
            body = entry["body"]
            name = body.get("id") or entry.get("replaces") or entry["id"]
            tools[name] = {"id": name, "tool": body["tool"], "name": body[body["tool"]]["name"], "body": body}
    found = [tool for tool in tools.values() if tool["body"].get("gone") != "yes"]
    return {"tools": sorted(found, key=lambda tool: (tool["name"], tool["id"]))}
