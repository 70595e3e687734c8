"""Lock, thrust, friction and warmth of a unit against statics worked out by another road, and against print."""

import random
from typing import Any

import pytest

from server.engine import calc
from server.engine.unit.pressing import thrust_per_torque
from server.engine.unit.spring_friction import load_factors
from server.engine.unit.warming import ALUMINIUM_PPM, STEEL_PPM, warm_crush

from . import by_virtual_work as work

ROUNDS = 2000


def stack_of(chance: random.Random, layout: str) -> list[dict[str, Any]]:
    """A stack with packs of their own, which end on plates of either kind."""
    spring = {"slot": "S1", "part": "spring"}

    def pack(side: str) -> list[dict[str, Any]]:
        kinds = ["separator", *["friction", "separator"] * chance.randrange(1, 5)]
        if chance.random() < 0.3:
            kinds.append("separator")
        thick = {"friction": chance.uniform(1.5, 3.0), "separator": chance.uniform(1.5, 3.0)}
        return [
            {"slot": f"{side}{place}", "part": kind, "new_mm": thick[kind]} for place, kind in enumerate(kinds, start=1)
        ]

    rings = [{"slot": f"R{number}", "part": "ring", "new_mm": chance.uniform(10, 22)} for number in (1, 2)]
    first, second = pack("A"), pack("B")
    if layout == "between_rings":
        return [*first, rings[0], spring, rings[1], *second]
    ends = [{**spring, "slot": "S2"}] if layout == "two_springs" else []
    return [spring, *first, *rings, *second, *ends]


def unit_of(chance: random.Random) -> dict[str, Any]:
    """A unit of which everything that presses is given, as sizes come."""
    layout = chance.choice(["in_line", "two_springs", "between_rings"])
    spring = {"de_mm": 100.0, "di_mm": 51.0, "t_mm": chance.uniform(2.6, 4.0), "parallel": 1}
    spring["l0_mm"] = spring["t_mm"] * chance.uniform(1.5, 1.9)
    chain = stack_of(chance, layout)
    unit: dict[str, Any] = {
        "name": "Random",
        "order": {"torque_nm": 100, "tolerance_nm": 10},
        "service": {"low_nm": 0},
        "layout": layout,
        "spring": spring,
        "chain": chain,
        "cavity_mm": 0.0,
        "friction": {
            "inner_mm": chance.uniform(50, 75),
            "outer_mm": chance.uniform(80, 110),
            "mu": chance.uniform(0.06, 0.15),
            "run_in": chance.random() < 0.5,
        },
        "ramps": {
            "pin_radius_mm": chance.uniform(25, 45),
            "drive_deg": chance.uniform(25, 90),
            "coast_deg": chance.uniform(25, 90),
            "mu": chance.uniform(0, 0.2),
            "ears": {"radius_mm": chance.uniform(45, 70), "mu": chance.uniform(0, 0.2)},
            "gears": {
                "on_packs": chance.random() < 0.7,
                "pressure_deg": chance.uniform(14, 30),
                "pitch_radius_mm": chance.uniform(22, 40),
                "cone_deg": chance.uniform(45, 70),
            },
        },
        "warming": {
            "warmer_k": chance.uniform(20, 120),
            "case_ppm": chance.uniform(10, 25),
            "stack_ppm": chance.uniform(10, 13),
        },
    }
    springs = 2 if layout == "two_springs" else 1
    free = work.crush_of(unit)
    unit["cavity_mm"] = free - springs * (spring["l0_mm"] - spring["t_mm"]) * chance.uniform(0.2, 0.9)
    return unit


def locking_value(unit: dict[str, Any], angle: float, per_newton: float) -> float:
    """Difference of the output torques over their sum, from the forces on one ring."""
    ramps, torque = unit["ramps"], 100.0
    force = work.ramp_and_ears(
        torque, angle, ramps["mu"], ramps["pin_radius_mm"], ramps["ears"]["mu"], ramps["ears"]["radius_mm"]
    )
    gears = ramps["gears"]
    if gears["on_packs"]:
        force += work.gear_thrust(torque, gears["pressure_deg"], gears["cone_deg"], gears["pitch_radius_mm"])
    return max(0.0, force) * per_newton / torque


@pytest.fixture(scope="module")
def units() -> list[dict[str, Any]]:
    """The units that every check here looks at."""
    chance = random.Random(20261128)
    return [unit_of(chance) for _ in range(ROUNDS)]


def both_packs_per_newton(unit: dict[str, Any]) -> float:
    """Torque of both packs for each newton that presses them."""
    ring = unit["friction"]
    return work.sliding_faces(unit) * work.ring_torque(
        ring["mu"], ring["inner_mm"] / 2, ring["outer_mm"] / 2, ring["run_in"]
    )


def test_lock_and_traction_of_two_thousand_units_equal_virtual_work(units: list[dict[str, Any]]) -> None:
    chance = random.Random(7)
    solid = held = 0
    for unit in units:
        springs = 2 if unit["layout"] == "two_springs" else 1
        crush, per_newton = work.crush_of(unit), both_packs_per_newton(unit)
        preload = per_newton * work.disc_load(unit["spring"], crush / springs)
        result = calc("ramps", {"unit": unit, "points": 3})
        assert result["crush_mm"] == pytest.approx(crush, abs=1e-9)
        assert result["preload_lock_nm"] == pytest.approx(preload, rel=1e-6)
        slopes = [locking_value(unit, unit["ramps"][f"{way}_deg"], per_newton) for way in ("drive", "coast")]
        for way, slope in zip(("drive", "coast"), slopes, strict=True):
            side = result["fittings"][0][way]
            assert side["locking_value"] == pytest.approx(slope, rel=1e-6, abs=1e-12)
            assert side["solid"] == (slope >= 1)
            held += slope == 0
            solid += slope >= 1
        grips = {
            name: {"load_kg": chance.uniform(50, 400), "grip": chance.choice([0.0, 0.2, 0.6, 1.1])}
            for name in ("left", "right")
        }
        found = calc("traction", {**grips, "tyre_radius_mm": 300, "built": {"unit": unit}})
        weak, strong = sorted(0.3 * 9.80665 * wheel["load_kg"] * wheel["grip"] for wheel in grips.values())
        adds = unit["layout"] == "between_rings"
        assert found["unit_nm"] == pytest.approx(work.put_down(preload, slopes[0], adds, weak, strong), rel=1e-6)
    assert solid > 20
    assert held > 20


def test_warm_units_are_squeezed_by_the_sum_of_their_grown_parts(units: list[dict[str, Any]]) -> None:
    for unit in units:
        warming = unit["warming"]
        grown = work.crush_of(unit, warming["warmer_k"], warming["case_ppm"], warming["stack_ppm"])
        assert calc("unit", unit)["warm"]["crush_mm"] == pytest.approx(grown, abs=1e-9)


def test_friction_of_discs_is_what_the_press_gives_beyond_what_they_store() -> None:
    # Work over a small travel, down and up again: what does not come back went into friction.
    chance = random.Random(3)
    for _ in range(ROUNDS):
        stored, discs = chance.uniform(1e3, 2e4), chance.randrange(1, 6)
        between, edge = chance.uniform(0, 0.03), chance.uniform(0, 0.05)
        more, less = load_factors({"parallel": discs, "surface_friction": between, "edge_friction": edge})
        down, up = stored * more, stored * less
        lost = between * (discs - 1) + edge
        assert down - stored == pytest.approx(lost * down, rel=1e-9, abs=1e-6)
        assert stored - up == pytest.approx(lost * up, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize(("discs", "least", "most"), [(1, 2, 3), (2, 4, 6), (3, 6, 9), (4, 8, 12), (5, 10, 15)])
def test_nested_discs_rub_by_two_or_three_percent_a_disc(discs: int, least: float, most: float) -> None:
    # Handbooks on disc springs: load up or down by friction, 2 to 3 % a nested disc; w_M 0.005 to 0.03 and w_R 0.03 to
    # 0.05 of series A in DIN EN 16984. Both from memory.
    more, less = load_factors({"parallel": discs, "surface_friction": 0.02, "edge_friction": 0.03})
    assert least <= 100 * (more - 1) <= most + 0.2
    assert least - 0.2 <= 100 * (1 - less) <= most


def test_axial_force_of_a_bevel_gear() -> None:
    # J. E. Shigley, Mechanical Engineering Design, example of a bevel pinion with 18.4 and gear with 71.6 degrees,
    # pressure angle 20 degrees, 406 lbf round the shaft: 46.6 lbf along the pinion's shaft, 140 along the gear's; from
    # memory.
    for cone, along in ((18.43, 46.6), (71.57, 140.0)):
        radius = 1000.0 / 2.0 / 406.0
        assert thrust_per_torque(20.0, cone, radius) == pytest.approx(along, rel=0.004)


def test_gears_give_about_half_of_what_ramps_of_45_degrees_give() -> None:
    # Common practice, no source.
    gears = thrust_per_torque(22.5, 58.0, 30.0)
    ramps = work.ramp_and_ears(1.0, 45.0, 0.1, 34.0, 0.0, 60.0)
    assert 0.4 < gears / ramps < 0.6


def test_a_bar_of_aluminium_grows_by_twice_as_much_as_one_of_steel() -> None:
    # Handbook values, from memory: one metre grows by 2.3 mm in 100 K, of steel by 1.15 mm.
    metre = {"warmer_k": 100.0, "case_ppm": ALUMINIUM_PPM, "stack_ppm": STEEL_PPM}
    assert warm_crush(metre, 1000.0, 0.0) == pytest.approx(1.15 - 2.3)


def test_the_sum_over_thin_rings_is_fine_enough() -> None:
    assert work.ring_torque(0.1, 36, 52, True) == pytest.approx(0.1 * 44 / 1000, rel=1e-9)
    third = 2 / 3 * (52**3 - 36**3) / (52**2 - 36**2)
    assert work.ring_torque(0.1, 36, 52, False) == pytest.approx(0.1 * third / 1000, rel=1e-7)
