"""The outlook counts the checks since the rebuild that say how many outings it had."""

from typing import Any

import pytest

from server.engine import calc

from ..checks import UNIT, changed
from .made import entry, tight

TAKEN_IN = entry(1, "unit", UNIT, "2026-03-01T09:00:00+01:00", seq=1)


def check(number: int, low: float, outings: object, day: str, **more: Any) -> dict[str, Any]:
    """A check with the outings since the rebuild."""
    return entry(number, "torque_check", tight(low, outings=outings), f"{day}T09:00:00+01:00", seq=number, **more)


SEASON = [
    check(2, 110, 0, "2026-03-02"),
    check(3, 104, {"typed": "4", "unit": ""}, "2026-04-02"),
    check(4, 97, "9", "2026-05-02"),
]


def outlook(*entries: dict[str, Any]) -> Any:
    """The outlook of a unit."""
    return calc("outlook", {"entries": list(entries)})


def test_three_checks_with_their_outings_say_when_it_may_meet_its_limit() -> None:
    found = outlook(TAKEN_IN, *SEASON)
    assert found["why"] == ""
    assert [row["use"] for row in found["checks"]] == [0.0, 4.0, 9.0]
    asked = [{"use": use, "torque_nm": one["shown"]["value_nm"]} for use, one in zip((0, 4, 9), SEASON)]
    assert found["life"] == calc("life", {"torque": asked, "limits": {"low_nm": 70, "high_nm": 130}})


@pytest.mark.parametrize(("count", "words"), [(0, "there are none"), (1, "there is one"), (2, "there are two")])
def test_with_fewer_it_says_how_many_there_are(count: int, words: str) -> None:
    found = outlook(TAKEN_IN, *SEASON[:count])
    assert found["life"] is None
    assert words in found["why"]
    assert "once a season" in found["why"]


def test_a_check_without_outings_or_from_before_the_rebuild_does_not_count() -> None:
    silent = entry(5, "torque_check", tight(95), "2026-05-03T09:00:00+01:00", seq=5)
    assert len(outlook(TAKEN_IN, *SEASON, silent)["checks"]) == 3
    rebuilt = entry(6, "rebuild", {"fitted": [], "note": "oil"}, "2026-05-04T09:00:00+01:00", seq=6)
    assert "there are none" in outlook(TAKEN_IN, *SEASON, rebuilt)["why"]


def test_a_corrected_check_counts_once() -> None:
    corrected = check(7, 98, 9, "2026-05-02", replaces="id-4")
    assert [row["value_nm"] for row in outlook(TAKEN_IN, *SEASON, corrected)["checks"]][-1] == pytest.approx(
        98.3, abs=0.1
    )


def test_without_an_upper_limit_the_lower_one_is_looked_out_for() -> None:
    open_above = entry(1, "unit", changed(UNIT, service__high_nm=None), "2026-03-01T09:00:00+01:00", seq=1)
    assert [row["limit"] for row in outlook(open_above, *SEASON)["life"]["meets"]] == ["low_nm"]


def test_readings_that_make_no_line_are_a_sentence() -> None:
    together = [check(number, 100, 3, f"2026-03-0{number}") for number in (2, 3, 4)]
    found = outlook(TAKEN_IN, *together)
    assert found["life"] is None
    assert "same use" in found["why"]
