"""What becomes of entries that arrive: each is taken in, known already, or refused at its field, on its own."""

import copy
import json
import logging
import re
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from server.engine import KINDS
from server.engine.history.clocks import NEAR_S
from server.log.entry import DEEPEST, LARGEST, is_sane, refuse_absurd
from server.log.intake import SAME_ID, Sender, explain_barred, receive
from server.log.strict_json import MOST_DIGITS, parse

from .sample_logs import UNIT_ID, entry, new_id
from .stores import open_log


def errors(answer: dict[str, Any]) -> dict[str, str]:
    """Field -> reason of a refused entry."""
    assert answer["answer"] == "refused"
    return {row["field"]: row["reason"] for row in answer["errors"]}


def test_every_entry_is_answered_on_its_own_and_in_order(folder: Path) -> None:
    good, bad, same_id = entry(), entry("note", body={"text": "x"}, who=""), entry("note", body={"text": "y"})
    with open_log(folder) as log:
        answers = receive(log, [bad, good, 5, same_id, {**same_id, "who": "Ilse"}])
        assert [row["answer"] for row in answers] == ["refused", "stored", "refused", "stored", "refused"]
        assert [row["id"] for row in answers] == [bad["id"], good["id"], None, same_id["id"], same_id["id"]]
        assert errors(answers[0]) == {"who": "Fill this in."}
        assert set(errors(answers[2])) == {""}
        assert errors(answers[4]) == {"id": SAME_ID}
        assert [answers[place]["seq"] for place in (1, 3)] == [1, 2]
        [known] = receive(log, [good])
        assert (known["answer"], known["seq"]) == ("already_there", 1)
        assert len(log.after(0, 10)[0]) == 2


def test_a_verdict_that_the_server_does_not_share_comes_back_and_is_told(
    folder: Path, caplog: pytest.LogCaptureFixture
) -> None:
    shown = {**entry()["shown"], "verdict": "rework"}
    with open_log(folder) as log, caplog.at_level(logging.WARNING, logger="slipbook"):
        other, same = receive(log, [entry(shown=shown), entry()])
    assert (other["agrees"], other["judged"]["verdict"]) == (False, "go")
    assert (same["agrees"], "judged" in same) == (True, False)
    assert [record.message for record in caplog.records] == [f"Entry {other['id']} got a different verdict here."]


@pytest.mark.parametrize("body", [{"text": "Oil changed."}, {"text": ""}])
def test_a_result_that_no_entry_can_have_is_refused_there_whatever_the_body_is(
    folder: Path, body: dict[str, Any]
) -> None:
    with open_log(folder) as log:
        [answer] = receive(log, [entry("note", body=body, shown={"verdict": "go"})])
        assert errors(answer) == {"shown.verdict": "Leave this empty: nothing is judged here."}


def test_an_entry_on_which_the_engine_fails_is_refused_and_the_others_are_stored(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(_: object) -> Any:
        raise ZeroDivisionError

    unknown = copy.copy(KINDS["note"])
    unknown.calculation = "nothing of the kind"
    monkeypatch.setitem(KINDS, "note", unknown)
    with open_log(folder) as log:
        failed, stored = receive(log, [entry("note", shown={"verdict": None}), entry()])
        assert stored["answer"] == "stored"
        assert failed["answer"] == "refused"
    monkeypatch.setattr("server.log.intake.judge", fail)
    with open_log(folder) as log:
        [failed] = receive(log, [entry()])
    assert list(errors(failed)) == ["body"]
    assert "keep it, and tell whoever looks after the server" in errors(failed)["body"]


def test_who_may_write_checks_only_neither_writes_nor_replaces_another_kind(folder: Path) -> None:
    barred = frozenset({"unit", "kit"})
    unit, check = entry("unit"), entry()
    with open_log(folder) as log:
        receive(log, [unit])
        rows = [
            entry("unit"),
            entry("kit"),
            check,
            entry(replaces=unit["id"]),
            entry(replaces=check["id"]),
            entry(replaces=new_id()),
            unit,
        ]
        answers = receive(log, rows, barred=barred)
        kinds = [row["answer"] for row in answers]
        assert kinds == ["refused", "refused", "stored", "refused", "stored", "stored", "already_there"]
        assert errors(answers[0]) == errors(answers[1]) == {"kind": explain_barred(barred)}
        assert errors(answers[3]) == {"replaces": explain_barred(barred)}
        odd = receive(log, [5, {**check, "kind": 5}, {**check, "id": new_id(), "replaces": 5}], barred=barred)
        assert [set(errors(answer)) for answer in odd] == [{""}, {"id"}, {"replaces"}]
        assert [row["answer"] for row in receive(log, rows[:2])] == ["stored", "stored"], "the bench may write them"


def test_entries_of_a_clock_that_is_decades_off_are_kept_and_no_century_beyond_is(folder: Path) -> None:
    """A device that has lost its clock counts from 1970; the last year is our own choice."""
    earliest_and_latest = [entry(at=at) for at in ("1970-01-01T00:00:00Z", "2199-12-31T23:59:59+01:00")]
    beyond = [entry(at=at) for at in ("1969-12-31T23:59:59Z", "2200-01-01T00:00:00Z")]
    with open_log(folder) as log:
        answers = receive(log, [*earliest_and_latest, *beyond])
        assert [row["answer"] for row in answers] == ["stored", "stored", "refused", "refused"]
        assert [set(errors(row)) for row in answers[2:]] == [{"at"}, {"at"}]
        assert [row["at"] for row in log.after(0, 10)[0]] == [row["at"] for row in earliest_and_latest]


def test_a_clock_that_is_off_is_noted_with_its_sign(folder: Path) -> None:
    now = datetime.now(UTC)
    slow, fast = now - timedelta(hours=1), now + timedelta(hours=1)
    with open_log(folder) as log:
        for sent, off in ((slow, 3600), (fast, -3600)):
            [answer] = receive(log, [entry()], Sender(sent.isoformat()))
            assert answer["clock_off_s"] == pytest.approx(off, abs=60)
        for near in (now, now - timedelta(seconds=NEAR_S - 60)):
            assert "clock_off_s" not in receive(log, [entry()], Sender(near.isoformat()))[0]
        assert "clock_off_s" not in receive(log, [entry()])[0]
        received = datetime.fromisoformat(log.after(0, 1)[0][0]["received"])
        assert abs(received - now) < timedelta(minutes=5)


def nested(depth: int) -> Any:
    """A list within a list, and so on."""
    value: Any = 1
    for _ in range(depth):
        value = [value]
    return value


@pytest.mark.parametrize(
    ("value", "field"),
    [
        ({"a": [1, {"b": LARGEST}]}, None),
        ({"a": [1, {"b": LARGEST * 1.1}]}, "x.a.1.b"),
        ({"a": -LARGEST * 1.1}, "x.a"),
        ({"a": 10**40}, "x.a"),
        ({"a": True, "b": None, "c": "text" * 1000}, None),
        (nested(DEEPEST), None),
        (nested(DEEPEST + 1), "x" + ".0" * (DEEPEST + 1)),
        ({}, None),
    ],
)
def test_absurd_results_are_refused_where_they_are(value: Any, field: str | None) -> None:
    assert is_sane(value) == (field is None)
    if field is None:
        refuse_absurd(value, "x")
    else:
        with pytest.raises(ValueError, match=r"too deeply|far too large") as refusal:
            refuse_absurd(value, "x")
        assert getattr(refusal.value, "field", None) == field


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"\xff", "not UTF-8 text"),
        (b'{"a": "\\ud800"}', "not UTF-8 text"),
        (b'{"a": 1', "not JSON at character 8"),
        (b"[" * 100_000, "nested too deeply"),
        (b"[NaN]", "NaN is not a number"),
        (b"[-Infinity]", "-Infinity is not a number"),
        (b"[1e999]", "1e999 is too large for a number"),
        (b"[" + b"9" * (MOST_DIGITS + 1) + b"]", "99999999999999999999... is too large"),
    ],
)
def test_what_is_no_json_says_why(data: bytes, words: str) -> None:
    with pytest.raises(ValueError, match=re.escape(words)) as refusal:
        parse(data)
    assert str(refusal.value).endswith(".")


def test_json_is_read_as_it_stands() -> None:
    assert parse('{"a": [1, 2.5, true, null, "µ é"]}'.encode()) == {"a": [1, 2.5, True, None, "µ é"]}
    assert parse(b'"\\u00b5 \\ud83d\\ude00"') == "µ 😀"
    assert parse(b"9" * MOST_DIGITS) == int("9" * MOST_DIGITS)


@given(st.from_regex(r"-?(0|[1-9][0-9]{0,30})(\.[0-9]{1,20})?([eE][-+]?[0-9]{1,2})?", fullmatch=True))
@example("-0")
@example("-0.0")
@example("1e2")
@example("12345678901234567890")
def test_every_figure_is_read_as_python_reads_it(text: str) -> None:
    read, expected = parse(f"[{text}]".encode())[0], json.loads(text)
    beyond = isinstance(expected, int) and not -(2**63) <= expected < 2**64
    assert repr(read) == repr(float(expected) if beyond else expected)


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"version": 2}, "version", "comes from a newer Slipbook"),
        ({"version": 0}, "version", "whole number, 1 or more"),
        ({"version": True}, "version", "whole number, 1 or more"),
        ({"version": 1001}, "version", "whole number, 1 or more"),
        ({"body": {"text": ""}}, "body.text", "Fill this in."),
        ({"body": 5}, "body", "Give named fields here."),
        ({"shown": {"figure": 1e16}}, "shown.figure", "far too large"),
        ({"device": "phone"}, "device", "Give a UUID in lower case"),
        ({"at": "2200-01-01T00:00:00Z"}, "at", "Give the time with its offset"),
        ({"at": "1969-12-31T23:59:59Z"}, "at", "Give the time with its offset"),
        ({"spare": 1}, "spare", "leave it out"),
    ],
)
def test_an_entry_that_cannot_be_used_is_refused_at_its_field(
    folder: Path, changes: dict[str, Any], field: str, words: str
) -> None:
    with open_log(folder) as log:
        [answer] = receive(log, [{**entry("note"), **changes}])
        assert list(errors(answer)) == [field]
        assert words in errors(answer)[field]
        assert log.last == 0


def test_an_entry_of_the_shop_names_no_unit_and_none_corrects_itself(folder: Path) -> None:
    kit, note = {**entry("kit"), "unit": UNIT_ID}, entry("note")
    with open_log(folder) as log:
        answers = receive(log, [kit, {**note, "replaces": note["id"]}, {**entry("note"), "unit": ""}])
        [unitless] = receive(log, [{**entry(), "unit": ""}])
    assert errors(unitless) == {"unit": "Say which unit this is about."}
    assert list(errors(answers[0])) == ["unit"]
    assert "belong to the shop" in errors(answers[0])["unit"]
    assert list(errors(answers[1])) == ["replaces"]
    assert answers[2]["answer"] == "stored", "a note may belong to either"


@pytest.mark.parametrize(
    ("kind", "path", "value"),
    [
        ("torque_check", ("verdict",), "fine"),
        ("torque_check", ("value_nm",), "much"),
        ("torque_check", ("guard_nm",), True),
        ("torque_check", ("findings",), 5),
        ("torque_check", ("reason",), "x" * 2001),
        ("plate_check", ("plates",), []),
        ("plate_check", ("plates", 0, "slot"), ""),
        ("plate_check", ("plates", 1, "lowest_mm"), None),
        ("plate_check", ("plates", 1, "verdict"), "bad"),
    ],
)
def test_what_was_shown_has_to_be_what_it_claims(folder: Path, kind: str, path: tuple[Any, ...], value: Any) -> None:
    sent = entry(kind)
    place = sent["shown"]
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    with open_log(folder) as log:
        [answer] = receive(log, [sent])
        assert list(errors(answer)) == ["shown." + ".".join(map(str, path))]


def test_results_of_newer_engines_may_hold_more(folder: Path) -> None:
    sent = entry("plate_check")
    sent["shown"]["more"] = {"to": "tell"}
    sent["shown"]["plates"][0]["colour"] = "blue"
    with open_log(folder) as log:
        [answer] = receive(log, [sent])
        assert (answer["answer"], answer["agrees"]) == ("stored", False)
        assert log.of_unit(UNIT_ID)[0]["shown"] == sent["shown"]
