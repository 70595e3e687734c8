"""Torque and its spread worked out once more, from the standards alone: nothing here is the engine's.

Load of a disc spring: DIN EN 16984:2017, equations for K1, K4 and F; J. O. Almen, A. Laszlo, The uniform-section disk
spring, Trans. ASME 58 (1936), 305-314. Torque of plates: V. B. Bhandari, Design of Machine Elements, chapter 11.
Propagation of distributions: JCGM 101:2008. Tolerances of new discs: DIN EN 16983:2017, as a spring maker's table gives
them; above 6 mm from memory.
"""

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64]

STEEL, POISSON = 206000.0, 0.3
# Thickness up to which a row counts: load above and below, in hundredths; height above and below, mm.
NEW_DISCS = [
    (1.25, 0.25, 0.075, 0.10, 0.05),
    (2.0, 0.15, 0.075, 0.15, 0.08),
    (3.0, 0.15, 0.075, 0.20, 0.10),
    (6.0, 0.10, 0.05, 0.30, 0.15),
    (1e9, 0.05, 0.05, 0.30, 0.30),
]
# Plates in oil: common practice, no source.
FRICTION_FACTOR = math.sqrt(0.25 / 0.04)


def of_a_new_disc(t: float) -> tuple[float, float, float, float]:
    """Load above and below, free height above and below."""
    for most, *row in NEW_DISCS:
        if t < most or (t == most and most > 1.25):
            return tuple(row)  # type: ignore[return-value]
    raise AssertionError(t)


def disc_load(spring: dict[str, Any], l0: Values, s: Values) -> Values:
    """Load of one disc of free height `l0` at deflection `s`, N, kept between loose and flat."""
    de, di, t = spring["de_mm"], spring["di_mm"], spring["t_mm"]
    reduced = spring.get("flats_t_mm") or t
    delta = de / di
    first = (delta + 1) / (delta - 1) - 2 / math.log(delta)
    k1 = ((delta - 1) / delta) ** 2 / first / math.pi
    k4 = np.ones_like(l0)
    if reduced != t:
        ratio = reduced / t
        c1 = ratio**2 / ((0.25 * l0 / t - ratio + 0.75) * (0.625 * l0 / t - ratio + 0.375))
        c2 = c1 / ratio**3 * (0.15625 * (l0 / t - 1) ** 2 + 1)
        k4 = np.sqrt(-c1 / 2 + np.sqrt((c1 / 2) ** 2 + c2))
    # With contact flats h0' = l0 - t', and that far it goes.
    h0 = l0 - reduced
    s = np.clip(s, 0.0, h0)
    bracket = k4**2 * (h0 / reduced - s / reduced) * (h0 / reduced - s / (2 * reduced)) + 1
    size = 4 * STEEL / (1 - POISSON**2) * reduced**4 / (k1 * de**2)
    answer: Values = size * k4**2 * s / reduced * bracket
    return answer


def springs_of(unit: dict[str, Any]) -> tuple[dict[str, Any], int, int]:
    """The disc, how many nest, and how many nests share the travel."""
    spring = unit["spring"]
    places = sum(item["part"] == "spring" for item in unit["chain"])
    return spring, spring.get("parallel", 1), spring.get("series", 1) * places


def force(unit: dict[str, Any], solids: Values, rise: Values) -> tuple[Values, Values]:
    """(Preload, N; crush, mm) with `solids` mm of plates and rings, every disc standing `rise` mm higher."""
    spring, parallel, nests = springs_of(unit)
    reduced = spring.get("flats_t_mm") or spring["t_mm"]
    l0 = spring["l0_mm"] + rise
    crush = solids + nests * (l0 + (parallel - 1) * reduced) - unit["cavity_mm"]
    return parallel * disc_load(spring, l0, crush / nests), crush


def faces(unit: dict[str, Any]) -> int:
    """Faces at which a friction plate rubs on something else, over both packs."""
    kinds = [item["part"] for item in unit["chain"] if item["part"] != "spring"]
    rubs = ["friction" if kind == "friction" else "other" for kind in ["end", *kinds, "end"]]
    return sum(left != right for left, right in zip(rubs, rubs[1:], strict=False))


def torque_for_each_newton(unit: dict[str, Any], mu: float) -> float:
    """N·m of stated torque for each newton: the mean of two packs, or their sum."""
    ring = unit["friction"]
    inner, outer = ring["inner_mm"] / 2, ring["outer_mm"] / 2
    if ring.get("run_in", True):
        radius = (inner + outer) / 2
    else:
        radius = 2 / 3 * (outer**3 - inner**3) / (outer**2 - inner**2)
    stated = 2 if unit.get("stated_for") == "case_held" else 1
    return float(stated * mu * radius * faces(unit) / 2 / 1000)


def expected(request: dict[str, Any], before: list[float], after: list[float]) -> float:
    """Torque of a rebuild, N·m, from the thickness of every place before and after it, nothing being off."""
    unit, none = request["unit"], np.zeros(1)
    now, _ = force(unit, np.array([sum(before)]), none)
    then, _ = force(unit, np.array([sum(after)]), none)
    if request.get("measured"):
        # A stack that is loose gives no torque that could have been measured.
        return float(request["measured"]["torque_nm"] * then[0] / now[0]) if now[0] > 0 else 0.0
    return float(torque_for_each_newton(unit, unit["friction"].get("mu", 0.1)) * then[0])


def even(chance: np.random.Generator, within: float | Values, count: int) -> Values:
    """Draws that lie anywhere within, either way."""
    answer: Values = chance.uniform(-1.0, 1.0, (count, *np.shape(within))) * within
    return answer


def drawn(
    request: dict[str, Any],
    rows: list[dict[str, Any]],
    within: dict[str, float],
    chance: np.random.Generator,
    count: int,
) -> Values:
    """Torques that a rebuild may come to, N·m: every doubt drawn, and carried through the formulas.

    Parameters
    ----------
    request : dict
        The plan's request, every figure a plain number.
    rows : list of dict
        The plan's rows: was_mm, mm and what is done.
    within : dict
        Place -> how far off the plate that is fitted now may be.
    """
    unit = request["unit"]
    spring, _, _ = springs_of(unit)
    load_up, load_down, up, down = of_a_new_disc(spring["t_mm"])
    gauged = request.get("spring_within_mm")
    low, high = (-down, up) if gauged is None else (-gauged, gauged)
    rise = chance.uniform(low, high, count) if high > low else np.zeros(count)
    was = np.array([row["was_mm"] for row in rows]) + even(
        chance, np.array([within[row["slot"]] for row in rows]), count
    )
    new = np.array([row["mm"] for row in rows]) + even(chance, np.array([row["within_mm"] for row in rows]), count)
    stays = np.array([row["action"] == "keep" for row in rows])
    depth = even(chance, request.get("cavity_within_mm", 0.05), count)
    before, crush = force(unit, was.sum(axis=1) - depth, rise)
    after, _ = force(unit, np.where(stays, was, new).sum(axis=1) - depth, rise)
    measured = request.get("measured")
    if measured is None:
        mu = unit["friction"].get("mu", 0.1) * np.exp(chance.normal(0, math.log(FRICTION_FACTOR) / 1.96, count))
        load = chance.uniform(1 - load_down, 1 + load_up, count)
        assumed: Values = torque_for_each_newton(unit, 1.0) * mu * load * after
        return assumed
    true = chance.normal(measured["torque_nm"], measured.get("expanded_nm", 0.0) / 1.96, count)
    # A torque was read, so the stack was not loose.
    held = crush > 0
    answer: Values = (true * after / np.where(held, before, 1.0))[held]
    return answer
