"""A car of the shop: its height by a lifted axle beside plain geometry, its figures with their ranges."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.engine import KINDS, BadInput, calc

from ..samples import sample

MEASURED = sample("car", "all of it measured")


def figure(result: dict[str, Any], name: str) -> dict[str, Any]:
    return next(row for row in result["figures"] if row["name"] == name)


def on_scales(height: float, share: float, base: float, hub: float, lift: float) -> float:
    """Share of the weight under the front wheels with the rear hubs lifted, with the car turned about the front hub.

    Lengths in mm; the wheels stand on the scales, so each carries below its own hub.
    """
    tilt = math.asin(lift / base)
    # From the front hub to the centre of gravity: backwards and up, then nose down by the tilt.
    back, up = (1 - share) * base, height - hub
    level = back * math.cos(tilt) - up * math.sin(tilt)
    return 1 - level / (base * math.cos(tilt))


@given(
    st.floats(350, 700),
    st.floats(0.4, 0.65),
    st.floats(2000, 2900),
    st.floats(260, 340),
    st.floats(0.1, 0.4),
    st.sampled_from(["front", "rear"]),
)
def test_a_lifted_axle_gives_the_height_back(
    height: float, share: float, base: float, hub: float, lift: float, lifted: str
) -> None:
    mass = 1000.0
    gained = mass * (on_scales(height, share, base, hub, lift * base) - share)
    # Below the hubs nothing is gained.
    if gained < 0.1:
        return
    weighing = {"axle": lifted, "lift_mm": lift * base, "gained_kg": gained, "hub_mm": hub}
    result = calc("car", {"name": "Car", "mass_kg": mass, "wheelbase_mm": base, "lifted": weighing})
    row = figure(result, "cg_mm")
    assert row["value"] == pytest.approx(height, rel=1e-6)
    assert row["low"] < height < row["high"]
    assert row["source"] == "worked_out"


def test_more_lift_makes_the_height_surer() -> None:
    def width(lift: float) -> float:
        gained = 1000 * (on_scales(480, 0.5, 2400, 300, lift) - 0.5)
        lifted = {"axle": "rear", "lift_mm": lift, "gained_kg": gained, "hub_mm": 300}
        row = figure(calc("car", {"name": "Car", "mass_kg": 1000, "wheelbase_mm": 2400, "lifted": lifted}), "cg_mm")
        return float(row["high"] - row["low"])

    assert width(600) < 0.6 * width(250)


def test_a_name_is_enough_and_the_rest_is_said_to_be_usual() -> None:
    result = calc("car", {"name": "Blue car"})
    assert result["usual"] == 6
    assert {row["source"] for row in result["figures"]} == {"usual"}
    assert "common practice, no source" in result["text"]
    assert all(row["low"] < row["value"] < row["high"] for row in result["figures"])
    assert result["gears"] == []


def test_weight_radius_and_gears_come_out_of_what_was_measured() -> None:
    result = calc("car", MEASURED)
    assert figure(result, "mass_kg")["value"] == 1010
    assert figure(result, "weight_share")["value"] == pytest.approx(490 / 1010)
    front = calc("car", MEASURED | {"axle": "front"})
    assert figure(front, "weight_share")["value"] == pytest.approx(520 / 1010)
    # Five turns of a circle of 300 mm radius, within the tape's millimetres.
    assert figure(result, "tyre_mm")["value"] == pytest.approx(9420 / 10 / math.pi)
    first, second = result["gears"][:2]
    assert first["torque_nm"] / second["torque_nm"] == pytest.approx(3.1 / 2.05)
    # Some is lost on the way to the wheels.
    assert 0.8 * 190 * 3.1 * 3.9 < first["low_nm"] < first["high_nm"] < 190 * 3.1 * 3.9
    assert result["usual"] == 0


def test_lengths_are_said_in_the_readers_unit() -> None:
    assert (
        figure(calc("car", MEASURED | {"write_lengths_in": "inch"}), "track_mm")["text"] == "55.5 inch (55.2 to 55.8)"
    )


def test_a_car_is_the_shops_and_the_bench_writes_it() -> None:
    assert (KINDS["car"].about, KINDS["car"].writers) == ("shop", ("bench",))
    with pytest.raises(BadInput):
        calc("car", {"name": " "})
