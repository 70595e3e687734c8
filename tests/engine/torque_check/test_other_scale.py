"""Figures that were read on the other scale of a wrench, and where a verdict leads.

Sources: NIST Special Publication 811 (2008), appendix B.8: 1 lbf·ft is 1.355 818 N·m and 1 kgf·m is 9.806 65 N·m.
"""

import random
from typing import Any

import pytest

from server.engine import calc
from server.engine.request.units import UNITS

from ..checks import BREAKAWAY, changed

POUND_FOOT = 1.355818
KILOGRAM_METRE = 9.80665

SCATTERED = {"forward": [88, 101, 95], "reverse": [92, 104, 90]}


def checked(figure: float, unit: str = "nm", **more: Any) -> dict[str, Any]:
    """A check whose readings all lie about a figure that was typed in a unit."""
    readings = [{"typed": str(round(figure * share, 3)), "unit": unit} for share in (1.0, 1.005, 0.995)]
    steady = {"forward": readings, "reverse": readings}
    return calc("breakaway", changed(BREAKAWAY, steady_nm=steady, write_in=unit, **more))


def unit_questions(result: dict[str, Any]) -> list[dict[str, Any]]:
    """What is asked about the unit."""
    return [row for row in result["findings"] if row["name"] == "unit"]


def test_pound_feet_typed_as_newton_metres_are_asked_about() -> None:
    # Limits of 48 to 96 lbf·ft; the wrench was read in lbf·ft and typed as N·m.
    limits = {"low_nm": {"typed": "48", "unit": "lbf_ft"}, "high_nm": {"typed": "96", "unit": "lbf_ft"}}
    result = checked(60.0, limits=limits)
    [row] = unit_questions(result)
    assert result["perhaps_in"] == "lbf_ft"
    assert row["number"] == pytest.approx(POUND_FOOT, rel=1e-6)
    assert "read in lbf·ft? Then it is 81.3 N·m" in row["text"]
    assert result["verdict"] == "rework"
    checked_again = checked(60.0, limits=limits, sure_of_unit=True)
    assert unit_questions(checked_again) == []
    assert checked_again["perhaps_in"] is None


def test_newton_metres_typed_as_pound_feet_are_asked_about() -> None:
    result = checked(105.0, "lbf_ft", limits={"low_nm": 70, "high_nm": 130})
    assert result["perhaps_in"] == "nm"
    assert "read in N·m? Then it is 77.4 lbf·ft" in unit_questions(result)[0]["text"]


def test_kilogram_force_metres_are_asked_about() -> None:
    result = checked(10.0, wrench={"name": "Old dial", "kind": "dial", "high_nm": 150, "division_nm": 0.1})
    assert result["perhaps_in"] == "kgf_m"
    assert unit_questions(result)[0]["number"] == pytest.approx(KILOGRAM_METRE)


def test_what_no_scale_of_the_tool_has_is_not_asked_about() -> None:
    # 115 lbf·ft are 156 N·m, and the wrench ends at 150.
    limits = {"low_nm": 150, "high_nm": 170}
    assert unit_questions(checked(115.0, limits=limits)) == []
    longer = {"name": "Long beam", "kind": "beam", "high_nm": 200, "division_nm": 2}
    assert unit_questions(checked(115.0, limits=limits, wrench=longer))


def test_a_scale_that_one_of_the_readings_would_leave_is_not_asked_about() -> None:
    # 110 lbf·ft are 149.1 N·m on a wrench that ends at 150; 111 lbf·ft are 150.5 N·m.
    readings = {"forward": [109, 110, 111], "reverse": [109, 110, 111]}
    limits = {"low_nm": 140, "high_nm": 170}
    assert unit_questions(calc("breakaway", changed(BREAKAWAY, steady_nm=readings, limits=limits))) == []
    readings = {"forward": [109, 110, 110], "reverse": [109, 110, 110]}
    assert unit_questions(calc("breakaway", changed(BREAKAWAY, steady_nm=readings, limits=limits)))


def test_a_go_that_the_last_check_speaks_against_is_in_doubt() -> None:
    # 92 lbf·ft are 124.7 N·m; typed as N·m they would pass as 92.
    result = checked(92.0, last_nm=125.0)
    assert result["perhaps_in"] == "lbf_ft"
    assert result["verdict"] == "measure_again"
    assert result["next"]["name"] == "unit"
    assert "what the last check found, 125.0 N·m" in result["reason"]
    assert checked(92.0, last_nm=125.0, sure_of_unit=True)["verdict"] == "go"
    # A torque that wore, or that stayed, is no other unit.
    assert unit_questions(checked(92.0, last_nm=100.0)) == []
    assert unit_questions(checked(92.0, last_nm=150.0)) == []


def test_a_pull_in_another_unit_is_asked_about() -> None:
    pull = {
        "wrench": None,
        "steady_nm": None,
        "scale": {"name": "Spring balance", "kind": "pull_scale", "high_n": 500, "division_n": 2},
        "bar": {"length_mm": 500, "doubt_mm": 1},
        "steady_n": {"forward": [45, 45.2, 45], "reverse": [45, 45.2, 45]},
    }
    result = calc("breakaway", changed(BREAKAWAY, **pull))
    # 45 lbf on half a metre: 45 x 4.448 N x 0.5 m.
    assert result["perhaps_in"] == "lbf"
    assert "read in lbf? Then it is 100.2 N·m" in unit_questions(result)[0]["text"]


def test_any_other_scale_is_found_again_whatever_the_figures() -> None:
    chance = random.Random(20261128)
    sizes = {name: size for name, _, size in UNITS["nm"]}
    wrench = {"name": "Any", "kind": "dial", "high_nm": 4000, "division_nm": 0.01}
    for _ in range(40):
        read, typed = chance.sample(sorted(sizes), 2)
        torque = chance.uniform(60.0, 180.0)
        limits = {"low_nm": 0.9 * torque, "high_nm": 1.1 * torque}
        if max(torque, torque / sizes[read] * sizes[typed]) > 3900:
            continue
        result = checked(torque / sizes[read], typed, limits=limits, wrench=wrench)
        assert result["perhaps_in"] == read, (read, typed, torque)
        assert unit_questions(result)[0]["number"] == pytest.approx(sizes[read] / sizes[typed])


@pytest.mark.parametrize(
    ("changes", "name", "words"),
    [
        ({}, "run", "Good to run"),
        ({"circumstances": {"outings": 0}}, "recheck", "after the first outing"),
        ({"limits": {"low_nm": 160}, "sure_of_unit": True}, "plan", "plan the rebuild"),
        ({"steady_nm": {"forward": [84, 44, 85], "reverse": [84, 85, 84]}}, "correct", "marked reading"),
        ({"steady_nm": {"forward": [110, 105, 100, 95], "reverse": [110, 105, 100, 95]}}, "afresh", "from the start"),
        ({"steady_nm": SCATTERED, "limits": {"low_nm": 88}}, "more", "three more each way"),
        ({"steady_nm": SCATTERED, "limits": {"low_nm": 92}}, "better", "lies at the limit"),
        ({"limits": {"low_nm": 95}}, "better", "use a tool that is twice as good"),
    ],
)
def test_a_verdict_leads_on(changes: dict[str, Any], name: str, words: str) -> None:
    result = calc("breakaway", changed(BREAKAWAY, **changes))
    assert result["next"]["name"] == name
    assert words in result["next"]["text"]
