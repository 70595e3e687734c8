"""What is behind a complaint and what to change, worked out a second way over random units, cars and complaints.

Sources: those of `felt_axle`; that what is computed is what is felt is common practice, no source.
"""

import collections
from typing import Any

import numpy
import pytest

from server.engine import calc

from .felt_case import CORNER, FORCES, Case, Locks
from .rolling_axle import Rolling

ORDER = ("turned_over", "pair", "preload", "drive_ramp", "coast_ramp", "faces", "oil")
# Which lock a figure goes by.
FLANK = {"push": "drive", "round": "drive", "most": "drive", "gap": "drive", "steady": "coast", "slip": "coast"}
TOLD = [(figure, place) for figure in ("push", "round", "most", "steady") for place in CORNER] + [("scrub", "tight")]
# More of it is worse, or less; whether a tail that comes round, or a car that is steadied, is one depends.
WORSE = {"push": 1, "most": -1, "scrub": 1, "round": 0, "steady": 0}


def near(value: float, scale: float = 1.0) -> Any:
    """Within a millionth, of what it is a difference of where that is more: its `scale`."""
    return pytest.approx(value, rel=1e-6, abs=1e-6 * max(1.0, scale))


def scale_of(case: Case, figure: str, place: str, value: float) -> float:
    """By what a figure and its range are near: forces are differences of some that are as large as what is felt."""
    return max(value, case.axle(place).felt_from) if figure in FORCES else value


def looked_over(case: Case, row: dict[str, Any], found: dict[str, Any]) -> Any:
    """The figures of a complaint beside our own; the best of them, or None."""
    locks, rows = case.unit.locks(), []
    assert [(each["figure"], each["place"]) for each in found["figures"]] == case.looked_at(row)
    for each in found["figures"]:
        figure, place = each["figure"], each["place"]
        low, high = case.range(figure, place, locks)
        scale = scale_of(case, figure, place, each["value"])
        assert (each["value"], each["low"], each["high"]) == (
            near(case.value(figure, place, case.now), scale),
            near(low, scale),
            near(high, scale),
        )
        match = case.match(figure, place, low, high)
        assert each["match"] == match
        assert each["target"] == (None if match == "not" else near(case.target(figure, place), scale))
        rows.append(match)
    best = next((rows.index(match) for match in ("matches", "may") if match in rows), None)
    assert (found["best"], found["match"]) == (best, ("not" if rows else "none") if best is None else rows[best])
    return None if best is None else found["figures"][best]


def plates_slip(best: dict[str, Any]) -> bool:
    return bool(best["figure"] == "scrub" and best["high"] < 1)


def as_tried(case: Case, way: dict[str, Any]) -> tuple[str, dict[str, Any]]:
    """A way as `Unit.locks` takes it."""
    names = {"drive_ramp": "drive_deg", "coast_ramp": "coast_deg", "faces": "faces", "preload": "torque_nm"}
    lever = way["lever"]
    if lever == "turned_over":
        return lever, {"over": way["fitted"] == "turned_over"}
    if lever == "pair":
        return lever, {"pair": [pair["name"] for pair in case.unit.pairs].index(way["pair"])}
    return lever, {names[lever].replace("torque_nm", "torque"): way[names[lever]]}


def costs(case: Case, way: dict[str, Any], locks: Locks, figure: str, place: str) -> None:
    """What a way changes besides."""
    stated = {(row["figure"], row["place"]): row for row in way["elsewhere"]}
    for name, where in TOLD:
        before, after = case.value(name, where, case.now), case.value(name, where, locks)
        most, row = max(before, after), stated.pop((name, where), None)
        share = abs(after - before) / most if most else 0.0
        small = name in FORCES and most <= case.axle(where).felt_from
        if abs(share - 0.05) > 1e-6:
            assert (row is not None) == (share > 0.05 and not small and (name, where) != (figure, place))
        if row is not None:
            scale = scale_of(case, name, where, most)
            assert (row["before"], row["after"]) == (near(before, scale), near(after, scale))
            assert row["worse"] == ((after - before) * WORSE[name] > 0)
    assert not stated
    now, then = ({where: case.value("gap", where, each) <= 0.02 for where in CORNER} for each in (case.now, locks))
    assert len(way["together"]) == sum(now[where] != then[where] for where in CORNER)


def helped(case: Case, way: dict[str, Any], locks: Locks, others: dict[str, Any]) -> None:
    """Which other complaints a way helps."""
    effects = {row["felt"]: row["effect"] for row in way["others"]}
    for words, best in others.items():
        figure, place = best["figure"], best["place"]
        before, after = case.value(figure, place, case.now), case.value(figure, place, locks)
        share = (after - before) / max(before, after) if max(before, after) else 0.0
        better = share > 0 if figure in ("most", "gap") else share < 0
        if abs(abs(share) - 0.02) > 1e-6:
            assert effects.pop(words, None) == (None if abs(share) < 0.02 else "helps" if better else "worsens")
    assert not effects


def ways_over(case: Case, found: dict[str, Any], best: dict[str, Any], others: dict[str, Any]) -> list[str]:
    """The ways of a complaint beside our own; their levers."""
    figure, place, ways = best["figure"], best["place"], found["ways"]
    levers = [way["lever"] for way in ways]
    assert levers.count("oil") == (figure == "scrub" and best["low"] < 1)
    rows = [as_tried(case, way) for way in ways if way["lever"] != "oil"]
    expected = [] if plates_slip(best) else case.ways(figure, place)
    reach = [case.moved(figure, place, case.unit.locks(**tried)[0]) >= 1 - 1e-6 for _, tried in expected]
    places = sorted(range(len(expected)), key=lambda at: (not reach[at], ORDER.index(expected[at][0]), at))
    assert rows == [expected[at] for at in places]
    for at, (way, (_, tried)) in enumerate(zip(ways, rows)):
        locks = case.unit.locks(**tried)
        assert way["reaches"] == reach[places[at]]
        scale = scale_of(case, figure, place, way["value"])
        assert way["value"] == near(case.value(figure, place, locks[0]), scale)
        assert (way["low"], way["high"]) == tuple(near(end, scale) for end in case.range(figure, place, locks))
        share = 1 if tried.get("faces") is None else tried["faces"] / case.unit.faces
        torque = tried.get("torque", case.unit.torque * share)
        assert way["breakaway_nm"] == near(torque)
        # Other rings leave the torque as it is; another preload and other faces have to stay within the limits.
        outside = ("torque" in tried or "faces" in tried) and not case.unit.limits[0] <= torque <= case.unit.limits[1]
        assert any("outside the limits for running" in text for text in way["warnings"]) == outside
        costs(case, way, locks[0], figure, place)
        helped(case, way, locks[0], others)
    return levers


def test_figures_ways_and_costs_are_those_of_the_axle(rounds: int) -> None:
    seen: collections.Counter[str] = collections.Counter()
    for seed in range(50 * rounds):
        case = Case(seed)
        answer = calc("complaint", case.request)
        rows = list(zip(case.request["felt"], answer["complaints"], strict=True))
        bests = {found["felt"]: looked_over(case, row, found) for row, found in rows}
        there = {words: best for words, best in bests.items() if best is not None and not plates_slip(best)}
        for _, found in rows:
            best = bests[found["felt"]]
            seen[found["match"]] += 1
            if best is None:
                assert found["ways"] == []
                continue
            others = {words: each for words, each in there.items() if words != found["felt"]}
            seen.update(ways_over(case, found, best, others))
            seen[best["figure"]] += 1
        wants = [(FLANK.get(best["figure"], "preload"), case.more_lock(best["figure"])) for best in there.values()]
        clash = [(a, b) for at, a in enumerate(wants) for b in wants[at + 1 :] if a[0] == b[0] and a[1] != b[1]]
        assert len(answer["conflicts"]) == len(clash)
        seen["conflicts"] += len(clash)
    print(dict(seen))
    assert all(seen[name] > 0 for name in (*ORDER, *FLANK, "scrub", "matches", "may", "not", "none", "conflicts")), seen


def test_a_rolled_axle_is_turned_as_much(rounds: int) -> None:
    """Push, round and steady beside axles that are rolled at a row of throttles until they are steady."""
    steps, cases, requests, expected = 12, [], [], []
    for seed in range(2 * rounds):
        case = Case(seed)
        for place in CORNER:
            axle, (drive, coast) = case.axle(place), case.now
            end, braking = min(axle.most(drive), case.full(place)), min(axle.most(coast), case.braking(place, axle))
            plain = axle.car | {"axle": "rear", "radius_m": case.radius[place], "lateral_ms2": axle.lateral}
            plain |= {"preload_nm": drive.preload, "s_drive": drive.slope, "s_coast": coast.slope, "adds": drive.adds}
            plain |= {"pitch": False, "yaw_balance": False}
            # A little below its limit, where no wheel runs away.
            shares = [0.002, *(step / steps for step in range(1, steps)), 0.997]
            requests += [
                plain | {"torque_nm": torque} for torque in [*(end * share for share in shares), -0.997 * braking]
            ]
            expected.append([case.value(name, place, case.now) for name in ("push", "round", "steady")])
            cases.append(axle)
    inner, outer, steady = Rolling(requests).roll(4.0)
    rolled = (inner - outer).reshape(len(cases), -1)
    settled, worst = 0, 0.0
    for axle, forces, row, stays in zip(cases, expected, rolled, steady.reshape(rolled.shape)):
        sides = row * axle.to_side
        slack = 0.01 * axle.felt_from + 0.01 * max(forces)
        push, helps, braked = forces
        assert numpy.all(sides[:-1][stays[:-1]] <= push + slack)
        if stays[:-1].all():
            # Between two throttles the difference rises by no more than the demand can fall.
            assert sides[:-1].max() >= min(push, 0.75 * push - slack)
        if stays[-2] and stays[-1]:
            settled += 1
            worst = max(worst, abs(max(0.0, -sides[-2]) - helps), abs(max(0.0, sides[-1]) - braked))
            assert max(0.0, -sides[-2]) == pytest.approx(helps, abs=2 * slack)
            assert max(0.0, sides[-1]) == pytest.approx(braked, abs=2 * slack)
    print(f"{settled} of {len(cases)} settled, at most {worst:.1f} N off")
    assert settled > 0.8 * len(cases)
