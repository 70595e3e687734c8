"""Invented units for plans, drawn from a seed: springs, plates, wear, a shelf and an order."""

import math
import random
from typing import Any

from .from_scratch import expected

PACKS = {
    1: ["separator", "friction", "separator"],
    2: ["separator", "friction", "separator", "friction", "separator"],
}


def spring_of(chance: random.Random) -> dict[str, Any]:
    """A disc between 60 and 140 mm, from stiff to one whose load peaks before it is flat."""
    de = chance.uniform(60, 140)
    t = de / chance.uniform(25, 42)
    spring = {
        "de_mm": round(de, 1),
        "di_mm": round(de / chance.uniform(1.6, 2.2), 1),
        "t_mm": round(t, 2),
        "l0_mm": round(t * (1 + chance.uniform(0.45, 1.25)), 2),
        "parallel": chance.choice([1, 1, 1, 2]),
        "series": chance.choice([1, 1, 2]),
    }
    if chance.random() < 0.2:
        spring["flats_t_mm"] = round(0.94 * spring["t_mm"], 3)
    return spring


def chain_of(chance: random.Random, layout: str, plates: int) -> list[dict[str, Any]]:
    """A stack with so many friction plates a side; thickness when new, and limits here and there."""
    friction, separator = round(chance.uniform(1.8, 3.0), 2), round(chance.uniform(1.4, 2.4), 2)

    def pack(side: str) -> list[dict[str, Any]]:
        rows = []
        for number, part in enumerate(PACKS[plates], 1):
            new = friction if part == "friction" else separator
            row: dict[str, Any] = {"slot": f"{side}{number}", "part": part, "new_mm": new}
            if chance.random() < 0.6:
                row["minimum_mm"] = round(0.9 * new, 3)
            rows.append(row)
        return rows

    rings = [{"slot": f"R{number}", "part": "ring", "new_mm": 17.5} for number in (1, 2)]
    spring = {"slot": "S1", "part": "spring"}
    if layout == "between_rings":
        return [*pack("A"), rings[0], spring, rings[1], *pack("B")]
    end = [{"slot": "S2", "part": "spring"}] if layout == "two_springs" else []
    return [spring, *pack("A"), *rings, *pack("B"), *end]


def unit_of(chance: random.Random, plates: int, travel: float) -> dict[str, Any]:
    """A unit whose springs have `travel` of their way to flat behind them with every plate new."""
    layout = chance.choice(["in_line", "two_springs", "between_rings"])
    chain, spring = chain_of(chance, layout, plates), spring_of(chance)
    nests = spring["series"] * sum(item["part"] == "spring" for item in chain)
    reduced = spring.get("flats_t_mm", spring["t_mm"])
    column = nests * (spring["l0_mm"] + (spring["parallel"] - 1) * reduced)
    crush = travel * nests * (spring["l0_mm"] - spring["t_mm"])
    solids = math.fsum(item.get("new_mm", 0) for item in chain)
    inner = chance.uniform(60, 90)
    return {
        "name": "Drawn",
        "order": {"torque_nm": 100, "tolerance_nm": 10},
        "service": {"low_nm": 0},
        "layout": layout,
        "stated_for": chance.choice(["one_output_held", "case_held"]),
        "spring": spring,
        "cavity_mm": round(solids + column - crush, 3),
        "chain": chain,
        "friction": {
            "inner_mm": round(inner, 1),
            "outer_mm": round(inner + chance.uniform(20, 40), 1),
            "mu": round(chance.uniform(0.07, 0.14), 3),
            "run_in": chance.random() < 0.5,
        },
    }


def plates_in(unit: dict[str, Any]) -> list[dict[str, Any]]:
    """The plates of a unit."""
    return [item for item in unit["chain"] if item["part"] in ("friction", "separator")]


def fitted_in(chance: random.Random, unit: dict[str, Any]) -> list[dict[str, Any]]:
    """What is fitted now: worn a little, each with its own doubt; some have to stay, few have to go."""
    rows: list[dict[str, Any]] = []
    for item in unit["chain"]:
        if item["part"] == "spring":
            continue
        worn = 0.0 if item["part"] == "ring" else chance.uniform(0, 0.06)
        row = {
            "slot": item["slot"],
            "mm": round(item["new_mm"] - worn, 3),
            "new_mm": item["new_mm"],
            "within_mm": round(chance.choice([0.003, 0.005, 0.02]), 3),
        }
        if item["part"] != "ring" and chance.random() < 0.1:
            row["replace"] = True
        rows.append(row)
    return rows


def shelf_for(chance: random.Random, unit: dict[str, Any], rows: int) -> list[dict[str, Any]]:
    """Classes and measured pieces about as thick as the unit's plates, few of each."""
    found = []
    for number in range(rows):
        like = chance.choice(plates_in(unit))
        classed = chance.random() < 0.6
        off = 0.05 * chance.randint(-3, 7) if classed else chance.uniform(-0.15, 0.35)
        found.append(
            {
                "name": f"piece {number}",
                "part": like["part"],
                "mm": round(like["new_mm"] + off, 3),
                "count": chance.randint(1, 4) if classed else 1,
                "within_mm": 0.02 if classed else 0.004,
            }
        )
    return found


def believable(request: dict[str, Any], mu: float) -> float | None:
    """The torque that the unit has now at a friction; None where its spring is squeezed too little to plan by a check.

    A plan is refused below 15 % of the travel, so none is asked for a little above it either.
    """
    unit, now = request["unit"], [row["mm"] for row in request["fitted"]]
    spring = unit["spring"]
    nests = spring["series"] * sum(item["part"] == "spring" for item in unit["chain"])
    column = nests * (spring["l0_mm"] + (spring["parallel"] - 1) * spring.get("flats_t_mm", spring["t_mm"]))
    travel = (math.fsum(now) + column - unit["cavity_mm"]) / nests / (spring["l0_mm"] - spring["t_mm"])
    return expected(request, now, now) * mu / unit["friction"]["mu"] if travel > 0.16 else None


def request_of(chance: random.Random, plates: int, shelf: int, kept: int) -> dict[str, Any]:
    """A plan's request, every figure a plain number; `kept` of the plates have to stay."""
    unit = unit_of(chance, plates, chance.uniform(0.3, 0.65))
    fitted = fitted_in(chance, unit)
    open_rows = [row for row in fitted if row["slot"][0] in "AB" and "replace" not in row]
    for row in chance.sample(open_rows, min(kept, len(open_rows))):
        row["keep"] = True
    request: dict[str, Any] = {"unit": unit, "fitted": fitted, "shelf": shelf_for(chance, unit, shelf)}
    if chance.random() < 0.75:
        torque = believable(request, chance.uniform(0.05, 0.2))
        # Now and then a reading without any doubt, so that the pieces and the spring show.
        expanded = 0.0 if chance.random() < 0.15 else (torque or 0.0) * chance.uniform(0.02, 0.12)
        if torque is not None:
            request["measured"] = {"torque_nm": torque, "expanded_nm": expanded}
    if chance.random() < 0.5:
        request["spring_within_mm"] = round(chance.uniform(0.01, 0.04), 3)
    if chance.random() < 0.3:
        request["cavity_within_mm"] = round(chance.uniform(0.0, 0.08), 3)
    request["alternatives"] = request["buying"] = False
    return request


def small_request(seed: int) -> dict[str, Any]:
    """A unit with at most six places that may change, about to be set to something near what it gives now."""
    chance = random.Random(seed)
    request = request_of(chance, chance.choice([1, 2]), chance.randint(1, 4), 0)
    rows = [row for row in request["fitted"] if row["slot"][0] in "AB"]
    chance.shuffle(rows)
    for row in rows[6:]:
        row.pop("replace", None)
        row["keep"] = True
    now = [row["mm"] for row in request["fitted"]]
    torque = expected(request, now, now)
    request["wanted"] = {
        "torque_nm": torque * chance.uniform(0.95, 1.2),
        "tolerance_nm": torque * chance.uniform(0.04, 0.2),
    }
    return request
