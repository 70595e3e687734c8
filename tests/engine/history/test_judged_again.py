"""A check that an older engine judged: what stands goes by the worse verdict, and says so."""

from typing import Any

import pytest

from server.engine import ENGINE_VERSION, calc

from ..checks import BREAKAWAY, UNIT, chain, changed
from .entries import check_near, entry

RAMPS = {"pin_radius_mm": 40, "drive_deg": 45, "coast_deg": 45, "mu": 0.1}
INSIDE = changed(UNIT, layout="between_rings", chain=chain("between_rings"), ramps=RAMPS)
OLD = "1.3"
READ = {"forward": [180, 181, 180], "reverse": [180, 181, 180]}
HELD = changed(BREAKAWAY, held="bench_case_held", steady_nm=READ, wrench__high_nm=250)


def standing(unit: dict[str, Any], check: dict[str, Any], **more: Any) -> Any:
    """What stands with this check, judged by an older engine unless it says otherwise."""
    taken_in = entry(1, "unit", unit, "2026-03-01T09:00:00+01:00", seq=1)
    judged = entry(2, "torque_check", check, "2026-03-02T09:00:00+01:00", seq=2) | {"engine": OLD} | more
    return calc("standing", {"entries": [taken_in, judged]})


def test_a_check_of_a_spring_between_the_rings_with_the_case_held_is_put_right() -> None:
    assert calc("breakaway", HELD)["verdict"] == "go", "as the older engine had it: half of what was read"
    state = standing(INSIDE, HELD)
    again = state["judged_again"]
    assert (again["id"], again["engine"]) == ("id-2", OLD)
    # Locking value 8 / 2 faces · 0.1 · 44 mm / 40 mm · cot(45° + atan 0.1) = 0.36.
    assert again["value_nm"] == pytest.approx(180.33 / 2 * (1 - 0.36), rel=1e-3)
    assert state["verdict"] == state["torque"]["verdict"] == again["verdict"] != "go"
    assert again["text"].startswith("Judged go by Slipbook's engine 1.3; today's engine says ")
    assert state["built"]["measured"]["torque_nm"] == pytest.approx(again["value_nm"])
    assert state["start"]["last_nm"] == pytest.approx(again["value_nm"]), "what the next check is compared with"


def test_what_can_no_longer_be_told_has_to_be_measured_again() -> None:
    state = standing(changed(INSIDE, ramps=None), HELD)
    assert state["judged_again"]["value_nm"] is None
    assert state["verdict"] == "measure_again"
    assert "their angles are not known" in state["reason"]
    assert state["torque"]["value_nm"] == pytest.approx(180.33 / 2, rel=1e-3), "as it was shown"
    assert state["built"]["measured"] is None, "nothing is worked out from it"
    assert state["start"]["last_nm"] is None


def test_both_wheels_drag_is_put_right() -> None:
    check = changed(BREAKAWAY, held="car_both_wheels_up", drag={"wheel_nm": 8}, steady_nm=check_near(160)["steady_nm"])
    check = changed(check, wrench__high_nm=250)
    shown = changed(calc("breakaway", check), verdict="go", value_nm=76.2)
    state = standing(UNIT, check, shown=shown)
    assert state["judged_again"]["value_nm"] == pytest.approx((160 + 1 / 3 - 16) / 2)


def test_a_verdict_that_got_better_does_not_let_a_unit_go() -> None:
    check = check_near(100)
    shown = changed(calc("breakaway", check), verdict="rework", reason="as it was")
    state = standing(UNIT, check, shown=shown)
    assert state["judged_again"]["verdict"] == "go"
    assert (state["verdict"], state["reason"]) == ("rework", "as it was")


@pytest.mark.parametrize("engine", [ENGINE_VERSION, "99.0", "", "one"])
def test_only_an_older_engine_is_questioned(engine: str) -> None:
    assert standing(INSIDE, HELD, engine=engine)["judged_again"] is None


def test_where_nothing_differs_nothing_is_said() -> None:
    assert standing(UNIT, check_near(100))["judged_again"] is None
    assert standing(UNIT, HELD)["judged_again"] is None, "in line the ramps change nothing"


def test_trend_and_comparison_go_by_the_torque_as_it_is_found_now() -> None:
    taken_in = entry(1, "unit", INSIDE, "2026-03-01T09:00:00+01:00", seq=1)
    old = entry(2, "torque_check", HELD, "2026-03-02T09:00:00+01:00", seq=2, engine=OLD)
    new = entry(3, "torque_check", check_near(57), "2026-04-02T09:00:00+01:00", seq=3)
    right = 180.33 / 2 * (1 - 0.36)
    result = calc("standing", {"entries": [taken_in, old, new]})
    assert [row["value_nm"] for row in result["trend"]] == pytest.approx([right, 57.333], rel=1e-3)
    changed_by = calc("change", {"entries": [taken_in, old, new]})
    assert changed_by["compared"]["change_nm"] == pytest.approx(57.333 - right, abs=0.1)
    unknown = entry(1, "unit", changed(INSIDE, ramps=None), "2026-03-01T09:00:00+01:00", seq=1)
    result = calc("standing", {"entries": [unknown, old, new]})
    assert [row["value_nm"] for row in result["trend"]] == [pytest.approx(57.333, rel=1e-3)]
    assert calc("change", {"entries": [unknown, old, new]})["compared"] is None


def test_any_check_of_an_older_engine_can_be_asked_about() -> None:
    entries = [
        entry(1, "unit", INSIDE, "2026-03-01T09:00:00+01:00", seq=1),
        entry(2, "torque_check", HELD, "2026-03-02T09:00:00+01:00", seq=2, engine=OLD),
        entry(3, "torque_check", check_near(100), "2026-03-03T09:00:00+01:00", seq=3, engine=OLD),
    ]

    def again(name: str) -> Any:
        return calc("judged_again", {"entries": entries, "id": name})["again"]

    assert again("id-2")["verdict"] != "go"
    assert [again(name) for name in ("id-1", "id-3", "id-9")] == [None, None, None]


def test_a_check_by_limits_that_are_none_of_todays_is_told() -> None:
    """By the order's limits, or by those between rebuilds; 100 ± 10 and 70 to 130 N·m."""
    first = entry(1, "unit", UNIT, "2026-03-01T09:00:00+01:00", seq=1)
    between = entry(2, "torque_check", check_near(100), "2026-03-02T09:00:00+01:00", seq=2)
    ordered = changed(check_near(100), limits={"low_nm": 90, "high_nm": 110})
    ordered = entry(3, "torque_check", ordered, "2026-03-03T09:00:00+01:00", seq=3)

    def outdated(**change: Any) -> list[bool]:
        later = entry(4, "unit", changed(UNIT, **change), "2026-03-04T09:00:00+01:00", seq=4)
        entries = [first, between, ordered, later]
        return [calc("judged_again", {"entries": entries, "id": f"id-{name}"})["outdated"] for name in (2, 3, 4, 9)]

    assert outdated() == [False] * 4
    assert outdated(service__low_nm=80) == [True, False, False, False]
    assert outdated(order__torque_nm=120) == [False, True, False, False]
