"""What a set of readings shows beside its mean: findings that name the right direction, size and place."""

from typing import Any

import pytest

from server.engine import calc
from server.engine.torque_check.findings import DRIFT_OF_CONCERN, STICKING_RATIO, STRAY_RATIO, drift

from ..checks import BREAKAWAY, changed

REVERSED = {"forward": "reverse", "reverse": "forward"}


def found(name: str, **changes: Any) -> list[dict[str, Any]]:
    """The findings of this name in the usual check with changes."""
    return [row for row in calc("breakaway", changed(BREAKAWAY, **changes))["findings"] if row["name"] == name]


@pytest.mark.parametrize("higher", ["forward", "reverse"])
def test_the_higher_direction_is_the_one_that_is_called_higher(higher: str) -> None:
    [row] = found("directions", steady_nm={higher: [108, 109, 108], REVERSED[higher]: [92, 93, 92]})
    assert f"{higher} being higher" in row["text"]
    assert "differ by 16 %" in row["text"]
    # 16 N·m apart on a mean of 100.33 N·m, forward less reverse.
    assert row["number"] == pytest.approx((16 if higher == "forward" else -16) / (301 / 3))


def test_directions_agree_where_the_difference_is_small_or_no_more_than_the_scatter() -> None:
    assert found("directions", steady_nm={"forward": [102, 102.1, 102], "reverse": [98, 98.1, 98]}) == []
    assert found("directions", steady_nm={"forward": [90, 120, 105], "reverse": [80, 110, 95]}) == []


@pytest.mark.parametrize(("values", "way"), [([110, 105, 100, 95], "fell"), ([95, 100, 105, 110], "rose")])
def test_a_drift_is_told_the_way_it_went(values: list[float], way: str) -> None:
    [row] = found("drift", steady_nm={"forward": values, "reverse": values})
    assert f"{way} by 15 %" in row["text"]
    assert row["number"] == pytest.approx((values[-1] - values[0]) / 102.5)


def test_a_drift_takes_both_directions_together_and_three_readings_each() -> None:
    readings = {"forward": [10.0, 12.0, 14.0, 16.0], "reverse": [11.0, 12.0, 13.0]}
    # Least squares about each direction's own middle, by hand: sxy 10 + 2, sxx 5 + 2, and 3 steps in the longest.
    change, certain = drift(readings, 0.0)
    assert change == pytest.approx(12 / 7 * 3 / (88 / 7))
    assert certain
    assert drift({"forward": [10.0, 12.0], "reverse": [10.0, 12.0]}, 0.0) == (0.0, False)
    assert drift({"forward": [10.0, 12.0], "reverse": None}, 0.0) == (0.0, False)
    change, certain = drift({"forward": [10.0, 12.0, 14.0], "reverse": None}, 0.0)
    assert change == pytest.approx(4 / 12)
    assert certain
    # A scale of 20 could have rounded them to rise in step by chance.
    assert not drift({"forward": [10.0, 12.0, 14.0], "reverse": None}, 20.0)[1]


def test_a_drift_below_what_is_of_concern_is_passed_over() -> None:
    def rising(share: float) -> dict[str, list[float]]:
        step = 100 * share / 3
        return {"forward": [100 - 1.5 * step, 100 - 0.5 * step, 100 + 0.5 * step, 100 + 1.5 * step]}

    fine = {"kind": "beam", "high_nm": 150, "division_nm": 0.01}
    assert found("drift", steady_nm=rising(DRIFT_OF_CONCERN * 1.02), wrench=fine)
    assert found("drift", steady_nm=rising(DRIFT_OF_CONCERN * 0.98), wrench=fine) == []


@pytest.mark.parametrize(("way", "place"), [("forward", 0), ("forward", 2), ("reverse", 1)])
@pytest.mark.parametrize("factor", [STRAY_RATIO * 0.99, STRAY_RATIO * 1.01, 1 / STRAY_RATIO / 1.01])
def test_a_stray_reading_is_pointed_at_where_it_stands(way: str, place: int, factor: float) -> None:
    steady = {"forward": [60.0, 60.0, 60.0], "reverse": [60.0, 60.0, 60.0]}
    steady[way][place] *= factor
    rows = found("stray", steady_nm=steady)
    if 1 / STRAY_RATIO < factor < STRAY_RATIO:
        assert rows == []
    else:
        [row] = rows
        assert row["text"].startswith(f"Reading {place + 1} {way}, {60 * factor:.1f} N·m, ")
        assert row["number"] == pytest.approx(factor)


def test_the_middle_of_an_even_number_of_readings_lies_between_the_two() -> None:
    [row] = found("stray", steady_nm={"forward": [20, 30, 40, 90]})
    assert "the middle of all, 35.0 N·m" in row["text"]


@pytest.mark.parametrize(
    ("factor", "name"),
    [(STICKING_RATIO * 1.01, "sticking"), (STICKING_RATIO * 0.99, None), (1.0, None), (0.79, "first_below")],
)
def test_the_first_move_against_steady_turning(factor: float, name: str | None) -> None:
    first = {"forward": [100 * factor, 100 * factor]}
    steady = {"forward": [100, 100, 100], "reverse": [100, 100, 100]}
    rows = [row for kind in ("sticking", "first_below") for row in found(kind, first_nm=first, steady_nm=steady)]
    assert [row["name"] for row in rows] == ([name] if name else [])
    if rows:
        assert rows[0]["number"] == pytest.approx(factor)


def test_a_reading_low_on_the_scale_tells_both_shares() -> None:
    [row] = found("low_on_scale", wrench__high_nm=800)
    assert "lies at 12 % of the scale; below 20 %" in row["text"]
    assert row["number"] == pytest.approx(0.125, abs=1e-3)
    [row] = found("low_on_scale", wrench__low_nm=110)
    assert "below 73 %" in row["text"]
    assert found("low_on_scale", wrench__low_nm=90) == []


def test_the_other_way_of_holding_is_named_with_what_it_would_have_read() -> None:
    [row] = found("holding", held="car_both_wheels_up")
    assert "this would be 100.0 N·m" in row["text"]
    assert "on the car, both driven wheels up, in gear" in row["text"]
    assert row["number"] == 2.0
    assert found("holding") == [], "what fits is not questioned"
    assert found("holding", limits={"low_nm": 120}) == [], "nor what fits neither way"


@pytest.mark.parametrize(
    ("given", "names"),
    [
        ({}, []),
        ({"temperature": "cold", "outings": 1}, []),
        ({"temperature": "warm"}, ["temperature"]),
        ({"outings": 0}, ["fresh"]),
    ],
)
def test_circumstances_that_are_not_like_with_like(given: dict[str, Any], names: list[str]) -> None:
    rows = calc("breakaway", changed(BREAKAWAY, circumstances=given))["findings"]
    assert [row["name"] for row in rows] == names
    assert all(row["weight"] == "note" for row in rows)
    if names == ["temperature"]:
        assert rows[0]["text"].startswith("Read warm: ")
