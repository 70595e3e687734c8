"""Ramps that lock solid are said of the unit, with a verdict of their own."""

from typing import Any

import pytest

from server.engine import calc

from ..checks import UNIT, changed
from .entries import check_near, entry


def ramped(drive: float, coast: float) -> dict[str, Any]:
    """The unit of the checks with ramps on pins close to its axis."""
    return changed(UNIT, ramps={"pin_radius_mm": 20, "drive_deg": drive, "coast_deg": coast})


def stands(unit: dict[str, Any], *readings: float) -> dict[str, Any]:
    """What stands for a unit that was checked so often."""
    log = [entry(1, "unit", unit, "2026-03-01T09:00:00Z", seq=1)]
    log += [
        entry(2 + number, "torque_check", check_near(torque), f"2026-03-0{2 + number}T09:00:00Z", seq=2 + number)
        for number, torque in enumerate(readings)
    ]
    return calc("standing", {"entries": log, "today": "2026-03-09"})


def test_a_unit_that_locks_solid_on_drive_is_rework_whatever_its_torque() -> None:
    assert stands(ramped(80, 80), 90)["verdict"] == "go"
    state = stands(ramped(10, 80), 90)
    assert state["torque"]["verdict"] == "go"
    assert state["verdict"] == "rework"
    [finding] = state["findings"]
    assert (finding["name"], finding["verdict"]) == ("solid_drive", "rework")
    assert state["reason"] == finding["text"]
    assert "fit ramps with a larger angle" in finding["text"]


def test_it_is_said_before_anybody_read_a_torque() -> None:
    assert stands(ramped(10, 80))["verdict"] == "rework"


def test_solid_on_coast_alone_is_a_finding_without_a_verdict() -> None:
    state = stands(ramped(80, 10), 90)
    assert state["verdict"] == "go"
    [finding] = state["findings"]
    assert (finding["name"], finding["verdict"]) == ("solid_coast", None)
    assert "on purpose" in finding["text"]


def test_a_unit_without_ramps_stays_as_it_was() -> None:
    unit = changed(UNIT)
    unit.pop("ramps", None)
    state = stands(unit, 90)
    assert (state["findings"], state["verdict"]) == ([], "go")


@pytest.mark.parametrize("drive", [10, 25, 45, 60])
def test_the_finding_says_what_the_ramps_screen_says(drive: float) -> None:
    state = stands(ramped(drive, 80), 90)
    [shown, _] = calc("ramps", {"built": state["built"]})["fittings"]
    assert shown["drive"]["solid"] == bool(state["findings"])
    for finding in state["findings"]:
        assert f"locking value {shown['drive']['locking_value']:.2f}" in finding["text"]


def test_a_friction_that_nobody_can_believe_judges_no_ramps() -> None:
    # The definition's friction counts then, as if nobody had read a torque.
    unread, read = stands(ramped(10, 80)), stands(ramped(10, 80), 20)
    assert calc("ramps", {"built": read["built"]})["mu"] < 0.04
    assert read["findings"] == unread["findings"] != []
