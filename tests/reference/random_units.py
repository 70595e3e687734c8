"""Units made up at random, and what their springs, stacks and packs come to: textbook formulas, nothing of the engine.

Lengths in mm, forces in N, torques in N·m.

References
----------
1. DIN EN 16984:2017, Disc springs - Calculation; from memory. J. O. Almen, A. Laszlo, Trans. ASME 58 (1936), 305-314.
2. V. B. Bhandari, Design of Machine Elements, chapter 11: uniform wear and uniform pressure.
"""

import copy
import math
import random
from typing import Any

# Integrals over a spring's travel, by Gauss-Legendre of five points: exact for its polynomial of third degree.
NODES = (0.0, 0.5384693101056831, -0.5384693101056831, 0.906179845938664, -0.906179845938664)
WEIGHTS = (128 / 225, *((322 + 13 * math.sqrt(70)) / 900,) * 2, *((322 - 13 * math.sqrt(70)) / 900,) * 2)


def disc_load(spring: dict[str, Any], s: float) -> float:
    """Load of one disc [1]_."""
    de, di, t, l0 = (float(spring[name]) for name in ("de_mm", "di_mm", "t_mm", "l0_mm"))
    elastic, nu = spring.get("elastic_nmm2") or 206000.0, spring.get("poisson")
    nu = 0.3 if nu is None else nu
    delta = de / di
    k1 = ((delta - 1) / delta) ** 2 / ((delta + 1) / (delta - 1) - 2 / math.log(delta)) / math.pi
    thick, four = t, 1.0
    if spring.get("flats_t_mm"):
        thick = float(spring["flats_t_mm"])
        ratio, slim = l0 / t, thick / t
        c1 = slim**2 / ((ratio / 4 - slim + 3 / 4) * (5 / 8 * ratio - slim + 3 / 8))
        c2 = c1 / slim**3 * (5 / 32 * (ratio - 1) ** 2 + 1)
        four = math.sqrt(-c1 / 2 + math.sqrt(c1**2 / 4 + c2))
    cone, x = (l0 - thick) / thick, s / thick
    bent = four**2 * (cone - x) * (cone - x / 2) + 1
    return 4 * elastic / (1 - nu**2) * thick**4 / (k1 * de**2) * four**2 * x * bent


def flat_travel(spring: dict[str, Any]) -> float:
    """Travel until one disc is flat."""
    return float(spring["l0_mm"] - (spring.get("flats_t_mm") or spring["t_mm"]))


def nests(spring: dict[str, Any]) -> int:
    """Nests of a column, which share its travel."""
    return int(spring.get("series") or 1)


def nested(spring: dict[str, Any]) -> int:
    """Discs of a nest, which add their loads."""
    return int(spring.get("parallel") or 1)


def column_height(spring: dict[str, Any]) -> float:
    """Free height of a column: each nest is a cone with the thickness of the further discs on top."""
    thick = spring.get("flats_t_mm") or spring["t_mm"]
    return float(nests(spring) * (spring["l0_mm"] + (nested(spring) - 1) * thick))


def column_load(spring: dict[str, Any], travel: float) -> float:
    """Load of a column under a travel of all of it."""
    return nested(spring) * disc_load(spring, travel / nests(spring))


def column_energy(spring: dict[str, Any], travel: float) -> float:
    """Energy in a column, J: the sum of its load over its travel."""
    half = travel / 2
    total = sum(weight * column_load(spring, half * (1 + node)) for node, weight in zip(NODES, WEIGHTS))
    return half * total / 1000


def places(unit: dict[str, Any]) -> int:
    """Columns one after the other in the stack."""
    return sum(item["part"] == "spring" for item in unit["chain"])


def solids(unit: dict[str, Any]) -> float:
    """Plates, rings and shims together."""
    return math.fsum(item["new_mm"] for item in unit["chain"] if item["part"] != "spring")


def crush_of(unit: dict[str, Any]) -> float:
    """By how much the free stack is longer than the cavity."""
    return solids(unit) + places(unit) * column_height(unit["spring"]) - float(unit["cavity_mm"])


def preload_at(unit: dict[str, Any], crush: float) -> float:
    """Axial force: columns at both ends share the travel."""
    return column_load(unit["spring"], crush / places(unit))


def most_crush(unit: dict[str, Any]) -> float:
    """Crush at which all discs are flat."""
    return places(unit) * nests(unit["spring"]) * flat_travel(unit["spring"])


def faces_of(unit: dict[str, Any]) -> tuple[int, int]:
    """Sliding faces of both packs: where a friction plate lies against anything that turns with the case."""
    kinds = [item["part"] for item in unit["chain"] if item["part"] != "spring"]
    first, last = kinds.index("ring"), len(kinds) - 1 - kinds[::-1].index("ring")
    packs = (["case", *kinds[: first + 1]], [*kinds[last:], "case"])
    counted = [sum((a == "friction") != (b == "friction") for a, b in zip(pack, pack[1:])) for pack in packs]
    return counted[0], counted[1]


def radius_of(unit: dict[str, Any]) -> float:
    """Effective radius of the plates [2]_."""
    inner, outer = unit["friction"]["inner_mm"] / 2, unit["friction"]["outer_mm"] / 2
    if unit["friction"].get("run_in", True):
        return float(inner + outer) / 2
    return float(2 / 3 * (outer**3 - inner**3) / (outer**2 - inner**2))


def torque_per_newton(unit: dict[str, Any], mu: float) -> float:
    """Torque as the order states it for each newton of preload: both packs with the case held, else their mean."""
    packs = 2 if unit.get("stated_for") == "case_held" else 1
    return packs * sum(faces_of(unit)) / 2 * mu * radius_of(unit) / 1000


def random_spring(chance: random.Random, rising: bool = False) -> dict[str, Any]:
    """A disc within the usual proportions, flat or peaked, with and without flats, alone or in a column."""
    de = round(chance.uniform(50, 180), 1)
    t = round(de / chance.uniform(18, 45), 2)
    tall = chance.uniform(0.3, 1.2 if rising else 1.9)
    spring = {
        "de_mm": de,
        "di_mm": round(de / chance.uniform(1.6, 2.4), 1),
        "t_mm": t,
        "l0_mm": round(t * (1 + tall), 2),
    }
    if chance.random() < 0.2:
        spring["flats_t_mm"] = round(t * chance.uniform(0.935, 0.96), 3)
    if chance.random() < 0.2:
        spring["elastic_nmm2"], spring["poisson"] = chance.choice([(190000, 0.3), (206000, 0.29)])
    spring["parallel"], spring["series"] = chance.choice([(1, 1), (1, 1), (2, 1), (1, 2), (2, 2), (3, 1)])
    return spring


def random_pack(chance: random.Random, side: str) -> list[dict[str, Any]]:
    """Separators and friction plates in turn, now and then two alike side by side."""
    kinds = ["separator"]
    for _ in range(chance.randrange(1, 5)):
        kinds += ["friction", "separator"] if chance.random() < 0.85 else ["friction", "separator", "separator"]
    if chance.random() < 0.15:
        kinds.append("shim")
    pack = []
    for number, kind in enumerate(kinds, 1):
        new = {"friction": 2.5, "separator": 1.5, "shim": 0.3}[kind] + round(chance.uniform(-0.1, 0.4), 2)
        item: dict[str, Any] = {"slot": f"{side}{number}", "part": kind, "new_mm": round(new, 2)}
        if kind != "shim" and chance.random() < 0.7:
            item["minimum_mm"] = round(new * chance.uniform(0.85, 0.96), 2)
        pack.append(item)
    return pack


def random_unit(chance: random.Random, rising: bool = False) -> dict[str, Any]:
    """A unit that closes, its spring squeezed by anything from 5 to 95 % of its travel."""
    layout = chance.choice(["in_line", "between_rings", "two_springs"])
    first, second = random_pack(chance, "A"), random_pack(chance, "B")
    if second[-1]["part"] == "shim":
        second.insert(0, second.pop())
    rings = [{"slot": f"R{number}", "part": "ring", "new_mm": round(chance.uniform(12, 25), 2)} for number in (1, 2)]
    column = {"slot": "S1", "part": "spring"}
    chain = [*first, rings[0], column, rings[1], *second]
    if layout != "between_rings":
        chain = [column, *first[::-1], *rings, *second]
        if layout == "two_springs":
            chain = [*chain, {"slot": "S2", "part": "spring"}]
    inner = chance.uniform(50, 90)
    low = round(chance.uniform(20, 80), 1)
    order = round(low + chance.uniform(10, 80), 1)
    unit: dict[str, Any] = {
        "name": "Made up",
        "layout": layout,
        "spring": random_spring(chance, rising),
        "chain": chain,
        "friction": {
            "inner_mm": round(inner, 1),
            "outer_mm": round(inner + chance.uniform(15, 50), 1),
            "mu": round(chance.uniform(0.05, 0.16), 3),
            "run_in": chance.random() < 0.7,
        },
        "order": {"torque_nm": order, "tolerance_nm": round(chance.uniform(3, 9), 1)},
        "service": {"low_nm": low, "high_nm": chance.choice([None, round(order + chance.uniform(20, 90), 1)])},
        "stated_for": chance.choice(["case_held", "one_output_held"]),
        "judged_on": chance.choice(["steady", "first_move"]),
    }
    crush = chance.uniform(0.05, 0.95) * places(unit) * nests(unit["spring"]) * flat_travel(unit["spring"])
    unit["cavity_mm"] = round(solids(unit) + places(unit) * column_height(unit["spring"]) - crush, 3)
    return copy.deepcopy(unit)
