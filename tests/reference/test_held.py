"""What a wrench feels, worked out by another road: forces on the gears and on the wedge, and the work of a small turn.

The engine multiplies by closed formulas. Here the equilibrium is looked for: the axial force on the packs is raised
until the ramps, the gears and the plates agree, each by its own law; the torque at the wrench then comes from the work
that is lost in a small turn. No source in print gives these numbers: the laws are those of any textbook of statics.
"""

import math
from typing import Any

import pytest
import scipy.optimize
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from server.engine import calc
from tests.engine.checks import SPRING_BETWEEN_RINGS

TURN = 1e-3

BUILD = SPRING_BETWEEN_RINGS | {"ramps": {"pin_radius_mm": 27.0, "drive_deg": 50.0, "coast_deg": 60.0, "mu": 0.1}}


def wedge(angle: float, mu: float) -> float:
    """Axial force for each newton that pushes a pin along: normal force and friction on the face, resolved."""
    tilt = math.radians(angle)
    # The face leans by its angle from the plane of rotation; friction holds back the ring that slides away.
    along = math.sin(tilt) + mu * math.cos(tilt)
    axial = math.cos(tilt) - mu * math.sin(tilt)
    return max(0.0, axial / along)


def pack(build: dict[str, Any], side: str, force: float) -> float:
    """Torque of a pack, N·m, under an axial force, N."""
    return float(build[side + "_faces"] * build["mu"] * build["radius_mm"] / 1000 * force)


def pins_with_case_held(build: dict[str, Any], force: float, drag: float) -> float:
    """Torque that the pins carry, N·m: the free output takes its pack's friction and its drag, and the gears push a pin
    alike on both sides, so that it feels that torque twice."""
    return 2 * (pack(build, "second", force) + drag)


def force_on_packs(build: dict[str, Any], spring: float, flank: str, pins: Any) -> float:
    """Axial force on the packs, N, at which spring, ramps and what the pins carry agree."""
    ramps = build["ramps"]

    def force_with_pins(force: float) -> float:
        # Half of the pins' torque goes through each ring.
        push = pins(force) / 2 / (ramps["pin_radius_mm"] / 1000) * wedge(ramps[flank + "_deg"], ramps["mu"])
        return float(spring + push if build["layout"] == "between_rings" else max(spring, push))

    return float(scipy.optimize.brentq(lambda force: force_with_pins(force) - force, spring, 1e9, xtol=1e-9))


def wrench_with_case_held(build: dict[str, Any], spring: float, flank: str, turned: float, other: float) -> float:
    """Torque at the turned output, N·m: the work lost in a small turn, over the turn."""
    force = force_on_packs(build, spring, flank, lambda force: pins_with_case_held(build, force, other))
    # The case stands: the other output turns backwards by as much.
    lost = (pack(build, "first", force) + pack(build, "second", force) + turned + other) * TURN
    return lost / TURN


def wrench_with_case_free(build: dict[str, Any], spring: float, flank: str, turned: float, case: float) -> float:
    """Torque at the turned output, N·m, the other one held and the case turning half as fast."""
    force = force_on_packs(build, spring, flank, lambda _: case)
    slip = TURN / 2
    lost = (pack(build, "first", force) + pack(build, "second", force)) * slip + turned * TURN + case * slip
    return lost / TURN


def checked(held: str, forward: float, reverse: float, **more: Any) -> dict[str, Any]:
    """What the engine says of two true readings each way."""
    request = {
        "held": held,
        "wrench": {"kind": "electronic", "high_nm": 5000, "division_nm": 0.001, "certificate_percent": 0.1},
        "steady_nm": {"forward": [forward] * 2, "reverse": [reverse] * 2},
        "limits": {"low_nm": 1},
        "build": BUILD,
        **more,
    }
    return calc("breakaway", request)


def preload_torque(build: dict[str, Any], spring: float) -> float:
    """Mean pack torque from the spring alone, N·m: what orders and limits are for."""
    return (pack(build, "first", spring) + pack(build, "second", spring)) / 2


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(["between_rings", "in_line", "two_springs"]),
    st.floats(800, 6000),
    st.floats(42, 85),
    st.floats(42, 85),
    st.floats(0, 0.2),
    st.floats(0, 12),
    st.floats(0, 12),
)
def test_the_preload_is_found_behind_the_ramps_whichever_way_it_is_held(
    layout: str, spring: float, drive: float, coast: float, slip: float, turned: float, other: float
) -> None:
    ramps = {"pin_radius_mm": 32.0, "drive_deg": drive, "coast_deg": coast, "mu": slip}
    build = {**BUILD, "layout": layout, "ramps": ramps}
    truth = preload_torque(build, spring)
    for angle in (drive, coast):
        locking = wedge(angle, slip) / 32.0 * 42.0 * 0.1 * 6
        assume(locking < 0.9)
        assume(layout == "between_rings" or locking * (truth + other) < 0.98 * truth)
    # Turned forward the pins are pushed forward against the case, which is how they lie on coast.
    forward, reverse = (wrench_with_case_held(build, spring, flank, turned, other) for flank in ("coast", "drive"))
    drag = {"wheel_nm": turned, "other_wheel_nm": other}
    both = checked("car_both_wheels_up", forward, reverse, build=build, drag=drag)
    assert both["value_nm"] == pytest.approx(truth, rel=1e-6)
    free = [wrench_with_case_free(build, spring, flank, turned, case=other) for flank in ("coast", "drive")]
    if layout == "between_rings" or max(free) * 0.9 < truth + turned + other / 2:
        drag = {"wheel_nm": turned, "case_nm": other}
        one_wheel = checked("car_one_wheel_down", *free, build=build, drag=drag)
        assert one_wheel["value_nm"] == pytest.approx(truth, rel=1e-6)


def test_a_true_60_that_reads_208_with_the_case_held_is_60_and_no_go() -> None:
    # Faces 45 degrees without friction: locking value mu · faces · radius / pin radius.
    ramps = {"pin_radius_mm": 60.0, "drive_deg": 45.0, "coast_deg": 45.0, "mu": 0.0}
    build = {**BUILD, "ramps": ramps}
    spring = 60.0 / (6 * 0.1 * 0.042)
    read = wrench_with_case_held(build, spring, "drive", 0.0, 0.0)
    assert read == pytest.approx(120 / (1 - 0.42))
    result = checked("bench_case_held", read, read, build=build, limits={"low_nm": 70, "high_nm": 130})
    assert result["value_nm"] == pytest.approx(60.0)
    assert result["verdict"] != "go"
    assert result["felt"]["case_held_nm"] == pytest.approx(read)
    assert result["felt"]["one_output_held_nm"] == pytest.approx(60.0)


def test_packs_with_different_faces_are_within_the_doubt_whichever_output_is_turned() -> None:
    for first, second in ((4, 8), (8, 4)):
        build = {**BUILD, "first_faces": first, "second_faces": second}
        flanks = ("coast", "drive")
        read = [wrench_with_case_held(build, 2500.0, flank, 0.0, 0.0) for flank in flanks]
        result = checked("bench_case_held", *read, build=build)
        assert abs(result["value_nm"] - preload_torque(build, 2500.0)) < result["expanded_nm"]
