"""A figure that was worked out is told from one that was measured, and what rests on it is less sure."""

from typing import Any

import pytest

from server.engine import calc
from tests.engine.checks import UNIT, changed
from tests.engine.samples import sample

DEPTH = {"from": "depth_from_gap", "value_mm": 62.9, "u_mm": 0.1, "basis": "a gap of 1.400 mm"}
HEIGHT = {"from": "height_from_load", "value_mm": 6.3, "u_mm": 0.05}
FRICTION = {"from": "friction_from_torque", "value": 0.1, "u": 0.004}
RAMPS = {"pin_radius_mm": 45, "drive_deg": 60, "coast_deg": 70}
WHEEL = {"load_kg": 400, "grip": 0.1}


def with_marks(base: dict[str, Any], **marks: Any) -> dict[str, Any]:
    return changed(base, worked_out=marks)


def concerns(result: dict[str, Any]) -> set[str]:
    return {row["name"] for row in result["warnings"] if row["name"].startswith("worked_out")}


def test_the_definition_says_what_was_worked_out_and_from_what() -> None:
    result = calc("unit", with_marks(UNIT, cavity_mm=DEPTH, l0_mm=HEIGHT, mu=FRICTION))
    assert [(row["field"], row["value"]) for row in result["worked_out"]] == [
        ("cavity_mm", "62.900 mm"),
        ("spring.l0_mm", "6.300 mm"),
        ("friction.mu", "0.100"),
    ]
    first = result["worked_out"][0]
    assert "worked out, not measured: from the gap under the loose cover, give or take 0.196 mm" in first["text"]
    assert first["basis"] == "a gap of 1.400 mm"
    assert concerns(result) == {"worked_out_cavity_mm", "worked_out_l0_mm", "worked_out_mu"}


def test_a_measured_figure_in_its_place_ends_the_mark() -> None:
    result = calc("unit", with_marks(changed(UNIT, cavity_mm=62.91), cavity_mm=DEPTH, mu=FRICTION))
    assert [row["field"] for row in result["worked_out"]] == ["friction.mu"]
    assert result["checked"]["worked_out"]["cavity_mm"] is None
    assert calc("unit", with_marks(changed(UNIT, cavity_mm=62.91), cavity_mm=DEPTH))["checked"]["worked_out"] is None


def test_a_figure_typed_in_another_unit_keeps_its_mark() -> None:
    inches = {"typed": "2.4764", "unit": "inch"}
    marked = with_marks(changed(UNIT, cavity_mm=inches), cavity_mm=DEPTH | {"value_mm": 2.4764 * 25.4})
    assert len(calc("unit", marked)["worked_out"]) == 1


def test_a_definition_without_marks_answers_as_ever() -> None:
    plain, empty = calc("unit", UNIT), calc("unit", UNIT | {"worked_out": None})
    assert plain == empty
    assert plain["worked_out"] == []
    assert concerns(plain) == set()


def ramps(unit: dict[str, Any], **more: Any) -> tuple[float, dict[str, Any]]:
    result = calc("ramps", {"unit": changed(unit, ramps=RAMPS)} | more)
    return result["preload_lock_high_nm"] - result["preload_lock_low_nm"], result


def traction(unit: dict[str, Any]) -> tuple[float, dict[str, Any]]:
    built = {"unit": changed(unit, ramps=RAMPS)}
    result = calc("traction", {"left": WHEEL, "right": WHEEL | {"grip": 1.0}, "tyre_radius_mm": 300, "built": built})
    return result["unit_high_nm"] - result["unit_low_nm"], result


def closing(unit: dict[str, Any]) -> tuple[float, dict[str, Any]]:
    result = calc("closing", {"unit": unit})
    return result["vice_most_n"] - result["flush_n"], result


def plan(unit: dict[str, Any]) -> tuple[float, dict[str, Any]]:
    request = sample("plan", "measured pieces, no torque measured")
    spread = {name: unit[name] for name in ("worked_out",) if name in unit}
    for mark, path in (("cavity_mm", "cavity_mm"), ("l0_mm", "spring.l0_mm")):
        if spread.get("worked_out", {}).get(mark):
            value = request["unit"]
            for name in path.split("."):
                value = value[name]
            spread["worked_out"][mark] = spread["worked_out"][mark] | {"value_mm": value}
    result = calc("plan", request | {"unit": request["unit"] | spread})
    return result["spread_nm"]["high_nm"] - result["spread_nm"]["low_nm"], result


@pytest.mark.parametrize("way", [ramps, traction, closing, plan])
def test_what_rests_on_a_worked_out_depth_is_less_sure_and_says_so(way: Any) -> None:
    (sure, measured), (wide, marked) = way(UNIT), way(with_marks(UNIT, cavity_mm=DEPTH | {"u_mm": 0.2}))
    assert wide > 1.05 * sure
    assert (concerns(measured), concerns(marked)) == (set(), {"worked_out_cavity_mm"})


def test_a_free_height_as_unsure_as_a_new_springs_widens_no_less_than_that_of_a_gauge() -> None:
    for way in (ramps, traction, plan):
        gauged = way(with_marks(UNIT, l0_mm=HEIGHT | {"u_mm": 0.01}))[0]
        assert way(with_marks(UNIT, l0_mm=HEIGHT | {"u_mm": 0.3}))[0] > gauged
    assert closing(with_marks(UNIT, l0_mm=HEIGHT))[0] > closing(UNIT)[0]


def test_friction_from_a_torque_is_surer_than_an_assumed_one() -> None:
    assumed, worked = ramps(UNIT), ramps(with_marks(UNIT, mu=FRICTION))
    assert worked[0] < assumed[0]
    assert concerns(worked[1]) == {"worked_out_mu"}
    # A torque measured with this build stands for it.
    assert concerns(ramps(with_marks(UNIT, mu=FRICTION), measured_nm=170)[1]) == set()
    names = {row["name"] for row in plan(with_marks(UNIT, mu=FRICTION))[1]["warnings"]}
    assert "worked_out_mu" in names
    assert "assumed_friction" not in names


def test_a_measured_crush_needs_no_depth_at_the_vice() -> None:
    marked = with_marks(UNIT, cavity_mm=DEPTH)
    assert calc("closing", {"unit": marked, "crush_mm": 1.4})["vice_most_n"] == pytest.approx(
        calc("closing", {"unit": UNIT, "crush_mm": 1.4})["vice_most_n"]
    )


def test_the_screws_are_left_less_by_a_depth_that_may_be_smaller() -> None:
    cover = {"screws": 8, "screw_mm": 8, "torque_nm": 25, "case_nm": 100}
    results = [
        calc("closing", {"unit": changed(unit, ramps=RAMPS, cover=cover)})
        for unit in (UNIT, with_marks(UNIT, cavity_mm=DEPTH))
    ]
    assert results[1]["left_low_n"] < results[0]["left_low_n"]
    assert results[1]["push_most_n"] > results[0]["push_most_n"]
    assert results[1]["free_after_mm"] == pytest.approx(results[0]["free_after_mm"] + 1.96 * 0.1)
