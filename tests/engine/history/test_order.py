"""In which order things were done: causes before clocks, and clocks only where they were right."""

from typing import Any

import pytest

from server.engine import calc
from server.engine.history.clock_words import clock_note
from server.engine.history.order import placed

from ..checks import PLATES, UNIT, changed
from .entries import check_near, entry

GO, REWORK, AGAIN = 100, 40, 71
REBUILD = {"fitted": [{"slot": "A2", "mm": 2.5}], "note": "Set up."}


def check(number: int, low: float, at: str, **more: Any) -> dict[str, Any]:
    """A torque check of a device that says what it knew and how its clock was."""
    own = {"knows": [], "clock": {"fell_s": 0}, "device": f"d{number}", "seq": number}
    return entry(number, "torque_check", check_near(low), at, **own | more)


def met(at: str, off_s: float = 0, fell_s: float = 0, met_fell_s: float = 0) -> dict[str, Any]:
    """What a device notes of its clock that met the PC."""
    return {"met": at, "off_s": off_s, "met_fell_s": met_fell_s, "fell_s": fell_s}


def home(at: str, off_s: float = 0, fell_s: float = 0) -> dict[str, Any]:
    """What the PC adds to an entry as it arrives."""
    more = ({"clock_off_s": off_s} if off_s else {}) | ({"clock_fell_s": fell_s} if fell_s else {})
    return {"received": at, "clock_checked": True, **more}


def stands(*entries: dict[str, Any]) -> dict[str, Any]:
    """What stands, the same in whatever order the entries are given."""
    first = calc("standing", {"entries": list(entries)})
    assert calc("standing", {"entries": list(reversed(entries))}) == {**first, "unit_id": "u"}
    return first


def test_what_was_written_knowing_another_is_later_whatever_the_clocks_say() -> None:
    # The PC fell by thirty days, so that the phone seems to be thirty days fast.
    week_old = check(1, GO, "2026-06-20T09:00:00Z", **home("2026-06-20T09:00:01Z"))
    fresh = check(2, REWORK, "2026-06-27T09:00:00Z", knows=["id-1"], received="2026-05-28T10:00:00Z")
    for blamed in ({"clock_checked": True, "clock_off_s": -30 * 86400}, {"received_unsure": True}):
        standing = stands(week_old, fresh | blamed)
        assert standing["torque"]["verdict"] == "rework"
        assert standing["order"] == ["id-2", "id-1"]
        assert standing["unsure"] == []
        assert standing["knows"] == ["id-2"]


def test_an_offset_does_not_reach_back_over_entries_made_while_the_clock_was_right() -> None:
    # The phone was right at 8, fell by a day at noon, and came home at 18.
    morning = met("2026-06-20T08:00:00Z")
    came = home("2026-06-20T18:00:00Z", 86400)
    right = check(1, GO, "2026-06-20T10:00:00Z", clock=morning, **came | {"clock_fell_s": 86400})
    fallen = met("2026-06-20T08:00:00Z", fell_s=86400)
    after = check(2, AGAIN, "2026-06-19T13:00:00Z", clock=fallen, knows=["id-1"], **came)
    between = check(3, REWORK, "2026-06-20T11:00:00Z", clock=morning, **home("2026-06-20T11:00:01Z"))
    standing = stands(right, after, between)
    assert standing["order"] == ["id-2", "id-3", "id-1"]
    assert standing["torque"]["id"] == "id-2"
    assert standing["unsure"] == []
    assert set(standing["clocks"]) == {"id-2"}
    assert "1 day slow" in standing["clocks"]["id-2"]
    assert "counts as made on 2026-06-20 13:00" in standing["clocks"]["id-2"]


@pytest.mark.parametrize("swapped", [False, True])
def test_the_worse_stands_where_clocks_cannot_tell_and_says_why(swapped: bool) -> None:
    # A phone that was set forward by two hours at an unknown time, beside one that was right.
    low, other = (REWORK, GO) if swapped else (GO, REWORK)
    set_clock = check(1, low, "2026-06-20T12:00:00Z", clock=met("2026-06-20T08:00:00Z"), who="Ilse")
    set_clock |= home("2026-06-20T18:00:00Z", -7200)
    right = check(2, other, "2026-06-20T11:00:00Z", clock=met("2026-06-20T08:00:00Z"), who="Joss")
    right |= home("2026-06-20T18:00:01Z")
    standing = stands(set_clock, right)
    assert standing["verdict"] == standing["torque"]["verdict"] == "rework"
    [why] = standing["unsure"]
    assert "by Ilse" in why
    assert "by Joss" in why
    assert "Read the torque again to settle it." in why
    assert "nobody knows whether before this entry or after" in standing["clocks"]["id-1"]
    settled = check(3, GO, "2026-06-20T19:00:00Z", knows=["id-1", "id-2"])
    standing = stands(set_clock, right, settled)
    assert (standing["torque"]["verdict"], standing["unsure"]) == ("go", [])


def test_a_rebuild_that_may_be_later_leaves_no_go() -> None:
    set_clock = check(1, GO, "2026-06-20T12:00:00Z", clock=met("2026-06-20T08:00:00Z"))
    set_clock |= home("2026-06-20T18:00:00Z", -7200)
    rebuild = entry(2, "rebuild", REBUILD, "2026-06-20T11:00:00Z", knows=[], clock=met("2026-06-20T08:00:00Z"), seq=2)
    rebuild |= home("2026-06-20T18:00:00Z")
    standing = stands(set_clock, rebuild)
    assert (standing["torque"], standing["verdict"]) == (None, None)
    assert "so the go does not count" in standing["unsure"][0]
    rework = check(3, REWORK, "2026-06-20T12:00:00Z", clock=set_clock["clock"], **home("2026-06-20T18:00:00Z", -7200))
    assert stands(rework, rebuild)["torque"]["verdict"] == "rework"


def test_of_each_plate_the_worse_row_stands() -> None:
    def plates(number: int, *means: float, **more: Any) -> dict[str, Any]:
        body = changed(PLATES)
        for row, mean in zip(body["plates"], means):
            row["points_mm"] = [mean, mean, mean]
        own = {"knows": [], "clock": {"fell_s": 0}, "device": f"d{number}", "seq": number}
        return entry(number, "plate_check", body, "2026-06-20T12:00:00Z", **own | more)

    standing = stands(plates(1, 2.46, 1.2), plates(2, 2.1, 1.49, who="Joss"))
    assert {slot: row["verdict"] for slot, row in standing["by_slot"].items()} == {"A2": "replace", "A3": "replace"}
    assert {slot: row["id"] for slot, row in standing["by_slot"].items()} == {"A2": "id-2", "A3": "id-1"}
    assert len(standing["unsure"]) == 2
    assert "Measure again to settle it." in standing["unsure"][0]
    standing = stands(plates(1, 2.46, 1.2), plates(2, 2.1, 1.49, knows=["id-1"]))
    assert {row["id"] for row in standing["by_slot"].values()} == {"id-2"}


def test_a_strip_that_may_be_later_than_the_check_leaves_the_unit_in_parts() -> None:
    strip = {"done": ["held", "screws", "relieved"], "signed": "yes"}
    opened = entry(1, "strip", strip, "2026-06-20T12:00:00Z", knows=[], clock={"fell_s": 0}, device="d1", seq=1)
    checked = check(2, GO, "2026-06-20T12:04:00Z")
    assert "open" in [row["name"] for row in stands(opened, checked)["due"]]
    assert "open" not in [row["name"] for row in stands(opened, checked | {"knows": ["id-1"]})["due"]]


def test_a_clock_that_lost_its_power_decides_nothing() -> None:
    # A phone that never met the PC, at exactly 1970: it counts as made after what it knew, before it came.
    dead = check(1, REWORK, "1970-01-01T00:00:00.000+00:00", received="2026-06-21T10:00:00Z", clock_checked=True)
    dead |= {"clock_off_s": 1782036000, "clock_fell_s": 5}
    right = check(2, GO, "2026-06-20T12:00:00Z", clock=met("2026-06-20T08:00:00Z"), **home("2026-06-20T12:00:01Z"))
    standing = stands(dead, right)
    assert standing["torque"]["verdict"] == "rework"
    assert standing["unsure"]
    assert "1970-01-01 00:00" in standing["clocks"]["id-1"]
    knowing = stands(dead | {"knows": ["id-2"]}, right)
    assert (knowing["torque"]["verdict"], knowing["unsure"]) == ("rework", [])
    known = stands(dead, right | {"knows": ["id-1"]})
    assert (known["torque"]["verdict"], known["unsure"]) == ("go", [])


def test_of_two_clocks_that_contradict_each_other_neither_is_gone_by() -> None:
    # The second knew the first, and both clocks were found right: one of them was not.
    first = check(1, GO, "2026-06-20T14:00:00Z", clock=met("2026-06-20T08:00:00Z"), **home("2026-06-20T18:00:00Z"))
    second = check(2, GO, "2026-06-20T10:00:00Z", clock=met("2026-06-20T08:00:00Z"), knows=["id-1"])
    second |= home("2026-06-20T18:00:00Z")
    standing = stands(first, second)
    assert standing["order"] == ["id-2", "id-1"]
    assert all("disagrees with what was known" in standing["clocks"][name] for name in ("id-1", "id-2"))
    between = check(3, REWORK, "2026-06-20T09:00:00Z", clock=met("2026-06-20T08:00:00Z"))
    between |= home("2026-06-20T18:00:00Z")
    assert stands(first, second, between)["torque"]["verdict"] == "rework"


def test_a_clock_that_was_compared_counts_for_more_than_one_that_was_not() -> None:
    # An old entry by a clock that was a year fast.
    old = entry(1, "torque_check", check_near(GO), "2027-06-20T12:00:00Z", seq=1, device="d1")
    knowing = check(2, GO, "2026-06-20T12:00:00Z", clock=met("2026-06-20T08:00:00Z"), knows=["id-1"])
    knowing |= home("2026-06-20T18:00:00Z")
    later = check(3, REWORK, "2026-06-20T14:00:00Z", clock=met("2026-06-20T08:00:00Z"), **home("2026-06-20T18:00:00Z"))
    standing = stands(old, knowing, later)
    assert standing["order"] == ["id-3", "id-2", "id-1"]
    assert set(standing["clocks"]) == {"id-1"}
    assert standing["unsure"] == []


def test_what_was_compared_is_gone_by_where_another_clock_contradicts_it() -> None:
    compared = check(1, GO, "2026-06-20T12:00:00Z", clock=met("2026-06-20T08:00:00Z"), **home("2026-06-20T18:00:00Z"))
    knowing = check(2, GO, "2026-06-20T10:00:00Z", clock=met("2026-06-20T08:00:00Z"), knows=["id-1"])
    assert set(stands(compared, knowing)["clocks"]) == {"id-2"}
    assert "disagrees with what was known" in stands(compared, knowing)["clocks"]["id-2"]


def test_a_clock_that_fell_and_was_not_compared_since_says_nothing() -> None:
    # It fell by an hour at noon.
    fallen = check(1, REWORK, "2026-06-20T12:30:00Z", clock=met("2026-06-20T08:00:00Z", fell_s=3600))
    right = check(2, GO, "2026-06-20T13:00:00Z", clock=met("2026-06-20T08:00:00Z"), **home("2026-06-20T18:00:00Z"))
    standing = stands(fallen, right)
    assert standing["torque"]["verdict"] == "rework"
    assert "fell back by 1 hour" in standing["clocks"]["id-1"]


def test_what_is_due_goes_by_the_right_time() -> None:
    dead = {"knows": ["id-2"], "clock": {"fell_s": 0}, "device": "d1", "seq": 1, "received": "2026-06-20T13:00:00Z"}
    plates = entry(1, "plate_check", PLATES, "1970-01-01T01:00:00.000+01:00", **dead)
    right = check(2, GO, "2026-06-20T12:00:00Z", clock=met("2026-06-20T08:00:00Z"), **home("2026-06-20T12:00:01Z"))
    standing = calc("standing", {"entries": [plates, right], "today": "2026-06-21"})
    assert standing["looked_at"] == standing["by_slot"]["A2"]["at"]
    assert standing["looked_at"].startswith("2026-06-20T1")
    assert standing["looked_at"].endswith("+01:00")
    assert "plates" not in [row["name"] for row in standing["due"]]


def test_a_phone_that_never_met_the_pc_decides_nothing_by_its_clock() -> None:
    alone = check(1, REWORK, "2026-06-20T12:00:00Z")
    later = check(2, GO, "2026-06-20T15:00:00Z")
    standing = stands(alone, later)
    assert standing["torque"]["verdict"] == "rework"
    assert len(standing["unsure"]) == 1
    assert standing["clocks"] == {}
    assert standing["order"] == ["id-2", "id-1"], "what it shows is still the likeliest"
    assert stands(alone, later | {"knows": ["id-1"]})["torque"]["verdict"] == "go"
    # What was written knowing it came in before it seems to have been made.
    early = check(3, GO, "2026-06-19T12:00:00Z", knows=["id-1"], clock=met("2026-06-19T08:00:00Z"))
    early |= home("2026-06-19T12:00:01Z")
    standing = stands(alone, early)
    assert standing["order"] == ["id-3", "id-1"]
    assert "cannot have been right" in standing["clocks"]["id-1"]


def test_what_was_not_compared_since_may_have_been_set_forward() -> None:
    here = check(1, REWORK, "2026-06-20T12:00:00Z", clock=met("2026-06-20T08:00:00Z"), **home("2026-06-20T12:00:01Z"))
    waits = check(2, GO, "2026-06-20T15:00:00Z", clock=met("2026-06-20T08:00:00Z"))
    assert stands(here, waits)["torque"]["verdict"] == "rework"
    assert stands(here, waits)["clocks"] == {}
    before = check(2, GO, "2026-06-20T11:00:00Z", clock=met("2026-06-20T08:00:00Z"))
    assert stands(here, before)["unsure"] == [], "it was no later than its clock says"
    slow = check(2, GO, "2026-06-20T09:00:00Z", clock=met("2026-06-20T05:00:00Z", 7200))
    assert "was 2 hours slow against" in stands(here, slow)["clocks"]["id-2"]
    arrived = stands(here, waits | home("2026-06-20T18:00:00Z"))
    assert (arrived["torque"]["verdict"], arrived["unsure"]) == ("go", [])


def test_another_time_zone_and_the_end_of_summer_time_change_nothing() -> None:
    clock = met("2026-10-25T01:00:00+02:00")
    before = check(1, REWORK, "2026-10-25T02:50:00+02:00", clock=clock, **home("2026-10-25T12:00:00Z"))
    after = check(2, GO, "2026-10-25T02:10:00+01:00", clock=clock, **home("2026-10-25T12:00:00Z"))
    assert stands(before, after)["torque"]["id"] == "id-2"
    assert stands(before, after)["clocks"] == {}
    abroad = check(3, AGAIN, "2026-10-24T21:30:00-05:00", clock=clock, **home("2026-10-25T12:00:00Z"))
    assert stands(before, after, abroad)["order"] == ["id-3", "id-2", "id-1"]


def test_old_entries_keep_their_order_beside_new_ones() -> None:
    old = [
        entry(number, "torque_check", check_near(low), f"2026-06-{day:02d}T10:00:00Z", seq=number)
        for number, low, day in ((1, GO, 20), (2, REWORK, 18), (3, AGAIN, 19))
    ]
    assert stands(*old)["order"] == ["id-1", "id-3", "id-2"]
    assert stands(*old)["knows"] == ["id-1"]
    new = check(4, GO, "2026-06-17T10:00:00Z", knows=["id-1"])
    standing = stands(*old, new)
    assert standing["order"] == ["id-4", "id-1", "id-3", "id-2"]
    assert standing["torque"]["id"] == "id-4"


def test_two_definitions_are_contested_only_where_neither_knew_the_other() -> None:
    def definition(number: int, **more: Any) -> dict[str, Any]:
        own = {"knows": [], "clock": {"fell_s": 0}, "device": f"d{number}", "seq": number}
        return entry(number, "unit", UNIT, "2026-06-20T12:00:00Z", **own | home("2026-06-20T12:00:00Z") | more)

    assert stands(definition(1), definition(2))["contested"] == ["id-1"]
    assert stands(definition(1), definition(2, knows=["id-1"]))["contested"] == []
    # It reached the log first, carried by another phone, and was written later all the same.
    carried = stands(definition(3), definition(2, knows=["id-3"]))
    assert carried["newest"]["unit"] == "id-2"
    assert carried["contested"] == []


def test_entries_that_claim_to_know_each_other_do_not_stop_the_log() -> None:
    first = check(1, GO, "2026-06-20T12:00:00Z", knows=["id-2"])
    second = check(2, REWORK, "2026-06-20T13:00:00Z", knows=["id-1", "nothing here"])
    assert stands(first, second)["torque"]["id"] == "id-2"


def test_a_correction_stands_where_the_entry_stood_that_it_corrects() -> None:
    wrong = check(1, REWORK, "2026-06-20T12:00:00Z")
    later = check(2, AGAIN, "2026-06-20T14:00:00Z", knows=["id-1"])
    mended = check(3, GO, "2026-06-21T12:00:00Z", knows=["id-2"], replaces="id-1")
    assert stands(wrong, later, mended)["torque"]["id"] == "id-2"


@pytest.mark.parametrize(
    ("clock", "more", "words"),
    [
        (met("2026-06-20T08:00:00Z", 7200), home("2026-06-20T20:00:00Z", 7200), "was 2 hours slow against"),
        (met("2026-06-20T08:00:00Z", -600), home("2026-06-20T20:00:00Z", -600), "was 10 minutes fast against"),
        (
            met("2026-06-20T08:00:00Z", 0, 3600),
            home("2026-06-20T20:00:00Z"),
            "fell back by 1 hour and was set at a time that nobody knows",
        ),
        (met("2026-06-20T08:00:00Z", 0, 3600), home("2026-06-20T20:00:00Z", 0, 3600), "fell back by 1 hour"),
        (met("2026-06-20T08:00:00Z"), home("2026-06-20T20:00:00Z"), ""),
    ],
)
def test_what_was_wrong_with_a_clock_is_said_in_one_sentence(
    clock: dict[str, Any], more: dict[str, Any], words: str
) -> None:
    [row] = placed(
        [check(1, GO, "2026-06-20T07:00:00Z" if "nobody" in words else "2026-06-20T12:00:00Z", clock=clock, **more)]
    )
    note = clock_note(row)
    assert words in note
    assert bool(note) == bool(words)
