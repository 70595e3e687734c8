"""The picture of a corner, beside the corner itself at single points; its doubt beside a Monte Carlo of the car."""

import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.engine import calc
from server.engine.corner.zones import INNER_DRAGS, INNER_SPINS, Band, zone_at

from ..samples import sample

BUILT = sample("corner_map", "a usual car")["built"]
MEASURED = sample("car", "all of it measured")
TRIES = [{"drive_deg": 30, "coast_deg": 45}, {"torque_nm": 20, "drive_deg": 80}, {"faces": 4}]


def values(car: dict[str, Any]) -> dict[str, float]:
    return {row["name"]: row["value"] for row in calc("car", car)["figures"]}


def corner_at(car: dict[str, Any], radius: float, lateral: float, torque: float, lock: dict[str, Any]) -> Any:
    """The corner by the figures of a car, as `corner` takes them."""
    plain = {"axle": car.get("axle", "rear"), "radius_m": radius, "lateral_ms2": lateral, "torque_nm": torque}
    return calc("corner", plain | values(car) | lock)


def locks() -> dict[str, dict[str, Any]]:
    """The locks of all panels by their names, as `candidates` tells them."""
    adds = BUILT["unit"].get("layout") == "between_rings"
    rows = {
        row["name"]: {
            "preload_nm": row["preload_lock_nm"],
            "s_drive": row["drive"]["locking_value"],
            "s_coast": row["coast"]["locking_value"],
            "adds": adds,
        }
        for row in calc("candidates", {"built": BUILT, "tries": TRIES})["candidates"]
    }
    rows["open axle"] = {"preload_nm": 0, "s_drive": 0, "s_coast": 0}
    rows["solid axle"] = {"preload_nm": 10000, "s_drive": 10, "s_coast": 10}
    return rows


LOCKS = locks()


@settings(max_examples=60)
@given(st.floats(0, 1.05), st.floats(-0.9, 1), st.sampled_from([12.0, 40.0, 150.0]), st.sampled_from(["rear", "front"]))
def test_a_zone_is_what_the_corner_does_there(share: float, throttle: float, radius: float, axle: str) -> None:
    car = MEASURED | {"axle": axle}
    request = {"built": BUILT, "car": car, "tries": TRIES, "radius_m": radius, "points": 0}
    drawn = calc("corner_map", request)
    lateral = share * drawn["limit_ms2"]
    torque = throttle * (drawn["top_nm"] if throttle > 0 else -drawn["foot_nm"])
    figures = values(car)
    even = 0.01 * figures["weight_share"] * figures["mass_kg"] * 9.80665
    result = calc("corner_map", request | {"point": {"lateral_ms2": lateral, "torque_nm": torque}})
    assert {panel["name"] for panel in result["panels"]} == set(LOCKS)
    for panel in result["panels"]:
        here = corner_at(car, radius, lateral, torque, LOCKS[panel["name"]])
        point, slack = panel["point"], 1e-6 * result["top_nm"]
        assert point["inner_nm"] == pytest.approx(here["inner_nm"], abs=slack)
        assert point["outer_nm"] == pytest.approx(here["outer_nm"], abs=slack)
        most, coast, gone = here["most_nm"], here["coast_most_nm"], here["gone_nm" if torque > 0 else "coast_gone_nm"]
        if min(abs(torque - edge) for edge in (most, -coast)) < 2 * slack:
            continue
        if gone is not None and abs(abs(torque) - gone) < 2 * slack:
            continue
        if here["use"] >= 1:
            expected = {"slides"}
        elif torque > most or torque < -coast:
            keeps_line = "inner_spins" if torque > 0 else "inner_drags"
            expected = {keeps_line if gone is None or abs(torque) < gone else "slides"}
            if (most if torque > 0 else coast) > here["solid_nm"] - slack:
                # Straight ahead both let go together; a hair off that, one of them may be said to be the first.
                expected = {"both_go"} if lateral == 0 else expected | {"both_go"}
        elif abs(abs(here["yaw_side_n"]) - even) < 1e-3:
            continue
        else:
            felt = abs(here["yaw_side_n"]) > even
            expected = {"nose_out" if here["yaw_nm"] < 0 else "tail_out"} if felt else {"even"}
        assert point["zone"] in expected, (panel["name"], point, here)


@pytest.mark.parametrize("share", [1.0, 0.999999, 0.9999, 0.999, 0.99])
@pytest.mark.parametrize("throttle", [0.0, -0.0005, -0.01, -0.05, 0.001])
def test_near_the_limit_a_zone_is_what_can_be_felt(share: float, throttle: float) -> None:
    test_a_zone_is_what_the_corner_does_there.hypothesis.inner_test(share, throttle, 12.0, "rear")  # type: ignore[attr-defined]


def test_a_point_beyond_the_picture_gets_the_zone_that_it_lies_in() -> None:
    request = {"built": BUILT, "car": MEASURED, "tries": TRIES, "radius_m": 12, "points": 0}
    drawn = calc("corner_map", request)
    ends = ((1.5 * drawn["foot_nm"], "both_go"), (2 * drawn["top_nm"], "both_go"))
    for torque, zone in ends:
        point = {"lateral_ms2": 0.99 * drawn["limit_ms2"], "torque_nm": torque}
        solid = calc("corner_map", request | {"point": point})["panels"][-1]["point"]
        assert (solid["zone"], solid["text"][:19]) == (zone, "Both wheels slide: ")
    # Braked less than its wheels can carry, it is still held.
    held = {"lateral_ms2": 0.5 * drawn["limit_ms2"], "torque_nm": 1.2 * drawn["foot_nm"]}
    solid = calc("corner_map", request | {"point": held})["panels"][-1]["point"]
    assert (solid["zone"], solid["put_down_nm"]) == ("nose_out", held["torque_nm"])


def test_columns_have_no_gap_and_no_overlap() -> None:
    result = calc("corner_map", {"built": BUILT, "tries": TRIES, "points": 21, "radius_m": 25})
    for panel in result["panels"]:
        for place in range(21):
            rows = sorted(
                (zone["from_nm"][place], zone["to_nm"][place])
                for zone in panel["zones"]
                if zone["from_nm"][place] is not None
            )
            assert rows[0][0] == result["foot_nm"]
            assert rows[-1][1] == result["top_nm"]
            assert [end for _, end in rows[:-1]] == pytest.approx([start for start, _ in rows[1:]])


def test_the_doubt_of_the_most_holds_cars_as_they_may_be() -> None:
    request = {"built": BUILT, "car": {"name": "Blue car"}, "radius_m": 30, "points": 5, "blur": True}
    result = calc("corner_map", request)
    figures = {row["name"]: row for row in calc("car", {"name": "Blue car"})["figures"]}
    chance, inside, rounds = random.Random(7), 0, 400
    lateral = result["lateral_ms2"][2]
    band = next(panel for panel in result["panels"] if panel["kind"] == "as_built")["most"][2]
    for _ in range(rounds):
        # Ends of a range are hardly likely: half of it is two standard deviations.
        drawn = {name: chance.gauss(row["value"], (row["high"] - row["low"]) / 4) for name, row in figures.items()}
        drawn["sensitivity"] = max(0.0, drawn["sensitivity"])
        plain = {"radius_m": 30, "lateral_ms2": lateral, "torque_nm": 1, **LOCKS["as it is built"]}
        inside += band["low_nm"] <= calc("corner", plain | drawn)["most_nm"] <= band["high_nm"]
    assert inside / rounds > 0.9
    # It is no band that holds everything.
    assert band["high_nm"] - band["low_nm"] < 1.2 * result["top_nm"]


def test_a_car_that_was_measured_is_surer_than_a_usual_one() -> None:
    def width(car: dict[str, Any]) -> float:
        result = calc("corner_map", {"built": BUILT, "car": car, "points": 5, "blur": True})
        band = next(panel for panel in result["panels"] if panel["kind"] == "as_built")["most"][2]
        return float(band["high_nm"] - band["low_nm"]) / float(result["top_nm"])

    tyres = {"tyres": "racing_treaded"}
    assert width(MEASURED | {"grip": 1.15}) < 0.8 * width({"name": "Blue car", **tyres})


def test_without_torque_no_wheel_is_dragged_or_spun() -> None:
    # An open axle with its inner wheel in the air: the slightest torque either way takes hold of that wheel.
    bands = [Band(INNER_DRAGS, -4, -300.0, 0.0), Band(INNER_SPINS, 6, 0.0, 500.0)]
    assert [zone_at(bands, torque) for torque in (-1.0, 0.0, 1.0)] == ["inner_drags", "even", "inner_spins"]
