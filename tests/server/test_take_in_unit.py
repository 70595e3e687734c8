"""What one workshop exports another takes in by command: every unit once, and not the kit."""

import json
from pathlib import Path

import pytest

from server import demo
from server.cli import main

from .sample_logs import BODIES, OTHER_UNIT, UNIT_ID, stored
from .stores import open_log, place_of


def test_an_export_is_taken_in_once_and_without_the_kit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with open_log(tmp_path / "here") as log:
        demo.load(log)
        entries = {entry["id"]: entry for entry in log.after(0, 500)[0] if entry["unit"]}
    file = tmp_path / "all.json"
    open_log(tmp_path / "there").close()
    assert main(["export", *place_of(tmp_path / "here"), "--to", str(file)]) == 0
    for sentence in (
        f"Entries stored: {len(entries)}, there already: 0,",
        f"Entries stored: 0, there already: {len(entries)},",
    ):
        assert main(["take-in", str(file), *place_of(tmp_path / "there")]) == 0
        assert sentence in capsys.readouterr().out
    with open_log(tmp_path / "there") as log:
        taken = {entry["id"]: entry for entry in log.after(0, 500)[0]}
    assert taken.keys() == entries.keys()
    assert all(taken[name]["body"] == entries[name]["body"] for name in entries)

    # The same number with other content is refused, and what is there stays.
    content = json.loads(file.read_text("utf-8"))
    first = next(unit for unit in content["units"] if unit["unit"])["entries"][0]
    first["who"] = "Somebody Else"
    file.write_text(json.dumps(content), "utf-8")
    assert main(["take-in", str(file), *place_of(tmp_path / "there")]) != 0
    assert "Another entry with this id is in the log" in capsys.readouterr().out
    with open_log(tmp_path / "there") as log:
        entry_found = log.find(first["id"])
    assert entry_found is not None
    assert entry_found["who"] == entries[first["id"]]["who"]


def test_an_export_calls_each_unit_by_its_newest_name_and_the_rest_by_none(tmp_path: Path) -> None:
    renamed = [stored("unit", body={**BODIES["unit"], "name": name}) for name in ("Bramble 7", "Bramble 8")]
    with open_log(tmp_path / "here") as log:
        log.add([*renamed, stored("note", OTHER_UNIT), stored("kit", "")])
    file = tmp_path / "all.json"
    assert main(["export", *place_of(tmp_path / "here"), "--to", str(file)]) == 0
    units = json.loads(file.read_text("utf-8"))["units"]
    # Tools are no unit's, and the other unit was never defined.
    assert {unit["unit"]: unit["name"] for unit in units} == {UNIT_ID: "Bramble 8", OTHER_UNIT: "", "": ""}


@pytest.mark.parametrize("text", ['{"slipbook_export": 2}', '{"slipbook_export": 1, "units": 3}', "[]"])
def test_what_is_neither_outbox_nor_export_is_refused(
    tmp_path: Path, text: str, capsys: pytest.CaptureFixture[str]
) -> None:
    open_log(tmp_path / "there").close()
    file = tmp_path / "wrong.json"
    file.write_text(text, "utf-8")
    assert main(["take-in", str(file), *place_of(tmp_path / "there")]) != 0
    assert "is not an outbox or a unit that Slipbook saved" in capsys.readouterr().err
