"""By its receipt a log knows an entry that it stored, whoever brings it back; nobody else can make one."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from server.engine import KINDS
from server.engine.history.timeline import live_entries, newest_of
from server.lan import TRACKSIDE
from server.log.intake import receive
from server.log.receipts import text_of, with_receipt, with_whole_numbers

from .sample_logs import entry, read_all
from .stores import back_up_at, open_log, restore_at

BARRED = frozenset(name for name, kind in KINDS.items() if TRACKSIDE not in kind.writers)


# What JSON may hold; figures of the size that the engine makes are tried more often than others.
WORDS = st.text(st.characters(exclude_categories=["Cs"]))
FIGURES = st.floats(allow_nan=False, allow_infinity=False) | st.floats(-1e-3, 1e-3) | st.floats(0, 300) | st.integers()


def lose(folder: Path) -> dict[str, Any]:
    """A unit's definition that was stored after the backup, as a phone has it; the log is restored without it."""
    open_log(folder / "log").close()
    back_up_at(folder / "log", folder / "log.zip")
    with open_log(folder / "log") as log:
        receive(log, [entry("unit"), entry("note")])
        [lost, _] = [with_receipt(log.identity, entry) for entry in read_all(log)]
    restore_at(folder / "log.zip", folder / "restored")
    # A phone writes 2.0 as 2.
    on_phone: dict[str, Any] = json.loads(json.dumps(lost).replace(".0,", ",").replace(".0}", "}"))
    assert json.dumps(on_phone) != json.dumps(lost)
    return on_phone


def test_a_trackside_phone_brings_back_what_it_may_not_write(tmp_path: Path) -> None:
    lost = lose(tmp_path)
    with open_log(tmp_path / "restored") as log:
        [refused] = receive(log, [{name: value for name, value in lost.items() if name != "receipt"}], None, BARRED)
        assert refused["answer"] == "refused"
        [answer] = receive(log, [lost], None, BARRED, "Mara's phone")
        assert (answer["answer"], answer["seq"], answer["receipt"]) == ("stored", lost["seq"], lost["receipt"])
        [stored] = read_all(log)
        assert stored["received"] == lost["received"]
        [row] = log.returned.rows
        assert (row["source"], row["entries"]) == ("Mara's phone", 1)
        assert receive(log, [lost], None, BARRED)[0]["answer"] == "already_there"
    with open_log(tmp_path / "restored") as log:
        assert log.returned.rows == [row]


@pytest.mark.parametrize("change", [{"who": "Somebody"}, {"kind": "note"}, {"received": "2026-01-01T00:00:00+00:00"}])
def test_what_was_changed_since_is_no_longer_known(tmp_path: Path, change: dict[str, Any]) -> None:
    lost = lose(tmp_path)
    with open_log(tmp_path / "restored") as log:
        assert receive(log, [{**lost, **change}], None, BARRED)[0]["answer"] == "refused"
        assert log.last == 0


def test_another_logs_receipt_opens_nothing(tmp_path: Path) -> None:
    lost = lose(tmp_path)
    with open_log(tmp_path / "other") as log:
        assert receive(log, [lost], None, BARRED)[0]["answer"] == "refused"
        [answer] = receive(log, [lost])
        assert answer["answer"] == "stored"
        assert read_all(log)[0]["received"] != lost["received"]
        assert log.returned.rows == []


def test_after_a_restore_no_number_is_given_twice(tmp_path: Path) -> None:
    lost = lose(tmp_path)
    with open_log(tmp_path / "restored") as log:
        [new] = receive(log, [entry("note")])
        assert new["seq"] > lost["seq"] + 1000
        assert log.problems == []
        assert receive(log, [lost])[0]["seq"] == lost["seq"]
        assert [entry["seq"] for entry in read_all(log)] == [lost["seq"], new["seq"]]
        assert receive(log, [entry("note")])[0]["seq"] == new["seq"] + 1
    with open_log(tmp_path / "restored") as log:
        assert [entry["seq"] for entry in read_all(log)] == [lost["seq"], new["seq"], new["seq"] + 1]
        assert log.problems == []
        assert log.contents().faults == []


COPIED = pytest.mark.about_files("an old copy of a folder is put in its place")


@COPIED
def test_what_comes_back_in_another_order_leaves_no_gap(tmp_path: Path) -> None:
    open_log(tmp_path / "log").close()
    shutil.copytree(tmp_path / "log", tmp_path / "copy")
    with open_log(tmp_path / "log") as log:
        receive(log, [entry("unit"), entry("note"), entry("kit"), entry("note")])
        lost = [with_receipt(log.identity, entry) for entry in read_all(log)]
    with open_log(tmp_path / "copy") as log:
        receive(log, [lost[2], lost[0], lost[1], lost[3]])
        assert log.last == 4
        assert log.problems == []
        assert [entry["seq"] for entry in read_all(log)] == [1, 2, 3, 4]


@COPIED
def test_a_number_that_another_entry_has_by_now_is_not_fought_for(tmp_path: Path) -> None:
    """Somebody put an old copy of the folder in its place, and wrote on: numbers were used again."""
    with open_log(tmp_path / "log") as log:
        receive(log, [entry("unit")])
    shutil.copytree(tmp_path / "log", tmp_path / "copy")
    with open_log(tmp_path / "log") as log:
        receive(log, [entry("note"), entry("note")])
        lost = [with_receipt(log.identity, entry) for entry in read_all(log)[1:]]
    with open_log(tmp_path / "copy") as log:
        [new] = receive(log, [entry("note")])
        assert new["seq"] == lost[0]["seq"]
        assert [entry["seq"] for entry in receive(log, lost)] == [4, 3]
        assert [entry["received"] for entry in read_all(log)[2:]] == [lost[1]["received"], lost[0]["received"]]


def test_a_correction_that_came_back_stands_no_longer_over_a_later_one(tmp_path: Path) -> None:
    """What was written first and lost comes back last, and is still the older of the two."""
    with open_log(tmp_path / "log") as log:
        receive(log, [first := entry("unit")])
    back_up_at(tmp_path / "log", tmp_path / "log.zip")
    with open_log(tmp_path / "log") as log:
        receive(log, [older := entry("unit", replaces=first["id"])])
        [lost] = [with_receipt(log.identity, entry) for entry in read_all(log)[1:]]
    restore_at(tmp_path / "log.zip", tmp_path / "restored")
    with open_log(tmp_path / "restored") as log:
        receive(log, [newer := entry("unit", replaces=first["id"])])
        receive(log, [lost])
        entries = log.of_unit(first["unit"])
    assert {entry["id"] for entry in entries} == {first["id"], older["id"], newer["id"]}
    stands = newest_of(live_entries(entries), "unit")
    assert stands is not None
    assert stands["id"] == newer["id"]


@given(st.dictionaries(WORDS, FIGURES | WORDS | st.lists(FIGURES, max_size=3), max_size=4))
@example({"a": [1e-5, 2.0, -0.0, 1e16, 1.5e-7, 2**70, 0.0001], "b": "\x7f ·🔧\x00\n", "é": 1e-5, "z": "2.0,"})
@example({"a": 1e16})
@example({"a": "N·m ±6 % \x7f"})
@example({"🔧": "é", "\uffff": 0.00001234, "a": 0.0001})
def test_a_receipt_is_made_of_the_same_text_as_ever(named: dict[str, Any]) -> None:
    # Receipts that phones keep were made of this.
    assert text_of(named).decode() == json.dumps(with_whole_numbers(named), sort_keys=True, separators=(",", ":"))
