"""Second opinions: plates by the limits of today, the guard band of a backlash, and a corner on engine braking.

References
----------
1. JCGM 100:2008, 4.3.7 and 5.1.2: a bound has the standard uncertainty of a rectangle, terms add as squares. A backlash
   is one reading less another, each rounded to a division of the dial, while the error of the gauge counts once.
2. ISO 14253-1:2017: a guard band at each limit, here of one side, 95 %.
3. W. F. and D. L. Milliken, Race Car Vehicle Dynamics: load transfer, friction ellipse, load sensitivity; from memory.
4. H. B. Pacejka, Tire and Vehicle Dynamics: force along in proportion to slip; from memory.

Which limit counts after it was changed, and how little is too small to feel: common practice, no source.
"""

import datetime
import math
import random
from collections import Counter
from statistics import NormalDist
from typing import Any

import pytest

from server.engine import calc
from tests.engine.checks import chain
from tests.engine.history.entries import entry
from tests.engine.samples import sample

BATCHES, CASES = 20, 100
START = datetime.datetime(2026, 3, 2, 8, tzinfo=datetime.UTC)
ORDER = ["go", "measure_again", "rework", "replace"]
GRAVITY = 9.80665
BUILT = sample("corner_map", "a usual car")["built"]


def on_edge(value: float, edge: float) -> bool:
    """Whether two figures are one but for rounding."""
    return abs(value - edge) <= 1e-9 * max(abs(value), abs(edge))


# Today's limits.


def one_limit(lowest: float, guard: float, limit: float) -> str | None:
    """Verdict by one lowest thickness [2]_; None exactly at the edge of a guard band."""
    if on_edge(lowest - guard, limit) or on_edge(lowest + guard, limit):
        return None
    if lowest - guard > limit:
        return "go"
    return "replace" if lowest + guard < limit else "measure_again"


def near(chance: random.Random, lowest: float, guard: float, new: float) -> float:
    """A limit about where the verdict on a thickness turns, to a thousandth of a millimetre."""
    by = chance.choice([-1, 1]) * guard + chance.choice([-1, 1]) * chance.choice([0.0005, 0.001, 0.003, 0.02, 0.1])
    return round(min(max(lowest + by, 0.02), new - 0.01), 3)


class Limits:
    """A unit whose lowest thicknesses were written down before and after its plates were measured."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.stack = chain()
        places = [item for item in self.stack if item["part"] in ("friction", "separator")]
        self.entries: list[dict[str, Any]] = []
        for item in places:
            item["minimum_mm"] = chance.choice([item["minimum_mm"], item["minimum_mm"], 0.02, None])
        for _ in range(chance.choice([0, 1, 1, 2])):
            self.write("unit", self.unit())
        measured = [self.measured(item) for item in chance.sample(places, 4)]
        micrometer: dict[str, Any] = {"division_mm": chance.choice([0.001, 0.01, 0.02])}
        if chance.random() < 0.5:
            micrometer["deviation_mm"] = round(chance.uniform(0.001, 0.02), 3)
        body = {"micrometer": micrometer, "plates": measured}
        self.rows = self.write("plate_check", body)["shown"]["plates"]
        later = chance.choice([0, 1, 1, 1, 2])
        for _ in range(later):
            for item in places:
                rows = [row for row in self.rows if row["slot"] == item["slot"]]
                for row in rows:
                    again = near(chance, row["lowest_mm"], row["guard_mm"], item["new_mm"])
                    item["minimum_mm"] = chance.choice([again, again, again, row["minimum_mm"], 0.02, None])
            self.write("unit", self.unit())
        if not later and not any(item["kind"] == "unit" for item in self.entries):
            self.entries.insert(0, entry(99, "unit", self.unit(), (START - datetime.timedelta(days=1)).isoformat()))
            self.entries[0]["seq"] = 0
        self.today = {item["slot"]: item["minimum_mm"] for item in places}

    def unit(self) -> dict[str, Any]:
        """The definition as it stands just now."""
        return {"name": "Bramble", "chain": [item.copy() for item in self.stack], "service": {"low_nm": 60}}

    def measured(self, item: dict[str, Any]) -> dict[str, Any]:
        """A plate, the limit that it was judged by, and its thickness not far from that."""
        new, chance = item["new_mm"], self.chance
        limit = item["minimum_mm"] or round(0.92 * new, 3)
        if chance.random() < 0.3:
            limit = round(new * chance.uniform(0.7, 0.97), 3)
        lowest = max(limit, 0.5 * new) + chance.choice([-0.05, -0.006, -0.002, 0.002, 0.006, 0.03, 0.05])
        points = [round(lowest + chance.choice([0, 0, 0.01, 0.02, 0.04]), 3) for _ in range(4)]
        plate = {"slot": item["slot"], "part": item["part"], "new_mm": new, "minimum_mm": limit, "points_mm": points}
        return plate | ({"usual_minimum": True} if chance.random() < 0.2 else {})

    def write(self, kind: str, body: dict[str, Any]) -> dict[str, Any]:
        """One more entry of the log, an hour or a day after the last."""
        number = len(self.entries) + 1
        when = START + datetime.timedelta(hours=number * self.chance.choice([24, 25]))
        self.entries.append(entry(number, kind, body, when.isoformat(), seq=number))
        return self.entries[-1]


@pytest.mark.parametrize("batch", range(BATCHES))
def test_a_plate_by_its_limit_then_and_todays(batch: int) -> None:
    seen: Counter[str] = Counter()
    for case in range(CASES):
        limits = Limits(random.Random(f"limits {batch} {case}"))
        result = calc("standing", {"entries": limits.entries})
        assert set(result["by_slot"]) == {row["slot"] for row in limits.rows}
        for shown in limits.rows:
            row, limit = result["by_slot"][shown["slot"]], limits.today[shown["slot"]]
            about = (batch, case, shown, limit, row)
            if limit is None or on_edge(limit, shown["minimum_mm"]):
                assert (row["verdict"], row["reason"]) == (shown["verdict"], shown["reason"]), about
                seen["as it was shown"] += 1
                continue
            assert row["reason"].startswith(shown["reason"]), about
            assert f"Today's limit: at least {limit:.3f} mm" in row["reason"], about
            verdict = one_limit(shown["lowest_mm"], shown["guard_mm"], limit)
            if verdict is not None:
                assert row["verdict"] == max(verdict, shown["verdict"], key=ORDER.index), about
                seen[f"{verdict} by today's"] += 1
                seen["worse by today's"] += ORDER.index(verdict) > ORDER.index(shown["verdict"])
                seen["worse then"] += ORDER.index(verdict) < ORDER.index(shown["verdict"])
    # Every way out was taken often enough to tell a wrong one.
    ways = ("as it was shown", "go by today's", "measure_again by today's", "replace by today's")
    assert min(seen[way] for way in (*ways, "worse by today's", "worse then")) >= 10, seen


# Backlash.


def guard_of(gauge: dict[str, Any]) -> float:
    """Guard band of a difference of two readings [1]_ [2]_."""
    variance = 2 * gauge["division_mm"] ** 2 / 12
    # A certificate's U of k = 2 says better than the permitted error how far off the gauge may be.
    certificate = gauge.get("certificate_mm")
    variance += gauge["deviation_mm"] ** 2 / 3 if certificate is None else (certificate / 2) ** 2
    return NormalDist().inv_cdf(0.95) * math.sqrt(variance)


def backlash_by(points: list[float], low: float | None, high: float | None, guard: float) -> str | None:
    """Verdict on the least and the most backlash by a band; None exactly at an edge."""
    beyond = [] if low is None else [low - min(points)]
    beyond += [] if high is None else [max(points) - high]
    if any(abs(abs(by) - guard) <= 1e-9 * max(points) for by in beyond):
        return None
    if any(by > guard for by in beyond):
        return "rework"
    return "go" if all(by < -guard for by in beyond) else "measure_again"


@pytest.mark.parametrize(("error_mm", "guard_mm"), [(0.005, 0.0082), (0.0, 0.0067)])
def test_the_guard_band_of_a_usual_dial_gauge(error_mm: float, guard_mm: float) -> None:
    gauge = {"division_mm": 0.01, "deviation_mm": error_mm}
    backlash = {"points_mm": [0.14, 0.15, 0.15], "low_mm": 0.05, "high_mm": 0.3, "gauge": gauge}
    assert guard_of(gauge) == pytest.approx(guard_mm, abs=5e-5)
    assert calc("refit", {"backlash": backlash})["checks"][0]["guard_mm"] == pytest.approx(guard_mm, abs=5e-5)


@pytest.mark.parametrize("batch", range(BATCHES))
def test_backlash_is_a_difference_of_two_readings(batch: int) -> None:
    seen: Counter[str | None] = Counter()
    chance = random.Random(f"backlash {batch}")
    for case in range(CASES):
        gauge = {
            "division_mm": chance.choice([0.001, 0.002, 0.005, 0.01, 0.02, round(chance.uniform(0.0005, 0.03), 4)]),
            "deviation_mm": chance.choice([0, round(chance.uniform(0, 0.03), 4), round(chance.uniform(0, 0.01), 4)]),
        }
        if chance.random() < 0.25:
            gauge["certificate_mm"] = round(chance.uniform(0.0005, 0.02), 4)
        guard = guard_of(gauge)
        low, wide = round(chance.uniform(0.08, 0.3), 3), round(chance.uniform(0.1, 0.3), 3)
        ends: list[float | None] = [low, round(low + wide, 3)]
        # About one of the four edges, or anywhere between.
        off = chance.choice([-1, 1]) * guard + chance.choice([0, 1e-6, -1e-6, 0.001, -0.001, 0.003, -0.003])
        about = chance.choice([low + off, low + off, low + wide + off, low + wide + off, low + wide / 2])
        points = [max(0.0, about + chance.choice([0, 0, 0.004, -0.004])) for _ in range(chance.randrange(3, 9))]
        if chance.random() < 0.2:
            ends[chance.randrange(2)] = None
        backlash = {"points_mm": points, "low_mm": ends[0], "high_mm": ends[1], "gauge": gauge}
        row = calc("refit", {"backlash": backlash})["checks"][0]
        assert row["guard_mm"] == pytest.approx(guard, rel=1e-9), (batch, case, backlash, row)
        assert (row["lowest_mm"], row["highest_mm"]) == (min(points), max(points))
        verdict = backlash_by(points, ends[0], ends[1], guard)
        seen[verdict] += 1
        assert verdict in (None, row["verdict"]), (batch, case, backlash, row)
    assert min(seen[verdict] for verdict in ("go", "measure_again", "rework")) >= 5, seen


# The corner on engine braking.


class Braked:
    """The two wheels of a driven axle in a corner [3]_, by the figures of a car."""

    def __init__(self, car: dict[str, float], lateral: float, radius: float) -> None:
        self.car = car
        self.weight = car["weight_share"] * car["mass_kg"] * GRAVITY
        moved = car["transfer_share"] * car["mass_kg"] * lateral * car["cg_mm"] / car["track_mm"]
        inner = max(0.0, self.weight / 2 - moved)
        self.loads = (inner, self.weight - inner)
        half, fades = self.weight / 2, car["sensitivity"]
        forces = [car["grip"] * (1 + fades - fades * load / half) * load for load in self.loads]
        self.use = self.weight / GRAVITY * lateral / sum(forces)
        arm = car["tyre_mm"] / 1000
        left = math.sqrt(max(0.0, 1 - self.use**2))
        self.left = [arm * car["along"] * force * left for force in forces]
        self.stiff = [arm * car["stiffness"] * load for load in self.loads]
        half_turn = car["track_mm"] / 2000 / radius
        self.ways = (1 - half_turn, 1 + half_turn)

    def solid(self, torque: float) -> float:
        """Inner less outer torque with both wheels at one speed [4]_: a wheel that would slide leaves the rest."""

        def at(speed: float) -> list[float]:
            free = [stiff * (speed / way - 1) for stiff, way in zip(self.stiff, self.ways)]
            return [max(-left, min(left, wheel)) for left, wheel in zip(self.left, free)]

        slow, quick = 0.0, 2.0
        for _ in range(70):
            speed = (slow + quick) / 2
            if sum(at(speed)) < torque:
                slow = speed
            else:
                quick = speed
        return 2 * at(slow)[0] - torque

    def shifted(self, torque: float, held: float) -> float:
        """Inner less outer torque with plates that hold so much."""
        return max(-held, min(held, self.solid(torque)))

    def drags(self, torque: float, held: float) -> bool:
        """Whether the wheels do not put down all of a torque of 0 or less."""
        by, slack = self.shifted(torque, held), 1e-9 * (1 + sum(self.left))
        shares = (abs(torque + by) / 2, abs(torque - by) / 2)
        return -torque > sum(self.left) or any(share > left + slack for share, left in zip(shares, self.left))

    def zone(self, torque: float, held: float) -> str | None:
        """Zone at a torque of 0 or less with plates that hold so much; None where two zones meet."""
        near_by = 1e-5 * (1 + sum(self.left))
        drags = {self.drags(torque + by, held) for by in (-near_by, 0.0, near_by)}
        if drags != {False}:
            return "inner_drags" if drags == {True} else None
        car = self.car
        pushes = self.shifted(torque, held) * car["track_mm"] / (2 * car["tyre_mm"]) / car["wheelbase_mm"] * 1000
        if abs(abs(pushes) - 0.01 * self.weight) < 1e-3:
            return None
        return "even" if abs(pushes) < 0.01 * self.weight else "nose_out" if pushes > 0 else "tail_out"


def some_car(chance: random.Random) -> dict[str, Any]:
    """A car of which these figures are given and the others follow."""
    car: dict[str, Any] = {"name": "Blue car", "axle": chance.choice(["rear", "front"])}
    for name, low, high in (("mass_kg", 600, 1900), ("cg_mm", 350, 650), ("track_mm", 1200, 1700)):
        car[name] = round(chance.uniform(low, high))
    car |= {"wheelbase_mm": chance.randrange(2000, 3000), "tyre_mm": chance.randrange(250, 350)}
    return car | {"grip": round(chance.uniform(0.3, 1.3), 2), "transfer_share": round(chance.uniform(0.2, 0.8), 2)}


@pytest.mark.parametrize("batch", range(BATCHES))
def test_engine_braking_in_a_corner_pushes_straight_on_or_is_not_felt(batch: int) -> None:
    seen: Counter[str | None] = Counter()
    chance = random.Random(f"corner {batch}")
    tries = [{"coast_deg": chance.randrange(30, 89)}, {"torque_nm": chance.randrange(5, 90), "coast_deg": 85}]
    held = {"open axle": (0.0, 0.0), "solid axle": (1e9, 0.0)}
    for row in calc("candidates", {"built": BUILT, "tries": tries})["candidates"]:
        held[row["name"]] = (row["preload_lock_nm"], row["coast"]["locking_value"])
    for case in range(CASES):
        car, radius = some_car(chance), chance.choice([6.0, 12.0, 40.0, 150.0, 900.0])
        request = {"built": BUILT, "car": car, "tries": tries, "radius_m": radius, "points": 0}
        drawn = calc("corner_map", request)
        figures = {row["name"]: row["value"] for row in calc("car", car)["figures"]}
        share = chance.choice([0.0, chance.random(), chance.random(), 1 - 10 ** chance.uniform(-6, -1)])
        torque = drawn["foot_nm"] * chance.choice([0.0, chance.random(), 10 ** chance.uniform(-5, 0)])
        lateral = share * drawn["limit_ms2"]
        here = Braked(figures, lateral, radius)
        # The axle slides from where the picture has its limit.
        assert Braked(figures, drawn["limit_ms2"], radius).use == pytest.approx(1, abs=1e-6)
        point = request | {"point": {"lateral_ms2": lateral, "torque_nm": torque}}
        panels = calc("corner_map", point)["panels"]
        assert {panel["name"] for panel in panels} == set(held)
        for panel in panels:
            preload, ramps = held[panel["name"]]
            zone = here.zone(torque, max(preload, -torque * ramps))
            seen[zone] += 1
            told = panel["point"]
            # Whether the line is held with it is asked elsewhere, by the side forces of both wheels.
            lets_go = zone == "inner_drags" and told["zone"] in ("both_go", "slides")
            assert lets_go or zone in (None, told["zone"]), (batch, case, panel["name"], zone, told, point)
    assert min(seen[zone] for zone in ("even", "nose_out", "inner_drags")) >= 10, seen
    assert seen[None] < 0.1 * seen.total(), seen
