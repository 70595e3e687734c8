"""What is due as a calendar: read back by two parsers that know nothing of one another, under an address that ends."""

import json
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import icalendar
import ics
import pytest
from flask import Flask
from flask.testing import FlaskClient

from server.app import close_app
from server.cli import main
from server.lan import Door
from server.office.calendar import Due, dates_of, write_calendar
from tests.engine.checks import BREAKAWAY, PLATES, UNIT

from .lan_visitors import Visitor, paired_phone
from .sample_logs import OTHER_UNIT, UNIT_ID, stored
from .stores import app_over, open_log, place_of

NOW = datetime(2026, 11, 29, 10, 30, tzinfo=UTC)
TODAY = NOW.date()
# The second parser reads a backslash before an n as the end of a line, whatever stands before it.
HOSTILE = "Bramble; 1, \\q\u2028\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nSUMMARY:evil \x07" + "Ä" * 90


def read_twice(data: bytes) -> list[tuple[date, str, str, str]]:
    """The events of a calendar as both parsers have them: day, title, text, way back."""
    events: list[Any] = icalendar.Calendar.from_ical(data).walk("VEVENT")
    read = [
        (event["dtstart"].dt, str(event["summary"]), str(event["description"]), str(event.get("url", "")))
        for event in events
    ]
    assert all(event["dtend"].dt - event["dtstart"].dt == timedelta(days=1) for event in events)
    second: list[Any] = [
        (event.begin.date(), event.name, event.description, event.url or "")
        for event in ics.Calendar(data.decode()).events
    ]
    assert sorted(read) == sorted(second)
    assert len({str(event["uid"]) for event in events}) == len(events)
    return read


def entries_of(*entries: dict[str, Any]) -> dict[str, list[dict[str, Any]]]:
    """Entries by unit."""
    by_unit: dict[str, list[dict[str, Any]]] = {}
    for seq, entry in enumerate(entries, 1):
        by_unit.setdefault(entry["unit"], []).append({**entry, "seq": seq})
    return by_unit


def test_what_is_due_now_and_later_stands_on_its_day() -> None:
    unit = {**UNIT, "name": "Bramble 1", "owner": "T. Ode", "service": {**UNIT["service"], "plates_every_days": 30}}
    wrench = {**BREAKAWAY["wrench"], "calibration_due": "2027-02-01"}
    old = {**BREAKAWAY["wrench"], "name": "Old beam", "calibration_due": "2026-03-01"}
    entries = entries_of(
        stored("unit", body=unit),
        stored("plate_check", at="2026-11-20T10:00:00+01:00", body={**PLATES, "day": "2026-11-20"}),
        stored("unit", OTHER_UNIT, body={**UNIT, "name": "Wren 2"}),
        stored("kit", body={"tool": "wrench", "wrench": wrench}),
        stored("kit", body={"tool": "wrench", "wrench": old}),
    )
    data = write_calendar(dates_of(entries, TODAY), "Pit", "log-1", NOW, "https://pit-pc.local:8127/")
    read = read_twice(data)
    assert [(day.isoformat(), title) for day, title, _, _ in read] == [
        ("2026-11-29", "Bramble 1: check the torque"),
        ("2026-11-29", "Calibrate Old beam"),
        ("2026-11-29", "Wren 2: check the torque"),
        ("2026-11-29", "Wren 2: measure the plates"),
        # Measured on 20 November, allowed for 30 days: up to 20 December.
        ("2026-12-21", "Bramble 1: measure the plates"),
        ("2027-02-01", "Calibrate Long beam"),
    ]
    assert read[0][2] == "Never torque-checked: check it before it runs. (T. Ode)"
    assert {row[3] for row in read} == {
        "",
        f"https://pit-pc.local:8127/#/unit/{UNIT_ID}",
        f"https://pit-pc.local:8127/#/unit/{OTHER_UNIT}",
    }
    # What was not done until it was due moves on from day to day, as the same event.
    later = dates_of(entries, date(2027, 1, 5))
    plates = next(due for due in later if due.title == "Bramble 1: measure the plates")
    assert plates.day == date(2027, 1, 5)
    earlier = next(due for due in dates_of(entries, TODAY) if due.title == "Bramble 1: measure the plates")
    assert (plates.about, plates.name) == (earlier.about, earlier.name)


def test_plates_measured_after_a_rebuild_stand_by_their_measurement() -> None:
    stack = [item for item in UNIT["chain"] if item["part"] in ("friction", "separator")]
    rows = [{**plate, "points_mm": [plate["new_mm"] - 0.03] * 3} for plate in stack]
    unit = stored("unit", body={**UNIT, "name": "Bramble 1"})
    rebuilt = stored("rebuild", at="2026-06-01T10:00:00+02:00", body={"fitted": [], "note": "Set up."})
    checked = stored("plate_check", at="2026-11-20T10:00:00+01:00", body={**PLATES, "plates": rows})
    [plates] = [due for due in dates_of(entries_of(unit, rebuilt, checked), TODAY) if due.name == "plates"]
    assert plates.day == date(2027, 11, 21)


def test_oil_stands_on_its_last_day_until_outings_make_it_due() -> None:
    service = {**UNIT["service"], "oil_every_outings": 2, "oil_every_days": 60}
    unit = stored("unit", at="2026-11-01T10:00:00+01:00", body={**UNIT, "name": "Bramble 1", "service": service})
    outings = [stored("outing", at=f"2026-11-{day}T10:00:00+01:00", body={"where": "Airfield"}) for day in (21, 22)]

    def oil(*entries: dict[str, Any]) -> tuple[str, str]:
        [due] = [due for due in dates_of(entries_of(*entries), TODAY) if due.name == "oil"]
        assert due.title == "Bramble 1: change the oil"
        return due.day.isoformat(), due.text

    later = "Change the oil in 1 outing or by 2026-12-31, whichever comes first; unit added on 2026-11-01."
    assert oil(unit, outings[0]) == ("2027-01-01", later)
    now = "Change the oil: unit added on 2026-11-01, 2 outings since; allowed: 2 outings."
    assert oil(unit, *outings) == ("2026-11-29", now)


def test_a_name_turns_nothing_round_in_a_calendar() -> None:
    due = Due(UNIT_ID, "torque", TODAY, "דני: check the torque", "Since \u202e2026-11-01\u2066: 2 outings.", UNIT_ID)
    [(_, title, text, _)] = read_twice(write_calendar([due], "Pit \u202e", "log-1", NOW))
    assert title == "\u2067דני\u2069: check the torque"
    assert text == "Since 2026-11-01: 2 outings."


def test_a_calendar_keeps_the_rules_of_its_lines() -> None:
    data = write_calendar([Due(UNIT_ID, "torque", TODAY, HOSTILE, HOSTILE, UNIT_ID)], HOSTILE, "log-1", NOW)
    [(_, title, text, _)] = read_twice(data)
    assert title == text == "Bramble; 1, \\q END:VEVENT BEGIN:VEVENT SUMMARY:evil  " + "Ä" * 90
    lines = data.split(b"\r\n")
    assert max(map(len, lines)) <= 75, "RFC 5545, 3.1"
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    assert lines[0] == b"BEGIN:VCALENDAR"
    assert b"METHOD:PUBLISH" in lines
    assert b"DTSTAMP:20261129T103000Z" in lines


@pytest.fixture
def client(folder: Path) -> Iterator[FlaskClient]:
    with open_log(folder) as log:
        log.add([stored("unit", body={**UNIT, "name": "Bramble 1"})])
    app = app_over(folder)
    yield app.test_client()
    close_app(app)


def test_a_secret_address_is_read_until_it_is_withdrawn(client: FlaskClient, folder: Path) -> None:
    new_feed = client.post("/api/feeds", json={"name": "Ilse's phone"}).json or {}
    path = new_feed["address"].partition("localhost")[2]
    assert len(path.removesuffix(".ics").rpartition("/")[2]) >= 43, "256 bits"
    answer = client.get(path)
    assert answer.content_type == "text/calendar; charset=utf-8"
    assert next(title for _, title, _, _ in read_twice(answer.data)) == "Bramble 1: check the torque"
    assert read_twice(client.get("/api/calendar/file").data) == read_twice(answer.data)
    assert (client.get("/api/calendar").json or {})["due"][0]["title"] == "Bramble 1: check the torque"
    [feed] = (client.get("/api/feeds").json or {})["feeds"]
    assert feed["seen"]
    assert set(feed) == {"id", "name", "made", "seen"}
    secret = path.removesuffix(".ics").rpartition("/")[2]
    assert secret not in (folder / "lan" / "feeds.json").read_text()
    assert (folder / "lan" / "feeds.json").stat().st_mode & 0o077 == 0
    assert client.get(path.replace(secret, secret[:-1] + "?")).status_code == 404
    assert client.delete(f"/api/feeds/{feed['id']}").status_code == 200
    assert client.get(path).status_code == 404
    assert client.delete(f"/api/feeds/{feed['id']}").status_code == 404
    assert (client.get("/api/feeds").json or {})["feeds"] == []


def test_an_address_is_kept_over_a_restart(folder: Path) -> None:
    for first in (True, False):
        app = app_over(folder)
        if first:
            path = (app.test_client().post("/api/feeds", json={"name": "x"}).json or {})["address"]
            path = path.partition("localhost")[2]
        assert app.test_client().get(path).status_code == 200
        close_app(app)


def test_over_the_network_the_address_alone_lets_in_and_is_not_logged(lan: tuple[Flask, Door], folder: Path) -> None:
    app, door = lan
    bench, trackside, stranger = paired_phone(app, "bench"), paired_phone(app, "trackside"), Visitor(app)
    new_feed = bench.ask("POST", "/api/feeds", json={"name": "Ilse"}).json
    assert new_feed["address"].startswith(door.urls()[0])
    path = "/" + new_feed["address"].removeprefix(door.urls()[0])
    assert stranger.ask("GET", path).status_code == 200, "a calendar program shows no token"
    assert stranger.ask("GET", "/api/calendar/feed/guess.ics").status_code == 401
    assert stranger.ask("GET", "/api/calendar/file").status_code == 401
    assert stranger.ask("GET", "/api/feeds").status_code == 401
    assert trackside.ask("GET", "/api/calendar/file").status_code == 200
    assert trackside.ask("GET", "/api/feeds").status_code == 403
    assert trackside.ask("POST", "/api/feeds", json={"name": "x"}).status_code == 403
    [feed] = bench.ask("GET", "/api/feeds").json["feeds"]
    assert bench.ask("DELETE", f"/api/feeds/{feed['id']}").status_code == 200
    assert stranger.ask("GET", path).status_code == 401
    log = (folder / "lan" / "access.log").read_text()
    assert "calendar.feed 200" in log
    assert path.rpartition("/")[2].removesuffix(".ics") not in log


def test_the_command_writes_a_calendar(folder: Path) -> None:
    with open_log(folder) as log:
        log.add([stored("unit", body={**UNIT, "name": "Bramble 1"})])
    file = folder.parent / "due.ics"
    assert main(["calendar", *place_of(folder), "--to", str(file)]) == 0
    assert "Bramble 1: check the torque" in json.dumps([row[1] for row in read_twice(file.read_bytes())])
    assert main(["calendar", *place_of(folder), "--to", str(file)]) == 2
