"""Hostile names of workshops, devices, calendars and units where one server has many workshops in a database."""

import json
import re
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import icalendar
import pytest
from flask import Flask

from server.app import close_app, create_app
from server.cli import main
from server.lan import HostedDoor
from server.lan.postgres import DatabaseRegisters
from server.log.directions import closed
from server.log.postgres import DatabaseLog, log_of, workshops
from tests.engine.checks import UNIT, changed

from .database_made import Prepared
from .hostile_text import CONTROLS, HOSTILE, ONE_LINE_ONLY, checked_answer
from .lan_visitors import Visitor
from .sample_logs import UNIT_ID, entry, read_all
from .test_hosted_door import ADDRESS, HOST

Said = Callable[..., tuple[int, str, str]]

# A command line takes no NUL, and what it takes of bytes that are no UTF-8 comes as halves of letters.
NO_NAMES = (*(text for text in CONTROLS if "\x00" not in text), *ONE_LINE_ONLY, "\udcff", " \u3000", "W" * 201)
NAMES = tuple(text[:200] for text in HOSTILE)
# What is left of a name of a device, of a calendar or of a unit.
SHORT = tuple(text[:60] for text in HOSTILE)


@pytest.fixture
def said(prepared: Prepared, capsys: pytest.CaptureFixture[str]) -> Said:
    """Runs `slipbook` over the database: its code, and what it printed and complained of."""

    def run(*words: str, name: str | None = None) -> tuple[int, str, str]:
        capsys.readouterr()
        code = main([*words, "--database", prepared.owner_url, *([] if name is None else ["--", name])])
        return code, *capsys.readouterr()

    return run


@pytest.fixture
def hosted(prepared: Prepared) -> Iterator[Flask]:
    """What serves all workshops of the database."""
    door = HostedDoor(DatabaseRegisters(prepared.database), [HOST])
    app = create_app(None, door=door, logs=lambda number: log_of(prepared.database, number))
    yield app
    close_app(app)


def ask(visitor: Visitor, method: str, path: str, **more: Any) -> Any:
    """An answer with status 200, and no header that hostile text reached."""
    return checked_answer(visitor.ask(method, path, **more, **ADDRESS), path)


def code_in(text: str) -> str:
    """The code in what `slipbook workshop` printed."""
    [code] = re.findall(r"\b[0-9A-Z]+-[0-9A-Z]{4}-[0-9A-Z]{4}\b", text)
    return str(code)


def paired(app: Flask, code: str, name: str) -> Visitor:
    """A device that was let in by a code, under a name."""
    visitor = Visitor(app, "203.0.113.9")
    visitor.token = ask(visitor, "POST", "/api/pair", json={"code": code, "name": name}).json["token"]
    return visitor


@pytest.mark.parametrize("name", NO_NAMES, ids=ascii)
@pytest.mark.parametrize("command", ["add", "restore"])
def test_a_workshops_name_is_one_line_that_can_be_shown(
    prepared: Prepared, said: Said, tmp_path: Path, command: str, name: str
) -> None:
    if command == "add":
        code, printed, error = said("workshop", "add", name=name)
    else:
        file = tmp_path / "backup.zip"
        prepared.workshop("Mill Lane")
        assert said("backup", str(file), "--workshop", "Mill Lane")[0] == 0
        code, printed, error = said("restore", str(file), f"--workshop={name}")
    assert (code, printed) == (2, "")
    assert error.startswith("A workshop's name ")
    assert error.endswith(".\n")
    assert error[:-1].isprintable()
    assert said("workshop", "list")[1].splitlines()[-1] == f"Workshops: {0 if command == 'add' else 1}."


@pytest.mark.parametrize("name", NO_NAMES, ids=ascii)
def test_a_name_that_no_workshop_has_is_said_in_one_line(said: Said, name: str) -> None:
    code, printed, error = said("workshop", "code", name=name)
    assert (code, printed) == (2, "")
    assert error.startswith("There is no workshop ")
    assert error.removesuffix("\n").isprintable()


def test_workshops_with_any_name_are_listed_found_and_removed(
    prepared: Prepared, said: Said, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in NAMES:
        code, printed, _ = said("workshop", "add", name=name)
        assert code == 0
        assert code_in(printed)
        assert len(printed.split("\n")) == 3
        assert code_in(said("workshop", "code", name=name)[1])
    printed = said("workshop", "list")[1]
    lines = printed.split("\n")[:-2]
    assert len(lines) == len(NAMES)
    # Each line is one workshop's, and what its name leaves open is closed before its figures.
    for name in NAMES:
        [line] = [line for line in lines if line.startswith(f"{closed(name)}: ")]
        assert re.fullmatch(r"0 entries of 0 units, made [0-9-]{10}, log [0-9a-f-]{36}", line[len(closed(name)) + 2 :])
    error = said("workshop", "code", name="Nobody's")[2]
    assert all(name in error for name in NAMES)
    name = NAMES[9]
    answers = iter([name, "yes"])
    monkeypatch.setattr("builtins.input", lambda _: next(answers))
    file = tmp_path / "last.zip"
    assert said("workshop", "remove", "--backup", str(file), name=name)[0] == 0
    assert zipfile.ZipFile(file).namelist()
    assert said("workshop", "list")[1].endswith(f"Workshops: {len(NAMES) - 1}.\n")


def test_names_reach_the_devices_letter_by_letter_and_nothing_else(hosted: Flask, said: Said) -> None:
    for number, (workshop, device) in enumerate(zip(NAMES, SHORT, strict=True)):
        bench = paired(hosted, code_in(said("workshop", "add", name=workshop)[1]), device)
        assert ask(bench, "GET", "/api/health").json["log_name"] == workshop
        # Who is not let in learns no name.
        assert ask(Visitor(hosted, "203.0.113.9"), "GET", "/api/health").json["log_name"] == ""
        [row] = ask(bench, "GET", "/api/devices").json["devices"]
        assert row["name"] == device
        other = SHORT[number - 1]
        assert ask(bench, "PATCH", f"/api/devices/{row['id']}", json={"name": other}).json["name"] == other
        unit = entry("unit", body=changed(UNIT, name=device, owner=other), who=device)
        ask(bench, "POST", "/api/log", json={"entries": [unit]})
        assert ask(bench, "GET", "/api/log").json["entries"][0]["body"] == unit["body"]
        feed = ask(bench, "POST", "/api/feeds", json={"name": device}).json
        assert [row["name"] for row in ask(bench, "GET", "/api/feeds").json["feeds"]] == [device]
        address = feed["address"].removeprefix(f"https://{HOST}")
        for path, visitor in ((address, Visitor(hosted)), ("/api/calendar/file", bench)):
            calendar = icalendar.Calendar.from_ical(ask(visitor, "GET", path).data)
            assert len(calendar.walk("VEVENT")) == len(ask(bench, "GET", "/api/calendar").json["due"])
            assert closed(str(calendar["X-WR-CALNAME"])) == str(calendar["X-WR-CALNAME"])
        for path in ("/api/backup", "/api/table", "/api/table/workbook", f"/api/units/{UNIT_ID}"):
            ask(bench, "GET", path)
        for body in ({"name": text} for text in (*CONTROLS, *ONE_LINE_ONLY)):
            assert bench.ask("PATCH", f"/api/devices/{row['id']}", json=body, **ADDRESS).status_code == 422
            assert bench.ask("POST", "/api/feeds", json=body, **ADDRESS).status_code == 422


def test_a_unit_is_handed_from_workshop_to_workshop_with_any_name(
    prepared: Prepared, said: Said, tmp_path: Path
) -> None:
    numbers = {name: workshops.add(prepared.owner, name) for name in NAMES}
    for number, name in enumerate(SHORT):
        places = [NAMES[number], NAMES[number - 1]]
        unit = f"01930000-0000-7000-8000-00000000d{number:03}"
        sent = entry("unit", unit, body=changed(UNIT, name=name), who=name)
        file = tmp_path / f"{number}.json"
        file.write_text(json.dumps({"slipbook_outbox": 1, "entries": [sent]}), "utf-8")
        code, printed, error = said("take-in", str(file), f"--workshop={places[0]}")
        assert (code, error) == (0, ""), printed
        out = tmp_path / f"{number}-out.json"
        assert said("export", f"--workshop={places[0]}", f"--unit={name}", "--format", "json", "--to", str(out))[0] == 0
        code, printed, error = said("take-in", str(out), f"--workshop={places[1]}")
        assert (code, error) == (0, "")
        assert printed.startswith("Entries stored: 1, ")
        bodies = [
            row["body"] for row in read_all(DatabaseLog(prepared.database, numbers[places[1]])) if row["unit"] == unit
        ]
        assert bodies == [sent["body"]]
