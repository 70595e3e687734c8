"""A customer is erased: entries keep ids, numbers and receipts, and nothing brings back what was taken out of them."""

import json
from pathlib import Path
from typing import Any

import pytest

from server.engine import calc
from server.engine.records.customer import BLANK
from server.engine.records.kinds import TRACKSIDE, kinds_closed_to
from server.log import Log
from server.log.intake import receive
from server.log.receipts import is_own, with_receipt
from tests.engine.checks import UNIT

from .sample_logs import OTHER_UNIT, UNIT_ID, entry, read_all, unit_file
from .stores import all_kept, back_up_at, open_log, restore_at

NAME, PHONE = "Tarn Odewyn", "+44 1632 960001"
BARRED = frozenset(kinds_closed_to(TRACKSIDE))
CUSTOMER = entry("customer", "", body={"name": NAME, "phone": PHONE, "address": "12 Mill Lane\nOwlbridge"})
ID = CUSTOMER["id"]
LINKED = entry("unit", body={**UNIT, "name": "Bramble 1", "owner": NAME, "customer_id": ID})
TYPED = entry("unit", OTHER_UNIT, body={**UNIT, "name": "Wren 2", "owner": NAME.upper()})
NOTE = entry("note", body={"text": f"Rung {NAME} at six: paid."})


def cut(of: dict[str, Any], field: str, text: str, piece: str) -> dict[str, Any]:
    return {"entry": of["id"], "field": field, "start": text.index(piece), "length": len(piece), "of": len(text)}


def erasure() -> dict[str, Any]:
    """Of the record, of an owner that was typed, and of a name in a note."""
    owner, text = TYPED["body"]["owner"], NOTE["body"]["text"]
    fields = ("body.owner", "shown.checked.owner")
    cuts = [*(cut(TYPED, field, owner, owner) for field in fields), cut(NOTE, "body.text", text, NAME)]
    return entry("erasure", "", body={"ids": [ID], "cuts": cuts})


def on_phone(log: Log) -> list[dict[str, Any]]:
    """What a phone keeps that has read all."""
    return [with_receipt(log.identity, row) for row in read_all(log)]


def named_in(folder: Path) -> list[str]:
    """What is kept of the log in which the name still stands: files, or rows of a database."""
    return [text for text in all_kept(folder) if NAME.lower() in text.lower()]


def fill(log: Log) -> list[dict[str, Any]]:
    """A log that knows the person in each way; what a phone has of it."""
    for sent_entry in (CUSTOMER, LINKED, TYPED, NOTE):
        [answer] = receive(log, [sent_entry])
        assert answer["answer"] == "stored", answer
    return on_phone(log)


def test_an_erasure_leaves_ids_numbers_receipts_and_a_whole_log(folder: Path) -> None:
    with open_log(folder) as log:
        before = fill(log)
        digests = log.digests()
        [answer] = receive(log, [erasure()])
        assert (answer["answer"], answer["seq"]) == ("stored", 5)
        after = read_all(log)
        assert [(row["id"], row["seq"]) for row in after[:4]] == [(row["id"], row["seq"]) for row in before]
        assert {unit: log.digests()[unit] for unit in (UNIT_ID, OTHER_UNIT)} == {
            unit: digests[unit] for unit in (UNIT_ID, OTHER_UNIT)
        }
        customer, linked, typed, note = after[:4]
        assert customer["body"] == {"name": BLANK, "phone": BLANK, "address": BLANK}
        assert {row["body"]["owner"] for row in (linked, typed)} == {BLANK}
        assert {row[shown]["checked"]["owner"] for row in (linked, typed) for shown in ("shown", "judged")} == {BLANK}
        assert note["body"]["text"] == f"Rung {BLANK} at six: paid."
        assert linked["body"]["customer_id"] == ID
        assert all(row["erased"] == [after[4]["id"]] for row in after[:4])
        assert all(is_own(log.identity, row) for row in on_phone(log))
        # Their verdicts are what they were.
        assert [row["shown"].get("verdict") for row in after[:4]] == [row["shown"].get("verdict") for row in before]
    assert named_in(folder) == []
    with open_log(folder) as log:
        assert log.contents().faults == []
        assert log.problems == []
        assert read_all(log) == after


def test_an_old_phone_that_delivers_brings_nothing_back_and_is_told(folder: Path) -> None:
    with open_log(folder) as log:
        phone = fill(log)
        receive(log, [erasure()])
        after = read_all(log)
        answers = receive(log, phone, None, BARRED)
        assert [answer["answer"] for answer in answers] == ["already_there"] * 4
        # What the phone keeps from now on is what the log has, with a receipt that holds.
        assert [answer["entry"] for answer in answers] == on_phone(log)[:4]
        assert read_all(log) == after
        # The same by what it wrote and never heard of again.
        bare = [{name: row[name] for name in CUSTOMER} for row in phone]
        assert [answer["answer"] for answer in receive(log, bare)] == ["already_there"] * 4
    assert named_in(folder) == []


def test_what_another_phone_wrote_meanwhile_comes_in_without_the_person(folder: Path) -> None:
    changed = entry("customer", "", body={"name": NAME, "id": ID, "mail": "tarn@ode.example"})
    linked = entry("unit", body={**LINKED["body"], "note": "drains dark"})
    typed = entry("unit", OTHER_UNIT, body={**TYPED["body"], "owner": f" {NAME} ", "note": "new oil"})
    with open_log(folder) as log:
        fill(log)
        receive(log, [erasure()])
        answers = receive(log, [changed, linked, typed])
        assert [answer["answer"] for answer in answers] == ["stored"] * 3
        assert [answer["entry"]["body"].get("owner") for answer in answers] == [None, BLANK, BLANK]
        assert answers[0]["entry"]["body"] == {"name": BLANK, "id": ID, "mail": BLANK}
        assert answers[1]["entry"]["body"]["note"] == "drains dark"
        # Somebody else of that name, on another unit, is nobody's business here.
        other = entry("unit", "01930000-0000-7000-8000-00000000a003", body={**UNIT, "name": "Finch", "owner": NAME})
        assert "entry" not in receive(log, [other])[0]
    still_named = named_in(folder)
    assert still_named
    assert all(other["unit"] in text for text in still_named)


@pytest.mark.parametrize("knew", [True, False], ids=["read the erasure", "never heard of it"])
def test_an_older_backup_is_restored_and_phones_heal_the_erasure_onto_it(tmp_path: Path, knew: bool) -> None:
    root = tmp_path / "log"
    with open_log(root) as log:
        old = fill(log)
    back_up_at(root, tmp_path / "log.zip")
    with open_log(root) as log:
        receive(log, [erasure()])
        new = json.loads(json.dumps(on_phone(log)))
    restore_at(tmp_path / "log.zip", tmp_path / "restored")
    with open_log(tmp_path / "restored") as log:
        assert named_in(tmp_path / "restored"), "a backup that was made before still holds it"
        # A phone that was erased brings the erasure, whatever it may write; one that was not, all that it has.
        if not knew:
            assert {row["answer"] for row in receive(log, old, None, BARRED)} == {"already_there"}
        answers = receive(log, new, None, BARRED, "Mara's phone")
        assert [row["answer"] for row in answers] == ["already_there"] * 4 + ["stored"]
        assert on_phone(log) == new
        receive(log, old, None, BARRED)
    assert named_in(tmp_path / "restored") == []


def test_what_was_lost_comes_back_from_an_old_phone_erased(tmp_path: Path) -> None:
    """The backup is older than the person: the erasure is there before the entries are."""
    open_log(tmp_path / "log").close()
    back_up_at(tmp_path / "log", tmp_path / "log.zip")
    with open_log(tmp_path / "log") as log:
        old = fill(log)
        receive(log, [erasure()])
        new = on_phone(log)
    restore_at(tmp_path / "log.zip", tmp_path / "restored")
    with open_log(tmp_path / "restored") as log:
        receive(log, new[4:], None, BARRED)
        answers = receive(log, old, None, BARRED)
        assert [(row["answer"], row["seq"]) for row in answers] == [("stored", seq) for seq in (1, 2, 3, 4)]
        assert on_phone(log) == new
    assert named_in(tmp_path / "restored") == []


@pytest.mark.about_files("over a database an erasure is added with its work in one transaction")
def test_a_kill_between_the_erasure_and_its_work_is_made_good_at_the_next_start(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_log(folder) as log:
        fill(log)
        monkeypatch.setattr(log, "_erase", lambda: None)
        receive(log, [erasure()])
        assert named_in(folder)
    with open_log(folder) as log:
        assert read_all(log)[0]["body"]["name"] == BLANK
    assert named_in(folder) == []


@pytest.mark.about_files("damages a unit's file")
def test_a_damaged_file_is_not_mended_from_what_was_erased(folder: Path) -> None:
    with open_log(folder) as log:
        fill(log)
        receive(log, [erasure()])
        after = read_all(log)
    unit_file(folder).write_text("{")
    with open_log(folder) as log:
        assert log.problems
        assert read_all(log) == after
    assert named_in(folder) == []


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({}, "ids"),
        ({"cuts": [{"entry": "e", "field": "body.text", "start": 3, "length": 3, "of": 5}]}, "cuts.0.length"),
        ({"cuts": [{"entry": "e", "field": "who", "start": 0, "length": 3, "of": 5}]}, "cuts.0.field"),
    ],
)
def test_an_erasure_that_names_nothing_is_refused(body: dict[str, Any], field: str) -> None:
    with pytest.raises(Exception, match=field):
        calc("erasure", body)


def test_a_text_that_is_not_the_one_that_was_looked_at_goes_whole(folder: Path) -> None:
    off = {"entry": NOTE["id"], "field": "body.text", "start": 0, "length": 4, "of": 9}
    with open_log(folder) as log:
        fill(log)
        receive(log, [entry("erasure", "", body={"cuts": [off]})])
        assert read_all(log)[3]["body"]["text"] == BLANK
