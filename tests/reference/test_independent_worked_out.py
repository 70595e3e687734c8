"""What cannot be measured, worked out once more: roots by SciPy, doubts by drawing whatever is not known exactly.

Sources: DIN EN 16984:2017, a disc's load, from memory; DIN EN 16983:2017, tolerances of new discs, as in a spring
maker's table; JCGM 101:2008, propagation of distributions by a Monte Carlo method, 7.7: the shortest or the symmetric
interval that holds 95 %. Nothing of the engine is used but its answers.
"""

import copy
import math
import random
from collections.abc import Callable
from typing import Any

import numpy
import pytest
from scipy import optimize

from server.engine import BadInput, calc

from .random_units import (
    column_height,
    disc_load,
    flat_travel,
    nested,
    nests,
    places,
    random_unit,
    solids,
    torque_per_newton,
)

# Cases of each way and draws of each case; `check_many` goes through more of both.
CASES, DRAWS = 16, 3000

# Ends that nobody gave: a plate or ring that was not measured, the depth, the gap, all mm either way; a torque with its
# 95 %, friction and a press, as shares.
PLATE, DEPTH, GAP, ADDED, READING, RUB, PRESS = 0.02, 0.05, 0.05, 0.02, 0.05, 0.2, 0.02

WAYS = ("depth_from_gap", "depth_from_torque", "depth_from_builds", "height_from_load", "friction_from_torque")


def permitted(t: float) -> tuple[float, float, float, float]:
    """Load of a new disc above and below, shares; height above and below, mm."""
    if t < 1.25:
        return 0.25, 0.075, 0.10, 0.05
    rows = ((2, 0.15, 0.075, 0.15, 0.08), (3, 0.15, 0.075, 0.20, 0.10), (6, 0.10, 0.05, 0.30, 0.15))
    return next((row[1:] for row in rows if t <= row[0]), (0.05, 0.05, 0.30, 0.30))


def load_of(spring: dict[str, Any], s: Any, l0: Any) -> Any:
    """Load of one disc of any height at a deflection, both numbers or arrays: `disc_load` for all draws at once."""
    t, delta, nu = spring["t_mm"], spring["de_mm"] / spring["di_mm"], spring.get("poisson", 0.3)
    k1 = ((delta - 1) / delta) ** 2 / ((delta + 1) / (delta - 1) - 2 / math.log(delta)) / math.pi
    thick, four = t, 1.0
    if spring.get("flats_t_mm"):
        thick = spring["flats_t_mm"]
        slim, ratio = thick / t, l0 / t
        c1 = slim**2 / ((ratio / 4 - slim + 3 / 4) * (5 / 8 * ratio - slim + 3 / 8))
        four = (c1**2 / 4 + c1 / slim**3 * (5 / 32 * (ratio - 1) ** 2 + 1)) ** 0.5 - c1 / 2
    stiff = 4 * spring.get("elastic_nmm2", 206000.0) / (1 - nu**2) * thick**4 / (k1 * spring["de_mm"] ** 2)
    h, x = (l0 - thick) / thick, s / thick
    return stiff * four * x * (four * (h - x) * (h - x / 2) + 1)


def scaled_at_test(spring: dict[str, Any], taller: Any) -> Any:
    """Load over that of its own formula of a new disc so much taller: at the test it gives what its table says."""
    test = 0.75 * (spring["l0_mm"] - spring["t_mm"])
    return load_of(spring, test, spring["l0_mm"]) / load_of(spring, test + taller, spring["l0_mm"] + taller)


def root(gap: Callable[[Any], Any], low: Any, high: Any) -> Any:
    """Where a rising function is 0, for all draws at once; no number where it is not between its ends."""
    first, last = numpy.broadcast_arrays(numpy.asarray(low, float), numpy.asarray(high, float))
    low, high = first.copy(), last.copy()
    inside = (gap(low) <= 0) & (gap(high) >= 0)
    for _ in range(48):
        middle = (low + high) / 2
        above = gap(middle) > 0
        low, high = numpy.where(above, low, middle), numpy.where(above, middle, high)
    return numpy.where(inside, (low + high) / 2, numpy.nan)


def crossings(spring: dict[str, Any], force: float) -> list[float]:
    """Deflections of one disc at a load, by SciPy between neighbours of a fine grid."""
    grid = numpy.linspace(0.0, flat_travel(spring), 4001)
    off = numpy.array([disc_load(spring, s) for s in grid]) - force
    turns = [place for place in range(4000) if off[place] * off[place + 1] < 0]
    return [
        float(optimize.brentq(lambda s: disc_load(spring, s) - force, grid[place], grid[place + 1], xtol=1e-14))
        for place in turns
    ]


class Drawn:
    """What may be true of a case, drawn about what was typed."""

    def __init__(self, unit: dict[str, Any], case: dict[str, Any], seed: int, draws: int) -> None:
        self.chance, self.draws = numpy.random.default_rng(seed), draws
        self.unit, self.spring, self.case = unit, unit["spring"], case
        above, below, high, low = permitted(self.spring["t_mm"])
        self.load = self.even(1 - below, 1 + above)
        within = case.get("spring_within_mm")
        self.taller = self.even(-low, high) if within is None else self.even(-within, within)
        self.form = scaled_at_test(self.spring, self.taller) if within is None else numpy.ones(draws)
        offs = case["offs"]
        self.plates = sum((self.even(-off, off) for off in offs), numpy.zeros(draws))

    def even(self, low: float, high: float) -> Any:
        return self.chance.uniform(low, high, self.draws)

    def read(self, value: float, expanded: float | None) -> Any:
        return self.chance.normal(value, (READING * value if expanded is None else expanded) / 1.96, self.draws)

    def free(self) -> Any:
        """Height of all springs."""
        return places(self.unit) * (column_height(self.spring) + nests(self.spring) * self.taller)

    def force(self, s: Any) -> Any:
        """Force of all discs at a deflection of each."""
        return nested(self.spring) * self.load * self.form * load_of(self.spring, s, self.spring["l0_mm"] + self.taller)


def discs_in_line(unit: dict[str, Any]) -> int:
    return places(unit) * nests(unit["spring"])


def top_of(drawn: Drawn) -> Any:
    """Deflection up to which the load rises, for each draw: the best of a grid."""
    flat = flat_travel(drawn.spring) + drawn.taller
    grid = numpy.linspace(0, 1, 401)[:, None] * flat
    best = numpy.argmax(load_of(drawn.spring, grid, drawn.spring["l0_mm"] + drawn.taller), axis=0)
    return grid[best, numpy.arange(drawn.draws)]


def draw(way: str, request: dict[str, Any], unit: dict[str, Any], case: dict[str, Any], seed: int, draws: int) -> Any:
    """The figure that each draw comes to; no number where it comes to none."""
    if way == "height_from_load":
        return draw_height(request, case, seed, draws)
    drawn = Drawn(unit, case, seed, draws)
    line, thick = discs_in_line(unit), solids(unit) + drawn.plates
    if way == "depth_from_gap":
        gap, off = request["gap"]["gap_mm"], request["gap"].get("within_mm", GAP)
        return thick + drawn.free() - drawn.even(gap - off, gap + off)
    if way == "friction_from_torque":
        torque = drawn.read(request["torque"]["torque_nm"], request["torque"].get("expanded_nm"))
        crush = thick + drawn.free() - unit["cavity_mm"] - drawn.even(-DEPTH, DEPTH)
        return torque / torque_per_newton(unit, 1.0) / drawn.force(crush / line)
    if way == "depth_from_torque":
        torque = drawn.read(request["torque"]["torque_nm"], request["torque"].get("expanded_nm"))
        mu = request["friction"]["mu"]
        off = request["friction"].get("within", RUB * mu)
        force = torque / torque_per_newton(unit, 1.0) / drawn.even(mu - off, mu + off)
        s = root(lambda s: drawn.force(s) - force, 0.0, top_of(drawn))
        return thick + drawn.free() - line * s
    builds = request["builds"]
    first = drawn.read(builds["torque_nm"], builds.get("expanded_nm"))
    second = drawn.read(builds["second_nm"], builds.get("second_expanded_nm"))
    off = builds.get("thicker_within_mm", ADDED)
    more = drawn.even(builds["thicker_mm"] - off, builds["thicker_mm"] + off) / line
    flat = flat_travel(drawn.spring) + drawn.taller
    sign = numpy.where(more > 0, 1.0, -1.0)
    start = numpy.maximum(1e-9, 1e-9 - more)
    # A thicker stack gains less, as a share, the more the spring is squeezed already: the log of its load is concave.
    s = root(
        lambda s: sign * (first * drawn.force(s + more) - second * drawn.force(s)) * -1,
        start,
        flat - numpy.maximum(0, more),
    )
    return (
        (solids(unit) if builds.get("solids_mm") is None else builds["solids_mm"])
        + drawn.plates
        + drawn.free()
        - line * s
    )


def draw_height(request: dict[str, Any], case: dict[str, Any], seed: int, draws: int) -> Any:
    chance, spring, load = numpy.random.default_rng(seed), request["spring"], request["load"]
    above, below, _, _ = permitted(spring["t_mm"])
    factor = chance.uniform(1 - below, 1 + above, draws)
    press, off = load.get("within_percent", 100 * PRESS) / 100, load.get("within_mm", DEPTH)
    force = load["load_n"] * chance.uniform(1 - press, 1 + press, draws) / factor / nested(spring)
    height = load["height_mm"] + chance.uniform(-off, off, draws)
    thick = spring.get("flats_t_mm") or spring["t_mm"]
    # The lowest point of each disc's cone under the load, from which it is let go.
    least = height / nests(spring) - (nested(spring) - 1) * thick
    return least + root(lambda s: load_of(spring, s, least + s) - force, 0.0, 4.9 * spring["t_mm"] - least + thick)


def made_case(way: str, chance: random.Random) -> tuple[dict[str, Any], dict[str, Any], dict[str, Any], float]:
    """A request, the unit that it is about, how well its parts are known, and the figure that is true of it."""
    unit = random_unit(chance)
    # Torques that a form takes.
    while (
        torque_per_newton(unit, 1.0) * nested(unit["spring"]) * disc_load(unit["spring"], flat_travel(unit["spring"]))
        > 3e4
    ):
        unit = random_unit(chance)
    spring, line, mu = unit["spring"], discs_in_line(unit), unit["friction"]["mu"]
    travel = chance.uniform(0.2, 0.72) * (spring["l0_mm"] - spring["t_mm"])
    unit["cavity_mm"] = solids(unit) + places(unit) * column_height(spring) - line * travel
    rigid = [item for item in unit["chain"] if item["part"] != "spring"]
    case: dict[str, Any] = {"offs": [PLATE] * len(rigid), "spring_within_mm": None}
    if chance.random() < 0.6:
        case = {"offs": [chance.choice([0.003, 0.006, 0.02]) for _ in rigid], "spring_within_mm": 0.02}
    force = nested(spring) * disc_load(spring, travel)
    torque = torque_per_newton(unit, mu) * force
    request: dict[str, Any] = {"from": way}
    known = copy.deepcopy(unit)
    if way.startswith("depth"):
        del known["cavity_mm"]
    read = {"torque_nm": torque} | (
        {} if chance.random() < 0.5 else {"expanded_nm": torque * chance.uniform(0.01, 0.06)}
    )
    true = unit["cavity_mm"]
    if way == "depth_from_gap":
        request["gap"] = {"gap_mm": line * travel} | ({} if chance.random() < 0.5 else {"within_mm": 0.02})
    elif way == "depth_from_torque":
        rub = {} if chance.random() < 0.4 else {"within": mu * chance.uniform(0.02, 0.15)}
        request |= {"torque": read, "friction": {"mu": mu} | rub}
    elif way == "friction_from_torque":
        request["torque"], true = read, mu
    elif way == "depth_from_builds":
        more = chance.choice([-1, 1]) * chance.uniform(0.1, 0.3) * line * travel
        second = torque * disc_load(spring, travel + more / line) / disc_load(spring, travel)
        sure = chance.choice([0.002, 0.005, 0.01])
        request["builds"] = {
            "torque_nm": torque,
            "expanded_nm": sure * torque,
            "thicker_mm": more,
            "second_nm": second,
            "second_expanded_nm": sure * second,
            "thicker_within_mm": 0.005,
        }
    else:
        sizes = {name: value for name, value in spring.items() if name != "l0_mm"}
        request |= {
            "spring": sizes,
            "load": {"load_n": force, "height_mm": column_height(spring) - nests(spring) * travel},
        }
        return request, unit, case, spring["l0_mm"]
    if case["spring_within_mm"] is None:
        request["unit"] = known
    else:
        spots = [{"within_mm": off} for off in case["offs"]]
        request["built"] = {"unit": known, "places": spots, "spring_within_mm": case["spring_within_mm"]}
    return request, unit, case, true


def fits_twice(request: dict[str, Any], unit: dict[str, Any]) -> bool:
    """Whether two crushes give the torque of a request, by SciPy."""
    each = request["torque"]["torque_nm"] / torque_per_newton(unit, request["friction"]["mu"])
    return len(crossings(unit["spring"], each / nested(unit["spring"]))) == 2


def answer_or_refusal(request: dict[str, Any]) -> tuple[dict[str, Any] | None, str]:
    """The engine's answer, or what it refused with."""
    try:
        return calc("work_out", request), ""
    except BadInput as refusal:
        return None, refusal.reason


def compare(way: str, seed: int, draws: int) -> dict[str, float] | str:
    """How far the engine is from the truth and from the draws, or what it refused with."""
    request, unit, case, true = made_case(way, random.Random(f"{way} {seed}"))
    result, refusal = answer_or_refusal(request)
    if way == "depth_from_torque" and "This must" not in refusal:
        assert ("Two depths" in refusal) == fits_twice(request, unit)
    if result is None:
        return refusal
    figure = result["mu"] if way == "friction_from_torque" else result["mm"]
    values = draw(way, request, unit, case, seed, draws)
    known = values[~numpy.isnan(values)]
    ends = numpy.quantile(known, [0.025, 0.975])
    return {
        "off": abs(figure["value"] - true) / true,
        "lost": 1 - len(known) / len(values),
        "covered": float(numpy.mean((known >= figure["low"]) & (known <= figure["high"]))),
        "u": figure["u"] / float(numpy.std(known)),
        "low": (figure["low"] - ends[0]) / (ends[1] - ends[0]),
        "high": (figure["high"] - ends[1]) / (ends[1] - ends[0]),
    }


@pytest.mark.parametrize("way", WAYS)
def test_what_is_worked_out_is_what_roots_and_draws_come_to(way: str) -> None:
    rows = [compare(way, seed, DRAWS) for seed in range(CASES)]
    answers = [row for row in rows if not isinstance(row, str)]
    assert len(answers) >= CASES // 2
    assert max(row["off"] for row in answers) < 1e-9
    # Where nothing else fits, a draw now and then has no answer either.
    assert max(row["lost"] for row in answers) < 0.03
    assert all(0.91 <= row["covered"] <= 0.985 for row in answers)
    assert 0.935 <= numpy.mean([row["covered"] for row in answers]) <= 0.965
    assert all(0.88 <= row["u"] <= 1.2 for row in answers)


def check_many(cases: int, draws: int) -> None:
    """More cases of each way, and what they come to."""
    for way in WAYS:
        rows = [compare(way, seed, draws) for seed in range(cases)]
        answers = [row for row in rows if not isinstance(row, str)]
        refused = [row for row in rows if isinstance(row, str)]
        print(way, len(answers), "answers; farthest off", max(row["off"] for row in answers))
        for name in ("covered", "lost", "u", "low", "high"):
            print(
                "  ",
                name,
                numpy.quantile([row[name] for row in answers], [0, 0.02, 0.5, 0.98, 1]).round(3),
                "mean",
                round(float(numpy.mean([row[name] for row in answers])), 4),
            )
        kinds: dict[str, int] = {}
        for text in refused:
            kinds[text[:60]] = kinds.get(text[:60], 0) + 1
        for text in sorted(kinds, key=lambda key: -kinds[key])[:12]:
            print("  refused", kinds[text], text)
