"""Closing a unit: pushes, energy and what a vice must take, beside sums over the spring's travel.

Sources: DIN EN 16984, as in `random_units`, and its friction of a column, F (1 ± w_M (n - 1) ± w_R), from memory;
DIN EN 16983:2017, tolerances of new discs, as given in a spring maker's table (above 6 mm from memory); a screw's clamp
T / (K d), common practice; a vice rated for twice the push, and the opening clear by a millimetre, likewise.
"""

import math
import random
from typing import Any

import pytest

from server.engine import calc
from tests.engine.checks import UNIT, changed

from .random_units import (
    column_energy,
    disc_load,
    flat_travel,
    most_crush,
    nested,
    nests,
    places,
    preload_at,
    random_unit,
)
from .test_independent_drive import pushes, random_ramps

# As `test_independent_drive`: how far off frictions and thrust may be.
RAMP_OFF, EAR_OFF, GEAR_OFF = 0.03, 0.05, 0.1
GRAVITY = 9.80665
STEPS = 400


def tolerance(t: float) -> tuple[float, float]:
    """By how much the load of a new disc may lie above its table, as a share, and its height, mm."""
    rows = ((1.25, 0.25, 0.10), (2.0001, 0.15, 0.15), (3.0001, 0.15, 0.20), (6.0001, 0.10, 0.30), (99, 0.05, 0.30))
    return next((load, height) for below, load, height in rows if t < below)


def strongest(spring: dict[str, Any], travel: float) -> tuple[float, float]:
    """Largest load of a disc on its way and its energy at the end, J: one of the table's height, and the tallest, both
    as strong as may be at the height at which they are tested."""
    above, taller = tolerance(spring["t_mm"])
    test = 0.75 * (spring["l0_mm"] - spring["t_mm"])
    tall = spring | {"l0_mm": spring["l0_mm"] + taller}
    factor = (1 + above) * disc_load(spring, test) / disc_load(tall, test + taller)
    loads, energies = [], []
    for disc, share, end in ((spring, 1 + above, travel), (tall, factor, travel + taller)):
        end = min(max(0.0, end), flat_travel(disc))
        loads.append(max(share * disc_load(disc, end * step / STEPS) for step in range(STEPS + 1)))
        energies.append(share * column_energy(disc | {"parallel": 1, "series": 1}, end))
    return max(loads), max(energies)


@pytest.mark.parametrize("seed", range(80))
def test_closing_is_what_the_springs_come_to(seed: int) -> None:
    chance = random.Random(seed)
    unit = random_unit(chance)
    spring = unit["spring"]
    cover: dict[str, Any] = {"screws": chance.randrange(4, 13), "screw_mm": chance.choice([6, 8, 10])}
    lost = None
    if chance.random() < 0.3:
        spring |= {"surface_friction": round(chance.uniform(0, 0.03), 3), "edge_friction": 0.03}
        lost = spring["surface_friction"] * (nested(spring) - 1) + 0.03
    cover |= {"torque_nm": round(chance.uniform(5, 60), 1), "start_mm": round(chance.uniform(0, 6), 2)}
    crush = round(chance.choice([0, chance.uniform(0.1, 1), 0.999]) * most_crush(unit), 3)
    result = calc("closing", {"unit": unit | {"cover": cover}, "crush_mm": crush, "nut_factor": 0.15})

    discs, count = places(unit) * nests(spring), places(unit) * nests(spring) * nested(spring)
    push = preload_at(unit, crush)
    most, energy = strongest(spring, crush / discs)
    screw = cover["torque_nm"] / (0.15 * cover["screw_mm"] / 1000)
    assert result["flush_n"] == pytest.approx(push, rel=1e-9)
    assert result["start_n"] == pytest.approx(preload_at(unit, max(0.0, crush - cover["start_mm"])), rel=1e-9)
    assert result["energy_j"] == pytest.approx(places(unit) * column_energy(spring, crush / places(unit)), rel=1e-9)
    # Who pushes the cover down pushes against the discs' friction too.
    assert result["vice_most_n"] == pytest.approx(nested(spring) * most / (1 - (lost or 0)), rel=1e-4)
    first_thread = strongest(spring, (crush - cover["start_mm"]) / discs)[0]
    assert result["start_most_n"] == pytest.approx(nested(spring) * first_thread, rel=1e-4)
    assert result["energy_most_j"] == pytest.approx(count * energy, rel=1e-9)
    assert result["lift_m"] == pytest.approx(count * energy / GRAVITY, rel=1e-9)
    assert result["per_screw_n"] == pytest.approx(push / cover["screws"], rel=1e-9)
    assert result["screw_n"] == pytest.approx(screw, rel=1e-9)
    assert result["clamp_left_n"] == pytest.approx(screw * cover["screws"] - push, rel=1e-9, abs=1e-6)
    assert (result["closing_n"], result["opening_n"]) == (
        (None, None) if lost is None else pytest.approx((push / (1 - lost), push / (1 + lost)), rel=1e-9)
    )
    free = crush + discs * tolerance(spring["t_mm"])[1]
    assert result["free_after_mm"] == pytest.approx(free, abs=1e-9)
    assert free + 1 - 1e-9 <= result["open_to_mm"] <= free + 1.5 + 1e-9
    assert 2 * result["vice_most_n"] <= result["rated_n"] <= 2.5 * result["vice_most_n"] + 100


def push_by_statics(unit: dict[str, Any], flush: float, torque: float) -> float:
    """The most that the cover is pushed with: each flank in turn, with every doubt at its worst."""
    ramps, found, leaning = unit["ramps"], [], 0.0
    gears = ramps.get("gears")
    if gears and not gears["on_packs"]:
        # The gear leans on the case: W_a = W_t tan(phi) sin(gamma), with half the torque at its pitch radius.
        teeth = math.atan2(gears["side_teeth"], gears["pinion_teeth"]) if "side_teeth" in gears else None
        cone = math.radians(gears["cone_deg"]) if teeth is None else teeth
        tangent = 0.5 / (gears["pitch_radius_mm"] / 1000)
        leaning = torque * (1 + GEAR_OFF) * tangent * math.tan(math.radians(gears["pressure_deg"])) * math.sin(cone)
    for angle in (ramps["drive_deg"], ramps["coast_deg"]):
        by_packs = torque * float(pushes(ramps, angle, -RAMP_OFF, -EAR_OFF, GEAR_OFF))
        # In line the spring only hands on what reaches it; between the rings it pushes beside the ramps.
        by_packs = by_packs + flush if unit["layout"] == "between_rings" else max(by_packs, flush)
        # What leans on the case itself goes past packs and spring, so the cover bears it besides.
        found.append(by_packs + leaning)
    return max(found)


def clamp_of_a_random_unit(seed: int) -> None:
    """What is left of the clamp of one random unit at its greatest torque."""
    chance = random.Random(seed)
    unit = random_unit(chance) | {"ramps": random_ramps(chance)}
    torque, diameter = round(chance.uniform(2, 90), 1), chance.choice([5, 6, 8, 10, 12])
    case, screws, nut = round(chance.uniform(50, 9000), 1), chance.randrange(2, 17), round(chance.uniform(0.1, 0.3), 3)
    unit["cover"] = {"screws": screws, "screw_mm": diameter, "torque_nm": torque, "case_nm": case}
    crush = round(chance.uniform(0, 0.999) * most_crush(unit), 3)
    result = calc("closing", {"unit": unit, "crush_mm": crush, "nut_factor": nut})
    pushed = push_by_statics(unit, preload_at(unit, crush), case)
    assert result["push_most_n"] == pytest.approx(pushed, rel=1e-9)
    for name, factor in (("left_n", nut), ("left_low_n", 1.25 * nut), ("left_high_n", 0.75 * nut)):
        clamp = screws * torque / (factor * diameter / 1000)
        assert result[name] == pytest.approx(clamp - pushed, rel=1e-9, abs=1e-6)
    warned = {row["name"] for row in result["warnings"]} & {"no_clamp_on_drive", "little_clamp_on_drive"}
    little = {"little_clamp_on_drive"} if result["left_low_n"] <= 0 else set()
    assert warned == ({"no_clamp_on_drive"} if result["left_n"] <= 0 else little)


@pytest.mark.parametrize("seed", range(80))
def test_the_clamp_left_counts_what_the_ramps_push(seed: int) -> None:
    clamp_of_a_random_unit(seed)


def test_gears_on_the_case_push_the_cover_beside_a_spring_in_line() -> None:
    """Ramps of 90 degrees press nothing: the spring keeps all of its push, and the gears' thrust goes past it."""
    gears = {"on_packs": False, "pressure_deg": 22.5, "pitch_radius_mm": 30, "cone_deg": 60}
    ramps = {"pin_radius_mm": 30, "drive_deg": 90, "coast_deg": 90, "mu": 0.1, "gears": gears}
    cover = {"screws": 8, "screw_mm": 8, "torque_nm": 25, "case_nm": 1000}
    result = calc("closing", {"unit": changed(UNIT, ramps=ramps, cover=cover)})
    thrust = 1.1 * 500 / 0.03 * math.tan(math.radians(22.5)) * math.sin(math.radians(60))
    assert result["push_most_n"] == pytest.approx(result["flush_n"] + thrust, rel=1e-12)
    assert result["left_n"] == pytest.approx(result["clamp_left_n"] - thrust, rel=1e-12)
