"""A correction says anew what was seen when the first of its line was entered, so it stands where that one stood."""

from typing import Any

from server.engine import calc

from ..checks import PLATES, UNIT, changed
from ..samples import samples
from .entries import check_near, entry

TAKEN_IN = entry(1, "unit", UNIT, "2026-03-01T09:00:00+01:00", seq=1)
CHECKED = entry(2, "torque_check", check_near(100, outings=3), "2026-03-02T09:00:00+01:00", seq=2)
REBUILT = entry(
    3, "rebuild", {"fitted": [{"slot": "A3", "mm": 1.95}], "note": "set up anew"}, "2026-03-03T09:00:00+01:00", seq=3
)
CORRECTED = entry(9, "torque_check", check_near(99, outings=3), "2026-03-09T09:00:00+01:00", seq=9, replaces="id-2")


def standing(*entries: dict[str, Any]) -> Any:
    """What stands."""
    return calc("standing", {"entries": list(entries), "today": "2026-03-10"})


def test_a_check_from_before_a_rebuild_that_is_corrected_after_it_makes_no_rebuilt_unit_go() -> None:
    state = standing(TAKEN_IN, CHECKED, REBUILT, CORRECTED)
    assert state["torque"] is None
    assert state["verdict"] is None
    assert state["built"]["measured"] is None
    assert "not torque-checked since" in state["due"][0]["text"]
    assert calc("outlook", {"entries": [TAKEN_IN, CHECKED, REBUILT, CORRECTED]})["checks"] == []


def test_a_corrected_check_stands_in_the_trend_when_it_was_read() -> None:
    later = entry(4, "torque_check", check_near(90), "2026-03-05T09:00:00+01:00", seq=4)
    state = standing(TAKEN_IN, CHECKED, later, CORRECTED)
    assert [(row["id"], row["at"]) for row in state["trend"]] == [("id-9", CHECKED["at"]), ("id-4", later["at"])]
    assert state["torque"]["id"] == "id-4"
    assert state["order"][0] == "id-9", "the history shows when it was written"


def test_a_rebuild_whose_note_is_corrected_still_has_the_check_that_followed_it() -> None:
    after = entry(4, "torque_check", check_near(101), "2026-03-04T09:00:00+01:00", seq=4)
    again = entry(5, "rebuild", REBUILT["body"] | {"note": "x"}, "2026-03-05T09:00:00+01:00", seq=5, replaces="id-3")
    state = standing(TAKEN_IN, REBUILT, after, again)
    assert state["torque"]["id"] == "id-4"
    assert state["rebuilt"] == {"at": REBUILT["at"], "id": "id-5"}


def test_plates_that_are_corrected_after_a_rebuild_say_nothing_of_those_that_it_fitted() -> None:
    measured = entry(4, "plate_check", PLATES, "2026-03-02T10:00:00+01:00", seq=4)
    points = changed(PLATES, plates__1__points_mm=[1.45] * 3)
    again = entry(5, "plate_check", points, "2026-03-05T09:00:00+01:00", seq=5, replaces="id-4")
    state = standing(TAKEN_IN, measured, REBUILT, again)
    place = next(row for row in state["built"]["places"] if row["slot"] == "A3")
    assert (place["known"], place["mm"]) == ("fitted", 1.95)


def test_a_spring_that_a_vice_holds_is_said_whatever_earlier_reading_is_corrected() -> None:
    body = next(row["request"] for row in samples("strip") if row["request"].get("done"))
    held = entry(4, "strip", body | {"done": ["drained", "marked", "held"], "guide": 1}, "2026-03-05T09:00:00Z", seq=4)
    assert standing(TAKEN_IN, CHECKED, held)["due"][0]["name"] == "held"
    assert standing(TAKEN_IN, CHECKED, held, CORRECTED)["due"][0]["name"] == "held"


def test_of_two_corrections_that_did_not_know_each_other_the_later_received_stands() -> None:
    other = entry(8, "torque_check", check_near(80, outings=3), "2026-03-09T10:00:00+01:00", seq=8, replaces="id-2")
    again = entry(7, "torque_check", check_near(81, outings=3), "2026-03-09T11:00:00+01:00", seq=7, replaces="id-8")
    for entries in ([TAKEN_IN, CHECKED, other, CORRECTED], [CORRECTED, again, other, CHECKED, TAKEN_IN]):
        state = standing(*entries)
        assert [row["id"] for row in state["trend"]] == ["id-9"]
        assert state["replaced"]["id-2"] == "id-9"


def test_entries_that_replace_each_other_in_a_ring_end() -> None:
    replaces_5 = entry(4, "torque_check", check_near(80), "2026-03-09T10:00:00+01:00", seq=4, replaces="id-5")
    other = entry(5, "torque_check", check_near(80), "2026-03-09T10:00:00+01:00", seq=5, replaces="id-4")
    itself = entry(6, "torque_check", check_near(80), "2026-03-09T10:00:00+01:00", seq=6, replaces="id-6")
    assert standing(TAKEN_IN, replaces_5, other, itself)["trend"] == []
