"""A corner where the torque moves load along the car or turns it: what statics say of a few round cases.

Both torques given, loads, side force and what grip is left of both wheels follow at once: load transfer and friction
ellipse as in W. F. and D. L. Milliken, Race Car Vehicle Dynamics, slip as in H. B. Pacejka, Tire and Vehicle Dynamics;
both from memory.
"""

import math
from typing import Any

import pytest

from server.engine import calc

G = 9.80665
Request = dict[str, Any]

CAR: Request = {
    "axle": "rear",
    "mass_kg": 1000,
    "cg_mm": 500,
    "track_mm": 1400,
    "wheelbase_mm": 2400,
    "weight_share": 0.6,
    "tyre_mm": 300,
    "grip": 1.5,
    "sensitivity": 0,
    "radius_m": 50,
    "preload_nm": 100,
    "s_drive": 0.4,
    "s_coast": 0.4,
    "torque_nm": 100,
}
# The inner wheel in the air, and load that the torque brings onto it.
LIFTS = CAR | {"cg_mm": 700, "pitch": True}
BALANCED = CAR | {"weight_share": 0.5, "grip": 1, "s_drive": 0, "s_coast": 0, "preload_nm": 50, "yaw_balance": True}


def rests(request: Request, difference: float) -> bool:
    """Whether the axle rests locked, both wheels at one speed and with grip to spare, with this difference, N·m."""
    torque, radius, rear = request["torque_nm"], request["tyre_mm"] / 1000, request["axle"] == "rear"
    base, track, height = (request[name] / 1000 for name in ("wheelbase_mm", "track_mm", "cg_mm"))
    weight = request["mass_kg"] * request["weight_share"] * G
    side = weight / G * request["lateral_ms2"]
    if request.get("pitch"):
        weight += (1 if rear else -1) * torque / radius * height / base
    if request.get("yaw_balance"):
        side += (1 if rear else -1) * -difference * track / (2 * radius) / base
    across = 0.5 * request["mass_kg"] * request["lateral_ms2"] * height / track
    inner = max(weight / 2 - across, 0)
    loads = inner, weight - inner
    use = side / (request["grip"] * weight)
    shares = (torque + difference) / 2, (torque - difference) / 2
    if use >= 1 or abs(difference) > max(request["preload_nm"], request["s_drive"] * abs(torque)):
        return False
    left = [radius * request["grip"] * load * math.sqrt(1 - use**2) for load in loads]
    if any(abs(share) > grip * (1 + 1e-6) for share, grip in zip(shares, left, strict=True)):
        return False
    # A wheel without any grip to spare turns as the other one has it, as long as that slips it the way it pushes.
    tight = track / 2 / request["radius_m"]
    slip = [share / (20 * radius * load) if load else 0.0 for share, load in zip(shares, loads, strict=True)]
    ahead = (1 - tight) * (1 + slip[0]) - (1 + tight) * (1 + slip[1])
    return bool(loads[0] == 0 or abs(ahead) < 1e-6 or (ahead < 0 and abs(shares[0] - left[0]) < 1e-3 * left[0]))


@pytest.mark.parametrize(
    "request_",
    [
        LIFTS | {"lateral_ms2": 13, "s_drive": 0.9, "torque_nm": 300},
        LIFTS | {"lateral_ms2": 13, "s_drive": 0.8, "torque_nm": 1000, "grip": 1.4, "preload_nm": 50},
        LIFTS | {"lateral_ms2": 12, "s_coast": 0.8, "torque_nm": -300, "axle": "front", "preload_nm": 50},
        LIFTS | {"lateral_ms2": 10, "weight_share": 0.5, "grip": 1, "transfer_share": 0.2, "preload_nm": 200},
    ],
    ids=["in the air", "light", "on engine braking", "slides without the torque"],
)
def test_no_wheel_carries_more_than_it_has_grip_left_for(request_: Request) -> None:
    answer = calc("corner", request_)
    for wheel in ("inner", "outer"):
        assert abs(answer[f"{wheel}_nm"]) <= answer[f"left_{wheel}_nm"] + 0.01, (wheel, answer["text"])


def test_ramps_hold_no_more_than_the_preload_where_the_inner_wheel_is_in_the_air() -> None:
    answer = calc("corner", LIFTS | {"lateral_ms2": 13, "s_drive": 0.9, "torque_nm": 300})
    assert answer["most_nm"] == pytest.approx(100)
    assert answer["put_down_nm"] == pytest.approx(100)


def test_a_wheel_that_is_dragged_in_the_air_takes_no_axle_off_its_line() -> None:
    dragged = LIFTS | {"axle": "front", "grip": 1.6, "lateral_ms2": 13, "s_coast": 0.7, "torque_nm": -1000}
    answer = calc("corner", dragged)
    # The outer wheel gets the preload and no more, and could hold the line with far more than that.
    assert answer["put_down_nm"] == pytest.approx(-100)
    assert answer["side_spare_n"] > 1700
    assert answer["coast_gone_nm"] is None
    assert "leaves its line" not in calc("corner", dragged | {"torque_nm": -5000})["text"]


def test_yaw_that_is_balanced_lets_the_axle_carry_more_than_without_its_own_difference() -> None:
    request = BALANCED | {"track_mm": 1450, "lateral_ms2": 9.8, "torque_nm": 20}
    found = [step / 1000 for step in range(50001) if rests(request, step / 1000)]
    assert found, "no difference holds it"
    answer = calc("corner", request)
    assert answer["put_down_nm"] == pytest.approx(20)
    assert answer["most_nm"] > 20


def test_an_axle_that_its_own_difference_holds_does_not_slide() -> None:
    request = BALANCED | {"track_mm": 1450, "lateral_ms2": 9.82, "torque_nm": 0}
    answer = calc("corner", request)
    assert answer["state"] != "slides"
    assert answer["difference_nm"] == pytest.approx(50)


def test_an_axle_that_the_load_of_its_torque_holds_does_not_slide() -> None:
    request = CAR | {"lateral_ms2": 14.86, "pitch": True}
    assert any(rests(request, -step / 100) for step in range(10001))
    answer = calc("corner", request)
    assert answer["state"] != "slides"
    assert answer["put_down_nm"] == pytest.approx(100)


def test_an_outer_wheel_turns_the_car_by_no_more_than_its_grip() -> None:
    request = BALANCED | {"cg_mm": 700, "track_mm": 1450, "grip": 1.4, "transfer_share": 0.7, "lateral_ms2": 12}
    answer = calc("corner", request | {"s_drive": 1.2})
    # All of the axle's weight on the outer wheel, all its grip along, and none sideways.
    grip = 500 * G * 1.4
    assert answer["spun_side_spare_n"] == pytest.approx(-(500 * 12 + grip * 1.45 / 2 / 2.4))


def test_a_side_force_asked_for_outwards_takes_its_share_of_the_grip() -> None:
    request = BALANCED | {"lateral_ms2": 0.1, "radius_m": 10, "preload_nm": 400, "torque_nm": 0}
    answer = calc("corner", request)
    # The rear axle's difference turns the nose out by more than the slow corner needs.
    assert answer["difference_nm"] == pytest.approx(400)
    asked = 500 * 0.1 - 400 * 1.4 / (2 * 0.3) / 2.4
    assert asked < -300
    assert answer["use"] == pytest.approx(-asked / (500 * G))
    assert answer["side_inner_n"] + answer["side_outer_n"] == pytest.approx(asked)
    assert answer["left_outer_nm"] < 0.3 * answer["load_outer_n"]
