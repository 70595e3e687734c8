"""Patterns in the log: received, judged and exported like the rest, and brought along with the units built to them."""

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from server.cli import main
from server.engine import calc
from server.log import Log
from tests.engine.checks import UNIT

from .sample_logs import OTHER_UNIT, UNIT_ID, entry, read_all
from .stores import open_log, place_of

JUDGED = {"received": "2026-05-09T09:00:00.000+00:00", "agrees": True}
SHARED = {name: value for name, value in UNIT.items() if name != "name"}


def pattern(name: str = "Hillclimb", of: str = "", knows: tuple[str, ...] = (), **body: Any) -> dict[str, Any]:
    """An entry of a pattern, as a phone sends it."""
    body = {"name": name, **SHARED, **body} | ({"id": of} if of else {})
    return entry("pattern", "", body=body, knows=list(knows), clock={"fell_s": 0})


def built(of: dict[str, Any], name: str, unit: str = UNIT_ID) -> dict[str, Any]:
    """The entry of a unit that was added by its pattern."""
    link = {"id": of["id"], "name": of["body"]["name"], "seen": of["id"]}
    return entry("unit", unit, body={**SHARED, "name": name, "owner": "Ilse", "pattern": link})


def standing_patterns(log: Log) -> list[dict[str, Any]]:
    """The patterns that stand in a log."""
    rows: list[dict[str, Any]] = calc("kit_standing", {"entries": log.of_unit("")})["patterns"]
    return rows


def test_two_phones_change_one_pattern_and_both_changes_arrive(client: FlaskClient) -> None:
    first = pattern()
    ours = pattern(of=first["id"], knows=(first["id"],), service={"low_nm": 65})
    theirs = pattern("Hillclimb, wide", first["id"], (first["id"],))
    for sent in ([first], [ours], [theirs, first]):
        answers = client.post("/api/log", json={"entries": sent}).json
        assert answers is not None
        assert {row["answer"] for row in answers["answers"]} <= {"stored", "already_there"}
    log = client.get("/api/log").json
    assert log is not None
    entries = log["entries"]
    assert all(row["agrees"] for row in entries)
    [found] = calc("kit_standing", {"entries": entries})["patterns"]
    assert (found["name"], found["entry"]) == ("Hillclimb, wide", theirs["id"])
    assert [(lost["entry"], lost["base"]) for lost in found["overwritten"]] == [(ours["id"], first["id"])]


def test_a_definition_without_a_pattern_is_stored_as_it_came(client: FlaskClient) -> None:
    sent = entry("unit", body=UNIT)
    # As an engine showed it that knew nothing of patterns.
    del sent["shown"]["checked"]["pattern"]
    answers = client.post("/api/log", json={"entries": [{**sent, "engine": "1.24"}]}).json
    assert answers is not None
    assert [row["answer"] for row in answers["answers"]] == ["stored"]
    unit_page = client.get(f"/api/units/{UNIT_ID}").json
    assert unit_page is not None
    [back] = unit_page["entries"]
    assert json.dumps([back["body"], back["shown"]], sort_keys=True) == json.dumps(
        [sent["body"], sent["shown"]], sort_keys=True
    )
    assert unit_page["standing"]["built"] is not None


def test_a_pattern_belongs_to_the_shop_and_an_owner_to_a_unit(client: FlaskClient) -> None:
    wrong = [
        (pattern() | {"unit": UNIT_ID}, "unit", "Patterns belong to the shop: leave the unit empty."),
        (pattern() | {"body": {"name": "A", "owner": "Ilse"}}, "body.owner", "This is not asked for here"),
    ]
    for sent, field, reason in wrong:
        answers = client.post("/api/log", json={"entries": [sent]}).json
        assert answers is not None
        [answer] = answers["answers"]
        assert answer["answer"] == "refused"
        assert [row["field"] for row in answer["errors"]] == [field]
        assert answer["errors"][0]["reason"].startswith(reason)


def test_a_unit_travels_with_its_pattern_and_without_the_rest_of_the_shop(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first, other = pattern(), pattern("Circuit")
    changed = pattern(of=first["id"], knows=(first["id"],), service={"low_nm": 65})
    units = [built(first, "Bramble 9"), built(other, "Thistle 9", OTHER_UNIT)]
    with open_log(tmp_path / "here") as log:
        for new_entry in (first, other, changed, *units, entry("kit")):
            log.add([{**new_entry, **JUDGED, "judged": new_entry["shown"]}])
    whole, of_unit = tmp_path / "all.json", tmp_path / "one.json"
    assert main(["export", *place_of(tmp_path / "here"), "--unit", "Bramble 9", "--to", str(of_unit)]) == 0
    assert main(["export", *place_of(tmp_path / "here"), "--to", str(whole)]) == 0
    kinds = [[row["kind"] for row in unit["entries"]] for unit in json.loads(of_unit.read_text("utf-8"))["units"]]
    assert sorted(kinds) == [["pattern", "pattern"], ["unit"]]

    open_log(tmp_path / "there").close()
    assert main(["take-in", str(of_unit), *place_of(tmp_path / "there")]) == 0
    with open_log(tmp_path / "there") as log:
        assert {row["id"] for row in read_all(log)} == {first["id"], changed["id"], units[0]["id"]}
        [found] = standing_patterns(log)
        assert (found["id"], found["body"]["service"]) == (first["id"], {"low_nm": 65})
        # What it offers there is what it offered at home.
        [back] = [row["body"] for row in read_all(log) if row["kind"] == "unit"]
        offer = calc("pattern_offer", {"own": back, "seen": first["body"], "wanted": found["body"]})
        assert [row["name"] for row in offer["offers"]] == ["service.low_nm"]
    # Twice is once, and of a whole log the patterns of its units come along.
    for file in (of_unit, whole):
        assert main(["take-in", str(file), *place_of(tmp_path / "there")]) == 0
    assert "there already: 3," in capsys.readouterr().out
    with open_log(tmp_path / "there") as log:
        assert [row["name"] for row in standing_patterns(log)] == ["Circuit", "Hillclimb"]
        assert {row["kind"] for row in read_all(log)} == {"pattern", "unit"}


def test_nonsense_among_the_patterns_of_a_file_is_refused_by_itself(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first = pattern()
    wrong = [None, 3, {"kind": "pattern"}, {"id": [], "kind": "pattern", "body": {}}, first | {"replaces": {}}]
    groups = [
        {"unit": UNIT_ID, "entries": [built(first, "Bramble 9")]},
        {"unit": "", "entries": [*wrong, first]},
        {"unit": "", "entries": "none"},
    ]
    file = tmp_path / "wrong.json"
    file.write_text(json.dumps({"slipbook_export": 1, "units": groups}), "utf-8")
    open_log(tmp_path / "there").close()
    assert main(["take-in", str(file), *place_of(tmp_path / "there")]) == 0
    assert "Entries stored: 2," in capsys.readouterr().out


def test_a_table_has_a_row_for_a_pattern_and_says_what_a_unit_is_built_to(tmp_path: Path) -> None:
    first = pattern()
    with open_log(tmp_path / "here") as log:
        for new_entry in (first, built(first, "Bramble 9")):
            log.add([{**new_entry, **JUDGED, "judged": new_entry["shown"]}])
    file = tmp_path / "all.csv"
    assert main(["export", *place_of(tmp_path / "here"), "--format", "csv", "--to", str(file)]) == 0
    rows = [row for row in csv.DictReader(io.StringIO(file.read_bytes().decode("utf-8-sig"))) if not row["item"]]
    assert [(row["kind"], row["service.low (N·m)"]) for row in rows] == [("pattern", "70"), ("unit", "70")]
    assert rows[1]["pattern.id"] == first["id"]
    assert rows[1]["pattern.name"] == "Hillclimb"
