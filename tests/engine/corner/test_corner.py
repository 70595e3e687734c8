"""A driven axle in a corner, at the limits where reasoning alone gives the answer."""

from typing import Any

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from server.engine import BadInput, calc

from ..samples import sample

FAST = sample("corner", "rear, fast corner on power: inner faster, both grip")
FOLD = sample("corner", "yaw balanced, beyond a fold: both slide while the plates hold")

CARS = st.fixed_dictionaries(
    {
        "axle": st.sampled_from(["rear", "front"]),
        "mass_kg": st.floats(500, 2000),
        "cg_mm": st.floats(250, 700),
        "track_mm": st.floats(1100, 1700),
        "wheelbase_mm": st.floats(2000, 3000),
        "weight_share": st.floats(0.35, 0.65),
        "transfer_share": st.floats(0.1, 0.9),
        "tyre_mm": st.floats(250, 350),
        "grip": st.floats(0.4, 1.6),
        "along": st.floats(0.8, 1.2),
        "sensitivity": st.floats(0, 0.33),
        "stiffness": st.floats(10, 35),
        "lateral_ms2": st.floats(0, 14),
        "radius_m": st.floats(6, 400),
        "torque_nm": st.floats(-1500, 4000),
        "preload_nm": st.floats(0, 400),
        "s_drive": st.floats(0, 0.95),
        "s_coast": st.floats(0, 0.95),
        "adds": st.booleans(),
    }
)


def corner(car: dict[str, Any], **changes: Any) -> dict[str, Any]:
    return calc("corner", car | changes)


@given(CARS)
def test_an_open_axle_shares_evenly(car: dict[str, Any]) -> None:
    result = corner(car, preload_nm=0, s_drive=0, s_coast=0)
    assert result["inner_nm"] == pytest.approx(result["outer_nm"])
    assert result["most_nm"] == pytest.approx(result["open_nm"]) == pytest.approx(2 * result["left_inner_nm"])
    assert result["yaw_nm"] == 0


@given(CARS)
def test_a_solid_axle_is_what_it_is_asked_for(car: dict[str, Any]) -> None:
    result = corner(car, preload_nm=10000, s_drive=5, s_coast=5)
    assert result["difference_nm"] == pytest.approx(result["demand_nm"])
    assert result["most_nm"] == pytest.approx(result["solid_nm"])
    assert result["state"] in ("locked", "slides")
    assert result["speed_difference_percent"] == 0


@given(CARS)
def test_nothing_is_below_open_or_above_solid(car: dict[str, Any]) -> None:
    result = corner(car)
    slack = 1e-6 * (1 + result["solid_nm"])
    assert result["open_nm"] - slack <= result["most_nm"] <= result["solid_nm"] + slack
    for most, gone in (("most_nm", "gone_nm"), ("coast_most_nm", "coast_gone_nm")):
        if result[gone] is not None:
            assert result[most] - slack <= result[gone] <= result["solid_nm"] + slack
    assert abs(result["inner_nm"]) <= result["left_inner_nm"] + slack
    assert abs(result["outer_nm"]) <= result["left_outer_nm"] + slack
    assert abs(result["difference_nm"]) <= result["lock_nm"] + slack
    assert result["changes_low_nm"] <= result["changes_at_nm"] + slack
    assert result["changes_at_nm"] <= result["changes_high_nm"] + slack


@given(CARS)
def test_straight_ahead_is_the_old_traction(car: dict[str, Any]) -> None:
    result = corner(car, lateral_ms2=0, radius_m=1e6, torque_nm=1e-3)
    wheel = {"load_kg": result["load_inner_n"] / 9.80665, "grip": result["grip_inner"] * car["along"]}
    old = calc(
        "traction",
        {
            "left": wheel,
            "right": wheel,
            "tyre_radius_mm": car["tyre_mm"],
            "locking_value": car["s_drive"],
            "preload_lock_nm": car["preload_nm"],
            "adds": car["adds"],
        },
    )
    assert (result["most_nm"], result["open_nm"], result["solid_nm"]) == pytest.approx(
        (old["unit_nm"], old["open_nm"], old["solid_nm"])
    )


@given(CARS)
def test_the_grip_that_a_corner_leaves_is_put_down_as_straight_ahead(car: dict[str, Any]) -> None:
    result = corner(car)
    # Traction wants a kilogram at least on a wheel.
    assume(result["load_inner_n"] > 10)
    wheels = [
        {
            "load_kg": result[f"load_{side}_n"] / 9.80665,
            "grip": result[f"left_{side}_nm"] * 1000 / car["tyre_mm"] / result[f"load_{side}_n"],
        }
        for side in ("inner", "outer")
    ]
    lock = {"locking_value": car["s_drive"], "preload_lock_nm": car["preload_nm"], "adds": car["adds"]}
    old = calc("traction", {"left": wheels[0], "right": wheels[1], "tyre_radius_mm": car["tyre_mm"], **lock})
    assert result["most_nm"] == pytest.approx(old["unit_nm"], abs=1e-6)


def test_a_wheel_in_the_air_leaves_preload_and_what_the_ramps_add() -> None:
    lifted = {"cg_mm": 700, "grip": 1.5, "lateral_ms2": 11, "transfer_share": 0.75, "torque_nm": 30}
    in_line = corner(FAST, **lifted, preload_nm=60, s_drive=0.4)
    between = corner(FAST, **lifted, preload_nm=60, s_drive=0.4, adds=True)
    assert in_line["lifted"]
    assert in_line["load_inner_n"] == 0
    assert (in_line["most_nm"], between["most_nm"]) == pytest.approx((60, 100))
    assert in_line["changes_at_nm"] == 0
    # All of the weight of the axle is on the other wheel.
    assert in_line["load_outer_n"] == pytest.approx(0.5 * 1000 * 9.80665)


@given(CARS, st.booleans(), st.booleans())
@example(FOLD, False, True)
@example(FOLD | {"preload_nm": 20}, False, True)
@example(FOLD | {"lateral_ms2": 2.0, "grip": 1.8, "cg_mm": 800, "torque_nm": 9000.0}, True, False)
def test_state_sentence_and_figures_never_contradict_each_other(
    car: dict[str, Any], pitch: bool, balance: bool
) -> None:
    result = corner(car, pitch=pitch, yaw_balance=balance)
    state, text, torque = result["state"], result["text"], car["torque_nm"]
    # It slides where the corner asks for more side force than is there, and nowhere else.
    assert (state == "slides") == (result["use"] >= 1) == text.startswith("The axle slides")
    if state == "slides":
        return
    assert result["side_spare_n"] >= -1e-3
    lacking = abs(torque) - abs(result["put_down_nm"])
    assume(lacking == 0 or lacking > 2e-6 * abs(torque))
    leaves, most = (result[name] for name in (("gone_nm", "most_nm") if torque >= 0 else COASTING))
    lifted = result.get("other_lifted", False)
    assert lifted == ("leave the ground" in text)
    assert (lacking > 0) == (abs(torque) > most) == (lifted or "reach the ground" in text)
    assert lifted or ("leaves its line" in text) == (leaves is not None and abs(torque) > leaves)
    if lifted:
        assert abs(torque) > leaves == result["lifts_nm"] >= most
    elif lacking:
        spinning = "locked" if slide_together(result) else "inner_faster" if torque > 0 else "outer_faster"
        assert (state, text.startswith("Both wheels slide")) == (spinning, spinning == "locked")
    else:
        lead = {"locked": "Both wheels turn at one", "outer_faster": "The outer wheel turns f"}
        assert text.startswith(lead.get(state, "The inner wheel turns f"))
    assert (result["speed_difference_percent"] == 0) == (state == "locked") or result["lock_nm"] == 0
    if not (pitch or balance):
        # With side force to spare however the inner wheel spins the axle never leaves its line.
        assert (result["gone_nm"] is None) == (result["spun_side_spare_n"] > 0)


COASTING = ("coast_gone_nm", "coast_most_nm")


def slide_together(result: dict[str, Any]) -> bool:
    """Whether both wheels slide at one speed: the plates hold what they would take with one share of their grip."""
    even = result["even_lock"] * abs(result["put_down_nm"])
    held, torque = result["lock_nm"], result["put_down_nm"]
    brought = result["difference_nm"] * (-1 if torque < 0 else 1)
    # The two meet where both are at their limits.
    return bool(result["outer_at_limit"] or (-brought < held * (1 - 1e-6) and even <= held))


def test_an_inner_wheel_in_the_air_spins_and_the_outer_one_keeps_the_line() -> None:
    lifted = {"cg_mm": 700, "grip": 1.5, "lateral_ms2": 11, "transfer_share": 0.75, "preload_nm": 0, "s_drive": 0}
    result = corner(FAST, **lifted, torque_nm=5000)
    assert (result["gone_nm"], result["state"]) == (None, "inner_faster")
    assert result["spun_side_spare_n"] == result["side_spare_n"] > 0
    # With its side force at its end it slides, with torque or without.
    slides = corner(FAST, **lifted | {"lateral_ms2": 15}, torque_nm=5000)
    assert (slides["gone_nm"], slides["state"]) == (0, "slides")


@given(CARS)
def test_plates_that_slip_only_take_energy(car: dict[str, Any]) -> None:
    result = corner(car)
    slip = result["speed_difference_percent"]
    if slip is None:
        assert result["inner_at_limit"] or result["outer_at_limit"]
        return
    # The faster side loses torque to the slower one: difference is inner less outer, slip outer less inner.
    assert result["difference_nm"] * slip >= -1e-9 * (1 + result["lock_nm"])
    assert (slip > 0) == (result["state"] == "outer_faster") or result["lock_nm"] == 0
    assert result["inner_nm"] + result["outer_nm"] == pytest.approx(result["put_down_nm"])


@given(CARS, st.floats(0, 0.5), st.floats(0, 200))
def test_more_lock_puts_more_down(car: dict[str, Any], more: float, preload: float) -> None:
    result = corner(car)
    slope = corner(car, s_drive=car["s_drive"] + more)
    spring = corner(car, preload_nm=car["preload_nm"] + preload)
    assert min(slope["most_nm"], spring["most_nm"]) >= result["most_nm"] - 1e-9 * (1 + result["most_nm"])
    # Where it turns from nose to tail is the same for every lock.
    assert slope["changes_at_nm"] == spring["changes_at_nm"] == result["changes_at_nm"]


@given(CARS, st.floats(0, 5))
def test_a_faster_corner_leaves_less(car: dict[str, Any], faster: float) -> None:
    result, other = corner(car), corner(car, lateral_ms2=car["lateral_ms2"] + faster)
    assert other["most_nm"] <= result["most_nm"] + 1e-9 * (1 + result["most_nm"])
    assert other["even_lock"] >= result["even_lock"] - 1e-12


@given(CARS, st.floats(10, 1500))
def test_on_engine_braking_it_only_steadies(car: dict[str, Any], braking: float) -> None:
    result = corner(car, torque_nm=-braking)
    assert result["difference_nm"] >= -1e-9
    assert result["yaw_nm"] <= 1e-6


@given(CARS)
def test_from_the_even_lock_on_both_wheels_let_go_together(car: dict[str, Any]) -> None:
    ramps_alone = {"preload_nm": 0, "adds": False}
    result = corner(car)
    share = result["even_lock"]
    # With a wheel that carries nothing the ramps have no torque to press with.
    assume(result["left_inner_nm"] > 1)
    below, above = (corner(car, **ramps_alone, s_drive=max(0.0, share + off)) for off in (-1e-3, 1e-3))
    assert above["most_nm"] == pytest.approx(above["solid_nm"])
    if share > 2e-3:
        assert below["most_nm"] < below["solid_nm"]


@given(CARS)
def test_below_the_turn_it_pushes_out_and_above_it_helps_round(car: dict[str, Any]) -> None:
    there = corner(car)["changes_at_nm"]
    for torque, sign in ((0.9 * there, -1), (1.1 * there, 1)):
        result = corner(car, torque_nm=torque)
        if result["put_down_nm"] == pytest.approx(torque) and there > 1:
            assert sign * result["yaw_nm"] >= -1e-6


@pytest.mark.parametrize("name", ["preload_nm", "s_drive", "s_coast"])
def test_a_lock_is_given_whole(name: str) -> None:
    with pytest.raises(BadInput) as refusal:
        calc("corner", {key: FAST[key] for key in FAST if key != name})
    assert refusal.value.field == name
