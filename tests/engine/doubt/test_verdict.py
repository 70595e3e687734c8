"""A verdict at its very limit, and how a band is written."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.engine.doubt.budget import INFINITE, Part, combine, guard_of, shares, whole_dof
from server.engine.doubt.finding import expired
from server.engine.doubt.verdict import judge_limit, worst, written_band


@pytest.mark.parametrize(
    ("value", "lower", "verdict"),
    [
        (75.0, True, "go"),
        (74.9, True, "measure_again"),
        (70.0, True, "measure_again"),
        (65.1, True, "measure_again"),
        (65.0, True, "replace"),
        (65.0, False, "go"),
        (65.1, False, "measure_again"),
        (74.9, False, "measure_again"),
        (75.0, False, "replace"),
    ],
)
def test_a_value_is_judged_where_its_guard_band_ends(value: float, lower: bool, verdict: str) -> None:
    assert judge_limit(value, 5.0, 70.0, lower, "replace") == verdict


def test_the_worst_of_several_verdicts_counts() -> None:
    order = ["go", "measure_again", "rework", "replace"]
    for rank, verdict in enumerate(order):
        assert worst([*reversed(order[: rank + 1]), "go"]) == verdict


@pytest.mark.parametrize(
    ("low", "high", "si", "unit", "written"),
    [
        (70.0, 130.0, "nm", "nm", "70.0 N·m to 130.0 N·m"),
        (70.0, 130.0, "nm", "lbf_ft", "51.6 lbf·ft to 95.9 lbf·ft"),
        (70.0, None, "nm", "lbf_ft", "at least 51.6 lbf·ft"),
        (None, 2.54, "mm", "inch", "at most 0.1000 inch"),
        (0.0, 2.54, "mm", "thou", "0.0 thou to 100.0 thou"),
        (0.0, None, "mm", "mm", "at least 0.000 mm"),
    ],
)
def test_a_band_is_written_in_the_readers_unit(
    low: float | None, high: float | None, si: str, unit: str, written: str
) -> None:
    assert written_band(low, high, si, unit) == written


PARTS = st.lists(
    st.builds(Part, st.sampled_from("abc"), st.just(""), st.floats(0.01, 10), st.sampled_from([1.0, 4.0, INFINITE])),
    min_size=1,
    max_size=5,
)


@given(PARTS)
def test_shares_add_up_and_the_largest_comes_first(parts: list[Part]) -> None:
    rows = shares(parts)
    assert sum(row["share"] for row in rows) == pytest.approx(1)
    assert [row["share"] for row in rows] == sorted((row["share"] for row in rows), reverse=True)
    total = combine(parts).u
    assert total == pytest.approx(math.hypot(*(part.u for part in parts)))
    for row in rows:
        assert row["share"] == pytest.approx((row["u"] / total) ** 2)


def test_no_doubt_has_no_shares_and_equal_ones_stand_by_name() -> None:
    nothing = [Part("b", "", 0.0, INFINITE), Part("a", "", 0.0, INFINITE)]
    assert [(row["name"], row["share"]) for row in shares(nothing)] == [("a", 0.0), ("b", 0.0)]
    assert guard_of(nothing) == 0.0


@given(PARTS)
def test_a_guard_is_one_sided_and_never_less_than_the_normal_one(parts: list[Part]) -> None:
    doubt = combine(parts)
    assert doubt.guard == guard_of(parts)
    # JCGM 106:2012 and JCGM 100:2008: 1.645 and 1.960 for many degrees of freedom, 6.314 and 12.706 for one.
    assert 1.6448 * doubt.u <= doubt.guard <= 6.3138 * doubt.u
    assert 1.9599 * doubt.u <= doubt.expanded <= 12.7063 * doubt.u
    assert doubt.expanded > doubt.guard
    assert whole_dof(parts) == doubt.dof >= 1


@pytest.mark.parametrize(
    ("due", "day", "holds"),
    [
        ("2026-05-09", "2026-05-09", True),
        ("2026-05-09", "2026-05-08", True),
        ("2026-05-09", "2026-05-10", False),
        (None, "2026-05-10", True),
        ("2026-05-09", None, True),
    ],
)
def test_a_calibration_holds_through_its_last_day(due: str | None, day: str | None, holds: bool) -> None:
    sentence = expired({"calibration_due": due}, day, "gauge")
    assert sentence == (
        "" if holds else "The calibration of this gauge ran out on 2026-05-09: use another, or have it checked first."
    )
