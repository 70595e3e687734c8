"""What is handed out and taken in is bounded in bytes, and all of the log comes through."""

import json
from datetime import date
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from server.engine import KINDS, calc
from server.lan import Door
from server.lan.files.amounts import FolderSentAmounts
from server.lan.register import MOST_BYTES_A_DAY
from server.log import Log
from server.log.intake import ROOM_FOR_RESULT
from server.log.store import PAGE_BYTES
from tests.engine.samples import samples

from .lan_visitors import Visitor, paired_phone
from .sample_logs import entry, read_all, stored
from .stores import open_log

LONG = "x" * 1_900_000


def test_large_entries_come_in_pages_of_a_few_megabytes(folder: Path) -> None:
    with open_log(folder) as log:
        ids = [log.add([stored(shown={"verdict": None, "note": LONG})])[0].entry["id"] for _ in range(6)]
        ids += [log.add([stored()])[0].entry["id"] for _ in range(3)]
        page, has_more = log.after(0, 500)
        assert (len(page), has_more) == (PAGE_BYTES // 1_900_000, True)
        assert [entry["id"] for entry in read_all(log)] == ids
        assert [len(log.after(seq, 500)[0]) for seq in (4, 6, 8, 9)] == [5, 3, 1, 0]


def test_one_entry_larger_than_a_page_still_comes(folder: Path) -> None:
    with open_log(folder) as log:
        log.add([stored(shown={"verdict": None, "note": LONG * 3}), stored()])
        assert [len(log.after(seq, 500)[0]) for seq in (0, 1)] == [1, 1]
        assert [log.after(seq, 500)[1] for seq in (0, 1)] == [True, False]


def test_a_phone_that_fetches_page_by_page_gets_all(client: FlaskClient, folder: Path) -> None:
    log: Log = client.application.extensions["slipbook_log"]
    for _ in range(5):
        log.add([stored(shown={"verdict": None, "note": LONG})])
    after, has_more, seqs = 0, True, []
    while has_more:
        page = client.get(f"/api/log?after={after}&most=500").json
        assert page is not None
        seqs += [entry["seq"] for entry in page["entries"]]
        after, has_more = page["next"], page["more"]
    assert seqs == [1, 2, 3, 4, 5]


def test_a_result_that_no_engine_can_have_made_is_refused(client: FlaskClient) -> None:
    swollen = entry("note", shown={"verdict": None, "note": LONG})
    other = entry("torque_check")
    answers = client.post("/api/log", json={"entries": [swollen, other]}).json["answers"]  # type: ignore[index]
    assert [answer["answer"] for answer in answers] == ["refused", "stored"]
    assert answers[0]["errors"][0]["field"] == "shown"
    assert "far larger than one of this kind can be" in answers[0]["errors"][0]["reason"]


@pytest.mark.parametrize("name", KINDS)
def test_no_result_of_the_samples_comes_near_the_bound(name: str) -> None:
    calculation = KINDS[name].calculation
    good = [row["request"] for row in samples(calculation) if not row["about"].startswith("bad:")]
    assert max(len(json.dumps(calc(calculation, request))) for request in good) < ROOM_FOR_RESULT / 4


def test_a_device_sends_no_more_than_its_share_of_a_day(
    lan: tuple[Flask, Door], monkeypatch: pytest.MonkeyPatch
) -> None:
    app, door = lan
    phone, other = paired_phone(app, "trackside"), paired_phone(app, "trackside", "Jo's phone")
    batch = {"entries": [entry("note")]}
    size = len(json.dumps(batch))
    monkeypatch.setitem(MOST_BYTES_A_DAY, "log", 2 * size + 20)
    assert [phone.ask("POST", "/api/log", json=batch).status_code for _ in range(3)] == [200, 200, 429]
    refused = phone.ask("POST", "/api/log", json=batch)
    assert "what waits is kept and goes on tomorrow" in refused.json["detail"]
    assert refused.headers["Retry-After"] == "3600"
    assert phone.ask("GET", "/api/log").status_code == 200, "it still reads"
    assert phone.ask("POST", "/api/calc/units", json={}).status_code == 200
    assert other.ask("POST", "/api/log", json=batch).status_code == 200, "and the others write"
    assert Visitor(app, "127.0.0.1").ask("POST", "/api/log", json=batch).status_code == 200
    amounts = door.registers.register_of(None).amounts
    assert isinstance(amounts, FolderSentAmounts)
    amounts.day = date(2020, 1, 1)
    assert phone.ask("POST", "/api/log", json=batch).status_code == 200, "the next day"
