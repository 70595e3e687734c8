"""What a user gets from a torque check."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.engine import BadInput, calc

from ..checks import BREAKAWAY, changed


def verdict(**changes: object) -> str:
    """Verdict of the usual check with some fields changed."""
    return str(calc("breakaway", changed(BREAKAWAY, **changes))["verdict"])


def names(result: dict[str, object], of: str = "findings") -> list[str]:
    """Names of the findings or helps of a result."""
    rows = result[of]
    assert isinstance(rows, list)
    return [row["name"] for row in rows]


def readings(*values: float) -> dict[str, list[float]]:
    """The same readings both ways."""
    return {"forward": list(values), "reverse": list(values)}


def test_a_healthy_unit_may_go() -> None:
    result = calc("breakaway", BREAKAWAY)
    assert result["verdict"] == "go"
    assert result["value_nm"] == pytest.approx(100)
    assert "70.0 N·m to 130.0 N·m" in result["reason"]


def test_a_tired_unit_is_for_rework() -> None:
    assert verdict(steady_nm=readings(50, 51, 50)) == "rework"


def test_too_tight_is_for_rework_as_well() -> None:
    assert verdict(limits={"high_nm": 80}) == "rework"


def test_near_the_limit_the_reading_cannot_say() -> None:
    result = calc("breakaway", changed(BREAKAWAY, steady_nm=readings(72, 73, 72)))
    assert result["verdict"] == "measure_again"
    assert abs(result["value_nm"] - 70) < result["guard_nm"]


@given(st.sampled_from(["bench", "car"]), st.floats(20, 70))
def test_the_case_held_way_reads_twice_as_much_for_the_same_unit(place: str, torque: float) -> None:
    free, held = {
        "bench": ("bench_output_held", "bench_case_held"),
        "car": ("car_one_wheel_down", "car_both_wheels_up"),
    }[place]
    result = calc("breakaway", changed(BREAKAWAY, held=free, steady_nm=readings(torque, torque)))
    two = calc("breakaway", changed(BREAKAWAY, held=held, steady_nm=readings(2 * torque, 2 * torque)))
    assert two["value_nm"] == pytest.approx(result["value_nm"], rel=1e-12)


def test_limits_stated_for_the_sum_are_met_by_the_sum() -> None:
    result = calc("breakaway", changed(BREAKAWAY, stated_for="case_held", limits={"low_nm": 140, "high_nm": 260}))
    assert result["value_nm"] == pytest.approx(200)
    assert result["verdict"] == "go"
    assert result["felt"]["one_output_held_nm"] == pytest.approx(100)


def test_mixing_up_the_ways_of_holding_is_pointed_out() -> None:
    result = calc("breakaway", changed(BREAKAWAY, held="bench_case_held"))
    assert result["verdict"] == "rework"
    [finding] = [row for row in result["findings"] if row["name"] == "holding"]
    assert "100.0 N·m" in finding["text"]
    doubled = calc("breakaway", changed(BREAKAWAY, steady_nm=readings(141, 142, 141)))
    assert doubled["verdict"] == "rework"
    [finding] = [row for row in doubled["findings"] if row["name"] == "holding"]
    assert "70.7 N·m" in finding["text"]


def test_drag_counts_half_on_a_free_case_and_whole_on_each_wheel_that_turns() -> None:
    drag = {"case_nm": 8, "wheel_nm": 3, "doubt_nm": 1}
    free = calc("breakaway", changed(BREAKAWAY, drag=drag, held="car_one_wheel_down"))
    assert free["value_nm"] == pytest.approx(100 - 3 - 4)
    bench = calc("breakaway", changed(BREAKAWAY, drag=drag, held="bench_case_held"))
    assert bench["value_nm"] == pytest.approx((100 - 3) / 2)
    both = changed(BREAKAWAY, drag={**drag, "other_wheel_nm": 5}, held="car_both_wheels_up")
    assert calc("breakaway", both)["value_nm"] == pytest.approx((100 - 3 - 5) / 2)


@pytest.mark.parametrize("field", ["wheel_nm", "other_wheel_nm"])
def test_one_wheels_drag_counts_for_each_of_two_that_turn_and_the_answer_says_so(field: str) -> None:
    result = calc("breakaway", changed(BREAKAWAY, drag={field: 6}, held="car_both_wheels_up"))
    assert result["value_nm"] == pytest.approx((100 - 12) / 2)
    [row] = [row for row in result["findings"] if row["name"] == "drag_of_both"]
    assert "it counts for each, 12.0 N·m together" in row["text"]
    both = changed(BREAKAWAY, drag={"wheel_nm": 6, "other_wheel_nm": 6}, held="car_both_wheels_up")
    assert "drag_of_both" not in names(calc("breakaway", both))


@pytest.mark.parametrize("held", ["bench_output_held", "bench_case_held", "car_one_wheel_down"])
def test_a_wheel_that_does_not_turn_has_no_drag(held: str) -> None:
    with pytest.raises(BadInput, match="leave this empty") as refusal:
        calc("breakaway", changed(BREAKAWAY, drag={"wheel_nm": 6, "other_wheel_nm": 6}, held=held))
    assert refusal.value.field == "drag.other_wheel_nm"


@pytest.mark.parametrize("kind", ["click", "weight"])
def test_a_tool_that_lets_go_decides_nothing_about_steady_turning(kind: str) -> None:
    tool: dict[str, Any] = {"wrench": {"kind": "click", "high_nm": 150, "division_nm": 1}}
    if kind == "weight":
        readings_n = {"forward": [98.0, 101.0], "reverse": [99.0, 100.0]}
        bar = {"length_mm": 1000}
        tool = {"scale": {"kind": "weight", "high_n": 300, "division_n": 1}, "bar": bar, "steady_n": readings_n}
    request = changed(BREAKAWAY, **({"wrench": None, "steady_nm": None} if kind == "weight" else {})) | tool
    result = calc("breakaway", request)
    assert result["verdict"] == "measure_again"
    assert "reads the first move and no steady turning" in result["reason"]
    assert result["helps"] == []
    first = calc("breakaway", {**request, "judged_on": "first_move"})
    assert first["verdict"] == "go", "what it reads is the first move, wherever that was typed"


def test_a_click_wrench_is_not_asked_for_readings_that_it_cannot_take() -> None:
    wrench = {"kind": "click", "high_nm": 150, "division_nm": 1}
    typed = changed(BREAKAWAY, wrench=wrench, first_nm=readings(140, 141), steady_nm=None)
    result = calc("breakaway", typed)
    assert (result["verdict"], result["value_nm"]) == ("measure_again", pytest.approx(140.5))


def test_two_readings_a_third_apart_are_a_slip_and_no_call_for_eighteen_more() -> None:
    result = calc("breakaway", changed(BREAKAWAY, steady_nm={"forward": [84.5, 184.5]}, wrench__high_nm=200))
    assert result["verdict"] == "measure_again"
    assert result["reason"].startswith("The two readings forward, 84.5 N·m and 184.5 N·m, differ by more than a third")
    assert result["marked"] == ["steady_nm.forward.0", "steady_nm.forward.1"]
    assert result["helps"] == []


def test_of_several_readings_the_odd_one_is_marked() -> None:
    result = calc("breakaway", changed(BREAKAWAY, steady_nm={"forward": [84, 85, 84], "reverse": [83, 120, 84]}))
    assert "slip" in names(result)
    assert result["marked"] == ["steady_nm.reverse.1"]
    assert "Reading 2 reverse, 120.0 N·m" in result["reason"]
    assert calc("breakaway", BREAKAWAY)["marked"] == []


def test_a_hub_reduction_scales_the_reading() -> None:
    result = calc("breakaway", changed(BREAKAWAY, hub_ratio=2))
    assert result["value_nm"] == pytest.approx(50)


def test_a_weight_on_a_bar() -> None:
    request = changed(BREAKAWAY, wrench=None, steady_nm=None)
    request |= {
        "scale": {"kind": "weight", "high_n": 300, "division_n": 0.1},
        "bar": {"length_mm": 1000, "moment_nm": 6, "doubt_mm": 2},
        "steady_n": {"forward": [{"typed": "9,5", "unit": "kgf"}, {"typed": "9.6", "unit": "kgf"}]},
    }
    result = calc("breakaway", request)
    assert result["value_nm"] == pytest.approx(9.55 * 9.80665 + 6)
    assert "one_way" in names(result)


def test_a_wrench_out_of_calibration_decides_nothing() -> None:
    result = calc("breakaway", changed(BREAKAWAY, wrench__calibration_due="2026-05-08"))
    assert result["verdict"] == "measure_again"
    assert "2026-05-08" in result["reason"]
    assert verdict(wrench__calibration_due="2026-05-09") == "go"


def test_a_reading_at_the_foot_of_the_scale_decides_nothing() -> None:
    result = calc("breakaway", changed(BREAKAWAY, wrench__high_nm=800))
    assert result["verdict"] == "measure_again"
    assert "low_on_scale" in names(result)


def test_readings_that_drift_decide_nothing() -> None:
    result = calc("breakaway", changed(BREAKAWAY, steady_nm=readings(110, 105.2, 100.1, 95)))
    assert result["verdict"] == "measure_again"
    [drift] = [row for row in result["findings"] if row["name"] == "drift"]
    assert drift["number"] == pytest.approx(-15 / 102.6, abs=0.002)


def test_directions_that_disagree_decide_nothing() -> None:
    steady = {"forward": [92, 93, 92], "reverse": [108, 109, 108]}
    result = calc("breakaway", changed(BREAKAWAY, steady_nm=steady))
    assert result["verdict"] == "measure_again"
    assert "directions" in names(result)


def test_a_first_move_far_above_steady_is_named_sticking() -> None:
    result = calc("breakaway", changed(BREAKAWAY, first_nm=readings(140, 141)))
    [sticking] = [row for row in result["findings"] if row["name"] == "sticking"]
    assert sticking["number"] == pytest.approx(140.5 / 99.6667, abs=1e-3)
    assert result["verdict"] == "go"


def test_the_first_move_is_judged_where_the_order_says_so() -> None:
    result = calc("breakaway", changed(BREAKAWAY, judged_on="first_move", first_nm=readings(140, 141)))
    assert result["value_nm"] == pytest.approx(140.5)


def test_shares_of_the_budget_add_to_one_and_are_sorted() -> None:
    adapter = {"wrench_mm": 400, "adapter_mm": 60, "doubt_mm": 5}
    drag = {"case_nm": 4, "wheel_nm": 2, "doubt_nm": 2}
    budget = calc("breakaway", changed(BREAKAWAY, adapter=adapter, drag=drag))["budget"]
    assert {row["name"] for row in budget} == {"repeats", "tool", "division", "lengths", "angle", "drag"}
    assert sum(row["share"] for row in budget) == pytest.approx(1)
    assert [row["share"] for row in budget] == sorted((row["share"] for row in budget), reverse=True)


def test_a_remedy_that_says_it_decides_does_decide() -> None:
    request = changed(BREAKAWAY, steady_nm=readings(73, 79, 76), wrench__certificate_percent=2, limits={"low_nm": 73.5})
    result = calc("breakaway", request)
    assert result["verdict"] == "measure_again"
    [more] = [row for row in result["helps"] if row["name"] == "more_repeats"]
    assert more["decides"]
    # The promised number of readings, of the same mean and scatter, has to give a verdict.
    extra = int(more["text"].split()[1])
    count = 3 + extra
    scatter = 3.0 * ((count - 1) / count) ** 0.5 if count % 2 == 0 else 3.0
    values = [76 - scatter, 76 + scatter] * (count // 2) + [76.0] * (count % 2)
    again = calc("breakaway", changed(request, steady_nm=readings(*values)))
    assert again["guard_nm"] == pytest.approx(more["guard_nm"], rel=0.02)
    assert again["verdict"] == "go"
    fewer = [row["guard_nm"] for row in result["helps"]]
    assert fewer == sorted(fewer)


def test_holding_it_the_other_way_helps_where_the_scale_is_coarse() -> None:
    request = changed(
        BREAKAWAY, wrench={"kind": "dial", "high_nm": 300, "division_nm": 10}, steady_nm=readings(74, 75, 74)
    )
    helps = {row["name"]: row for row in calc("breakaway", request)["helps"]}
    other = calc("breakaway", changed(request, held="bench_case_held", steady_nm=readings(148, 150, 148)))
    assert helps["hold_other_way"]["guard_nm"] == pytest.approx(other["guard_nm"], rel=0.05)


def test_warm_and_fresh_readings_are_marked() -> None:
    found = names(calc("breakaway", changed(BREAKAWAY, circumstances={"temperature": "hot", "outings": 0})))
    assert {"temperature", "fresh"} <= set(found)


def test_sentences_are_written_in_the_unit_that_was_asked_for() -> None:
    assert "73.8 lbf·ft" in calc("breakaway", changed(BREAKAWAY, write_in="lbf_ft"))["reason"]


@given(st.floats(80, 120), st.floats(0.1, 3))
def test_more_scatter_never_narrows_the_guard(middle: float, spread: float) -> None:
    def guard(size: float) -> float:
        values = readings(middle - size, middle, middle + size, middle)
        return float(calc("breakaway", changed(BREAKAWAY, steady_nm=values))["guard_nm"])

    assert guard(2 * spread) >= guard(spread) * 0.999


def test_a_decimal_sign_in_the_wrong_place_is_pointed_at_and_no_remedy_is_promised() -> None:
    result = calc("breakaway", changed(BREAKAWAY, steady_nm={"forward": [84, 8.46, 85.5], "reverse": [83, 85, 84]}))
    assert result["verdict"] == "measure_again"
    assert result["reason"].startswith(
        "Reading 2 forward, 8.5 N·m, is far from the middle of all, 84.0 N·m: correct it"
    )
    assert result["helps"] == [], "more readings or a finer tool would not lift this"
    assert "stray" not in names(calc("breakaway", changed(BREAKAWAY, steady_nm=readings(70, 100, 130))))


def test_a_first_move_below_steady_turning_is_questioned() -> None:
    first = {"forward": [50, 51, 52]}
    assert "first_below" in names(calc("breakaway", changed(BREAKAWAY, first_nm=first)))


def angle_u(**adapter: float) -> float:
    """The part of the adapter's angle in the budget of the usual check, N·m."""
    given = {"wrench_mm": 400, "adapter_mm": 100, **adapter}
    [part] = [row for row in calc("breakaway", changed(BREAKAWAY, adapter=given))["budget"] if row["name"] == "angle"]
    return float(part["u_nm"])


def test_an_angle_set_by_eye_counts_most_where_the_adapter_is_square() -> None:
    # JCGM 100:2008, 5.1: A sin a / L for each radian; 3 degrees either way evenly, on a reading of 100 N·m.
    assert angle_u(angle_deg=90) == pytest.approx(100 * 0.25 * math.radians(3) / 3**0.5)
    assert angle_u(angle_deg=0) == 0.0
    assert angle_u(angle_deg=90, doubt_deg=0) == 0.0
    assert angle_u(angle_deg=30) == pytest.approx(angle_u(angle_deg=150)) == pytest.approx(angle_u(angle_deg=90) / 2)


def test_a_doubtful_angle_is_what_to_measure_better() -> None:
    adapter = {"wrench_mm": 400, "adapter_mm": 300, "angle_deg": 90, "doubt_deg": 20}
    result = calc("breakaway", changed(BREAKAWAY, adapter=adapter, steady_nm=readings(80, 81, 80)))
    assert result["verdict"] == "measure_again"
    assert result["helps"][0]["name"] == "measure_angle"
    better = changed(BREAKAWAY, adapter={**adapter, "doubt_deg": 5}, steady_nm=readings(80, 81, 80))
    assert calc("breakaway", better)["guard_nm"] == pytest.approx(result["helps"][0]["guard_nm"])


def test_a_drag_that_is_taken_off_is_never_taken_as_exact_unless_told() -> None:
    # Half of 8 on the free case and 3 on the wheel: 7 N·m, a quarter of which either way.
    def doubt(**drag: float) -> list[float]:
        result = calc("breakaway", changed(BREAKAWAY, drag={"case_nm": 8, "wheel_nm": 3, **drag}))
        return [row["u_nm"] for row in result["budget"] if row["name"] == "drag"]

    assert doubt() == [pytest.approx(7 / 4 / 3**0.5)]
    assert doubt(doubt_nm=2) == [pytest.approx(2 / 3**0.5)]
    assert doubt(doubt_nm=0) == []


def test_every_sentence_of_a_check_stands_in_the_unit_that_is_read() -> None:
    wrench = {"kind": "beam", "high_nm": {"typed": "100", "unit": "lbf_ft"}, "division_nm": 2}
    typed = [{"typed": text, "unit": "lbf_ft"} for text in ("74", "120")]
    request = changed(BREAKAWAY, wrench=wrench, steady_nm={"forward": typed}, write_in="lbf_ft")
    with pytest.raises(BadInput, match=r"The tool ends at 100 lbf·ft; got 120 lbf·ft\."):
        calc("breakaway", request)
    limits = {"low_nm": {"typed": "60", "unit": "lbf_ft"}, "high_nm": 20}
    with pytest.raises(BadInput, match=r"above the lowest, 60 lbf·ft\."):
        calc("breakaway", changed(BREAKAWAY, write_in="lbf_ft", limits=limits))
    scale = {"kind": "pull_scale", "high_n": {"typed": "30", "unit": "kgf"}, "division_n": 1}
    pulled = {"forward": [{"typed": text, "unit": "kgf"} for text in ("9,5", "20")]}
    request = changed(BREAKAWAY, wrench=None, steady_nm=None, scale=scale, bar={"length_mm": 1000}, steady_n=pulled)
    result = calc("breakaway", {**request, "write_forces_in": "kgf"})
    assert "9.5 kgf and 20.0 kgf" in result["reason"]
    pulled["forward"][1] = {"typed": "31", "unit": "kgf"}
    with pytest.raises(BadInput, match=r"The tool ends at 30 kgf; got 31 kgf\."):
        calc("breakaway", {**request, "write_forces_in": "kgf"})


def test_the_verdict_is_said_as_a_mechanic_would_and_why_behind_it() -> None:
    good = calc("breakaway", BREAKAWAY)
    assert good["reason"] == f"{good['value_nm']:.1f} N·m. Limits: 70.0 N·m to 130.0 N·m. Good to run."
    nearest = 130 if good["guard_nm"] == good["guard_high_nm"] else 70
    margin = abs(good["value_nm"] - nearest)
    assert good["why"] == (
        f"It lies {margin:.1f} N·m inside the limit of {nearest:.1f} N·m, more than the guard band of "
        f"{good['guard_nm']:.1f} N·m that the reading's doubt asks for."
    )
    low = calc("breakaway", changed(BREAKAWAY, limits={"low_nm": 150, "high_nm": 180}))
    assert low["verdict"] == "rework"
    assert low["reason"].endswith("Limits: 150.0 N·m to 180.0 N·m. Too low: re-set it.")
    assert "outside the limit of 150.0 N·m" in low["why"]
    high = calc("breakaway", changed(BREAKAWAY, limits={"low_nm": 50, "high_nm": 80}))
    assert high["reason"].endswith("Too high: re-set it.")
    close = calc("breakaway", changed(BREAKAWAY, limits={"low_nm": 99, "high_nm": None}))
    assert close["verdict"] == "measure_again"
    assert close["reason"].endswith("Limits: at least 99.0 N·m. Too close to a limit to say: measure again.")
    assert "less than the guard band" in close["why"]
