"""Planning by going through every arrangement: slow, plain, and sharing nothing with the engine's way.

Torques and chances come from `from_scratch`; draws are shared by all arrangements of a unit, so that chances can be
compared with each other much closer than each is known.
"""

import itertools
import math
from collections import defaultdict
from collections.abc import Iterator
from typing import Any, NamedTuple

import numpy as np

from .from_scratch import FRICTION_FACTOR, Values, even, expected, force, of_a_new_disc, torque_for_each_newton

Pick = dict[str, Any] | None

# Draws for comparing arrangements with each other, and for how certain the best of them are.
FEW, MANY = 4000, 60000


class Arrangement(NamedTuple):
    """One way to fill a unit's places: the piece at each, or None where the plate stays."""

    picks: tuple[Pick, ...]
    changes: int
    apart_um: int
    torque: float


def um(mm: float) -> int:
    """Whole micrometres."""
    return math.floor(mm * 1000 + 0.5)


def places(request: dict[str, Any]) -> list[dict[str, Any]]:
    """Every place but the spring's with what is fitted there, from cover to floor, its side, and what may be done."""
    fitted = {row["slot"]: row for row in request["fitted"]}
    rows, rings = [], 0
    for item in request["unit"]["chain"]:
        if item["part"] == "spring":
            continue
        rings += item["part"] == "ring"
        row = {"keep": False, "replace": False, **fitted[item["slot"]], "part": item["part"]}
        limit = row.get("minimum_mm") or item.get("minimum_mm")
        if limit is None and item["part"] != "ring":
            limit = round(920 * item["new_mm"]) / 1000
        row["new_mm"] = row.get("new_mm", item["new_mm"])
        row["side"] = 0 if rings == 0 else 1 if rings == 2 and item["part"] != "ring" else None
        row["worn"] = limit is not None and row.get("lowest_mm", row["mm"]) < limit
        row["open"] = item["part"] != "ring" and not row["keep"]
        rows.append(row)
    return rows


def choices(request: dict[str, Any], row: dict[str, Any], change: float) -> list[Pick]:
    """What one place may hold: its own plate, and every piece of its kind that does not change it by too much."""
    if not row["open"]:
        return [None]
    low, high = um(row["mm"]) - um(change), max(um(row["mm"]) + um(change), um(row["new_mm"]))
    fit = [
        piece
        for piece in request["shelf"]
        if piece["part"] == row["part"]
        and low <= um(piece["mm"]) <= high
        and piece["mm"] >= (piece.get("minimum_mm") or 0.92 * (piece.get("new_mm") or piece["mm"]))
    ]
    return ([] if row["worn"] or row["replace"] else [None]) + fit


def every(request: dict[str, Any]) -> Iterator[tuple[Pick, ...]]:
    """All arrangements that the shelf has pieces enough for."""
    change = request.get("most_change_mm", 0.3)
    rows = places(request)
    for picks in itertools.product(*[choices(request, row, change) for row in rows]):
        taken = [pick["name"] for pick in picks if pick is not None]
        if all(taken.count(piece["name"]) <= piece["count"] for piece in request["shelf"]):
            yield picks


def within_order(request: dict[str, Any]) -> tuple[int, list[Arrangement]]:
    """(How many arrangements there are, those that are even enough and expected within the order below the peak)."""
    rows, wanted = places(request), request["wanted"]
    before = [row["mm"] for row in rows]
    apart = um(request.get("most_apart_mm", 0.1))
    count, found = 0, []
    for picks in every(request):
        count += 1
        after = [um(row["mm"] if pick is None else pick["mm"]) for row, pick in zip(rows, picks, strict=True)]
        lean = sum(
            size * (1 - 2 * row["side"]) for size, row in zip(after, rows, strict=True) if row["side"] is not None
        )
        lean -= sum(um(row["new_mm"]) * (1 - 2 * row["side"]) for row in rows if row["side"] is not None)
        if abs(lean) > apart:
            continue
        mm = [size / 1000 for size in after]
        torque = expected(request, before, mm)
        rising = expected(request, before, [*mm[:-1], mm[-1] + 0.001]) > torque
        if rising and abs(torque - wanted["torque_nm"]) <= wanted["tolerance_nm"]:
            found.append(Arrangement(picks, sum(pick is not None for pick in picks), lean, torque))
    return count, found


class Draws:
    """The same draws of everything that is in doubt, for every arrangement of one unit."""

    def __init__(self, request: dict[str, Any], seed: int, count: int) -> None:
        chance = np.random.default_rng(seed)
        self.request, self.rows = request, places(request)
        spring = request["unit"]["spring"]
        load_up, load_down, up, down = of_a_new_disc(spring["t_mm"])
        gauged = request.get("spring_within_mm")
        low, high = (-down, up) if gauged is None else (-gauged, gauged)
        self.rise: Values = low + (high - low) * chance.random(count)
        self.old = even(chance, np.array([row["within_mm"] for row in self.rows]), count)
        self.new = even(chance, np.ones(len(self.rows)), count)
        self.depth = even(chance, request.get("cavity_within_mm", 0.05), count)
        measured = request.get("measured")
        if measured is None:
            mu = request["unit"]["friction"]["mu"] * np.exp(chance.normal(0, math.log(FRICTION_FACTOR) / 1.96, count))
            load = 1 - load_down + (load_up + load_down) * chance.random(count)
            self.size: Values = torque_for_each_newton(request["unit"], 1.0) * mu * load
            return
        before, crush = force(
            request["unit"], (np.array([row["mm"] for row in self.rows]) + self.old).sum(axis=1) - self.depth, self.rise
        )
        true = chance.normal(measured["torque_nm"], measured["expanded_nm"] / 1.96, count)
        self.size = np.where(crush > 0, true / np.where(crush > 0, before, 1.0), np.nan)

    def torques(self, picks: tuple[Pick, ...]) -> Values:
        """What one arrangement comes to, N·m."""
        solids = -self.depth
        for place, (row, pick) in enumerate(zip(self.rows, picks, strict=True)):
            if pick is None:
                solids = solids + row["mm"] + self.old[:, place]
            else:
                solids = solids + pick["mm"] + pick["within_mm"] * self.new[:, place]
        then, _ = force(self.request["unit"], solids, self.rise)
        torques = self.size * then
        return torques[~np.isnan(torques)]

    def chance(self, picks: tuple[Pick, ...]) -> float:
        """Share of the draws that meet the order."""
        wanted = self.request["wanted"]
        return float(np.mean(np.abs(self.torques(picks) - wanted["torque_nm"]) <= wanted["tolerance_nm"]))


Packed = dict[tuple[int, int], tuple[Pick, ...]]


def packed(request: dict[str, Any], side: int) -> Packed:
    """(Changes, thickness) that one pack can come to, with one way to each; pieces are taken to be there in any number.

    Plates that are known alike make ways to the same thickness with as many changes alike in every respect.
    """
    found: Packed = {(0, 0): ()}
    for row in places(request):
        if row["side"] != side:
            continue
        following: Packed = {}
        for (changes, size), picks in found.items():
            for pick in choices(request, row, request.get("most_change_mm", 0.3)):
                key = (changes + (pick is not None), size + um(row["mm"] if pick is None else pick["mm"]))
                following.setdefault(key, (*picks, pick))
        found = following
    return found


def best_of_many(request: dict[str, Any], seed: int, low_um: int, high_um: int) -> dict[int, float]:
    """Chance of the best arrangement with every number of changes, or of a better one that the stock has not got.

    Parameters
    ----------
    low_um, high_um : int
        Thinnest and thickest stack, without springs, that is expected within the order.
    """
    rows = places(request)
    rings = tuple(None for row in rows if row["side"] is None)
    middle = sum(um(row["mm"]) for row in rows if row["side"] is None)
    first, second = packed(request, 0), packed(request, 1)
    examples: dict[tuple[int, int], tuple[Pick, ...]] = {}
    for (left_changes, left_size), picks in first.items():
        for (right_changes, right_size), right_picks in second.items():
            if abs(left_size - right_size) <= 100 and low_um <= left_size + right_size + middle <= high_um:
                examples.setdefault(
                    (left_changes + right_changes, left_size + right_size), (*picks, *rings, *right_picks)
                )
    few, many = Draws(request, seed, FEW // 2), Draws(request, seed + 1, MANY)
    best: dict[int, list[tuple[float, tuple[Pick, ...]]]] = {}
    for (changes, _), picks in examples.items():
        best.setdefault(changes, []).append((few.chance(picks), picks))
    answer = {}
    for changes, ranked in best.items():
        ranked.sort(key=lambda row: -row[0])
        answer[changes] = max(many.chance(picks) for _, picks in ranked[:5])
    return answer


def of_all(request: dict[str, Any], seed: int) -> tuple[int, dict[int, float]]:
    """How many arrangements there are, and the best chance for every number of changes."""
    count, found = within_order(request)
    few, many = Draws(request, seed, FEW), Draws(request, seed + 10**6, MANY)
    by_changes: dict[int, list[tuple[float, Arrangement]]] = defaultdict(list)
    for arrangement in found:
        by_changes[arrangement.changes].append((few.chance(arrangement.picks), arrangement))
    best = {}
    for changes, rows in by_changes.items():
        rows.sort(key=lambda row: -row[0])
        best[changes] = max(many.chance(arrangement.picks) for _, arrangement in rows[:4])
    return count, best
