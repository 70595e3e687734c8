"""Ramps, lock and traction, at the limits where reasoning alone gives the answer."""

import copy
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.engine import calc
from server.engine.corner.limits import put_down
from server.engine.drive.lock import Lock, bias_ratio, holds_to, lock_at, takes_over_at
from server.engine.unit.pressing import axial_per_torque

from ..checks import changed
from ..samples import sample

IN_LINE = sample("ramps", "in line")
BETWEEN = sample("ramps", "between the rings")
ANGLES, FRICTIONS = st.floats(5, 90), st.floats(0, 0.4)
LOCKS = st.builds(Lock, st.floats(0, 500), st.floats(0, 1.5), st.booleans())
TORQUES = st.floats(1, 2000)


def test_a_ramp_of_ninety_degrees_adds_no_lock() -> None:
    # Common practice, no source; and cot 90 is 0.
    assert axial_per_torque(90.0, 0.0, 30.0) == 0.0
    assert axial_per_torque(90.0, 0.1, 30.0) == 0.0


def test_a_frictionless_ramp_of_45_degrees_is_a_wedge_of_one() -> None:
    # F = T / (2 r) · cot 45: 1 N·m at 50 mm, half through each ring.
    assert axial_per_torque(45.0, 0.0, 50.0) == pytest.approx(10.0, rel=1e-15)


@given(st.floats(5, 89), FRICTIONS, st.floats(5, 200))
def test_the_wedge_with_friction_equals_the_cotangent(angle: float, mu: float, radius: float) -> None:
    cot = 1 / math.tan(math.radians(angle) + math.atan(mu))
    assert axial_per_torque(angle, mu, radius) == pytest.approx(max(0.0, 1000 / (2 * radius) * cot), abs=1e-9 * 1000)


@given(ANGLES, ANGLES, FRICTIONS)
def test_a_shallower_ramp_locks_harder(angle: float, other_angle: float, mu: float) -> None:
    # Common practice, no source.
    low, high = sorted((angle, other_angle))
    assert axial_per_torque(low, mu, 30) >= axial_per_torque(high, mu, 30) >= 0


@given(ANGLES, FRICTIONS, FRICTIONS)
def test_friction_on_the_ramp_takes_force_away(angle: float, friction: float, other_friction: float) -> None:
    low, high = sorted((friction, other_friction))
    assert axial_per_torque(angle, low, 30) >= axial_per_torque(angle, high, 30)


@given(st.floats(0, 0.99))
def test_the_bias_ratio_gives_the_difference_over_the_sum_back(locking: float) -> None:
    bias = bias_ratio(locking)
    assert bias is not None
    assert (bias - 1) / (bias + 1) == pytest.approx(locking, abs=1e-12)


@pytest.mark.parametrize(("locking", "bias"), [(0.25, 1.667), (0.40, 2.333)])
def test_locking_values_of_the_trade(locking: float, bias: float) -> None:
    # Common definition, difference over sum of the two output torques; arithmetic.
    assert bias_ratio(locking) == pytest.approx(bias, abs=0.0005)


def test_from_one_up_it_is_solid() -> None:
    assert bias_ratio(1.0) is None
    assert bias_ratio(1.3) is None


@given(st.floats(1, 500), st.floats(0.01, 1.5))
def test_in_line_the_ramps_take_over_without_a_step(preload: float, ramp: float) -> None:
    lock = Lock(preload, ramp, False)
    there = takes_over_at(lock)
    assert there is not None
    assert lock_at(lock, 0.5 * there) == preload
    assert lock_at(lock, there * (1 - 1e-9)) == pytest.approx(lock_at(lock, there * (1 + 1e-9)), rel=1e-8)
    assert lock_at(lock, 2 * there) == pytest.approx(2 * preload)


@given(LOCKS, TORQUES)
def test_up_to_where_it_holds_lock_is_no_less_than_torque(lock: Lock, torque: float) -> None:
    end = holds_to(lock)
    solid = end is None or torque <= end
    if end is None or abs(torque - end) > 1e-9 * end:
        assert (lock_at(lock, torque) >= torque) == solid


@given(LOCKS, TORQUES, TORQUES)
def test_lock_never_falls_with_torque(lock: Lock, torque: float, other_torque: float) -> None:
    low, high = sorted((torque, other_torque))
    assert lock_at(lock, low) <= lock_at(lock, high)


@pytest.mark.parametrize("request_", [IN_LINE, BETWEEN], ids=["in line", "between the rings"])
def test_turning_the_rings_over_swaps_drive_and_coast(request_: dict[str, Any]) -> None:
    as_is, turned = calc("ramps", request_)["fittings"]
    assert (as_is["fitted"], turned["fitted"]) == ("as_is", "turned_over")
    assert as_is["drive"] == turned["coast"]
    assert as_is["coast"] == turned["drive"]


def test_a_spring_between_the_rings_adds_where_one_in_line_is_relieved() -> None:
    line = calc("ramps", IN_LINE)["fittings"][0]["drive"]
    between = calc("ramps", BETWEEN)["fittings"][0]["drive"]
    assert line["locking_value"] == pytest.approx(between["locking_value"])
    assert between["takes_over_nm"] is None
    preload = line["curve"][0]["lock_nm"]
    for in_line, adding in zip(line["curve"], between["curve"]):
        by_ramps = line["locking_value"] * in_line["torque_nm"]
        assert in_line["lock_nm"] == pytest.approx(max(preload, by_ramps))
        assert adding["lock_nm"] == pytest.approx(preload + by_ramps)


def test_where_the_ramps_add_from_the_start_nobody_reads_never() -> None:
    between, line = (calc("ramps", request)["fittings"][0]["drive"] for request in (BETWEEN, IN_LINE))
    assert between["takes_over"] == "they add from the start"
    assert line["takes_over"] == f"{line['takes_over_nm']:.1f} N·m"
    steep = {"pin_radius_mm": 34, "drive_deg": 90, "coast_deg": 90}
    assert calc("ramps", dict(BETWEEN, ramps=steep))["fittings"][0]["drive"]["takes_over"] == "never"


def test_without_torque_the_lock_is_what_the_wrench_feels() -> None:
    result = calc("ramps", IN_LINE)
    unit = calc("unit", IN_LINE["unit"])
    assert result["breakaway_nm"] == pytest.approx(unit["breakaway_nm"])
    assert result["preload_lock_nm"] == pytest.approx(unit["pack_nm"]["first"] + unit["pack_nm"]["second"])


def test_a_measured_torque_sets_the_lock() -> None:
    result = calc("ramps", dict(IN_LINE, measured_nm=80))
    assert result["breakaway_nm"] == pytest.approx(80)
    stated = copy.deepcopy(IN_LINE)
    stated["unit"]["stated_for"] = "case_held"
    assert calc("ramps", dict(stated, measured_nm=160))["mu"] == pytest.approx(result["mu"])


def test_gears_add_what_the_ears_take_away_from_the_ramps() -> None:
    full = sample("ramps", "gears, ears, friction of the disc and a warm case")
    plain, drive = (calc("ramps", request)["fittings"][0]["drive"] for request in (IN_LINE, full))
    assert drive["from_ramps"] == pytest.approx(plain["locking_value"])
    assert drive["from_gears"] > 0 > drive["from_ears"]
    together = drive["from_ramps"] + drive["from_gears"] + drive["from_ears"]
    assert drive["locking_value"] == pytest.approx(together)
    assert drive["pressed_by"] == "ramps 42 %, bevel gears 21 % more, the rings' ears 3 % less"
    assert plain["pressed_by"] == ""
    # Separating thrust is the same whichever way the gears are driven.
    coast = calc("ramps", full)["fittings"][0]["coast"]
    assert coast["from_gears"] == drive["from_gears"]


def test_gears_that_bear_on_the_case_press_nothing() -> None:
    on_case = calc("ramps", sample("ramps", "gears that bear on the case"))
    assert on_case["fittings"] == calc("ramps", dict(IN_LINE, points=3))["fittings"]


def test_a_cone_angle_follows_from_the_teeth() -> None:
    counted = copy.deepcopy(sample("ramps", "cone angle by the teeth, spring between the rings"))
    gears = counted["unit"]["ramps"]["gears"]
    cone = math.degrees(math.atan(gears["side_teeth"] / gears["pinion_teeth"]))
    typed = copy.deepcopy(counted)
    typed["unit"]["ramps"]["gears"] = {**gears, "cone_deg": cone, "side_teeth": None, "pinion_teeth": None}
    assert calc("ramps", typed)["fittings"][0]["drive"]["from_gears"] == pytest.approx(
        calc("ramps", counted)["fittings"][0]["drive"]["from_gears"]
    )


def test_a_warm_case_of_aluminium_takes_preload_away_and_one_of_steel_does_not() -> None:
    warm = changed(IN_LINE, unit__warming={"warmer_k": 70})
    result = calc("ramps", warm)["warm"]
    assert result["change_percent"] < -1
    assert result["preload_n"] == pytest.approx(calc("unit", warm["unit"])["warm"]["preload_n"])
    steel = changed(warm, unit__warming__case_ppm=11.5)
    assert abs(calc("ramps", steel)["warm"]["change_percent"]) < 0.2
    assert calc("ramps", IN_LINE)["warm"] is None


def test_ramps_that_lock_solid_are_named() -> None:
    result = calc("ramps", sample("ramps", "locks solid"))
    drive = result["fittings"][0]["drive"]
    assert drive["solid"]
    assert (drive["bias_ratio"], drive["holds_to_nm"]) == (None, None)
    assert {"solid_drive", "shallow"} <= {warning["name"] for warning in result["warnings"]}
    assert all(row["bias_ratio"] is None for row in drive["curve"])


GRIPS = st.floats(1, 1000)


@given(GRIPS, GRIPS)
def test_without_lock_it_is_an_open_axle(left: float, right: float) -> None:
    weak, strong = sorted((left, right))
    assert put_down(Lock(0.0, 0.0, False), weak, strong) == pytest.approx(2 * weak)


@given(GRIPS, GRIPS, st.booleans())
def test_towards_a_locking_value_of_one_it_is_a_solid_axle(left: float, right: float, adds: bool) -> None:
    weak, strong = sorted((left, right))
    assert put_down(Lock(0.0, 1 - 1e-9, adds), weak, strong) == pytest.approx(weak + strong)
    assert put_down(Lock(0.0, 1.0, adds), weak, strong) == weak + strong


@given(GRIPS, GRIPS, LOCKS)
def test_no_unit_is_worse_than_open_or_better_than_solid(left: float, right: float, lock: Lock) -> None:
    weak, strong = sorted((left, right))
    assert 2 * weak - 1e-9 <= put_down(lock, weak, strong) <= weak + strong


@given(GRIPS, GRIPS, st.builds(Lock, st.floats(0, 500), st.floats(0, 0.95), st.booleans()))
def test_at_the_limit_the_weak_wheel_slips_and_the_packs_carry_the_difference(
    left: float, right: float, lock: Lock
) -> None:
    weak, strong = sorted((left, right))
    torque = put_down(lock, weak, strong)
    if torque < weak + strong:
        assert torque - 2 * weak == pytest.approx(lock_at(lock, torque), abs=1e-6 * torque)


def test_the_spare_torque_spins_the_weak_wheel() -> None:
    result = calc("traction", sample("traction", "with preload and demand"))
    assert result["spins"] == "left"
    assert result["put_down_nm"] + result["spare_nm"] == pytest.approx(900)
    assert calc("traction", sample("traction", "both alike, both spin"))["spins"] == "both"
    assert calc("traction", sample("traction", "spring between the rings, in a turn"))["spins"] == "none"


def test_a_wheel_in_the_air_leaves_the_preload_only() -> None:
    assert calc("traction", sample("traction", "a wheel in the air"))["unit_nm"] == pytest.approx(80)
