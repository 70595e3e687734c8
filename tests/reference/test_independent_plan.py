"""Plans of small random shelves beside every way of filling the places, drawn as often as it takes.

Sources: DIN EN 16984, as in `random_units`; JCGM 101:2008, 6.4 and 7, for what is drawn: thickness and depth evenly
within what they may be off, the measured torque normally, the free height evenly within its gauge's doubt or, by DIN EN
16983:2017, a new disc's tolerance. A torque that was measured brings friction and the spring's load with it.
"""

import itertools
import random
from collections import Counter
from typing import Any

import numpy
import pytest

from server.engine import calc

from .random_units import (
    column_height,
    crush_of,
    most_crush,
    nests,
    places,
    preload_at,
    random_unit,
    solids,
    torque_per_newton,
)
from .test_independent_drive import loads, tolerance

DRAWS = 8000


def pack(side: str) -> list[dict[str, Any]]:
    """One friction plate between two separators."""
    kinds = ["separator", "friction", "separator"]
    sizes = {"friction": (2.5, 2.2), "separator": (1.5, 1.3)}
    return [
        {"slot": f"{side}{number}", "part": kind, "new_mm": sizes[kind][0], "minimum_mm": sizes[kind][1]}
        for number, kind in enumerate(kinds, 1)
    ]


def small_unit(chance: random.Random) -> dict[str, Any]:
    """A unit of few plates, its spring squeezed by 30 to 60 % of its travel."""
    while True:
        unit = random_unit(chance, rising=True)
        unit["spring"].pop("flats_t_mm", None)
        first, second = pack("A"), pack("B")
        rings = [{"slot": f"R{number}", "part": "ring", "new_mm": 18.0} for number in (1, 2)]
        spots = [{"slot": f"S{number}", "part": "spring"} for number in (1, 2)]
        unit["chain"] = [spots[0], *first, *rings, *second]
        if unit["layout"] == "between_rings":
            unit["chain"] = [*first, rings[0], spots[0], rings[1], *second]
        elif unit["layout"] == "two_springs":
            unit["chain"].append(spots[1])
        if most_crush(unit) > 0.8 and unit["spring"]["t_mm"] < 6:
            crush = chance.uniform(0.3, 0.6) * most_crush(unit)
            unit["cavity_mm"] = round(solids(unit) + places(unit) * column_height(unit["spring"]) - crush, 3)
            return unit


def random_request(chance: random.Random) -> dict[str, Any]:
    """A plan's request that can be: worn plates, a torque of usual friction, a few pieces on the shelf."""
    while True:
        unit = small_unit(chance)
        solid = [item for item in unit["chain"] if item["part"] != "spring"]
        worn = {item["slot"]: chance.uniform(0, 0.06) * (item["part"] != "ring") for item in solid}
        fitted = [{"slot": item["slot"], "mm": round(item["new_mm"] - worn[item["slot"]], 3)} for item in solid]
        crush = crush_of(unit) - sum(item["new_mm"] for item in solid) + sum(row["mm"] for row in fitted)
        most = most_crush(unit)
        if not 0.15 * most < crush < 0.7 * most:
            continue
        force = preload_at(unit, crush)
        torque = round(chance.uniform(0.06, 0.14) * torque_per_newton(unit, 1.0) * force, 1)
        ordered = torque * preload_at(unit, crush + chance.uniform(-0.05, 0.15)) / force
        if 10 < torque < 1000 and 10 < ordered < 1000:
            break
    unit["order"] = {"torque_nm": round(ordered, 1), "tolerance_nm": round(ordered * chance.uniform(0.04, 0.12), 1)}
    unit["service"] = {"low_nm": 1}
    shelf = []
    for part, base, count in (("friction", 2.5, 2), ("separator", 1.5, 1)):
        for off in chance.sample([-0.1, -0.05, 0, 0.05, 0.1, 0.15], count):
            row = {
                "name": f"{part} {base + off:.2f}",
                "part": part,
                "mm": round(base + off, 2),
                "minimum_mm": base - 0.3,
            }
            shelf.append(row | {"count": chance.randrange(1, 4), "within_mm": 0.01})
    return {
        "unit": unit,
        "fitted": [row | {"lowest_mm": row["mm"], "within_mm": 0.006} for row in fitted],
        "measured": {"torque_nm": torque, "expanded_nm": round(torque * chance.uniform(0.02, 0.08), 2)},
        "shelf": shelf,
        "most_apart_mm": chance.choice([20, 0.1]),
        "most_change_mm": 20,
        "cavity_within_mm": 0.02,
        "spring_within_mm": chance.choice([None, 0.02, 0.04]),
        "buying": False,
        "alternatives": False,
    }


class Drawn:
    """What may be off, drawn once for all ways of filling the places of a unit."""

    def __init__(self, request: dict[str, Any], seed: int) -> None:
        dice = numpy.random.default_rng(seed)
        self.unit, self.order = request["unit"], request["unit"]["order"]
        self.was = numpy.array([row["mm"] for row in request["fitted"]])
        self.discs = places(self.unit) * nests(self.unit["spring"])
        self.free = places(self.unit) * column_height(self.unit["spring"]) - self.unit["cavity_mm"]
        taller, lower = tolerance(self.unit["spring"]["t_mm"])[2:]
        gauged = request["spring_within_mm"]
        self.rise = dice.uniform(-(gauged or lower), gauged or taller, DRAWS)
        self.old, self.new = (dice.uniform(-off, off, (DRAWS, len(self.was))) for off in (0.006, 0.01))
        self.depth = dice.uniform(-0.02, 0.02, DRAWS)
        self.torque = request["measured"]["torque_nm"]
        self.read = dice.normal(self.torque, request["measured"]["expanded_nm"] / 1.96, DRAWS)
        self.before = self.force((self.was + self.old).sum(axis=1) - self.depth, self.rise)
        self.there = self.before > 0

    def force(self, thick: Any, rise: Any) -> Any:
        """Preload, but for a factor that every build of a unit shares."""
        spring = self.unit["spring"]
        height = spring["l0_mm"] + rise
        travel = numpy.clip((thick + self.free) / self.discs + rise, 0.0, height - spring["t_mm"])
        return loads(spring, travel, height)

    def expected(self, mm: Any) -> float:
        """Torque with nothing off."""
        return float(self.torque * self.force(mm.sum(), 0.0) / self.force(self.was.sum(), 0.0))

    def torques(self, mm: Any, fitted: Any) -> Any:
        """Torque of every draw; 0 where the stack was loose before."""
        after = self.force(numpy.where(fitted, mm + self.new, mm + self.old).sum(axis=1) - self.depth, self.rise)
        return numpy.where(self.there, self.read * after / numpy.where(self.there, self.before, 1.0), 0.0)

    def chance(self, mm: Any, fitted: Any) -> float:
        """Share of the draws within the order."""
        off = abs(self.torques(mm, fitted) - self.order["torque_nm"])
        return float((self.there & (off <= self.order["tolerance_nm"])).mean())


def best_by_changes(request: dict[str, Any], drawn: Drawn) -> dict[int, float]:
    """The best chance for every number of plates changed, among the ways that are expected within the order."""
    solid = [item for item in request["unit"]["chain"] if item["part"] != "spring"]
    options: list[list[Any]] = []
    for item, mm in zip(solid, drawn.was):
        stays = [None] if item["part"] == "ring" or mm >= item["minimum_mm"] else []
        options.append(stays + [row for row in request["shelf"] if row["part"] == item["part"]])
    sides = numpy.array([{"A": 1, "B": -1}.get(item["slot"][0], 0) for item in solid])
    even = float((sides * [item["new_mm"] for item in solid]).sum())
    best: dict[int, float] = {}
    seen = set()
    for picks in itertools.product(*options):
        used = Counter(pick["name"] for pick in picks if pick)
        mm = numpy.array([pick["mm"] if pick else was for pick, was in zip(picks, drawn.was)])
        if any(used[row["name"]] > row["count"] for row in request["shelf"]):
            continue
        if abs((sides * mm).sum() - even) > request["most_apart_mm"] + 1e-9:
            continue
        fitted = numpy.array([pick is not None for pick in picks])
        key = (round(float(mm.sum()), 3), int(fitted.sum()))
        off = abs(drawn.expected(mm) - drawn.order["torque_nm"])
        if key not in seen and off <= drawn.order["tolerance_nm"] + 1e-9:
            best[key[1]] = max(best.get(key[1], 0.0), drawn.chance(mm, fitted))
        seen.add(key)
    return best


@pytest.mark.parametrize("seed", range(50))
def test_a_plan_is_the_best_of_all_ways_to_fill_the_places(seed: int) -> None:
    request = random_request(random.Random(seed))
    drawn = Drawn(request, seed)
    result = calc("plan", request)
    best = best_by_changes(request, drawn)
    assert result["possible"] == bool(best)
    for choice in result.get("choices", []):
        rows = [row for row in choice["stack"] if row["part"] != "spring"]
        mm, fitted = numpy.array([row["mm"] for row in rows]), numpy.array([row["action"] == "fit" for row in rows])
        assert choice["changes"] == fitted.sum()
        assert choice["torque_nm"] == pytest.approx(drawn.expected(mm), rel=1e-9)
        assert choice["chance"] == pytest.approx(drawn.chance(mm, fitted), abs=0.03)
        assert not choice["proven"] or choice["chance"] > best[choice["changes"]] - 0.035
    if best:
        assert result["choices"][0]["chance"] > max(best.values()) - 0.035
        assert min(choice["changes"] for choice in result["choices"]) == min(best)


def test_a_gauged_height_that_bends_the_curve_is_gone_through_in_steps() -> None:
    """Two nests, hardly squeezed: 0.02 mm a disc are a tenth of the crush, and the torque bends with the height."""
    chain = [*pack("A"), *pack("B")]
    rings = [{"slot": f"R{number}", "part": "ring", "new_mm": 18.0} for number in (1, 2)]
    unit: dict[str, Any] = {
        "name": "Made up",
        "layout": "between_rings",
        "spring": {"de_mm": 51.9, "di_mm": 31.8, "t_mm": 1.22, "l0_mm": 2.26, "parallel": 1, "series": 2},
        "chain": [*chain[:3], rings[0], {"slot": "S1", "part": "spring"}, rings[1], *chain[3:]],
        "friction": {"inner_mm": 60, "outer_mm": 90, "mu": 0.1},
        "service": {"low_nm": 1},
    }
    unit["cavity_mm"] = round(solids(unit) + column_height(unit["spring"]) - 0.35, 3)
    torque = round(0.1 * torque_per_newton(unit, 1.0) * preload_at(unit, 0.35), 2)
    more = torque * preload_at(unit, 0.48) / preload_at(unit, 0.35)
    unit["order"] = {"torque_nm": round(0.93 * more, 2), "tolerance_nm": round(0.08 * more, 2)}
    request = {
        "unit": unit,
        "fitted": [
            {"slot": item["slot"], "mm": item["new_mm"], "within_mm": 0.006}
            for item in unit["chain"]
            if item["part"] != "spring"
        ],
        "measured": {"torque_nm": torque, "expanded_nm": round(0.027 * torque, 3)},
        "shelf": [{"name": "thick", "part": "friction", "mm": 2.63, "within_mm": 0.01}],
        "most_apart_mm": 20,
        "cavity_within_mm": 0.02,
        "spring_within_mm": 0.02,
    }
    choice = calc("plan", request)["choices"][0]
    rows = [row for row in choice["stack"] if row["part"] != "spring"]
    mm, fitted = numpy.array([row["mm"] for row in rows]), numpy.array([row["action"] == "fit" for row in rows])
    share = numpy.mean([Drawn(request, seed).chance(mm, fitted) for seed in range(12)])
    assert choice["chance"] == pytest.approx(share, abs=0.015)
