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


# At a fold: less side force on the axle lets it carry more, until there is no more of it to be had.
FOLD: Request = {
    "axle": "rear",
    "mass_kg": 1000,
    "cg_mm": 500,
    "track_mm": 1500,
    "wheelbase_mm": 2500,
    "weight_share": 0.5,
    "tyre_mm": 300,
    "grip": 1,
    "sensitivity": 0,
    "radius_m": 50,
    "lateral_ms2": 9.75,
    "preload_nm": 10000,
    "s_drive": 0,
    "s_coast": 0,
    "yaw_balance": True,
    "torque_nm": 54,
}


def test_wheels_that_slide_turn_at_one_speed_as_long_as_the_plates_hold() -> None:
    answer = calc("corner", FOLD)
    assert answer["most_nm"] == answer["gone_nm"] == answer["put_down_nm"] == pytest.approx(53.348, abs=1e-3)
    # No difference that either wheel has the grip for comes near to what the plates hold.
    straight = FOLD["grip"] * 500 * G * FOLD["tyre_mm"] / 1000
    assert abs(answer["difference_nm"]) < straight < answer["lock_nm"]
    assert (answer["state"], answer["speed_difference_percent"]) == ("locked", 0)
    assert answer["text"] == "Both wheels slide: 53.3 N·m of 54.0 N·m reach the ground. The axle leaves its line."


def test_wheels_turn_apart_at_a_fold_where_the_plates_hold_less_than_both_sliding_take() -> None:
    request = FOLD | {"preload_nm": 20, "torque_nm": 60}
    answer = calc("corner", request)
    across = 0.5 * 1000 * 9.75 * 0.5 / 1.5
    weight = 500 * G
    even = answer["put_down_nm"] * 2 * across / weight
    assert abs(answer["difference_nm"]) < answer["lock_nm"] < even
    # The inner wheel slides, the plates give all they hold, and so both have side force enough for the corner.
    inner, outer = (60 - 20) / 2, (60 + 20) / 2
    radius, asked = 0.3, 500 * 9.75 + 20 * 1.5 / (2 * 0.3) / 2.5
    loads = weight / 2 - across, weight / 2 + across
    pushes = [math.sqrt(load**2 - (share / radius) ** 2) for load, share in zip(loads, (inner, outer), strict=True)]
    assert sum(pushes) > asked
    assert answer["most_nm"] < 60 < answer["gone_nm"]
    assert (answer["state"], answer["speed_difference_percent"]) == ("inner_faster", None)
    assert answer["text"].startswith("The inner wheel slides")


# High, short and with more grip than a road car has.
TIPS = CAR | {"cg_mm": 800, "wheelbase_mm": 2000, "grip": 1.8, "pitch": True, "lateral_ms2": 2, "s_drive": 1}


def lifting(request: Request) -> float:
    """Torque at which driving force, or braking, has taken all its load off the other axle, N·m."""
    other = (1 - request["weight_share"]) * request["mass_kg"] * G
    return float(other * request["wheelbase_mm"] / request["cg_mm"] * request["tyre_mm"] / 1000)


@pytest.mark.parametrize("yaw_balance", [False, True])
@pytest.mark.parametrize(("axle", "sign", "fields"), [("rear", 1, ("most_nm", "gone_nm")), ("front", -1, None)])
def test_limits_end_where_the_other_axle_leaves_the_ground(
    axle: str, sign: int, fields: tuple[str, str] | None, yaw_balance: bool
) -> None:
    request = TIPS | {"axle": axle, "s_coast": 1, "torque_nm": sign * 9000, "yaw_balance": yaw_balance}
    answer, lifts = calc("corner", request), lifting(request)
    assert answer["lifts_nm"] == pytest.approx(lifts)
    for field in fields or ("coast_most_nm", "coast_gone_nm"):
        assert answer[field] == pytest.approx(lifts)
    assert answer["put_down_nm"] == pytest.approx(sign * lifts)
    # All of the car stands on the driven axle, and no more than that.
    assert answer["load_inner_n"] + answer["load_outer_n"] == pytest.approx(1000 * G)
    assert answer["other_lifted"]
    other = "front" if axle == "rear" else "rear"
    assert answer["text"].startswith(f"The {other} wheels leave the ground at ")
    assert "slide" not in answer["text"]
    below = calc("corner", request | {"torque_nm": sign * 0.99 * lifts})
    assert not below["other_lifted"]
    assert "leave the ground" not in below["text"]
    assert below["put_down_nm"] == pytest.approx(sign * 0.99 * lifts)


def test_an_axle_that_slides_before_the_other_one_lifts_says_so() -> None:
    answer = calc("corner", TIPS | {"grip": 0.8, "torque_nm": 9000})
    assert answer["most_nm"] < lifting(TIPS)
    assert not answer["other_lifted"]
    assert "reach the ground" in answer["text"]
    # The other way torque takes load off the driven axle alone.
    assert calc("corner", TIPS | {"torque_nm": -9000})["other_lifted"] is False


def test_an_inner_wheel_that_slides_first_does_not_keep_the_other_axle_down() -> None:
    request = TIPS | {"lateral_ms2": 8, "preload_nm": 0, "s_drive": 0.05, "torque_nm": 9000}
    answer, lifts = calc("corner", request), lifting(TIPS)
    assert answer["most_nm"] == answer["put_down_nm"] < 0.95 * lifts
    # Just before it lifts the inner wheel takes its share along, and both have the side force that is asked for.
    inner, outer = (0.95 * lifts / 2, 1.05 * lifts / 2)
    across = 0.5 * 1000 * 8 * 0.8 / 1.4
    loads = 500 * G - across, 500 * G + across
    pushes = [
        math.sqrt((1.8 * load) ** 2 - (share / 0.3) ** 2) for load, share in zip(loads, (inner, outer), strict=True)
    ]
    assert sum(pushes) > 600 * 8
    assert answer["gone_nm"] == answer["lifts_nm"] == pytest.approx(lifts)
    assert answer["other_lifted"]
    assert answer["state"] == "inner_faster"
    assert answer["text"].startswith("The front wheels leave the ground")
    assert not calc("corner", request | {"torque_nm": 0.99 * lifts})["other_lifted"]


def test_an_inner_wheel_that_does_not_spin_before_the_other_axle_lifts_leaves_nothing_to_spare() -> None:
    assert calc("corner", TIPS)["spun_side_spare_n"] is None
    assert calc("corner", TIPS | {"grip": 0.8})["spun_side_spare_n"] is not None


def test_without_shifted_load_nothing_is_said_of_lifting() -> None:
    answer = calc("corner", TIPS | {"pitch": False, "torque_nm": 9000})
    assert "lifts_nm" not in answer
    assert "other_lifted" not in answer


def test_plates_at_their_limit_with_the_outer_wheel_faster_never_let_the_inner_one_spin() -> None:
    wide = BALANCED | {"track_mm": 3000, "grip": 0.4, "sensitivity": 0.1, "lateral_ms2": 4, "s_drive": 0.2}
    answer = calc("corner", wide | {"preload_nm": 50, "torque_nm": 100})
    assert answer["put_down_nm"] < 100
    # Plates that slip bring torque to the slower wheel, and here that is the inner one.
    assert answer["difference_nm"] == pytest.approx(50) == answer["lock_nm"]
    # To spin, the inner wheel would have to leave the outer one more than the plates bring over.
    assert answer["even_lock"] * answer["put_down_nm"] < 50
    assert (answer["state"], answer["speed_difference_percent"]) == ("locked", 0)
    assert answer["text"].startswith("Both wheels slide")
