"""A unit, a car and complaints at random, and what they come to by the balance of `felt_axle`.

Limits and shares are the workshop's own choice and no published value: they are written down here again from what the
calculation says of itself.
"""

import math
import random
from typing import Any

from server.engine import calc

from .felt_axle import GRAVITY, NEVER_ENDS, Axle, Lock, Unit, between, random_car

Locks = tuple[Lock, Lock]
CORNER = ("slow", "fast")
FORCES = ("push", "round", "steady", "slip")
SHARES = (0.8, 0.65, 0.95)
COMPLAINTS = ("pushes", "pushes", "loose", "loose", "spins", "spins", "snaps", "hops", "judders")


class Case:
    """A unit, a car and complaints at random, and what they come to."""

    def __init__(self, seed: int) -> None:
        chance = self.chance = random.Random(f"complaint {seed}")
        self.unit, self.car = Unit(chance), random_car(chance)
        self.request: dict[str, Any] = {"built": self.unit.as_built(), "car": self.car, "felt": self.felt()}
        self.conditions = chance.choice([None, None, "dry", "damp", "wet", "loose", "snow"])
        if self.conditions:
            self.request["conditions"] = self.conditions
        self.radius = {"slow": 15.0, "fast": 80.0, "straight": 1e6, "tight": 6.0}
        self.gear = {"slow": 2, "fast": 3, "straight": 1, "tight": 1}
        if chance.random() < 0.5:
            self.radius |= {"slow": round(chance.uniform(5, 40)), "fast": round(chance.uniform(40, 200))}
            self.gear |= {"slow": chance.randrange(1, 4), "fast": chance.randrange(1, 7)}
            for place in CORNER:
                self.request |= {place + "_m": self.radius[place], place + "_gear": self.gear[place]}
        request = self.car
        if self.conditions not in (None, "dry"):
            request = {name: value for name, value in request.items() if name != "grip"} | {"tyres": self.conditions}
        known = calc("car", request)
        self.figures = {row["name"]: (row["value"], row["low"], row["high"]) for row in known["figures"]}
        self.gears = known["gears"]
        self.axles: dict[Any, Axle] = {}
        self.now: Locks = self.unit.locks()[0]

    def felt(self) -> list[dict[str, Any]]:
        chance = self.chance
        rows: list[dict[str, Any]] = []
        for _ in range(chance.choice([1, 1, 1, 2, 3])):
            row = {"what": chance.choice(COMPLAINTS)}
            if chance.random() < 0.75:
                row["when"] = chance.choice(["power", "power", "lift", "braking", "entry", "straight"])
            if chance.random() < 0.6:
                row["corners"] = chance.choice(CORNER)
            if row not in rows:
                rows.append(row)
        return rows

    def axle(self, place: str, name: str | None = None, end: int = 0) -> Axle:
        """The axle at a place, with a figure of the car, or the share of its limit, at an end of its range."""
        if (place, name, end) not in self.axles:
            car = {each: ends[end if each == name else 0] for each, ends in self.figures.items()}
            car["sensitivity"] = min(car["sensitivity"], 1 / 3)
            share = SHARES[end if name == "share" else 0] if place in CORNER else 0.0
            self.axles[place, name, end] = Axle(car, self.radius[place], share)
        return self.axles[place, name, end]

    def full(self, place: str, end: int = 0) -> float:
        """Torque at full throttle."""
        if not self.gears:
            return NEVER_ENDS
        row = self.gears[min(self.gear[place], len(self.gears)) - 1]
        return float(row[("torque_nm", "low_nm", "high_nm")[end]])

    def braking(self, place: str, axle: Axle, end: int = 0) -> float:
        if not self.gears:
            return (0.08, 0.05, 0.12)[end] * axle.car["mass_kg"] * GRAVITY * axle.tyre
        row = self.gears[min(self.gear[place], len(self.gears)) - 1]
        return float(row["braking_nm"] * (1, 0.15 / 0.25, 0.35 / 0.25)[end])

    def value(self, figure: str, place: str, locks: Locks, cause: str | None = None, end: int = 0) -> float:
        """A figure with one cause at an end of its range."""
        axle = self.axle(place, cause if cause in (*self.figures, "share") else None, end)
        drive, coast = locks
        full = self.full(place, end if cause == "full" else 0)
        if figure == "push":
            return axle.push(drive, full)
        if figure == "round":
            return axle.round(drive, full)
        if figure == "most":
            return axle.most(drive)
        if figure == "gap":
            return axle.gap(drive)
        if figure == "scrub":
            return drive.preload / axle.solid(0.0)
        braking = self.braking(place, axle, end if cause == "braking" else 0)
        return axle.on_coast(coast, braking)[("steady", "slip").index(figure)]

    def range(self, figure: str, place: str, locks: list[Locks]) -> tuple[float, float]:
        causes = [*self.figures] + (["share"] if place in CORNER else [])
        causes += ["full"] if self.gears else []
        causes += ["braking"]
        ends = [(self.value(figure, place, locks[1]), self.value(figure, place, locks[2]))]
        for cause in causes:
            ends.append((self.value(figure, place, locks[0], cause, 1), self.value(figure, place, locks[0], cause, 2)))
        return between(self.value(figure, place, locks[0]), ends)

    def looked_at(self, row: dict[str, Any]) -> list[tuple[str, str]]:
        what, when = row["what"], row.get("when")
        places = [row["corners"]] if row.get("corners") else [*CORNER]
        slowing = ("lift", "braking", "entry")
        figures: list[str] = []
        if what == "hops":
            return [("scrub", "tight")]
        if what == "spins" and when == "straight":
            return [("most", "straight")]
        if what == "pushes" and when in (None, "power"):
            figures = ["most", "push"] if self.car["axle"] == "front" else ["push"]
        elif what == "pushes" and when in slowing:
            figures = ["steady"]
        elif what == "loose" and when == "power":
            figures = ["gap", "round"]
        elif what == "loose" and when in (None, *slowing):
            figures = ["slip"]
        elif what == "spins" and when in (None, "power"):
            figures = ["most"]
        elif what == "snaps" and when in (None, "power"):
            figures = ["gap"]
        elif what == "snaps" and when in slowing:
            figures = ["slip"]
        return [(figure, place) for figure in figures for place in places]

    def match(self, figure: str, place: str, low: float, high: float) -> str:
        if figure in FORCES:
            felt_from = self.axle(place).felt_from
            return "matches" if low >= felt_from else "may" if high >= felt_from else "not"
        if figure == "gap":
            return "matches" if high <= 0.02 else "may" if low <= 0.02 else "not"
        if figure == "scrub":
            return "matches" if low >= 1 or high < 1 else "may"
        _, widest_gap = self.range("gap", place, self.unit.locks())
        if widest_gap <= 0.02 or (self.gears and low >= self.full(place, 2)):
            return "not"
        if not self.gears or self.value("gap", place, self.now) <= 0.02:
            return "may"
        return "matches" if high < self.full(place, 1) else "may"

    def target(self, figure: str, place: str) -> float:
        value, axle = self.value(figure, place, self.now), self.axle(place)
        if figure == "slip":
            return max(0.0, value - max(axle.felt_from, self.value("steady", place, self.now)))
        if figure == "most":
            full = self.full(place)
            half_way = (value + axle.most_inner + axle.most_outer) / 2
            return half_way if full == NEVER_ENDS else min(half_way, max(full, 1.05 * value))
        if figure == "gap":
            return max(0.05, value + 0.05)
        if figure == "scrub":
            return 0.9 * min(1.0, value)
        return value / 2

    def more_lock(self, figure: str) -> bool:
        """Whether what is wanted of a figure takes more lock."""
        return figure in ("most", "slip")

    def moved(self, figure: str, place: str, locks: Locks) -> float:
        """How far a change takes a figure the way it should go, as a share of what is wanted."""
        now, target = self.value(figure, place, self.now), self.target(figure, place)
        return (self.value(figure, place, locks) - now) / (target - now) if target != now else 0.0

    def outwards(self, figure: str, place: str, tries: list[dict[str, Any]]) -> dict[str, Any] | None:
        """Of changes that grow, the first that reaches the target, or else the last that still moved the figure."""
        last, best = 0.0, None
        for tried in tries:
            share = self.moved(figure, place, self.unit.locks(**tried)[0])
            if share >= 1 - 1e-9:
                return tried
            if share > last + 1e-9:
                last, best = share, tried
        return best

    def ways(self, figure: str, place: str) -> list[tuple[str, dict[str, Any]]]:
        """Every lever that moves a figure by a tenth of what is wanted, with what is changed."""
        unit, more = self.unit, self.more_lock(figure)
        rows: list[tuple[str, dict[str, Any] | None]] = []
        if unit.ramps["drive_deg"] != unit.ramps["coast_deg"]:
            rows.append(("turned_over", {"over": True}))
        rows += [("pair", {"pair": number}) for number in range(len(unit.pairs))]
        torques = range(math.floor(unit.torque) + 1, math.ceil(2 * unit.torque) + 1)
        if not more:
            torques = range(math.ceil(unit.torque) - 1, math.floor(0.4 * unit.torque) - 1, -1)
        rows.append(("preload", self.outwards(figure, place, [{"torque": torque} for torque in torques])))
        if figure != "scrub":
            way = "coast_deg" if figure in ("steady", "slip") else "drive_deg"
            now = unit.ramps[way]
            angles = [angle for angle in range(30, 81, 5) if (angle < now if more else angle > now)]
            angles.sort(key=lambda angle: abs(angle - now))
            rows.append((way[:-4] + "_ramp", self.outwards(figure, place, [{way: angle} for angle in angles])))
        faces = [unit.faces + (by if more else -by) for by in (2, 4, 6)]
        rows.append(("faces", self.outwards(figure, place, [{"faces": each} for each in faces if each >= 4])))
        kept = []
        for lever, tried in rows:
            if tried is not None and self.moved(figure, place, unit.locks(**tried)[0]) >= 0.1 - 1e-9:
                kept.append((lever, tried))
        return kept
