"""What is due, as an iCalendar file (RFC 5545) that calendar programs read and subscribe to."""

import re
from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from typing import Any, NamedTuple

from ..engine import calc
from ..engine.history.customers import names_of, owner_of
from ..engine.history.due import TITLES
from ..log.directions import steady

MEDIA_TYPE = "text/calendar; charset=utf-8"

# How often a program is asked to look again (RFC 7986, 5.7).
LOOK_AGAIN = timedelta(hours=6)
CONTROLS = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]+")


class Due(NamedTuple):
    """Something to be done on a day.

    Attributes
    ----------
    about : str
        Id of a unit, or of a tool of the kit.
    name : str
        What is due, in a word; with `about` it stays the same until it is done.
    day : date
        When: what is overdue is due today.
    title, text : str
        What a calendar shows of it, and the sentence behind it.
    unit : str
        The unit; empty if it is about a tool.
    """

    about: str
    name: str
    day: date
    title: str
    text: str
    unit: str


def dates_of(entries: Mapping[str, list[dict[str, Any]]], today: date) -> list[Due]:
    """What is due of every unit and tool, by day.

    Parameters
    ----------
    entries : mapping
        The entries of each unit by its id; of the shop under "".
    today : date
        The day to judge by.
    """
    shop = calc("kit_standing", {"entries": entries.get("", []), "today": today.isoformat()})
    names = names_of(shop["customers"])
    found = [due for unit, rows in entries.items() if unit for due in of_unit(unit, rows, today, names)]
    found += [due for tool in shop["tools"] for due in of_tool(tool, today)]
    return sorted(found, key=lambda due: (due.day, due.title, due.about, due.name))


def of_unit(unit: str, entries: list[dict[str, Any]], today: date, names: dict[str, str]) -> list[Due]:
    """What is due of a unit: what has to be done now, and the day on which its plates have to be measured again."""
    standing = calc("standing", {"entries": entries, "today": today.isoformat()})
    definition = standing["unit"] or {}
    name = definition.get("name") or "A unit without a name"
    whose = owner_of(definition, names)
    owner = f" ({whose})" if whose else ""

    def due(what: str, day: date, text: str) -> Due:
        return Due(unit, what, day, f"{name}: {TITLES[what]}", f"{text}{owner}", unit)

    now = [due(row["name"], today, row["text"]) for row in standing["due"]]
    last = standing["plates_by"]
    if last is not None and "plates" not in [row.name for row in now]:
        day = date.fromisoformat(last) + timedelta(days=1)
        now.append(due("plates", day, f"Measure the plates: the allowed days end on {last}."))
    # What goes by outings has no day as long as it is not due.
    for row in standing["upkeep"]:
        if row["due_on"] and row["name"] not in [each.name for each in now]:
            now.append(due(row["name"], date.fromisoformat(row["due_on"]) + timedelta(days=1), row["text"]))
    return now


def of_tool(tool: dict[str, Any], today: date) -> list[Due]:
    """The day on which the calibration of a tool ends."""
    last = (tool["body"].get(tool["tool"]) or {}).get("calibration_due")
    if not last:
        return []
    text = f"The calibration of {tool['name']} holds up to {last}: have it calibrated."
    return [Due(tool["id"], "calibration", max(date.fromisoformat(last), today), f"Calibrate {tool['name']}", text, "")]


def write_calendar(dues: list[Due], name: str, log_id: str, now: datetime, address: str = "") -> bytes:
    """What is due as a calendar of whole days.

    Parameters
    ----------
    dues : list of Due
        What is due.
    name : str
        What people call the log.
    log_id : str
        The log's own id: two logs may hold the same unit.
    now : datetime
        When it is written, with its offset.
    address : str
        Slipbook's own address, for the way back to a unit; left out if empty.

    Returns
    -------
    bytes
        The file, in UTF-8.

    References
    ----------
    1. RFC 5545, iCalendar: 3.6.1 events, 3.8.4.7 the same UID for the same thing at each reading.
    2. RFC 7986: 5.1 NAME, 5.7 REFRESH-INTERVAL.
    """
    from icalendar import Calendar, Event

    calendar = Calendar()
    calendar.add("prodid", "-//Slipbook//What is due//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    for heading in ("name", "x-wr-calname"):
        calendar.add(heading, plain(f"Slipbook, {name}"))
    calendar.add("refresh-interval", LOOK_AGAIN, {"value": "DURATION"})
    for due in dues:
        event = Event()
        event.add("uid", f"{due.about}.{due.name}@{log_id}")
        event.add("dtstamp", now.astimezone(UTC).replace(microsecond=0))
        event.add("dtstart", due.day)
        event.add("dtend", due.day + timedelta(days=1))
        event.add("summary", plain(due.title))
        event.add("description", plain(due.text))
        event.add("transp", "TRANSPARENT")
        if address and due.unit:
            event.add("url", f"{address.rstrip('/')}/#/unit/{due.unit}")
        calendar.add_component(event)
    data: bytes = calendar.to_ical()
    return data


def plain(text: str) -> str:
    r"""A text on one line, without what would end it; no name in it turns round what follows.

    >>> plain("Bramble\r\nEND:VEVENT\x00")
    'Bramble END:VEVENT '
    """
    return steady(CONTROLS.sub(" ", text))
