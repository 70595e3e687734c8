"""Second opinions: a step worn into a ramp, a torque check that is too old, and a wheel that the engine drags.

References
----------
1. JCGM 100:2008, F.2.2.1 and 5.1.2: a reading is off by up to half a division, each way alike; variances add. A step is
   one reading less another, while the error of the gauge counts once, as a rectangle too.
2. JCGM 106:2012, 8.3: a guard band of one side, as wide as a wrong go of 5 % asks for where errors are normal.
3. W. F. and D. L. Milliken, Race Car Vehicle Dynamics: load transfer, friction ellipse, load sensitivity; from memory.

That a torque check holds for 365 days, and how little is too small to feel: common practice, no source.
"""

import datetime
import math
import random
from collections import Counter
from typing import Any

import pytest

from server.engine import calc
from tests.engine.checks import changed
from tests.engine.history.entries import check_near, entry
from tests.engine.samples import sample

BATCHES, CASES = 20, 100
START = datetime.datetime.fromisoformat("2020-01-01T00:00+02:00")
BUILT = sample("corner_map", "a usual car")["built"]


def guard_of(gauge: dict[str, Any], reads: int) -> float:
    """Guard band of a length for which the gauge is read once or twice [1]_ [2]_."""
    certificate = gauge.get("certificate_mm")
    # A certificate's U of k = 2 says better than the permitted error how far off the gauge may be.
    off = gauge.get("deviation_mm", 0.02) / math.sqrt(3) if certificate is None else certificate / 2
    one = gauge.get("division_mm", 0.01) / (2 * math.sqrt(3))
    return 1.6448536269514722 * math.hypot(off, math.sqrt(reads) * one)


@pytest.mark.parametrize("batch", range(BATCHES))
def test_a_step_is_a_difference_of_two_readings_and_a_pin_is_read_once(batch: int) -> None:
    assert (guard_of({}, 2), guard_of({}, 1)) == pytest.approx((0.0201, 0.0196), abs=5e-5)
    seen: Counter[str] = Counter()
    chance = random.Random(f"step {batch}")
    for case in range(CASES):
        gauge = {
            "division_mm": chance.choice([0.001, 0.005, 0.01, 0.02, round(chance.uniform(0.0005, 0.06), 4)]),
            "deviation_mm": chance.choice([0, round(chance.uniform(0, 0.04), 4), round(chance.uniform(0, 0.01), 4)]),
            "certificate_mm": round(chance.uniform(0.0005, 0.03), 4),
        }
        gauge = {name: value for name, value in gauge.items() if chance.random() < (0.3 if name[0] == "c" else 0.8)}
        limit = chance.choice([0.05, round(chance.uniform(0.02, 0.4), 3)])
        guards, parts, deepest = [guard_of(gauge, 1), guard_of(gauge, 2)], [], []
        for _ in guards:
            # About an edge of a band, or of the one that another number of readings would give, or anywhere.
            edge = limit + chance.choice([-1, 1]) * chance.choice(guards) + chance.choice([0, 1e-6, -1e-6, 1e-4, -1e-3])
            deepest.append(max(0.0, chance.choice([edge, edge, edge, chance.uniform(0, 0.5)])))
            depths = [deepest[-1], *(deepest[-1] * chance.random() for _ in range(chance.randrange(8)))]
            parts.append(chance.sample(depths, len(depths)))
        pin = {"slot": "pin 1", "new_mm": 16.0, "points_mm": [16.0 - flat for flat in parts[0]], "limit_mm": limit}
        ring = {"slot": "R1", "steps_mm": parts[1], "limit_mm": limit}
        result = calc("ring_check", {"gauge": gauge, "rings": [ring], "pins": [pin]})
        for row, guard, deep in zip(result["pins"] + result["rings"], guards, deepest, strict=True):
            assert (row["guard_mm"], row["highest_mm"]) == pytest.approx((guard, deep), rel=1e-9, abs=1e-12), case
            verdict = "measure_again" if abs(deep - limit) < guard else "replace" if deep > limit else "go"
            assert row["verdict"] == verdict or abs(abs(deep - limit) - guard) < 1e-9, (batch, case, row)
            seen[verdict] += 1
    assert min(seen[verdict] for verdict in ("go", "measure_again", "replace")) >= 10, seen


class Logbook:
    """What was written of one unit, and what its owner remembers: when it was checked, and what ran since."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        every = {"days": chance.choice([365, 30, 730, chance.randrange(1, 900)]), "outings": chance.randrange(1, 6)}
        self.every = {measure: value for measure, value in every.items() if chance.random() < 0.3}
        self.time = START + datetime.timedelta(hours=chance.randrange(35000))
        given = {f"check_every_{measure}": value for measure, value in self.every.items()}
        self.entries: list[dict[str, Any]] = []
        self.write("unit", {"name": "Bramble", "service": {"low_nm": 60, **given}})
        self.checks: dict[str, datetime.datetime] = {}
        self.outings: list[datetime.datetime] = []
        self.rebuilt = self.time
        for _ in range(chance.randrange(1, 11)):
            self.time += datetime.timedelta(hours=chance.choice([1, 9, 30, 500, 3000, chance.randrange(9000)]))
            self.do(chance.choice(["check"] * 4 + ["outing"] * 3 + ["corrected", "undone", "rebuild"]))
        days = {self.time.date() + datetime.timedelta(days=chance.choice([0, chance.randrange(800)]))}
        around = [datetime.timedelta(days=own + by) for own in (365, self.every.get("days", 365)) for by in (0, 1)]
        days |= {last.date() + by for last in self.checks.values() for by in around}
        self.today = chance.choice(sorted(day for day in days if day >= self.time.date()))

    def write(self, kind: str, body: dict[str, Any], **more: Any) -> str:
        """The id of an entry that is written now."""
        number = len(self.entries) + 1
        self.entries.append(entry(number, kind, body, self.time.isoformat(), seq=number, **more))
        return f"id-{number}"

    def do(self, what: str) -> None:
        """Something that is done to the unit, or that was written wrong and is put right."""
        good = changed(check_near(100.0), day=None)
        if what == "check":
            self.checks[self.write("torque_check", good)] = self.time
        elif what in ("corrected", "undone") and self.checks:
            wrong = self.chance.choice(sorted(self.checks))
            read = self.checks.pop(wrong)
            kind, body = ("torque_check", good) if what == "corrected" else ("note", {"text": "Undone."})
            # What is put right was still read when it was first written.
            right = self.write(kind, body, replaces=wrong)
            self.checks |= {right: read} if what == "corrected" else {}
        elif what == "outing":
            self.outings.append(self.time)
            self.write("outing", {"where": "Old airfield"})
        elif what == "rebuild":
            self.rebuilt = self.time
            self.write("rebuild", {"fitted": [], "note": "Set up."})


@pytest.mark.parametrize("batch", range(BATCHES))
def test_a_torque_check_of_more_than_a_year_ago_is_due_again(batch: int) -> None:
    seen: Counter[str] = Counter()
    for case in range(CASES):
        book = Logbook(random.Random(f"age {batch} {case}"))
        found = calc("standing", {"entries": book.entries, "today": book.today.isoformat()})
        due = {row["name"] for row in found["due"]} & {"torque", "recheck", "check"}
        about = (batch, case, book.entries, book.today, found["due"], found["upkeep"])
        last = max(book.checks.values(), default=book.rebuilt)
        if last <= book.rebuilt:
            assert (found["torque"], "torque" in due) == (None, True), about
            continue
        assert found["torque"]["verdict"] == "go", about
        every = book.every or {"days": 365}
        used = {"days": (book.today - last.date()).days, "outings": sum(ran > last for ran in book.outings)}
        late = used["days"] > every.get("days", math.inf) or used["outings"] >= every.get("outings", math.inf)
        assert due == ({"check"} if late else set()), about
        # Whoever gave no interval is told of none before it is over.
        assert [row["name"] for row in found["upkeep"]] == ["check"] * (late or bool(book.every)), about
        for row in found["upkeep"]:
            assert (row["since"], row["due"]) == (last.date().isoformat(), late), about
            measures = {each["measure"]: (each["every"], each["used"], each["left"]) for each in row["measures"]}
            assert measures == {name: (most, used[name], most - used[name]) for name, most in every.items()}, about
        seen[f"{'own' if book.every else 'a year'}, {late}"] += 1
        seen["to the day"] += not book.every and used["days"] == 365
    ways = ("own, True", "own, False", "a year, True", "a year, False", "to the day")
    assert min(seen[way] for way in ways) >= 2, seen


def zone_of(car: dict[str, float], lateral: float, torque: float, held: float) -> set[str]:
    """Zones that may be told with the inner wheel in the air and all on the other one [3]_; none where two meet."""
    weight = car["weight_share"] * car["mass_kg"] * 9.80665
    use = lateral / 9.80665 / (car["grip"] * (1 - car["sensitivity"]))
    left = lateral / 9.80665 * weight / use * math.sqrt(1 - use**2) * car["along"] * car["tyre_mm"] / 1000
    # It has as much torque as the plates hold, and no more than it has grip for.
    push = abs(torque) * car["track_mm"] / (2 * car["tyre_mm"]) / (car["wheelbase_mm"] / 1000)
    if torque and min(abs(held - abs(torque)), abs(left - abs(torque)), abs(push - 0.01 * weight)) < 1e-6 * (1 + left):
        return set()
    if abs(torque) > min(held, left):
        # A wheel in the air spins and takes nothing from the other, which has grip left for what is held, or lets go.
        return {"both_go"} if held >= left else {"inner_drags"} if torque < 0 else {"inner_spins"}
    return {"even"} if push < 0.01 * weight else {"nose_out"} if torque < 0 else {"tail_out"}


def light_inside(chance: random.Random) -> tuple[dict[str, Any], dict[str, float], float]:
    """A tall car, its figures, and a lateral acceleration that lifts its inner wheel before the axle slides."""
    while True:
        car: dict[str, Any] = {"name": "Van", "axle": chance.choice(["rear", "front"]), "wheelbase_mm": 2400}
        car |= {"mass_kg": chance.randrange(600, 1900), "cg_mm": chance.randrange(600, 900)}
        car |= {"track_mm": chance.randrange(1100, 1400), "tyre_mm": chance.randrange(250, 350)}
        car |= {"grip": round(chance.uniform(1.2, 1.6), 2), "transfer_share": round(chance.uniform(0.75, 0.95), 2)}
        figures = {row["name"]: row["value"] for row in calc("car", car)["figures"]}
        lifts = figures["weight_share"] * car["track_mm"] / (2 * car["transfer_share"] * car["cg_mm"]) * 9.80665
        slides = car["grip"] * (1 - figures["sensitivity"]) * 9.80665
        if lifts < 0.98 * slides:
            return car, figures, chance.uniform(1.001 * lifts, 0.999 * slides)


@pytest.mark.parametrize(("end", "beyond"), [("foot_nm", 0), ("foot_nm", 1), ("top_nm", 0), ("top_nm", 1)])
@pytest.mark.parametrize("batch", range(BATCHES))
def test_a_wheel_in_the_air_spins_or_is_dragged_and_the_other_one_carries_all(
    batch: int, end: str, beyond: int
) -> None:
    seen: Counter[str] = Counter()
    chance = random.Random(f"air {batch}")
    tries = [{"coast_deg": chance.randrange(30, 89), "torque_nm": chance.randrange(5, 90)}]
    held = {"open axle": (0.0, 0.0, 0.0), "solid axle": (1e9, 0.0, 0.0)}
    for row in calc("candidates", {"built": BUILT, "tries": tries})["candidates"]:
        held[row["name"]] = (row["preload_lock_nm"], row["drive"]["locking_value"], row["coast"]["locking_value"])
    for case in range(CASES if (end, beyond) == ("foot_nm", 0) else CASES // 4):
        car, figures, lateral = light_inside(chance)
        request = {"built": BUILT, "car": car, "radius_m": chance.choice([8.0, 200.0]), "points": 0}
        share = chance.choice([0.0, chance.random(), chance.random(), 10 ** chance.uniform(-6, 0)])
        torque = calc("corner_map", request)[end] * (share + beyond * chance.uniform(1, 4))
        request |= {"tries": tries, "point": {"lateral_ms2": lateral, "torque_nm": torque}}
        points = {panel["name"]: panel["point"] for panel in calc("corner_map", request)["panels"]}
        for name, (preload, drive, coast) in held.items():
            # The ramps press with what reaches the ground: that is what the preload holds, unless they lock by it.
            locks = (drive if torque > 0 else coast) >= 1
            zones = zone_of(figures, lateral, torque, 1e9 if locks else preload)
            told, about = points[name], (batch, case, name, zones, points[name], request)
            assert told["inner_nm"] == pytest.approx(0, abs=1e-6), about
            assert not zones or told["zone"] in zones, about
            seen.update(zones if torque else {"no torque"})
    ways = {"inner_drags" if end == "foot_nm" else "inner_spins"}
    ways |= {"both_go"} if beyond else {"no torque", "nose_out" if end == "foot_nm" else "tail_out"}
    assert min(seen[way] for way in ways) >= 2, seen
