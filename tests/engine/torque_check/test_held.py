"""What a user gets when the ramps press while the case is held, and when two wheels turn."""

import math
from typing import Any

import pytest

from server.engine import BadInput, calc

from ..checks import BREAKAWAY, SPRING_BETWEEN_RINGS, changed
from .test_breakaway import names
from .trials import verdicts

BUILD = SPRING_BETWEEN_RINGS | {"ramps": {"pin_radius_mm": 40.0, "drive_deg": 50.0, "coast_deg": 60.0, "mu": 0.1}}
# Locking values, by hand: faces · mu · radius / pin radius · cot(alpha + atan 0.1) = 0.63 · cot.
COAST, DRIVE = (0.63 / math.tan(math.radians(angle) + math.atan(0.1)) for angle in (60.0, 50.0))
IN_LINE = BUILD | {"layout": "in_line"}
DIAL = {"kind": "dial", "high_nm": 400, "division_nm": 1, "certificate_percent": 1}


def steep(drive: float = 50.0, coast: float = 60.0, **more: Any) -> dict[str, Any]:
    """The build with other ramps."""
    return {**BUILD, "ramps": {**BUILD["ramps"], "drive_deg": drive, "coast_deg": coast}, **more}


def held(way: str, build: dict[str, Any] | None, forward: float = 100, reverse: float = 100, **more: Any) -> Any:
    """The answer to two readings each way."""
    steady = {"forward": [forward] * 2, "reverse": [reverse] * 2}
    return calc("breakaway", changed(BREAKAWAY, held=way, build=build, steady_nm=steady, wrench=DIAL, **more))


@pytest.mark.parametrize("way", ["bench_case_held", "car_both_wheels_up"])
def test_a_spring_between_the_rings_reads_more_with_the_case_held_and_the_answer_says_how_much(way: str) -> None:
    locks = (COAST, DRIVE)
    result = held(way, BUILD, 200 / (1 - locks[0]), 200 / (1 - locks[1]))
    assert result["value_nm"] == pytest.approx(100, rel=1e-9)
    rows = [row for row in result["findings"] if row["name"] == "ramps"]
    assert [row["number"] for row in rows] == pytest.approx(locks, abs=1e-4)
    assert "turned forward, they make each pack 1.40 times what the preload gives (1.27 to 1.58)" in rows[0]["text"]
    assert "ramps" in {row["name"] for row in result["budget"]}


def test_each_direction_is_taken_by_the_flank_that_it_loads() -> None:
    # Turned forward the pins press on the coast flank: with 90 degrees there it adds nothing.
    result = held("bench_case_held", steep(coast=90.0), 200, 200 / (1 - DRIVE))
    forward, reverse = (result["directions"][way]["mean_nm"] for way in ("forward", "reverse"))
    assert forward == pytest.approx(100)
    assert reverse == pytest.approx(100, rel=1e-9)


@pytest.mark.parametrize("missing", ["ramps", "mu", "radius_mm", "first_faces"])
def test_ramps_that_nobody_knows_are_refused_with_what_to_do_instead(missing: str) -> None:
    with pytest.raises(BadInput, match="Hold one output instead, with the case free, or give the ramps") as refusal:
        held("bench_case_held", changed(BUILD, **{missing: None}))
    assert refusal.value.field == "held"
    assert held("bench_output_held", changed(BUILD, **{missing: None}))["verdict"] == "go"


def test_a_spring_that_may_sit_between_the_rings_is_refused_with_the_case_held() -> None:
    with pytest.raises(BadInput, match="Say where the unit's spring sits") as refusal:
        held("car_both_wheels_up", {"layout": "not_known"})
    assert refusal.value.field == "held"
    assert held("car_one_wheel_down", {"layout": "not_known"})["verdict"] == "go"


@pytest.mark.parametrize("layout", ["between_rings", "in_line", "two_springs"])
@pytest.mark.parametrize(
    ("drive", "coast", "field"), [(50.0, 20.0, "steady_nm.forward"), (20.0, 60.0, "steady_nm.reverse")]
)
def test_a_flank_that_locks_solid_cannot_be_turned(layout: str, drive: float, coast: float, field: str) -> None:
    with pytest.raises(
        BadInput, match=r"That flank cannot be turned: .*locks solid .*\(locking value 1\.\d\d\)"
    ) as bad:
        held("bench_case_held", steep(drive, coast, layout=layout))
    assert bad.value.field == field
    assert held("bench_output_held", steep(drive, coast, layout=layout))["verdict"] == "go"


def test_only_the_direction_that_was_read_has_to_turn() -> None:
    steady = {"forward": [100, 101]}
    request = changed(BREAKAWAY, held="bench_case_held", build=steep(drive=20.0), steady_nm=steady, wrench=DIAL)
    assert calc("breakaway", request)["value_nm"] == pytest.approx(100.5 / 2 * (1 - COAST), rel=1e-9)


def test_a_spring_in_line_is_felt_twice_as_long_as_the_ramps_do_not_lock() -> None:
    for build in (IN_LINE, IN_LINE | {"layout": "two_springs"}, IN_LINE | {"ramps": None}):
        result = held("bench_case_held", build, 200, 200)
        assert result["value_nm"] == pytest.approx(100)
        assert result["verdict"] == "go"
        assert not {"ramps", "layout"} & set(names(result))


def test_a_spring_in_line_that_the_other_wheels_drag_relieves_decides_nothing() -> None:
    build = {**steep(drive=25.0, coast=25.0), "layout": "in_line", "mu": 0.09}
    drag = {"wheel_nm": 30, "other_wheel_nm": 30}
    result = held("car_both_wheels_up", build, 230, 230, drag=drag)
    assert "ramps_hold" in names(result)
    assert result["verdict"] == "measure_again"
    assert "ramps_hold" not in names(held("car_both_wheels_up", build, 230, 230))


def test_ramps_that_may_press_harder_than_a_spring_in_line_decide_nothing() -> None:
    # Locking value 0.75, which friction may make 0.8: with a drag of 10 the ramps alone hold each pack at 40.
    build = steep(50.0, 50.0, layout="in_line")
    build["ramps"]["pin_radius_mm"] *= DRIVE / 0.75
    read = 2 * 0.8 * 10 / (1 - 0.8) + 2 * 10
    result = held("car_both_wheels_up", build, read, read, drag={"wheel_nm": 10}, limits={"low_nm": 25})
    assert "ramps_hold" in names(result)
    assert result["verdict"] == "measure_again", "whatever little the spring gives"
    # Far above what the drag can do it is the spring that is felt.
    much = held("car_both_wheels_up", build, 390, 390, drag={"wheel_nm": 5}, limits={"low_nm": 25})
    assert "ramps_hold" not in names(much)
    assert much["verdict"] == "go"


def test_ramps_that_may_lock_decide_nothing() -> None:
    result = held("bench_case_held", steep(drive=32.0), 100, 390)
    assert result["verdict"] == "measure_again"
    assert "they may lock it solid, turned reverse" in result["reason"]


def test_to_hold_one_output_is_what_helps_most_where_the_ramps_press() -> None:
    result = held("bench_case_held", BUILD, 240, 300, limits={"low_nm": 75})
    assert result["verdict"] == "measure_again"
    first = result["helps"][0]
    assert first["name"] == "hold_other_way"
    assert "one output held, case free, where the ramps do not press" in first["text"]
    free = held("bench_output_held", BUILD, result["value_nm"], result["value_nm"], limits={"low_nm": 75})
    assert first["guard_nm"] == pytest.approx(free["guard_nm"], rel=0.02)
    helps = held("bench_output_held", BUILD, 76, 76, limits={"low_nm": 75})["helps"]
    assert "hold_other_way" not in [row["name"] for row in helps]


def test_without_the_build_it_is_said_that_the_ramps_might_press() -> None:
    result = held("bench_case_held", None, 200, 200)
    assert (result["verdict"], result["value_nm"]) == ("go", pytest.approx(100))
    [row] = [row for row in result["findings"] if row["name"] == "layout"]
    assert "between the ramp rings the ramps press too" in row["text"]
    assert "layout" not in names(held("bench_output_held", None))


def test_mixing_up_the_ways_of_holding_is_pointed_out_with_the_ramps_counted() -> None:
    # Taken for one output held: 240 with the case held would be 77 N·m.
    result = held("bench_output_held", BUILD, 240, 240)
    [row] = [row for row in result["findings"] if row["name"] == "holding"]
    assert row["number"] == pytest.approx(((1 - COAST) / 2 + (1 - DRIVE) / 2) / 2, abs=1e-4)
    unknown = BUILD | {"ramps": None}
    assert "holding" not in names(held("bench_output_held", unknown, 200, 200)), "nobody can say what it would be"


def test_what_is_felt_with_the_case_held_is_left_open_where_it_is_not_known() -> None:
    assert held("bench_output_held", BUILD | {"ramps": None})["felt"]["case_held_nm"] is None
    assert held("bench_output_held", steep(drive=20.0))["felt"]["case_held_nm"] is None
    assert held("bench_output_held", None)["felt"]["case_held_nm"] == pytest.approx(200)


def test_a_unit_at_its_limit_is_not_let_go_for_the_drag_of_a_second_wheel() -> None:
    # 6 N·m on each of two wheels, of which one was counted: a wrong go in 99 of 100 such checks.
    way = {
        "held": "car_both_wheels_up",
        "wrench": {"kind": "electronic", "high_nm": 250, "division_nm": 0.5, "certificate_percent": 1},
        "counts": [3, 3],
        "scatter": 1.0,
    }
    given = way | {"drag": {"wheel_nm": 6.0, "doubt_nm": 0.5}}
    assert verdicts(70.0, given, {"low_nm": 70}, 1500).get("go", 0.0) <= 0.05
