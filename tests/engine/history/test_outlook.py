"""The outlook counts the checks since the rebuild that say how many outings it had."""

from typing import Any

import pytest

from server.engine import calc

from ..checks import UNIT, changed
from .entries import check_near, entry

TAKEN_IN = entry(1, "unit", UNIT, "2026-03-01T09:00:00+01:00", seq=1)


def check(number: int, low: float, outings: object, day: str, **more: Any) -> dict[str, Any]:
    """A check with the outings since the rebuild."""
    return entry(number, "torque_check", check_near(low, outings=outings), f"{day}T09:00:00+01:00", seq=number, **more)


FRESH = check(8, 116, 0, "2026-03-01")
SEASON = [
    check(2, 110, 1, "2026-03-02"),
    check(3, 104, {"typed": "4", "unit": ""}, "2026-04-02"),
    check(4, 97, "9", "2026-05-02"),
]


def outlook(*entries: dict[str, Any]) -> Any:
    """The outlook of a unit."""
    return calc("outlook", {"entries": list(entries)})


def test_three_checks_with_their_outings_say_when_it_may_meet_its_limit() -> None:
    ahead = outlook(TAKEN_IN, *SEASON)
    assert ahead["why"] == ""
    assert [row["use"] for row in ahead["checks"]] == [1.0, 4.0, 9.0]
    readings = [
        {"use": use, "torque_nm": season_check["shown"]["value_nm"]} for use, season_check in zip((1, 4, 9), SEASON)
    ]
    assert ahead["life"] == calc("life", {"torque": readings, "limits": {"low_nm": 70, "high_nm": 130}})


def left(*entries: dict[str, Any]) -> Any:
    """The outings that are left, as what stands has them."""
    return calc("standing", {"entries": list(entries)})["outings_left"]


def test_what_stands_says_how_many_outings_are_left() -> None:
    ahead = outlook(TAKEN_IN, FRESH, *SEASON)["life"]
    assert left(TAKEN_IN, FRESH, *SEASON) == ahead["due_use"] - 9 > 0
    # Without a line through three checks, and without a limit, nobody can tell.
    assert left(TAKEN_IN, *SEASON[:2]) is None
    assert left(*SEASON) is None
    # The last check is below its limit: nothing is left.
    worn = check(5, 60, 12, "2026-06-02")
    assert left(TAKEN_IN, *SEASON, worn) == 0
    rebuilt = entry(6, "rebuild", {"fitted": [], "note": "oil"}, "2026-06-04T09:00:00+01:00", seq=6)
    assert left(TAKEN_IN, *SEASON, worn, rebuilt) is None


@pytest.mark.parametrize(("count", "words"), [(0, "there are none"), (1, "there is one"), (2, "there are two")])
def test_with_fewer_it_says_how_many_there_are(count: int, words: str) -> None:
    ahead = outlook(TAKEN_IN, *SEASON[:count])
    assert ahead["life"] is None
    assert words in ahead["why"]
    assert "once a season" in ahead["why"]


def test_a_check_without_outings_or_from_before_the_rebuild_does_not_count() -> None:
    silent = entry(5, "torque_check", check_near(95), "2026-05-03T09:00:00+01:00", seq=5)
    assert len(outlook(TAKEN_IN, *SEASON, silent)["checks"]) == 3
    rebuilt = entry(6, "rebuild", {"fitted": [], "note": "oil"}, "2026-05-04T09:00:00+01:00", seq=6)
    assert "there are none" in outlook(TAKEN_IN, *SEASON, rebuilt)["why"]


def test_a_check_fresh_from_the_rebuild_is_shown_and_left_out_of_the_line() -> None:
    ahead = outlook(TAKEN_IN, FRESH, *SEASON)
    assert [(row["use"], row["fresh"], row["counts"]) for row in ahead["checks"]] == [
        (0.0, True, False),
        (1.0, False, True),
        (4.0, False, True),
        (9.0, False, True),
    ]
    assert ahead["life"] == outlook(TAKEN_IN, *SEASON)["life"]


def test_a_check_fresh_from_the_rebuild_counts_where_somebody_asks_for_it() -> None:
    result = calc("outlook", {"entries": [TAKEN_IN, FRESH, *SEASON], "with_first": True})
    assert [(row["fresh"], row["counts"]) for row in result["checks"]] == [(True, True)] + [(False, True)] * 3
    assert result["life"]["count"] == 4
    # Steeper at first: the drop while the plates bed in is taken for wear.
    assert result["life"]["slope"] < outlook(TAKEN_IN, *SEASON)["life"]["slope"]


def test_two_checks_beside_a_fresh_one_are_no_trend() -> None:
    ahead = outlook(TAKEN_IN, FRESH, *SEASON[:2])
    assert ahead["life"] is None
    assert "there are two after the first outing" in ahead["why"]


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
    ahead = outlook(TAKEN_IN, *together)
    assert ahead["life"] is None
    assert "same use" in ahead["why"]


def test_three_checks_of_a_unit_whose_definition_never_arrived_are_not_called_two() -> None:
    ahead = outlook(*SEASON)
    assert ahead["life"] is None
    assert ahead["why"].startswith("No prediction: the unit has no limit to meet.")
