"""Behind a proxy that has a certificate of its own: whoever comes shows a token, also at the machine itself."""

from collections.abc import Iterator
from pathlib import Path

import numpy
import pypdfium2
import pytest
from flask import Flask

from server.app import close_app, create_app
from server.lan import BENCH, TRACKSIDE, HostedDoor
from server.lan.files import FolderRegisters
from server.lan.postgres import DatabaseRegisters
from server.log.postgres.log import DatabaseLog

from .database_made import make_database
from .lan_visitors import Visitor
from .sample_logs import UNIT_ID, entry
from .test_labels import code_in

HOST = "slipbook.example"
ADDRESS = {"base_url": f"https://{HOST}/"}


@pytest.fixture
def hosted(folder: Path) -> Iterator[tuple[Flask, HostedDoor]]:
    own = folder / "lan"
    own.mkdir(parents=True)
    door = HostedDoor(FolderRegisters(own), [HOST])
    app = create_app(folder, door=door)
    yield app, door
    close_app(app)


@pytest.mark.parametrize("address", ["127.0.0.1", "::1", "203.0.113.9"])
def test_nobody_is_let_in_for_where_they_are(hosted: tuple[Flask, HostedDoor], address: str) -> None:
    visitor = Visitor(hosted[0], address)
    for method, path in (
        ("GET", "/api/units"),
        ("POST", "/api/log"),
        ("POST", "/api/pairing"),
        ("GET", "/api/devices"),
    ):
        assert visitor.ask(method, path, json={"role": BENCH}, **ADDRESS).status_code == 401
    assert visitor.ask("GET", "/api/health", **ADDRESS).status_code == 200
    assert visitor.ask("GET", "/", **ADDRESS).status_code == 200


def test_a_bench_device_lets_others_in_at_the_address_at_which_it_asked(hosted: tuple[Flask, HostedDoor]) -> None:
    app, door = hosted
    _, token = door.registers.register_of(None).devices.add("The bench's tablet", BENCH)
    answer = Visitor(app, "203.0.113.9", token).ask("POST", "/api/pairing", json={"role": TRACKSIDE}, **ADDRESS)
    assert answer.status_code == 200, answer.text
    assert answer.json["address"] == f"https://{HOST}/#/pair/{answer.json['code']}"
    assert answer.json["addresses"] == [f"https://{HOST}/"]
    assert (answer.json["fingerprint"], answer.json["welcome"], answer.json["welcome_qr_svg"]) == ("", "", "")
    phone = Visitor(app, "203.0.113.10")
    paired_answer = phone.ask("POST", "/api/pair", json={"code": answer.json["code"], "name": "Jo's phone"}, **ADDRESS)
    assert paired_answer.status_code == 200, paired_answer.text
    phone.token = paired_answer.json["token"]
    assert phone.ask("POST", "/api/log", json={"entries": [entry("note")]}, **ADDRESS).status_code == 200
    assert phone.ask("GET", "/api/devices", **ADDRESS).status_code == 403


def test_a_calendar_has_the_address_at_which_it_was_asked_for(hosted: tuple[Flask, HostedDoor]) -> None:
    app, door = hosted
    _, token = door.registers.register_of(None).devices.add("The bench's tablet", BENCH)
    answer = Visitor(app, "203.0.113.9", token).ask("POST", "/api/feeds", json={"name": "Jo"}, **ADDRESS)
    assert answer.json["address"].startswith(f"https://{HOST}/api/calendar/feed/")
    path = answer.json["address"].removeprefix(f"https://{HOST}")
    assert Visitor(app).ask("GET", path, **ADDRESS).text.startswith("BEGIN:VCALENDAR")


@pytest.fixture
def bench(hosted: tuple[Flask, HostedDoor]) -> Visitor:
    """A bench device whose workshop has a unit."""
    app, door = hosted
    _, token = door.registers.register_of(None).devices.add("The bench's tablet", BENCH)
    visitor = Visitor(app, "203.0.113.9", token)
    assert visitor.ask("POST", "/api/log", json={"entries": [entry("unit")]}, **ADDRESS).status_code == 200
    return visitor


def code_on(data: bytes) -> str:
    """What the only QR code on a PDF's first page says."""
    return code_in(numpy.array(pypdfium2.PdfDocument(data)[0].render(scale=4).to_pil().convert("L")))


def test_the_code_on_a_sheet_has_the_address_at_which_it_was_asked_for(bench: Visitor) -> None:
    answer = bench.ask("GET", f"/api/units/{UNIT_ID}/sheet.pdf", **ADDRESS)
    assert answer.status_code == 200, answer.text
    assert code_on(answer.data) == f"https://{HOST}/#/unit/{UNIT_ID}"


def test_the_code_on_a_label_has_the_address_at_which_it_was_asked_for(bench: Visitor) -> None:
    groups = bench.ask("GET", "/api/labels", **ADDRESS).json["groups"]
    [label] = [{"key": row["key"]} for group in groups for row in group["labels"]]
    answer = bench.ask("POST", "/api/labels", json={"labels": [label], "sheet": "a4_3x7"}, **ADDRESS)
    assert answer.status_code == 200, answer.text
    assert code_on(answer.data) == f"https://{HOST}/#/unit/{UNIT_ID}"


@pytest.fixture
def shared(pg: str) -> Iterator[tuple[Flask, list[Visitor]]]:
    """An application over a database, and a bench device of each of two workshops."""
    database, numbers = make_database(pg, "Northgate", "Hillside")
    registers = DatabaseRegisters(database)
    app = create_app(None, door=HostedDoor(registers, [HOST]), logs=lambda number: DatabaseLog(database, number or 0))
    tokens = [registers.register_of(number).devices.add("The bench's tablet", BENCH)[1] for number in numbers]
    yield app, [Visitor(app, "203.0.113.9", token) for token in tokens]
    close_app(app)
    database.close()


def test_a_token_says_which_workshop_is_meant(shared: tuple[Flask, list[Visitor]]) -> None:
    _, (first, second) = shared
    note = entry("note")
    assert first.ask("POST", "/api/log", json={"entries": [note]}, **ADDRESS).json["answers"][0]["answer"] == "stored"
    pages = [bench.ask("GET", "/api/log", **ADDRESS).json["entries"] for bench in (first, second)]
    assert [[row["id"] for row in page] for page in pages] == [[note["id"]], []]
    assert first.ask("GET", f"/api/units/{note['unit']}", **ADDRESS).status_code == 200
    assert second.ask("GET", f"/api/units/{note['unit']}", **ADDRESS).status_code == 404
    # The same entry is another log's own affair.
    assert second.ask("POST", "/api/log", json={"entries": [note]}, **ADDRESS).json["answers"][0]["answer"] == "stored"
    logs = [bench.ask("GET", "/api/health", **ADDRESS).json for bench in (first, second)]
    assert logs[0]["log_id"] != logs[1]["log_id"]
    assert [log["log_name"] for log in logs] == ["Northgate", "Hillside"]
    named = {"Slipbook-Log": logs[0]["log_id"]}
    assert second.ask("GET", "/api/log", headers=named, **ADDRESS).status_code == 409


def test_a_code_lets_a_phone_into_the_workshop_that_made_it(shared: tuple[Flask, list[Visitor]]) -> None:
    app, (first, second) = shared
    codes = [
        bench.ask("POST", "/api/pairing", json={"role": TRACKSIDE}, **ADDRESS).json["code"] for bench in (first, second)
    ]
    for bench, code, name in zip((first, second), codes, ("Jo's phone", "Mara's phone")):
        phone = Visitor(app, "203.0.113.10")
        paired_answer = phone.ask("POST", "/api/pair", json={"code": code, "name": name}, **ADDRESS)
        assert paired_answer.status_code == 200, paired_answer.text
        listed = bench.ask("GET", "/api/devices", **ADDRESS).json["devices"]
        assert {device["name"] for device in listed} == {name, "The bench's tablet"}
    used = Visitor(app).ask("POST", "/api/pair", json={"code": codes[0], "name": "Late"}, **ADDRESS)
    assert used.status_code == 422
    assert "have a new code made" in used.json["errors"][0]["reason"]


def test_a_device_is_shut_out_by_its_own_workshop_alone(shared: tuple[Flask, list[Visitor]]) -> None:
    _, (first, second) = shared
    (device,) = first.ask("GET", "/api/devices", **ADDRESS).json["devices"]
    assert second.ask("DELETE", f"/api/devices/{device['id']}", **ADDRESS).status_code == 404
    assert first.ask("GET", "/api/units", **ADDRESS).status_code == 200
    assert first.ask("DELETE", f"/api/devices/{device['id']}", **ADDRESS).status_code == 200
    assert first.ask("GET", "/api/units", **ADDRESS).status_code == 401
    assert second.ask("GET", "/api/units", **ADDRESS).status_code == 200


def test_a_calendar_reads_what_is_due_in_its_workshop(shared: tuple[Flask, list[Visitor]]) -> None:
    app, benches = shared
    for bench, name in zip(benches, ("Northgate", "Hillside")):
        address = bench.ask("POST", "/api/feeds", json={"name": "Jo"}, **ADDRESS).json["address"]
        read = Visitor(app).ask("GET", address.removeprefix(f"https://{HOST}"), **ADDRESS)
        assert read.status_code == 200
        assert name in read.text
    assert Visitor(app).ask("GET", "/api/calendar/feed/wrong.ics", **ADDRESS).status_code in (401, 404)


def test_a_stranger_is_told_that_the_server_is_there_and_no_more(shared: tuple[Flask, list[Visitor]]) -> None:
    app, _ = shared
    health = Visitor(app).ask("GET", "/api/health", **ADDRESS)
    assert health.status_code == 200
    assert (health.json["log_id"], health.json["log_name"], health.json["role"]) == (None, "", None)
    for token in ("x" * 43, ""):
        assert Visitor(app, token=token).ask("GET", "/api/log", **ADDRESS).status_code == 401
