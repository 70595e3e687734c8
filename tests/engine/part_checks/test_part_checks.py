"""Springs, rings and the refit: the same guard band as everywhere, at each part's own limit."""

import copy
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.engine import BadInput, calc
from server.engine.part_checks.gauges import gauge_guard

from ..samples import sample, samples

ORDER = ["go", "measure_again", "replace"]
SPRING = sample("spring_check", "good")
RINGS = sample("ring_check", "good")
REFIT = sample("refit", "all three")


def spring(**changes: Any) -> dict[str, Any]:
    """One disc measured, with changes."""
    return {"gauge": {}, "springs": [{**SPRING["springs"][0], **changes}]}


@pytest.mark.parametrize(
    ("calculation", "about", "verdict"),
    [
        ("spring_check", "good", "go"),
        ("spring_check", "set", "replace"),
        ("spring_check", "too close to say", "measure_again"),
        ("ring_check", "good", "go"),
        ("ring_check", "worn ramp", "replace"),
        ("ring_check", "flat pin", "replace"),
        ("ring_check", "too close to say", "measure_again"),
        ("ring_check", "calibration run out", "measure_again"),
        ("refit", "all three", "go"),
        ("refit", "backlash as far from its limit as its guard band", "measure_again"),
        ("refit", "backlash too tight", "rework"),
        ("refit", "backlash uneven", "rework"),
        ("refit", "bearings too close to say", "measure_again"),
        ("refit", "a loose screw, in foot-pounds", "rework"),
        ("refit", "calibration run out", "measure_again"),
    ],
)
def test_each_verdict(calculation: str, about: str, verdict: str) -> None:
    result = calc(calculation, sample(calculation, about))
    assert result["verdict"] == verdict
    assert result["reason"].endswith(".")


def test_the_whole_is_as_bad_as_its_worst_part() -> None:
    for calculation, rows in (("spring_check", "springs"), ("ring_check", "rings"), ("refit", "checks")):
        for entry in samples(calculation):
            if not entry["about"].startswith("bad:"):
                result = calc(calculation, entry["request"])
                parts = [row["verdict"] for row in result[rows] + result.get("pins", [])]
                ranks = {"go": 0, "measure_again": 1, "rework": 2, "replace": 3}
                assert ranks[result["verdict"]] == max(ranks[part] for part in parts)


def test_a_new_springs_tolerance_is_the_limit_where_none_is_given() -> None:
    # DIN EN 16983 as given in a spring maker's table: 2.7 mm, free height -0.10 mm.
    assert calc("spring_check", SPRING)["springs"][0]["low_mm"] == pytest.approx(4.70)


@settings(max_examples=60)
@given(st.floats(4.4, 4.9), st.floats(0, 0.05))
def test_a_higher_spring_is_never_judged_worse(height: float, more: float) -> None:
    verdicts = [calc("spring_check", spring(points_mm=[mm] * 3))["verdict"] for mm in (height, height + more)]
    assert ORDER.index(verdicts[1]) <= ORDER.index(verdicts[0])


@pytest.mark.parametrize("far", [0.9, 1.1])
def test_the_guard_band_decides_just_where_it_ends(far: float) -> None:
    guard = gauge_guard({"certificate_mm": None, "deviation_mm": 0.03, "division_mm": 0.01})
    inside = calc("spring_check", spring(points_mm=[4.7 + far * guard] * 3))["verdict"]
    outside = calc("spring_check", spring(points_mm=[4.7 - far * guard] * 3))["verdict"]
    assert (inside, outside) == (("go", "replace") if far > 1 else ("measure_again", "measure_again"))


def test_a_spring_that_has_set_says_what_load_it_lost() -> None:
    row = calc("spring_check", sample("spring_check", "set"))["springs"][0]
    fitted = SPRING["springs"][0]["fitted_mm"]
    fields = SPRING["springs"][0]["spring"]
    new = calc("spring", {"spring": fields, "deflection_mm": fields["l0_mm"] - fitted})["at"]["load_n"]
    lower = {**fields, "l0_mm": row["mean_mm"]}
    now = calc("spring", {"spring": lower, "deflection_mm": row["mean_mm"] - fitted})["at"]["load_n"]
    assert (row["load_new_n"], row["load_now_n"]) == (pytest.approx(new), pytest.approx(now))
    assert now < new
    assert row["set_mm"] == pytest.approx(fields["l0_mm"] - row["mean_mm"])


def test_an_uneven_or_scored_spring_goes_however_high_it_stands() -> None:
    assert calc("spring_check", spring(points_mm=[4.75, 4.9, 4.8]))["verdict"] == "replace"
    assert calc("spring_check", spring(marks="heavy"))["verdict"] == "replace"
    slight = calc("spring_check", spring(marks="slight"))
    assert slight["verdict"] == "go"
    assert slight["springs"][0]["findings"][0]["name"] == "marks"


def test_the_deepest_ramp_judges_a_ring() -> None:
    worn = copy.deepcopy(RINGS)
    worn["rings"][1]["steps_mm"][2] = 0.12
    result = calc("ring_check", worn)
    assert [row["verdict"] for row in result["rings"]] == ["go", "replace"]
    assert "R2" in result["reason"]


def test_more_repeats_decide_on_a_turning_torque() -> None:
    few = {"bearings": {**REFIT["bearings"], "readings_nm": [1.65, 1.95], "tool": {"division_nm": 0.02}}}
    many = copy.deepcopy(few)
    many["bearings"]["readings_nm"] = [1.65, 1.95] * 10
    assert calc("refit", few)["verdict"] == "measure_again"
    assert calc("refit", many)["verdict"] == "go"


@pytest.mark.parametrize("zero_mm", [0.0, 0.004])
def test_backlash_is_as_doubtful_at_a_refit_as_at_an_inspection(zero_mm: float) -> None:
    gauge = {"name": "Dial", "division_mm": 0.01, "deviation_mm": 0.005, "zero_mm": zero_mm}
    band = {"low_mm": 0.1, "high_mm": 0.2}
    refit = calc("refit", {"backlash": {**band, "points_mm": [0.14] * 3, "gauge": gauge}})["checks"][0]
    feature = {"name": "Backlash", "part": "bevel_gears", "measure": "backlash", "places": 3, "points_mm": [0.14] * 3}
    row = calc("inspection", {"features": [{**feature, **band, "tool": gauge}]})["features"][0]
    # JCGM 100:2008, 4.3.7, F.2.2.1 and 5.1.2: a difference of two readings has half a division of each; the one-sided
    # 95 % factor is 1.645. The error that is permitted to the gauge is one of the whole difference.
    by_hand = 1.645 * math.sqrt((0.005**2 + 2 * 0.005**2 + zero_mm**2) / 3)
    assert refit["guard_mm"] == pytest.approx(by_hand, rel=1e-3)
    assert refit["guard_mm"] == pytest.approx(row["guard_mm"], rel=1e-12)


def test_the_tightest_tooth_judges_the_backlash() -> None:
    tight = copy.deepcopy(REFIT)
    tight["backlash"].update({"points_mm": [0.15, 0.15, 0.05, 0.15], "uneven_mm": 0.2})
    row = calc("refit", tight)["checks"][0]
    assert row["verdict"] == "rework"
    assert "0.050 mm" in row["reason"]


@pytest.mark.parametrize(
    ("about", "marks"),
    [
        ("alike and lower", []),
        ("other oil, hot", ["oil", "temperature"]),
        ("bedding", ["bedding"]),
        ("rebuilt in between", ["bedding", "rebuilt"]),
        ("nothing noted, in foot-pounds", []),
    ],
)
def test_what_is_not_like_with_like_is_marked(about: str, marks: list[str]) -> None:
    result = calc("compare", sample("compare", about))
    assert [mark["name"] for mark in result["marks"]] == marks
    assert result["alike"] == (not marks)


def test_a_comparison_is_made_even_where_it_is_marked() -> None:
    result = calc("compare", sample("compare", "other oil, hot"))
    assert result["change_percent"] == pytest.approx(-10)
    assert result["expanded_nm"] == pytest.approx(1.96 * 8**0.5, rel=1e-4)
    assert result["certain"]


def test_within_the_doubt_a_change_is_called_that() -> None:
    result = calc("compare", sample("compare", "within doubt"))
    assert not result["certain"]
    assert "within the readings' doubt" in result["text"]


@pytest.mark.parametrize("calculation", ["spring_check", "ring_check", "refit", "compare"])
def test_what_cannot_be_is_refused(calculation: str) -> None:
    bad = [entry for entry in samples(calculation) if entry["about"].startswith("bad:")]
    assert bad
    for entry in bad:
        with pytest.raises(BadInput) as refusal:
            calc(calculation, entry["request"])
        assert refusal.value.field


@pytest.mark.parametrize(("check", "tool", "name"), [("bearings", "tool", "wrench"), ("backlash", "gauge", "gauge")])
def test_what_ran_out_of_calibration_is_called_what_it_is(check: str, tool: str, name: str) -> None:
    due = {**REFIT[check], tool: {**REFIT[check][tool], "calibration_due": "2026-01-31"}}
    result = calc("refit", {check: due, "day": "2026-05-09"})
    assert result["reason"].startswith(f"The calibration of this {name} ran out on 2026-01-31: ")
