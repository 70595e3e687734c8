"""Who gets in over the workshop's network, and what they may do there."""

import hashlib
import json
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest
from flask import Flask

from server.api.devices import ROLE_MEANINGS
from server.engine import KINDS
from server.lan import BENCH, TRACKSIDE, Door, PairingClosed, PairingLocked, WrongCode
from server.lan.files import FolderRegisters
from server.lan.files.devices import FolderDevices
from server.lan.files.pairing import FolderPairing
from server.lan.pairing import CODE_ALPHABET, CODE_LENGTH, CODE_VALID_S, MOST_IN_ALL, MOST_WRONG
from server.log import LogFault
from tests.engine.samples import samples

from .lan_visitors import PHONE, Visitor, paired_phone
from .processes import ROOT
from .sample_logs import UNIT_ID, entry, stored

OPEN = {("GET", "/api/health"), ("POST", "/api/pair")}
IN_A_FOLDER = pytest.mark.about_files("who may come in as a folder has it; `test_registers.py` asks both stores")


def every_route(app: Flask) -> list[tuple[str, str]]:
    """Method and path of every operation in the interface's own document, with something in place of parameters."""
    document = Visitor(app, "127.0.0.1").ask("GET", "/api/openapi.json").json
    routes = [
        (method.upper(), path.replace("{name}", "plates").replace("{sha256}", "a" * 64))
        for path, operations in document["paths"].items()
        for method in operations
        if method in ("get", "post", "put", "patch", "delete")
    ]
    filled = [(method, re.sub(r"\{(unit|device|feed|record|token)\}", UNIT_ID, path)) for method, path in routes]
    assert not [path for _, path in filled if "{" in path]
    return filled


def refuses(visitor: Visitor, method: str, path: str) -> bool:
    answer = visitor.ask(method, path, json={})
    if answer.status_code != 401:
        return False
    assert answer.content_type == "application/problem+json"
    assert answer.headers["WWW-Authenticate"].startswith("Bearer")
    assert answer.json["detail"]
    return True


@pytest.mark.parametrize("token", [None, "", "x", "A" * 43, "é", "Bearer"])
def test_nothing_but_health_and_pairing_answers_without_a_good_token(
    lan: tuple[Flask, Door], token: str | None
) -> None:
    app, _ = lan
    routes = every_route(app)
    assert len(routes) > 20
    assert set(routes) >= OPEN
    stranger = Visitor(app, token=token)
    let_in = {route for route in routes if not refuses(stranger, *route)}
    assert let_in == OPEN
    for method, path in (("GET", "/api/openapi.json"), ("GET", "/api/nothing"), ("OPTIONS", "/api/log")):
        assert refuses(stranger, method, path), path


def test_a_bad_token_is_refused_from_this_machine_too(lan: tuple[Flask, Door]) -> None:
    assert refuses(Visitor(lan[0], "127.0.0.1", "x" * 43), "GET", "/api/units")


@pytest.mark.parametrize("address", ["127.0.0.1", "127.9.9.9", "::1", "::ffff:127.0.0.1"])
def test_the_pc_itself_is_the_bench(lan: tuple[Flask, Door], address: str) -> None:
    assert Visitor(lan[0], address).ask("GET", "/api/devices").status_code == 200


@pytest.mark.parametrize("address", ["192.168.7.20", "::ffff:192.168.7.20", "128.0.0.1", "", "localhost"])
def test_other_addresses_are_not(lan: tuple[Flask, Door], address: str) -> None:
    assert Visitor(lan[0], address).ask("GET", "/api/devices").status_code == 401


def test_no_header_makes_a_phone_pass_for_the_pc(lan: tuple[Flask, Door]) -> None:
    headers = {"X-Forwarded-For": "127.0.0.1", "Forwarded": "for=127.0.0.1", "X-Real-IP": "127.0.0.1"}
    assert Visitor(lan[0]).ask("GET", "/api/units", headers=headers).status_code == 401


def test_a_page_of_another_site_cannot_use_the_pcs_rights(lan: tuple[Flask, Door]) -> None:
    own_pc = Visitor(lan[0], "127.0.0.1")
    other_origin = {"Origin": "https://elsewhere.example"}
    assert own_pc.ask("POST", "/api/pairing", json={"role": BENCH}, headers=other_origin).status_code == 403
    own = {"Origin": "http://localhost"}
    assert own_pc.ask("POST", "/api/pairing", json={"role": BENCH}, headers=own).status_code == 200


def test_names_of_the_pc_are_answered_and_no_others(lan: tuple[Flask, Door]) -> None:
    app, _ = lan
    for host in ("pit-pc.local", "pit-pc", "192.168.7.20", "localhost", "pit-pc.local:8127"):
        assert Visitor(app).ask("GET", "/api/health", headers={"Host": host}).status_code == 200, host
    for host in ("elsewhere.example", "pit-pc.local.elsewhere.example", "192.168.7.99"):
        assert Visitor(app, "127.0.0.1").ask("GET", "/api/health", headers={"Host": host}).status_code == 400, host


def test_without_a_door_nobody_is_asked_and_nobody_is_paired(app: Flask) -> None:
    phone = Visitor(app)
    assert phone.ask("GET", "/api/units").status_code == 200
    assert phone.ask("POST", "/api/pair", json={}).status_code == 404


def test_a_trackside_phone_reads_and_writes_checks(lan: tuple[Flask, Door]) -> None:
    app, _ = lan
    bench, phone = Visitor(app, "127.0.0.1"), paired_phone(app, TRACKSIDE)
    bench.ask("POST", "/api/log", json={"entries": [entry("unit")]})
    sent = phone.ask("POST", "/api/log", json={"entries": [entry("torque_check"), entry("note")]})
    assert [answer["answer"] for answer in sent.json["answers"]] == ["stored", "stored"]
    for path in ("/api/units", f"/api/units/{UNIT_ID}", "/api/log", "/api/openapi.json"):
        assert phone.ask("GET", path).status_code == 200, path
    assert phone.ask("POST", "/api/calc/units", json={}).status_code == 200


def test_a_trackside_phone_changes_neither_unit_kit_nor_shelf(lan: tuple[Flask, Door]) -> None:
    app, _ = lan
    bench, phone = Visitor(app, "127.0.0.1"), paired_phone(app, TRACKSIDE)
    unit, kit = entry("unit"), entry("kit")
    assert bench.ask("POST", "/api/log", json={"entries": [unit, kit]}).status_code == 200
    sent = [
        entry("unit"),
        entry("kit"),
        {**entry("kit"), "kind": "shelf"},
        entry("note", replaces=unit["id"]),
        entry("note", unit="", replaces=kit["id"]),
        entry("note"),
    ]
    answers = phone.ask("POST", "/api/log", json={"entries": sent}).json["answers"]
    assert [answer["answer"] for answer in answers] == ["refused"] * 5 + ["stored"]
    assert [answer["errors"][0]["field"] for answer in answers[:5]] == ["kind"] * 3 + ["replaces"] * 2
    assert all("paired for trackside" in answer["errors"][0]["reason"] for answer in answers[:5])
    assert bench.ask("GET", f"/api/units/{UNIT_ID}").json["standing"]["unit"]["name"] == unit["body"]["name"]
    assert bench.ask("GET", "/api/log").json["next"] == 3
    known = phone.ask("POST", "/api/log", json={"entries": [unit]}).json["answers"]
    assert known[0]["answer"] == "already_there", "what the phone wrote while it was the bench's leaves its outbox"


def test_a_trackside_phone_writes_every_kind_of_entry_but_those_of_the_bench(lan: tuple[Flask, Door]) -> None:
    app, _ = lan
    phone = paired_phone(app, TRACKSIDE)
    refused = {}
    for name, kind in KINDS.items():
        body = next(row["request"] for row in samples(kind.calculation) if not row["about"].startswith("bad:"))
        sent = entry(name, unit="" if kind.about == "shop" else UNIT_ID, body=body)
        [answer] = phone.ask("POST", "/api/log", json={"entries": [sent]}).json["answers"]
        if answer["answer"] == "refused":
            [refused[name]] = answer["errors"]
    assert set(refused) == {
        *("unit", "car", "customer", "erasure", "kit", "letterhead", "pattern", "planned", "shelf", "strip"),
        *("close", "rebuild", "refit"),
    }
    assert {error["field"] for error in refused.values()} == {"kind"}
    [words] = {error["reason"] for error in refused.values()}
    bench_kinds = "the build of units and the workshop's lists"
    assert f"writes all but {bench_kinds}: do this at the bench" in words
    readme = " ".join((ROOT / "README.md").read_text("utf-8").split())
    assert f"(reads all; writes all but {bench_kinds})" in readme, "what README says is what the records say"
    assert ROLE_MEANINGS[TRACKSIDE] == f"reads all, writes all but {bench_kinds}"


def test_a_trackside_phone_replaces_nothing_that_is_the_benchs(lan: tuple[Flask, Door]) -> None:
    app, _ = lan
    bench, phone = Visitor(app, "127.0.0.1"), paired_phone(app, TRACKSIDE)
    body = next(row["request"] for row in samples("rebuild") if not row["about"].startswith("bad:"))
    rebuild = entry("rebuild", body=body)
    assert bench.ask("POST", "/api/log", json={"entries": [rebuild]}).json["answers"][0]["answer"] == "stored"
    sent = [entry("note", replaces=rebuild["id"]), {**entry("rebuild", body=body), "replaces": rebuild["id"]}]
    answers = phone.ask("POST", "/api/log", json={"entries": sent}).json["answers"]
    assert [(answer["answer"], answer["errors"][0]["field"]) for answer in answers] == [
        ("refused", "replaces"),
        ("refused", "kind"),
    ]


def test_a_trackside_phone_lets_nobody_in_or_out(lan: tuple[Flask, Door]) -> None:
    app, door = lan
    phone = paired_phone(app, TRACKSIDE)
    (device,) = door.registers.register_of(None).devices.all()
    answers = [
        phone.ask("GET", "/api/devices"),
        phone.ask("POST", "/api/pairing", json={"role": BENCH}),
        phone.ask("PATCH", f"/api/devices/{device.id}", json={"name": "Other"}),
        phone.ask("DELETE", f"/api/devices/{device.id}"),
        phone.ask("GET", "/api/backup"),
        phone.ask("POST", "/api/backup/pieces?at=0"),
        phone.ask("POST", "/api/backup/look"),
        phone.ask("POST", "/api/backup/bring-back", json={"accepted": "", "yes": "yes"}),
        phone.ask("POST", "/api/labels", json={}),
        phone.ask("POST", "/api/labels/look", json={}),
    ]
    assert [answer.status_code for answer in answers] == [403] * len(answers)
    assert door.registers.register_of(None).devices.all() == [device]


def test_a_bench_phone_may_do_all(lan: tuple[Flask, Door]) -> None:
    app, _ = lan
    phone = paired_phone(app, BENCH, "Tablet")
    other = paired_phone(app, TRACKSIDE, "Jo's phone")
    answers = phone.ask("POST", "/api/log", json={"entries": [entry("unit"), entry("kit")]}).json["answers"]
    assert [answer["answer"] for answer in answers] == ["stored", "stored"]
    listed = phone.ask("GET", "/api/devices").json["devices"]
    assert {(device["name"], device["role"], device["this"]) for device in listed} == {
        ("Tablet", BENCH, True),
        ("Jo's phone", TRACKSIDE, False),
    }
    theirs = next(device["id"] for device in listed if not device["this"])
    renamed = phone.ask("PATCH", f"/api/devices/{theirs}", json={"name": " Jo "})
    assert renamed.json["name"] == "Jo"
    assert phone.ask("PATCH", f"/api/devices/{theirs}", json={"name": " "}).json["errors"][0]["field"] == "name"
    assert phone.ask("DELETE", f"/api/devices/{UNIT_ID}").status_code == 404
    assert phone.ask("DELETE", f"/api/devices/{theirs}").json["revoked"]
    assert other.ask("GET", "/api/units").status_code == 401
    assert phone.ask("GET", "/api/units").status_code == 200


@IN_A_FOLDER
def test_a_revoked_phone_is_told_so_and_can_be_paired_again(lan: tuple[Flask, Door], folder: Path) -> None:
    app, door = lan
    phone = paired_phone(app, TRACKSIDE)
    note = entry("note")
    devices = door.registers.register_of(None).devices
    devices.revoke(devices.all()[0].id)
    refused = phone.ask("POST", "/api/log", json={"entries": [note]})
    assert refused.status_code == 401
    assert "shut out" in refused.json["detail"]
    assert "pair it again" in refused.json["detail"]
    assert FolderRegisters(folder / "lan").find_device(str(phone.token)) == (None, devices.all()[0]), (
        "also after a restart"
    )
    phone.token = paired_phone(app, TRACKSIDE).token
    assert phone.ask("POST", "/api/log", json={"entries": [note]}).json["answers"][0]["answer"] == "stored"


@IN_A_FOLDER
def test_tokens_are_long_random_and_kept_as_hashes_by_the_owner_alone(lan: tuple[Flask, Door], folder: Path) -> None:
    app, _ = lan
    tokens = [str(paired_phone(app, TRACKSIDE).token) for _ in range(5)]
    assert len(set(tokens)) == 5
    assert all(len(token) == 43 for token in tokens), "256 bits in base64 (RFC 4648) take 43 digits"
    file = folder / "lan" / "devices.json"
    text = file.read_text()
    assert not [token for token in tokens if token in text]
    hashes = {device["token_sha256"] for device in json.loads(text)["devices"]}
    assert hashes == {hashlib.sha256(token.encode()).hexdigest() for token in tokens}
    assert file.stat().st_mode & 0o077 == 0
    assert (folder / "lan").stat().st_mode & 0o077 == 0


@IN_A_FOLDER
def test_a_damaged_list_of_devices_is_told_and_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "devices.json"
    for content in (b"", b"{}", b'{"devices": [{"id": 1}]}', b"\xff"):
        file.write_bytes(content)
        with pytest.raises(LogFault, match="list of paired devices"):
            FolderDevices(tmp_path)
        assert file.read_bytes() == content


def test_a_thousand_guessed_tokens_get_nowhere(lan: tuple[Flask, Door]) -> None:
    app, _ = lan
    token = str(paired_phone(app, BENCH).token)
    near = [token[:place] + letter + token[place + 1 :] for place in range(42) for letter in "Aa0-"]
    guesses = [guess for guess in near if guess != token] + [token[:-1], token + "A", token.swapcase()]
    guesses += [hashlib.sha256(str(number).encode()).hexdigest()[:43] for number in range(1000)]
    assert len(guesses) > 1000
    assert {Visitor(app, token=guess).ask("GET", "/api/units").status_code for guess in guesses} == {401}


def test_a_thousand_guessed_codes_let_nobody_in_and_lock_out_only_whoever_guessed(lan: tuple[Flask, Door]) -> None:
    app, door = lan
    bench = Visitor(app, "127.0.0.1")
    code = bench.ask("POST", "/api/pairing", json={"role": BENCH}).json["code"]
    guesses = [str(22222222 + number) for number in range(1000)]
    assert code.replace("-", "") not in guesses
    answers = [Visitor(app, "192.168.7.66").pair(guess) for guess in guesses]
    assert [answer.status_code for answer in answers] == [422] * (MOST_WRONG - 1) + [429] * (1001 - MOST_WRONG)
    assert answers[0].json["errors"][0]["field"] == "code"
    assert "4 tries are left" in answers[0].json["detail"]
    assert "have a new code made" in answers[-1].json["detail"]
    assert int(answers[-1].headers["Retry-After"]) <= CODE_VALID_S
    assert Visitor(app, "192.168.7.66").pair(code).status_code == 429, "the right code comes too late"
    assert door.registers.register_of(None).devices.all() == []
    assert Visitor(app).pair(code).status_code == 200, "another phone is not locked out with it"
    fresh = bench.ask("POST", "/api/pairing", json={"role": BENCH}).json["code"]
    assert Visitor(app, "192.168.7.66").pair(fresh).status_code == 200, "the bench has given it new tries"


@IN_A_FOLDER
def test_a_code_is_good_once_and_for_ten_minutes() -> None:
    now = [1000.0]
    pairing = FolderPairing(lambda: now[0])
    code = pairing.open(TRACKSIDE)
    assert pairing.use(" " + code.lower().replace("-", " "), PHONE) == TRACKSIDE
    with pytest.raises(PairingClosed):
        pairing.use(code, PHONE)
    code = pairing.open(BENCH)
    now[0] += CODE_VALID_S - 1
    assert pairing.use(code, PHONE) == BENCH
    code = pairing.open(BENCH)
    now[0] += CODE_VALID_S
    with pytest.raises(PairingClosed):
        pairing.use(code, PHONE)
    old = pairing.open(BENCH)
    new = pairing.open(TRACKSIDE)
    with pytest.raises(WrongCode):
        pairing.use(old, PHONE)
    assert pairing.use(new, PHONE) == TRACKSIDE
    assert CODE_VALID_S == 600
    assert len(CODE_ALPHABET) ** CODE_LENGTH > 10**11


@IN_A_FOLDER
def test_many_addresses_together_close_a_code() -> None:
    pairing = FolderPairing(lambda: 1000.0)
    code = pairing.open(BENCH)
    for number in range(MOST_IN_ALL - 1):
        with pytest.raises((WrongCode, PairingLocked)):
            pairing.use("wrong", f"10.0.{number // MOST_WRONG}.1")
    with pytest.raises(PairingClosed):
        pairing.use("wrong", "10.1.0.1")
    with pytest.raises(PairingClosed):
        pairing.use(code, "10.2.0.1")
    assert MOST_IN_ALL / len(CODE_ALPHABET) ** CODE_LENGTH < 1e-8
    assert pairing.use(pairing.open(BENCH), "10.0.0.1") == BENCH


def test_the_qr_code_leads_to_pairing_at_one_of_the_pcs_addresses(lan: tuple[Flask, Door]) -> None:
    bench = Visitor(lan[0], "127.0.0.1")
    code_answer = bench.ask("POST", "/api/pairing", json={"role": TRACKSIDE}).json
    assert code_answer["address"] == f"https://192.168.7.20:8127/#/pair/{code_answer['code']}"
    assert code_answer["qr_svg"].startswith("<svg")
    assert code_answer["seconds"] == 600
    assert code_answer["welcome"] == "http://192.168.7.20:8128/"
    assert "http://www.w3.org/2000/svg" in code_answer["welcome_qr_svg"], "a picture of its own says what it is"
    request = {"role": TRACKSIDE, "address": code_answer["addresses"][1]}
    assert bench.ask("POST", "/api/pairing", json=request).json["address"].startswith("https://pit-pc.local:8127/")
    other = {"role": TRACKSIDE, "address": "https://elsewhere.example/"}
    assert bench.ask("POST", "/api/pairing", json=other).json["errors"][0]["field"] == "address"


@IN_A_FOLDER
def test_the_access_log_tells_who_was_here_and_no_secret(lan: tuple[Flask, Door], folder: Path) -> None:
    app, door = lan
    phone = paired_phone(app, TRACKSIDE)
    phone.ask("GET", "/api/log?after=0&token=hidden")
    Visitor(app).ask("GET", "/a%0Ab")
    lines = (folder / "lan" / "access.log").read_text().splitlines()
    assert len(lines) == 4
    assert lines[2].endswith(f"{PHONE} {door.registers.register_of(None).devices.all()[0].id} GET /api/log 200")
    assert "/a%0Ab" in lines[3]
    assert not [line for line in lines if str(phone.token) in line or "hidden" in line]


def test_a_stranger_learns_nothing_of_the_log_from_health(lan: tuple[Flask, Door]) -> None:
    app, _ = lan
    log = app.extensions["slipbook_log"]
    log.add([{**stored(), "seq": 2}])
    log.note_returned("Mara's phone", entries=1)
    assert Visitor(app).ask("GET", "/api/health").json["problems"] == []
    [problem] = Visitor(app, "127.0.0.1").ask("GET", "/api/health").json["problems"]
    assert problem.startswith("The log lacks 1 entry")


@IN_A_FOLDER
def test_when_a_device_was_here_is_noted_at_most_hourly(tmp_path: Path) -> None:
    now = [datetime(2026, 11, 25, 10, 0, tzinfo=UTC)]
    devices = FolderDevices(tmp_path, lambda: now[0])
    device, _ = devices.add("Jo", TRACKSIDE)
    now[0] = now[0].replace(minute=59)
    devices.note_seen(device)
    assert devices.all()[0].seen == device.seen
    now[0] = now[0].replace(hour=11, minute=0)
    devices.note_seen(device)
    assert devices.all()[0].seen == "2026-11-25T11:00:00+00:00"
