"""How a reading becomes the stated torque and back, and at which limit the guard band is taken."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.engine import calc
from server.engine.torque_check.chain import Chain, chain_of, reading_at, stated
from server.engine.unit.held import HELD

from ..checks import BREAKAWAY, changed

REQUEST: dict[str, Any] = {
    "stated_for": "one_output_held",
    "hub_ratio": 1.0,
    "adapter": None,
    "bar": None,
    "drag": None,
    "build": None,
}


@given(
    st.floats(1, 500),
    st.builds(Chain, st.floats(0.1, 3), st.floats(-20, 20), st.sampled_from([0.25, 0.5, 1.0, 2.0]), st.floats(0, 30)),
)
def test_what_the_tool_would_read_is_the_inverse_of_what_a_reading_comes_to(reading: float, chain: Chain) -> None:
    assert reading_at(stated(reading, chain), chain) == pytest.approx(reading, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("held", sorted(HELD))
def test_every_link_of_the_chain_by_statics(held: str) -> None:
    both = HELD[held][0] == "case_held"
    drag = {"wheel_nm": 3.0, "other_wheel_nm": 5.0 if held == "car_both_wheels_up" else None, "case_nm": 8.0}
    chain = chain_of({**REQUEST, "hub_ratio": 2.0, "drag": drag}, held)
    # Half of a free case's drag at the output, through a hub of 2; nothing of a case that is held, but both wheels'.
    turning = 3.0 + (drag["other_wheel_nm"] or 0.0)
    assert chain == Chain(1.0, 0.0, 0.25 if both else 0.5, turning * 0.25 if both else (3.0 + 8.0) * 0.5)
    chain = chain_of({**REQUEST, "stated_for": "case_held", "bar": {"length_mm": 800.0, "moment_nm": 6.0}}, held)
    assert chain == Chain(0.8, 6.0, 1.0 if both else 2.0, 0.0)
    chain = chain_of({**REQUEST, "adapter": {"wrench_mm": 400.0, "adapter_mm": 100.0, "angle_deg": 0.0}}, held)
    assert chain.leverage == pytest.approx(1.25)


@pytest.mark.parametrize(
    ("limits", "end"),
    [
        ({"low_nm": 98, "high_nm": 130}, "low"),
        ({"low_nm": 70, "high_nm": 102}, "high"),
        ({"low_nm": 98}, "low"),
        ({"high_nm": 102}, "high"),
        ({"low_nm": 110, "high_nm": 160}, "low"),
        ({"low_nm": 40, "high_nm": 90}, "high"),
    ],
)
def test_the_guard_band_is_that_of_the_limit_that_the_value_is_near(limits: dict[str, float], end: str) -> None:
    result = calc("breakaway", changed(BREAKAWAY, limits=limits))
    assert result["guard_nm"] == result[f"guard_{end}_nm"]
    ends = {"low": result["guard_low_nm"], "high": result["guard_high_nm"]}
    assert [name for name, guard in ends.items() if guard is not None] == [
        name[:-3] for name in sorted(limits, reverse=True)
    ]
    if limits.get("high_nm", 0) > 100 > limits.get("low_nm", 100):
        assert ends["low"] < ends["high"], "above the reading the tool may be off by more"


def test_a_guard_band_at_a_limit_counts_the_tool_there_but_never_below_the_reading() -> None:
    def tool_share(limit: float) -> float:
        request = changed(
            BREAKAWAY, limits={"low_nm": limit}, wrench={"kind": "beam", "high_nm": 900, "division_nm": 0.001}
        )
        steady = {"forward": [400, 400], "reverse": [400, 400]}
        return float(calc("breakaway", changed(request, steady_nm=steady))["guard_nm"])

    # One-sided 95 % of 6 % either way evenly, and half a division whole; JCGM 106:2012, 8.3.
    each = 1.6448536 * 0.06 / 3**0.5
    assert tool_share(300) == pytest.approx(each * 400 + 0.0005, rel=1e-6)
    assert tool_share(500) == pytest.approx(each * 500 + 0.0005, rel=1e-6)


def test_a_value_between_two_narrow_limits_tells_the_guard_band_that_decided() -> None:
    steady = {way: [64.9, 64.9, 64.91] for way in ("forward", "reverse")}
    wrench = {"kind": "beam", "high_nm": 150, "division_nm": 0.1, "deviation_percent": 7.8}
    limits = {"low_nm": 60, "high_nm": 70}
    result = calc("breakaway", changed(BREAKAWAY, steady_nm=steady, wrench=wrench, limits=limits))
    # 4.90 N·m from the lower limit is enough, 5.10 N·m from the higher is not.
    assert result["guard_low_nm"] < 4.9 < 5.1 < result["guard_high_nm"]
    assert result["verdict"] == "measure_again"
    assert result["guard_nm"] == result["guard_high_nm"]
