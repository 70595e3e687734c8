"""Behind a proxy that has a certificate of its own: whoever comes shows a token, also at the machine itself."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask

from server.app import close_app, create_app
from server.lan import BENCH, TRACKSIDE, HostedDoor
from server.lan.files import FolderRegisters

from .lan_made import Visitor
from .made import entry

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
    _, token = door.registers.of(None).devices.add("The bench's tablet", BENCH)
    made = Visitor(app, "203.0.113.9", token).ask("POST", "/api/pairing", json={"role": TRACKSIDE}, **ADDRESS)
    assert made.status_code == 200, made.text
    assert made.json["address"] == f"https://{HOST}/#/pair/{made.json['code']}"
    assert made.json["addresses"] == [f"https://{HOST}/"]
    assert (made.json["fingerprint"], made.json["welcome"], made.json["welcome_qr_svg"]) == ("", "", "")
    phone = Visitor(app, "203.0.113.10")
    came = phone.ask("POST", "/api/pair", json={"code": made.json["code"], "name": "Jo's phone"}, **ADDRESS)
    assert came.status_code == 200, came.text
    phone.token = came.json["token"]
    assert phone.ask("POST", "/api/log", json={"entries": [entry("note")]}, **ADDRESS).status_code == 200
    assert phone.ask("GET", "/api/devices", **ADDRESS).status_code == 403


def test_a_calendar_has_the_address_at_which_it_was_asked_for(hosted: tuple[Flask, HostedDoor]) -> None:
    app, door = hosted
    _, token = door.registers.of(None).devices.add("The bench's tablet", BENCH)
    made = Visitor(app, "203.0.113.9", token).ask("POST", "/api/feeds", json={"name": "Jo"}, **ADDRESS)
    assert made.json["address"].startswith(f"https://{HOST}/api/calendar/feed/")
    path = made.json["address"].removeprefix(f"https://{HOST}")
    assert Visitor(app).ask("GET", path, **ADDRESS).text.startswith("BEGIN:VCALENDAR")
