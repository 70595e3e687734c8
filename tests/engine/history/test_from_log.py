"""What the log can say of a depth or a friction that nobody measured."""

from typing import Any

import pytest

from server.engine import calc
from tests.engine.checks import UNIT, changed

from .entries import check_near, entry

DAYS = [f"2026-03-{day:02d}T09:00:00+01:00" for day in range(1, 29)]
NO_DEPTH = changed(UNIT, cavity_mm=None)


def built_to(thicker: float, torque: float, number: int) -> list[dict[str, Any]]:
    """A rebuild whose first friction plate is so much thicker, and a check of it once bedded in."""
    fitted = [{"slot": "A2", "mm": 2.5 + thicker}]
    return [
        entry(number, "rebuild", {"note": "plates", "fitted": fitted}, DAYS[number]),
        entry(number + 1, "torque_check", check_near(torque, outings=3), DAYS[number + 1]),
    ]


def torque_at(depth: float) -> float:
    """What the unit gives, by the engine's own formula of it, at a depth."""
    torque: float = calc("unit", changed(UNIT, cavity_mm=depth))["breakaway_nm"]
    return torque


def ways(entries: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {row["from"]: row for row in calc("from_log", {"entries": entries})["figures"]}


def test_a_depth_that_is_not_known_comes_of_the_last_check_and_of_two_builds() -> None:
    # 0.3 mm more in the stack squeezes it as far as 0.3 mm less of depth.
    log = [entry(0, "unit", NO_DEPTH, DAYS[0])]
    log += built_to(0.0, torque_at(63.5), 1) + built_to(0.3, torque_at(63.2), 3)
    found = ways(log)
    assert list(found) == ["depth_from_builds", "depth_from_torque"]
    assert {row["field"] for row in found.values()} == {"cavity_mm"}
    for row in found.values():
        again = calc("work_out", row["request"])
        assert again["text"] == row["text"]
        assert again["mm"]["value"] == pytest.approx(63.5, abs=0.03)
    assert {row["path"] for row in found["depth_from_torque"]["typed"]} == {"torque.torque_nm", "torque.expanded_nm"}
    assert DAYS[4][:10] in found["depth_from_torque"]["basis"]


def test_a_known_depth_leaves_the_friction_to_say() -> None:
    log = [entry(0, "unit", UNIT, DAYS[0]), *built_to(0.0, 140, 1)]
    assert list(ways(log)) == ["friction_from_torque"]
    marked = changed(UNIT, worked_out={"mu": {"from": "friction_from_torque", "value": 0.1, "u": 0.01}})
    assert ways([entry(0, "unit", marked, DAYS[0]), *built_to(0.0, 140, 1)]) == {}


def test_nothing_is_said_where_the_log_says_nothing() -> None:
    assert ways([]) == {}
    assert ways([entry(0, "unit", NO_DEPTH, DAYS[0])]) == {}
    assert ways([entry(0, "unit", {"name": "Bare"}, DAYS[0]), *built_to(0.0, 100, 1)]) == {}
    # A spring that gives this torque at two crushes.
    steep = changed(NO_DEPTH, spring={"de_mm": 100, "di_mm": 51, "t_mm": 2.0, "l0_mm": 5.6})
    assert ways([entry(0, "unit", steep, DAYS[0]), *built_to(0.0, 71, 1)]) == {}


def test_without_friction_two_builds_still_say_the_depth() -> None:
    log = [entry(0, "unit", changed(NO_DEPTH, friction=None), DAYS[0])]
    log += built_to(0.0, torque_at(63.5), 1) + built_to(0.3, torque_at(63.2), 3)
    assert list(ways(log)) == ["depth_from_builds"]
