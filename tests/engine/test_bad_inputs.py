"""Bad input gets one clear sentence at the field that caused it."""

from typing import Any

import pytest

from server.engine import BadInput, calc, calc_text
from server.engine.request.calculation import NO_CALCULATION

from .checks import BREAKAWAY, PLATES, UNIT, changed

FIRST = "steady_nm__forward__0"
AT_FIRST = "steady_nm.forward.0"


def refusal(name: str, request: dict[str, Any]) -> BadInput:
    """How a request is refused."""
    with pytest.raises(BadInput) as caught:
        calc(name, request)
    return caught.value


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({FIRST: ""}, AT_FIRST, "Fill this in"),
        ({FIRST: "   "}, AT_FIRST, "Fill this in"),
        ({FIRST: "abc"}, AT_FIRST, "Type a number"),
        ({FIRST: "1.234,5"}, AT_FIRST, "one decimal sign"),
        ({FIRST: "nan"}, AT_FIRST, "Type a number"),
        ({FIRST: "inf"}, AT_FIRST, "Type a number"),
        ({FIRST: float("nan")}, AT_FIRST, "Type a number"),
        ({FIRST: float("inf")}, AT_FIRST, "Type a number"),
        ({FIRST: True}, AT_FIRST, "Type a number"),
        ({FIRST: [1]}, AT_FIRST, "Type a number"),
        ({FIRST: "-5"}, AT_FIRST, "at least 0 N·m; got -5 N·m"),
        ({FIRST: 0}, AT_FIRST, "above 0"),
        ({FIRST: 1e9}, AT_FIRST, "at most 5000 N·m"),
        ({FIRST: "9" * 30}, AT_FIRST, "at most 20 digits"),
        ({FIRST: 151}, AT_FIRST, "The tool ends at 150 N·m; got 151 N·m"),
        ({FIRST: {"typed": "72,5", "unit": "furlong"}}, AT_FIRST, "Use one of these: N·m, lbf·ft, lbf·in, kgf·m"),
        ({FIRST: {"typed": "72,5", "unit": "mm"}}, AT_FIRST, "not a unit"),
        ({FIRST: {"typed": "72,5", "unit": "nm", "more": 1}}, AT_FIRST + ".more", "typed"),
        ({"steady_nm__forward": [100]}, "steady_nm.forward", "at least 2 readings"),
        ({"steady_nm__forward": []}, "steady_nm.forward", "at least 2 readings"),
        ({"steady_nm__forward": "100"}, "steady_nm.forward", "list"),
        ({"steady_nm__forward": [100] * 51}, "steady_nm.forward", "at most 50 readings"),
        ({"steady_nm": None}, "steady_nm.forward", "steady turning"),
        ({"colour": "red"}, "colour", "not asked for"),
        ({"wrench__colour": "red"}, "wrench.colour", "not asked for"),
        ({"held": "upside_down"}, "held", "Choose one of"),
        ({"held": None}, "held", "Fill this in"),
        ({"wrench": None}, "wrench", "Choose one tool"),
        ({"wrench__high_nm": None}, "wrench.high_nm", "Fill this in"),
        ({"wrench__low_nm": 150}, "wrench.high_nm", "above “Scale starts at”"),
        ({"wrench__division_nm": 100}, "wrench.division_nm", "quarter"),
        ({"limits": {}}, "limits.low_nm", "at least one limit"),
        ({"limits__low_nm": 140}, "limits.high_nm", "above the lowest"),
        ({"day": "09.05.2026"}, "day", "year-month-day"),
        ({"day": "2026-02-29"}, "day", "year-month-day"),
        ({"bar": {"length_mm": 500}}, "bar", "leave it out"),
        ({"steady_n": {"forward": [1, 2]}}, "steady_n", "give them as torques"),
        ({"adapter": {"wrench_mm": 300, "adapter_mm": 290, "angle_deg": 180}}, "adapter.adapter_mm", "leverage"),
        ({"drag": {"wheel_nm": 200}}, "drag", "drag"),
        ({"circumstances": {"outings": 1.5}}, "circumstances.outings", "whole number"),
    ],
)
def test_a_bad_torque_check_is_refused_at_its_field(changes: dict[str, Any], field: str, words: str) -> None:
    caught = refusal("breakaway", changed(BREAKAWAY, **changes))
    assert caught.field == field
    assert words in caught.reason
    assert caught.reason.endswith(".")


@pytest.mark.parametrize("typed", ["98,5", "98.5", " 98.5 ", "+98.5", {"typed": "98,5", "unit": "nm"}, 98.5])
def test_a_decimal_comma_is_as_good_as_a_point(typed: object) -> None:
    result = calc("breakaway", changed(BREAKAWAY, **{FIRST: typed}))
    assert result["directions"]["forward"]["readings_nm"][0] == 98.5


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"plates__0__minimum_mm": 2.6}, "plates.0.minimum_mm", "below the thickness when new, 2.500 mm"),
        ({"plates__0__points_mm": [2.4, 2.4]}, "plates.0.points_mm", "at least 3 points"),
        ({"plates__0__points_mm__2": "2..4"}, "plates.0.points_mm.2", "Type a number"),
        ({"plates__0__points_mm__2": 24.6}, "plates.0.points_mm.2", "cannot measure"),
        ({"plates__1__slot": "A2"}, "plates.1.slot", "twice"),
        ({"plates__1__marks": "awful"}, "plates.1.marks", "Choose one of"),
        ({"plates": []}, "plates", "some plates"),
        ({"micrometer": None}, "micrometer", "Fill this in"),
    ],
)
def test_bad_plates_are_refused_at_their_field(changes: dict[str, Any], field: str, words: str) -> None:
    caught = refusal("plates", changed(PLATES, **changes))
    assert caught.field == field
    assert words in caught.reason


def test_an_unknown_calculation_is_refused() -> None:
    assert refusal("horoscope", {}).reason == NO_CALCULATION


@pytest.mark.parametrize("text", ["", "{", "[]", "3", '{"calc": "note"}', '{"calc": "note", "request": 3}'])
def test_a_text_that_is_no_request_is_refused(text: str) -> None:
    assert '"bad"' in calc_text(text)


@pytest.mark.parametrize("limits", [{"low_nm": 0}, {}])
def test_a_lowest_torque_of_nothing_judges_nothing(limits: dict[str, Any]) -> None:
    caught = refusal("breakaway", changed(BREAKAWAY, limits=limits))
    assert (caught.field, caught.reason[:23]) == ("limits.low_nm", "Give at least one limit")


def test_a_unit_may_run_again_at_the_torque_that_was_ordered() -> None:
    caught = refusal("unit", changed(UNIT, service__low_nm=101))
    assert (caught.field, caught.reason) == ("service.low_nm", "This must not be above “Breakaway ordered”, 100.0 N·m.")
    assert calc("unit", changed(UNIT, service__low_nm=100))["breakaway_nm"] > 0
