"""What stands for a unit is derived from its entries, whatever order they come in."""

import copy
import json
import random
from datetime import UTC, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.engine import calc
from server.engine.request.dates import day_number, day_of, instant

from ..checks import PLATES, UNIT, changed
from ..samples import FOLDER
from .entries import check_near, entry

SEASON = [
    entry(1, "unit", UNIT, "2026-03-01T09:00:00+01:00", seq=1),
    entry(2, "torque_check", check_near(110), "2026-03-02T09:00:00+01:00", seq=2),
    entry(3, "plate_check", PLATES, "2026-03-02T08:00:00+01:00", seq=3),
    entry(4, "torque_check", check_near(90), "2026-04-02T09:00:00+02:00", seq=4),
]


def stands(entries: list[dict[str, Any]], today: str = "2026-05-01") -> dict[str, Any]:
    """What stands."""
    return calc("standing", {"entries": entries, "today": today})


def test_the_last_check_and_the_last_measurement_stand() -> None:
    state = stands(SEASON)
    assert state["verdict"] == "go"
    assert state["torque"]["id"] == "id-4"
    assert set(state["by_slot"]) == {"A2", "A3"}
    assert state["looked_at"] == "2026-04-02T09:00:00+02:00"
    assert state["looked_by"] == "Ilse"
    assert [row["id"] for row in state["trend"]] == ["id-2", "id-4"]


def test_the_worst_part_is_the_units_verdict() -> None:
    worn = entry(5, "plate_check", changed(PLATES, plates__0__points_mm=[2.2, 2.2, 2.2]), "2026-04-03T09:00:00Z", seq=5)
    state = stands([*SEASON, worn])
    assert state["verdict"] == "replace"
    assert "2.200 mm" in state["reason"]


def test_a_correction_replaces_and_both_stay_known() -> None:
    slip = entry(5, "torque_check", check_near(40), "2026-04-10T09:00:00Z", seq=5)
    mended = entry(6, "torque_check", check_near(95), "2026-04-10T09:05:00Z", seq=6, replaces="id-5")
    assert stands([*SEASON, slip])["verdict"] == "rework"
    state = stands([*SEASON, slip, mended])
    assert state["verdict"] == "go"
    assert state["replaced"] == {"id-5": "id-6"}
    assert [row["id"] for row in state["trend"]] == ["id-2", "id-4", "id-6"]


def test_of_two_definitions_the_later_received_stands_and_an_undelivered_one_comes_last() -> None:
    first = entry(7, "unit", changed(UNIT, name="Seen second"), "2026-04-01T09:00:00Z", seq=8)
    second = entry(8, "unit", changed(UNIT, name="Seen first"), "2026-04-20T09:00:00Z", seq=7)
    assert stands([*SEASON, first, second])["unit"]["name"] == "Seen second"
    here = entry(9, "unit", changed(UNIT, name="Only here"), "2026-01-01T09:00:00Z")
    assert stands([*SEASON, first, second, here])["unit"]["name"] == "Only here"


def test_nothing_looked_at_is_due_for_everything() -> None:
    state = stands(SEASON[:1])
    assert state["verdict"] is None
    assert [row["name"] for row in state["due"]] == ["torque", "plates"]


def test_plates_are_due_a_year_on() -> None:
    assert [row["name"] for row in stands(SEASON, "2027-04-01")["due"]] == ["plates"]
    assert stands(SEASON, "2026-12-01")["due"] == []


def test_a_server_that_judged_otherwise_is_pointed_out() -> None:
    assert stands([*SEASON[:3], SEASON[3] | {"agrees": False}])["disagrees"] == ["id-4"]


@given(st.randoms(use_true_random=False))
def test_the_order_of_arrival_in_the_request_does_not_matter(chance: random.Random) -> None:
    shuffled = list(SEASON)
    chance.shuffle(shuffled)
    assert stands(shuffled) == stands(SEASON)


@given(st.datetimes(datetime(1900, 1, 1), datetime(2200, 1, 1), timezones=st.timezones()))
def test_instants_equal_pythons(written: datetime) -> None:
    text = written.isoformat(timespec="milliseconds")
    if len(text) == 29:  # whole minutes of offset, as RFC 3339 has them
        utc = written.astimezone(UTC)
        assert instant(text) == utc.isoformat(timespec="milliseconds")[:-6]


@given(st.dates())
def test_days_are_counted_as_python_does(day: Any) -> None:
    assert day_of(day_number(day.isoformat())) == day.isoformat()
    assert day_number(day.isoformat()) - day_number("2000-01-01") == day.toordinal() - 730120


@pytest.mark.parametrize("at", ["2026-05-03T10:20:00.250Z", "2026-05-03T12:20:00.250+02:00"])
def test_the_same_instant_in_two_zones(at: str) -> None:
    assert instant(at) == "2026-05-03T10:20:00.250"


def rebuild(number: int, at: str, *slots: str) -> dict[str, Any]:
    """A rebuild that fitted new plates in some slots."""
    body = {"fitted": [{"slot": slot, "mm": 2.55} for slot in slots], "note": "back to the order"}
    return entry(number, "rebuild", body, at, seq=number)


def test_a_rebuild_makes_earlier_torque_and_exchanged_plates_count_no_more() -> None:
    worn = entry(5, "plate_check", changed(PLATES, plates__0__points_mm=[2.2, 2.2, 2.2]), "2026-04-03T09:00:00Z", seq=5)
    state = stands([*SEASON, worn, rebuild(6, "2026-04-05T09:00:00Z", "A2")])
    assert state["torque"] is None
    assert state["verdict"] is None  # A3 was not exchanged and is good, which says nothing about the torque
    assert "not read since the rebuild" in state["reason"]
    assert set(state["by_slot"]) == {"A3"}
    assert state["fitted"] == {"A2": 2.55}
    assert [row["name"] for row in state["due"]] == ["torque"]
    assert "Rebuilt on 2026-04-05" in state["due"][0]["text"]
    assert len(state["trend"]) == 2
    again = entry(7, "torque_check", check_near(101), "2026-04-06T09:00:00Z", seq=7)
    assert stands([*SEASON, worn, rebuild(6, "2026-04-05T09:00:00Z", "A2"), again])["torque"]["id"] == "id-7"


def signed(number: int, kind: str, at: str, *done: str) -> dict[str, Any]:
    """A guided strip or close, as far as it was signed."""
    return entry(number, kind, {"done": list(done), "signed": "Ilse"}, at, seq=number)


def test_good_parts_on_the_bench_are_no_unit_that_may_run() -> None:
    looked = signed(5, "strip", "2026-04-03T09:00:00Z", "drained", "out", "marked")
    assert stands([*SEASON, looked])["verdict"] == "go"
    strip = signed(5, "strip", "2026-04-03T09:00:00Z", "held", "screws", "relieved")
    state = stands([*SEASON, strip])
    assert state["verdict"] is None
    assert "in parts" in state["reason"]
    assert state["due"][0]["text"].startswith("Stripped on 2026-04-03 and not closed since")
    half = signed(6, "close", "2026-04-04T09:00:00Z", "clean", "oiled")
    assert stands([*SEASON, strip, half])["verdict"] is None
    closed = signed(7, "close", "2026-04-04T10:00:00Z", "held", "flush", "screws")
    assert stands([*SEASON, strip, half, closed])["verdict"] == "go"
    # Somebody closed it without a word, and read its torque.
    assert (
        stands([*SEASON, strip, entry(8, "torque_check", check_near(101), "2026-04-05T09:00:00Z")])["verdict"] == "go"
    )
    worn = entry(9, "plate_check", changed(PLATES, plates__0__points_mm=[2.2, 2.2, 2.2]), "2026-04-03T10:00:00Z", seq=9)
    assert stands([*SEASON, strip, worn])["verdict"] == "replace"


def test_a_spring_left_in_a_vice_comes_first_of_all_that_is_due() -> None:
    left = signed(5, "strip", "2026-04-03T09:00:00Z", "held", "screws")
    first = stands([*SEASON, left])["due"][0]
    assert first["name"] == "held"
    assert first["text"].startswith("Spring held by a vice: screws are out, left so by Ilse on 2026-04-03 at 09:00.")
    shut = signed(6, "close", "2026-04-03T10:00:00Z", "held", "flush")
    assert "screws not tight" in stands([*SEASON, left, shut])["due"][0]["text"]
    for ended in (
        signed(6, "strip", "2026-04-03T10:00:00Z", "held", "screws", "relieved"),
        signed(6, "close", "2026-04-03T10:00:00Z", "held", "flush", "screws"),
        entry(6, "torque_check", check_near(101), "2026-04-03T10:00:00Z", seq=6),
    ):
        assert "held" not in [row["name"] for row in stands([*SEASON, left, ended])["due"]]


def test_no_unit_is_good_before_its_torque_was_read() -> None:
    state = stands([SEASON[0], SEASON[2]])
    assert state["verdict"] is None
    assert state["reason"] == "Every measured part is inside its limits, but the torque was not read yet."


def test_a_definition_written_without_knowing_another_is_pointed_out() -> None:
    here = entry(7, "unit", UNIT, "2026-04-01T09:00:00Z", seq=7, device="one", received="2026-04-04T09:00:00Z")
    there = entry(8, "unit", UNIT, "2026-04-02T09:00:00Z", seq=8, device="two", received="2026-04-05T09:00:00Z")
    assert stands([*SEASON, here, there])["contested"] == ["id-7"]
    knowing = there | {"at": "2026-04-04T10:00:00Z"}
    assert stands([*SEASON, here, knowing])["contested"] == []


def test_a_spent_spring_is_the_units_verdict() -> None:
    samples = json.loads((FOLDER / "spring_check.json").read_text(encoding="utf-8"))
    body = copy.deepcopy(samples[0]["request"])
    good = entry(9, "spring_check", body, "2026-04-09T09:00:00Z", seq=9)
    assert stands([*SEASON, good])["verdict"] == "go"
    body["springs"][0]["points_mm"] = [4.5, 4.5, 4.51]
    spent = entry(10, "spring_check", body, "2026-04-10T09:00:00Z", seq=10)
    state = stands([*SEASON, good, spent])
    assert state["verdict"] == "replace"
    assert "S1" in state["reason"]
    assert [row["slot"] for row in state["parts"]] == ["S1"]


def test_a_clock_that_was_off_does_not_put_a_check_in_the_wrong_place() -> None:
    # Written by a clock that was a day slow, after the check of 2 April.
    slow = entry(5, "torque_check", check_near(40), "2026-04-01T10:00:00+02:00", seq=5)
    assert stands([*SEASON, slow])["torque"]["id"] == "id-4"
    assert stands([*SEASON, slow | {"clock_off_s": 86400}])["torque"]["id"] == "id-5"


def test_new_plates_make_no_spent_spring_and_no_worn_ring_good() -> None:
    def sample(kind: str, about: str) -> Any:
        rows = json.loads((FOLDER / f"{kind}.json").read_text(encoding="utf-8"))
        return next(row["request"] for row in rows if row["about"] == about)

    body = copy.deepcopy(sample("spring_check", "good"))
    body["springs"][0]["points_mm"] = [4.5, 4.5, 4.51]
    spent = entry(5, "spring_check", body, "2026-04-10T09:00:00Z", seq=5)
    worn = entry(6, "ring_check", sample("ring_check", "worn ramp"), "2026-04-10T09:00:00Z", seq=6)
    plates = rebuild(7, "2026-04-11T09:00:00Z", "A2")
    again = entry(8, "torque_check", check_near(101), "2026-04-12T09:00:00Z", seq=8)
    for part, kind in ((spent, "spring_check"), (worn, "ring_check")):
        state = stands([*SEASON, part, plates, again])
        assert state["verdict"] == part["shown"]["verdict"] != "go", kind
    other = {"fitted": [], "spring": "a new one", "note": "x"}
    sprung = entry(7, "rebuild", other, "2026-04-11T09:00:00Z", seq=7)
    assert stands([*SEASON, spent, sprung, again])["verdict"] == "go"
    for exchanged, verdict in ((False, "replace"), (True, "go")):
        rebuilt = {**sprung, "body": {**other, "spring": "cleaned", "other_spring": exchanged}}
        assert stands([*SEASON, spent, rebuilt, again])["verdict"] == verdict
    assert stands([*SEASON, worn, rebuild(7, "2026-04-11T09:00:00Z", "R1"), again])["verdict"] == "go"


def test_a_torque_read_against_other_limits_is_no_go() -> None:
    limits = {"low_nm": 95, "high_nm": 130}
    tighter = entry(5, "unit", changed(UNIT, service=limits), "2026-04-03T09:00:00+01:00", seq=5)
    state = stands([*SEASON, tighter])
    assert state["verdict"] is None
    assert "check it against today's" in state["reason"]
    known = entry(6, "torque_check", changed(check_near(110), limits=limits), "2026-04-04T09:00:00+01:00", seq=6)
    assert stands([*SEASON, tighter, known])["verdict"] == "go"
    ordered = changed(check_near(100), limits={"low_nm": 90, "high_nm": 110})
    assert stands([*SEASON, tighter, entry(7, "torque_check", ordered, "2026-04-05T09:00:00Z")])["verdict"] == "go"


def test_a_check_may_be_judged_against_what_was_ordered_or_what_is_enough_to_run() -> None:
    limits = stands(SEASON)["limits"]
    running = {"low_nm": 70, "high_nm": 130}
    assert limits == {"order": {"low_nm": 90, "high_nm": 110}, "service": running, "running": running}
    open_above = entry(5, "unit", changed(UNIT, service={"low_nm": 70}), "2026-04-03T09:00:00+01:00", seq=5)
    assert stands([*SEASON, open_above])["limits"]["service"] == {"low_nm": 70, "high_nm": None}
    assert stands(SEASON[1:])["limits"] is None


def test_plates_measured_too_long_ago_are_a_finding_with_days_and_outings() -> None:
    later = entry(5, "torque_check", check_near(88, outings=9), "2026-12-02T09:00:00Z", seq=5)
    log = [*SEASON[:3], entry(4, "torque_check", check_near(90, outings=2), "2026-03-02T06:30:00Z", seq=4), later]
    state = stands(log, "2027-04-01")
    text = "Plates last measured on 2026-03-02, 395 days and 7 outings ago, and 365 days are allowed"
    assert state["built"]["stale_text"].startswith(text)
    short = "Measure the plates: last done 395 days and 7 outings ago, 365 days are allowed."
    assert [row["text"] for row in state["due"]] == [short]
    assert stands(log, "2027-02-01")["built"]["stale_text"] == ""


def test_a_unit_may_ask_for_its_plates_more_often() -> None:
    often = changed(UNIT)
    often["service"]["plates_every_days"] = 90
    log = [entry(1, "unit", often, "2026-03-01T09:00:00+01:00", seq=1), *SEASON[1:]]
    assert stands(log, "2026-05-31")["built"]["stale_text"] == ""
    state = stands(log, "2026-06-01")
    assert "91 days ago, and 90 days are allowed" in state["built"]["stale_text"]


def test_outings_are_counted_over_a_rebuild_that_left_the_old_plates_in() -> None:
    log = [
        *SEASON[:3],
        entry(4, "torque_check", check_near(90, outings=4), "2026-06-01T09:00:00Z", seq=4),
        rebuild(5, "2026-06-02T09:00:00Z", "A5"),
        entry(6, "torque_check", check_near(90, outings=3), "2026-09-01T09:00:00Z", seq=6),
    ]
    assert "and 7 outings ago" in stands(log, "2027-04-01")["built"]["stale_text"]
