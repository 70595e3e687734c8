"""Closing a unit: pushes, energy and what a vice must take, beside sums over the spring's travel.

Sources: DIN EN 16984, as in `made_units`, and its friction of a column, F (1 ± w_M (n - 1) ± w_R), from memory;
DIN EN 16983:2017, tolerances of new discs, as given in a spring maker's table (above 6 mm from memory); a screw's clamp
T / (K d), common practice; a vice rated for twice the push, and the opening clear by a millimetre, likewise.
"""

import random
from typing import Any

import pytest

from server.engine import calc

from .made_units import (
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
    found = calc("closing", {"unit": unit | {"cover": cover}, "crush_mm": crush, "nut_factor": 0.15})

    discs, count = places(unit) * nests(spring), places(unit) * nests(spring) * nested(spring)
    push = preload_at(unit, crush)
    most, energy = strongest(spring, crush / discs)
    screw = cover["torque_nm"] / (0.15 * cover["screw_mm"] / 1000)
    assert found["flush_n"] == pytest.approx(push, rel=1e-9)
    assert found["start_n"] == pytest.approx(preload_at(unit, max(0.0, crush - cover["start_mm"])), rel=1e-9)
    assert found["energy_j"] == pytest.approx(places(unit) * column_energy(spring, crush / places(unit)), rel=1e-9)
    # Who pushes the cover down pushes against the discs' friction too.
    assert found["vice_most_n"] == pytest.approx(nested(spring) * most / (1 - (lost or 0)), rel=1e-4)
    first_thread = strongest(spring, (crush - cover["start_mm"]) / discs)[0]
    assert found["start_most_n"] == pytest.approx(nested(spring) * first_thread, rel=1e-4)
    assert found["energy_most_j"] == pytest.approx(count * energy, rel=1e-9)
    assert found["lift_m"] == pytest.approx(count * energy / GRAVITY, rel=1e-9)
    assert found["per_screw_n"] == pytest.approx(push / cover["screws"], rel=1e-9)
    assert found["screw_n"] == pytest.approx(screw, rel=1e-9)
    assert found["clamp_left_n"] == pytest.approx(screw * cover["screws"] - push, rel=1e-9, abs=1e-6)
    assert (found["closing_n"], found["opening_n"]) == (
        (None, None) if lost is None else pytest.approx((push / (1 - lost), push / (1 + lost)), rel=1e-9)
    )
    free = crush + discs * tolerance(spring["t_mm"])[1]
    assert found["free_after_mm"] == pytest.approx(free, abs=1e-9)
    assert free + 1 - 1e-9 <= found["open_to_mm"] <= free + 1.5 + 1e-9
    assert 2 * found["vice_most_n"] <= found["rated_n"] <= 2.5 * found["vice_most_n"] + 100
