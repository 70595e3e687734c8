"""Hostile text in every text field of every kind of entry, by the forms, through everything that leaves the log."""

import csv
import io
import json
import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import icalendar
import openpyxl
import pypdf
import pytest
from flask.testing import FlaskClient

from server.app import close_app
from server.cli import main
from server.engine import CALCULATIONS, KINDS
from server.engine.history.sheet import TEMPLATES
from server.engine.records.kinds import SHOP
from server.engine.request.fields import LINE, is_empty
from server.log.directions import closed
from server.office.workbook import FORMULA_STARTS, writable

from .hostile_text import (
    CONTROLS,
    HOSTILE,
    ONE_LINE_ONLY,
    FieldPath,
    as_path,
    at,
    checked_answer,
    entries_of,
    spoiled_bodies,
    text_paths,
    text_places,
)
from .sample_logs import entry, read_all
from .stores import app_over, open_log, over_postgres, place_of, restore_at

# No free text: a digest, an address with an @, a picture, the name of a field. They are refused, with a sentence.
NOT_FREE = {("photo", "sha256"), ("customer", "mail"), ("letterhead", "mark"), ("erasure", "cuts.*.field")}
LOG_NAME = 'Mill "Lane"; \r\nX-Hostile: 1 \u202e👩🏽‍🔧 <b>&'
if over_postgres():
    # A folder may have any name; a workshop's is one line that can be shown, and another one is refused.
    LOG_NAME = re.sub(r"[\r\n]+", " ", LOG_NAME)
UNITS = [f"01930000-0000-7000-8000-00000000b{number:03}" for number in range(2)]


@dataclass
class HostileLog:
    """A log with hostile text in every field, the client that asks for it, and the bodies that it was sent."""

    client: FlaskClient
    folder: Path
    bodies: dict[str, dict[str, Any]]

    def ask(self, address: str) -> Any:
        """An answer with status 200, and no header that hostile text reached."""
        return checked_answer(self.client.get(address), address)


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Iterator[HostileLog]:
    folder = tmp_path_factory.mktemp("hostile") / LOG_NAME
    app = app_over(folder)
    client = app.test_client()
    entries = [sent for number, unit in enumerate(UNITS) for sent in entries_of(unit, 12 * number, HOSTILE[number])]
    for start in range(0, len(entries), 50):
        answer = client.post("/api/log", json={"entries": entries[start : start + 50]})
        for sent, row in zip(entries[start:], (answer.json or {})["answers"]):
            assert row["answer"] == "stored", (sent["kind"], row)
    yield HostileLog(client, folder, {sent["id"]: sent["body"] for sent in entries})
    close_app(app)


@pytest.fixture(scope="module")
def restored(hostile: HostileLog, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same log as a backup of it brings it back."""
    file = tmp_path_factory.mktemp("restored") / "backup.zip"
    file.write_bytes(hostile.ask("/api/backup").data)
    with zipfile.ZipFile(file) as archive:
        assert all(re.fullmatch(r"[\w./-]+", name) and ".." not in name for name in archive.namelist())
    restore_at(file, file.parent / LOG_NAME)
    return file.parent / LOG_NAME


def texts_of(hostile: HostileLog) -> set[str]:
    """Every text that stands in the bodies, but for choices and days."""
    return {
        text
        for body, kind in ((sent["body"], sent["kind"]) for sent in everything(hostile))
        for place, _ in text_places(CALCULATIONS[KINDS[kind].calculation].form, body)
        if isinstance(text := at(body, place), str) and not is_empty(text)
    }


def bodies_of(entries: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {kept["id"]: kept["body"] for kept in entries}


def everything(hostile: HostileLog) -> list[dict[str, Any]]:
    return read_all(hostile.client.application.extensions["slipbook_log"])


@pytest.mark.parametrize("kind", KINDS)
def test_every_text_field_of_a_kind_takes_what_can_be_shown(kind: str) -> None:
    _, covered = spoiled_bodies(kind, 0)
    fields = {path for path, _ in text_paths(CALCULATIONS[KINDS[kind].calculation].form)}
    assert {(kind, ".".join(path)) for path in fields - covered} <= NOT_FREE, "give it a sample"


@pytest.mark.parametrize("kind", KINDS)
def test_what_cannot_be_shown_is_refused_at_its_field(hostile: HostileLog, kind: str) -> None:
    form = CALCULATIONS[KINDS[kind].calculation].form
    tried: set[FieldPath] = set()
    for body in spoiled_bodies(kind, 0)[0]:
        for place, field in text_places(form, body):
            if as_path(place) in tried:
                continue
            for text in (*CONTROLS, *(() if field.most > LINE else ONE_LINE_ONLY)):
                refused = json.loads(json.dumps(body))
                at(refused, place[:-1])[place[-1]] = text
                sent = {**entry(kind, "" if KINDS[kind].about == SHOP else UNITS[0], body=body), "body": refused}
                answer = (hostile.client.post("/api/log", json={"entries": [sent]}).json or {})["answers"][0]
                assert answer["answer"] == "refused", (place, text)
                assert ".".join(("body", *map(str, place))) in [error["field"] for error in answer["errors"]]
            tried.add(as_path(place))
    assert tried == {path for path, _ in text_paths(form)}


@pytest.mark.parametrize("half", ["\\ud800", "\\udfff x"])
def test_half_a_letter_is_refused_whole(hostile: HostileLog, half: str) -> None:
    sent = json.dumps({"entries": [entry("note", UNITS[0])]}).replace("Oil changed.", half)
    answer = hostile.client.post("/api/log", data=sent, content_type="application/json")
    assert answer.status_code == 400
    assert "UTF-8" in (answer.json or {})["detail"]


def test_the_log_and_its_export_hold_it_letter_by_letter(hostile: HostileLog) -> None:
    assert bodies_of(everything(hostile)) == hostile.bodies
    assert hostile.bodies.items() >= bodies_of(hostile.ask("/api/log?most=500").json["entries"]).items()


def test_a_backup_and_what_is_restored_hold_it_letter_by_letter(hostile: HostileLog, restored: Path) -> None:
    with open_log(restored) as log:
        assert bodies_of(read_all(log)) == hostile.bodies


def test_no_text_is_a_formula_in_a_csv_and_none_is_lost(hostile: HostileLog) -> None:
    text = hostile.ask("/api/table?all=true").data.decode("utf-8-sig")
    rows = list(csv.reader(io.StringIO(text, newline="")))
    assert len({len(row) for row in rows}) == 1
    cells = {cell for row in rows for cell in row}
    for cell in cells:
        assert not cell.startswith(FORMULA_STARTS) or re.fullmatch(r"-?[0-9.]+", cell), cell
    assert {cell for cell in cells if closed(cell) != cell} == set(), "it would turn round the rest of its line"
    lost = {text for text in texts_of(hostile) if not {text, f"'{text}"} & cells}
    joined = "\n".join(cells)
    assert {text for text in lost if text not in joined} == set()


def test_no_text_is_a_formula_in_a_workbook_and_none_is_lost(hostile: HostileLog) -> None:
    book = openpyxl.load_workbook(io.BytesIO(hostile.ask("/api/table/workbook?all=true").data))
    cells = [cell for row in book.worksheets[0].iter_rows() for cell in row if cell.value is not None]
    assert {cell.data_type for cell in cells} <= {"s", "inlineStr", "n", "d"}
    joined = "\n".join(str(cell.value) for cell in cells)
    lost = [text for text in texts_of(hostile) if as_read(text) not in joined]
    assert lost == []


def as_read(text: str) -> str:
    """A text as a reader of XML gives it back: every end of a line is one character there."""
    return writable(text).replace("_x005F_", "_").replace("\r\n", "\n").replace("\r", "\n")


@pytest.mark.parametrize("template", TEMPLATES)
def test_a_sheet_is_drawn_with_its_words(hostile: HostileLog, template: str) -> None:
    for unit in UNITS:
        [page] = pypdf.PdfReader(io.BytesIO(hostile.ask(f"/api/units/{unit}/sheet.pdf?template={template}").data)).pages
        assert page.extract_text().strip()


def test_labels_are_drawn(hostile: HostileLog) -> None:
    keys = [row["key"] for group in hostile.ask("/api/labels").json["groups"] for row in group["labels"]]
    body = {"labels": [{"key": key} for key in keys], "sheet": "a4_3x7"}
    answer = hostile.client.post("/api/labels", json=body)
    assert answer.status_code == 200, answer.text
    assert pypdf.PdfReader(io.BytesIO(answer.data)).pages


def customers(hostile: HostileLog) -> list[str]:
    """The ids of customers whose units are linked to them."""
    return [
        kept["body"]["customer_id"] for kept in everything(hostile) if kept["body"].get("customer_id") in hostile.bodies
    ]


def test_a_calendar_has_an_event_for_each_thing_that_is_due(hostile: HostileLog) -> None:
    addresses = ["/api/calendar/file", *(f"/api/customers/{record}/calendar" for record in customers(hostile))]
    for address in addresses:
        data = hostile.ask(address).data
        assert max(map(len, data.split(b"\r\n"))) <= 75, "RFC 5545, 3.1: bytes, not letters"
        assert not any(b"\n" in line or b"\r" in line for line in data.split(b"\r\n"))
        events = icalendar.Calendar.from_ical(data).walk("VEVENT")
        assert data.count(b"\r\nBEGIN:VEVENT\r\n") == len(events)
    assert len(icalendar.Calendar.from_ical(hostile.ask(addresses[0]).data).walk("VEVENT")) == len(
        hostile.ask("/api/calendar").json["due"]
    )


def test_lists_and_accounts_answer(hostile: HostileLog) -> None:
    records = customers(hostile)
    assert records
    for address in ("/api/units", "/api/costs", "/api/health", *(f"/api/units/{unit}" for unit in UNITS)):
        hostile.ask(address)
    for record in records:
        hostile.ask(f"/api/customers/{record}")
        hostile.ask(f"/api/customers/{record}/held")


@pytest.mark.parametrize("form", ["csv", "json", "xlsx"])
def test_the_command_writes_it_into_files(hostile: HostileLog, restored: Path, tmp_path: Path, form: str) -> None:
    # A folder that is served is held by the server: a command reads a copy of it.
    assert main(["export", *place_of(restored), "--format", form, "--to", str(tmp_path / "file")]) == 0
    if form == "json":
        found = json.loads((tmp_path / "file").read_text(encoding="utf-8"))
        assert bodies_of([kept for unit in found["units"] for kept in unit["entries"]]) == hostile.bodies
