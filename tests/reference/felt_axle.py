"""What a driver feels of a driven axle, from the balance of its two wheels, and units and cars made up at random.

Nothing of the engine: a wheel pushes in proportion to its slip until it slides, a solid axle turns both at one speed,
and a differential is that axle as far as its plates hold. Lengths in m, forces in N, torques in N·m.

References
----------
1. W. F. Milliken, D. L. Milliken, Race Car Vehicle Dynamics: load transfer, friction ellipse; from memory.
2. V. B. Bhandari, Design of Machine Elements, chapter 11: uniform wear and uniform pressure; from memory.
3. JCGM 100:2008, 4.3.7, 4.3.9 and 5.1: causes that lie between two ends, and how they add up.
"""

import math
import random
from typing import Any, NamedTuple

from scipy.optimize import brentq

GRAVITY = 9.80665
NEVER_ENDS = math.inf

Lock = NamedTuple("Lock", [("preload", float), ("slope", float), ("adds", bool)])


def held(lock: Lock, torque: float) -> float:
    """Difference of torque that the plates hold while the axle carries a torque, of either sign."""
    ramps = lock.slope * abs(torque)
    return lock.preload + ramps if lock.adds else max(lock.preload, ramps)


class Axle:
    """A driven axle in a corner, taken with a share of the side force from which it slides."""

    def __init__(self, car: dict[str, float], radius_m: float, share: float) -> None:
        self.car = car
        self.weight = car["weight_share"] * car["mass_kg"] * GRAVITY
        self.tyre = car["tyre_mm"] / 1000
        # The inner wheel's way is shorter by this share, the outer one's longer.
        self.bend = car["track_mm"] / 2000 / radius_m
        self.lateral = share * self.slides_at() if share else 0.0
        inner, outer = self.loads(self.lateral)
        use = self.used(self.lateral)
        along = self.tyre * car["along"] * math.sqrt(1 - use * use)
        self.most_inner, self.most_outer = along * self.grip(inner), along * self.grip(outer)
        self.stiff_inner, self.stiff_outer = (self.tyre * car["stiffness"] * load for load in (inner, outer))
        # To turn a difference of torque into a side force at the other axle.
        self.to_side = car["track_mm"] / 2 / car["tyre_mm"] / (car["wheelbase_mm"] / 1000)
        self.felt_from = 0.01 * self.weight

    def loads(self, lateral: float) -> tuple[float, float]:
        car = self.car
        moved = car["transfer_share"] * car["mass_kg"] * lateral * car["cg_mm"] / car["track_mm"]
        inner = max(0.0, self.weight / 2 - moved)
        return inner, self.weight - inner

    def grip(self, load: float) -> float:
        car = self.car
        return car["grip"] * (1 - car["sensitivity"] * (2 * load / self.weight - 1)) * load

    def used(self, lateral: float) -> float:
        """Share of its grip that the axle needs to stay on its line."""
        total = math.fsum(self.grip(load) for load in self.loads(lateral))
        return self.car["weight_share"] * self.car["mass_kg"] * lateral / total

    def slides_at(self) -> float:
        upper = GRAVITY * self.car["grip"] * (1 + self.car["sensitivity"])
        return float(brentq(lambda lateral: self.used(lateral) - 1, 0.0, upper, xtol=1e-12, rtol=1e-14))

    def both(self, speed: float) -> tuple[float, float]:
        """Torque of each wheel at one speed of both, as a share of the speed of free rolling in the middle."""
        answer = []
        for stiff, most, way in (
            (self.stiff_inner, self.most_inner, 1 - self.bend),
            (self.stiff_outer, self.most_outer, 1 + self.bend),
        ):
            answer.append(min(most, max(-most, stiff * (speed / way - 1))))
        return answer[0], answer[1]

    def kinks(self) -> list[tuple[float, float]]:
        """Torque of a solid axle and its difference where a wheel begins to slide; straight lines lie between."""
        speeds = []
        for stiff, most, way in (
            (self.stiff_inner, self.most_inner, 1 - self.bend),
            (self.stiff_outer, self.most_outer, 1 + self.bend),
        ):
            if stiff > 0:
                speeds += [way * (1 - most / stiff), way * (1 + most / stiff)]
        rows = [self.both(speed) for speed in sorted(speeds)]
        return [(inner + outer, inner - outer) for inner, outer in rows]

    def solid(self, torque: float) -> float:
        """Difference of torque, inner less outer, of a solid axle that carries so much."""
        rows = self.kinks()
        if torque <= rows[0][0]:
            return rows[0][1]
        for (before, first), (after, second) in zip(rows, rows[1:]):
            if torque <= after:
                return second if after == before else first + (second - first) * (torque - before) / (after - before)
        return rows[-1][1]

    def most(self, lock: Lock) -> float:
        """Torque at which the inner wheel begins to slide: it carries its most, and the plates the difference."""
        together, twice = self.most_inner + self.most_outer, 2 * self.most_inner
        if lock.slope >= 1:
            return together
        if lock.adds:
            return min(together, (twice + lock.preload) / (1 - lock.slope))
        return min(together, max(twice + lock.preload, twice / (1 - lock.slope)))

    def push(self, lock: Lock, full: float) -> float:
        """The most that the difference turns the nose out on power: where a line of it bends, or meets the lock."""
        end = min(self.most(lock), full)
        at = [0.0, end, *(torque for torque, _ in self.kinks())]
        if not lock.adds and lock.slope > 0:
            at.append(lock.preload / lock.slope)
        at = sorted(torque for torque in at if 0 <= torque <= end)

        def over(torque: float) -> float:
            return self.solid(torque) - held(lock, torque)

        for before, after in zip(at.copy(), at[1:]):
            first, second = over(before), over(after)
            if first * second < 0:
                at.append(before + (after - before) * first / (first - second))
        return max(0.0, *(min(self.solid(torque), held(lock, torque)) for torque in at)) * self.to_side

    def round(self, lock: Lock, full: float) -> float:
        torque = min(self.most(lock), full)
        return max(0.0, min(-self.solid(torque), held(lock, torque))) * self.to_side

    def on_coast(self, lock: Lock, braking: float) -> tuple[float, float]:
        """Of the unit, and by how much a solid axle steadies more."""
        torque = min(braking, self.most(lock))
        steady = max(0.0, min(self.solid(-torque), held(lock, -torque)))
        solid = self.solid(-min(braking, self.most_inner + self.most_outer))
        return steady * self.to_side, max(0.0, solid - steady) * self.to_side

    def gap(self, lock: Lock) -> float:
        return 1 - self.most(lock) / (self.most_inner + self.most_outer)


def between(value: float, ends: list[tuple[float, float]]) -> tuple[float, float]:
    """The least and most of a figure whose independent causes have these ends [3]."""
    down = math.fsum(max(0.0, value - min(pair)) ** 2 for pair in ends)
    up = math.fsum(max(0.0, max(pair) - value) ** 2 for pair in ends)
    return max(0.0, value - math.sqrt(down)), value + math.sqrt(up)


class Unit:
    """A unit whose spring nobody measured, with its torque as it was read."""

    def __init__(self, chance: random.Random) -> None:
        self.ramps = ramps = random_ramps(chance)
        self.pairs: list[dict[str, Any]] = []
        for number in range(chance.choice([0, 0, 1, 2])):
            pair = {"name": f"pair {number}", "drive_deg": chance.choice(ANGLES), "coast_deg": chance.choice(ANGLES)}
            if chance.random() < 0.3:
                pair["pin_radius_mm"] = round(ramps["pin_radius_mm"] * chance.uniform(0.8, 1.2), 1)
            self.pairs.append(pair)
        self.friction: dict[str, Any] = {"inner_mm": chance.uniform(55, 80), "mu": chance.uniform(0.07, 0.13)}
        self.friction["outer_mm"] = self.friction["inner_mm"] + chance.uniform(15, 40)
        self.friction["run_in"] = chance.random() < 0.5
        self.plates = [chance.randrange(1, 5) for _ in range(2)]
        self.faces = sum(2 * plates for plates in self.plates)
        self.adds = chance.random() < 0.3
        self.whole = chance.random() < 0.3
        self.torque = round(chance.choice([chance.uniform(15, 60), chance.uniform(50, 250)]), chance.choice([0, 1]))
        self.limits = (round(self.torque * chance.uniform(0.3, 0.9)), round(self.torque * chance.uniform(1.1, 2)) + 1)
        self.off = round(self.torque * chance.choice([0.0, 0.05, chance.uniform(0, 0.2)]), 1)

    def as_built(self) -> dict[str, Any]:
        """The unit as it is built now."""
        chain = []
        for side, plates in zip("AB", self.plates):
            kinds = ["separator", *["friction", "separator"] * plates]
            chain += [{"slot": f"{side}{at}", "part": kind, "new_mm": 2.0} for at, kind in enumerate(kinds)]
            if side == "A":
                rings: list[dict[str, Any]] = [{"slot": f"R{at}", "part": "ring", "new_mm": 18.0} for at in (1, 2)]
                spring: dict[str, Any] = {"slot": "S1", "part": "spring"}
                chain += [rings[0], spring, rings[1]] if self.adds else rings
        unit: dict[str, Any] = {
            "name": "Bramble",
            "service": {"low_nm": self.limits[0], "high_nm": self.limits[1]},
            "layout": "between_rings" if self.adds else "in_line",
            "chain": chain if self.adds else [{"slot": "S1", "part": "spring"}, *chain],
            "friction": self.friction,
            "ramps": self.ramps,
            "other_ramps": self.pairs,
        }
        if self.whole:
            unit["stated_for"] = "case_held"
        return {"unit": unit, "places": [], "measured": {"torque_nm": self.torque, "expanded_nm": self.off}}

    def locks(
        self,
        pair: int | None = None,
        over: bool = False,
        faces: int | None = None,
        torque: float | None = None,
        **deg: Any,
    ) -> list[tuple[Lock, Lock]]:
        """Lock on drive and on coast, most likely, least and most, of the unit with something changed."""
        ramps = self.ramps | ({} if pair is None else self.pairs[pair]) | deg
        if over:
            ramps = ramps | {"drive_deg": ramps["coast_deg"], "coast_deg": ramps["drive_deg"]}
        more = (faces or self.faces) / self.faces
        preload = self.torque * (1 if self.whole else 2) * (more if torque is None else torque / self.torque)
        # The reading is known to 95 %.
        share = self.off / self.torque
        preloads = preload, preload * max(0.0, 1 - share), preload * (1 + share)
        drive, coast = (self.slopes(ramps, ramps[way], more) for way in ("drive_deg", "coast_deg"))
        return [(Lock(p, d, self.adds), Lock(p, c, self.adds)) for p, d, c in zip(preloads, drive, coast)]

    def slopes(self, ramps: dict[str, Any], angle: float, more: float) -> tuple[float, float, float]:
        """Locking value of a ramp, most likely and its range of 95 %, all causes between ends hardly likely [3]."""
        power = 1 if self.friction["run_in"] else 2
        inner, outer = self.friction["inner_mm"] / 2, self.friction["outer_mm"] / 2
        area, first_moment = ((outer**n - inner**n) / n for n in (power, power + 1))
        each = more * self.faces * self.friction["mu"] * first_moment / area / 1000
        likely = each * pressed(ramps, angle)
        ends = [(0.8 * likely, 1.2 * likely)]
        ends.append((each * pressed(ramps, angle, pins=0.03), each * pressed(ramps, angle, pins=-0.03)))
        if ramps.get("ears"):
            ends.append((each * pressed(ramps, angle, ears=0.05), each * pressed(ramps, angle, ears=-0.05)))
        if ramps.get("gears") and ramps["gears"]["on_packs"]:
            ends.append((each * pressed(ramps, angle, gears=0.9), each * pressed(ramps, angle, gears=1.1)))
        # A triangle between the ends: variance a sixth of the half width squared, and a bent curve moves the mean.
        off = 1.96 * math.sqrt(math.fsum((high - low) ** 2 / 24 for low, high in ends))
        middle = likely + math.fsum(((low + high) / 2 - likely) / 6 for low, high in ends)
        return likely, max(0.0, min(likely, middle - off)), max(likely, middle + off)


ANGLES = (20, 30, 35, 40, 45, 50, 55, 60, 70, 80, 85)


def random_ramps(chance: random.Random) -> dict[str, Any]:
    ramps: dict[str, Any] = {
        "pin_radius_mm": chance.uniform(28, 50),
        "drive_deg": chance.choice([*ANGLES, chance.uniform(20, 85)]),
        "coast_deg": chance.choice([*ANGLES, chance.uniform(20, 85)]),
        "mu": chance.choice([0.1, chance.uniform(0.03, 0.2)]),
    }
    if chance.random() < 0.25:
        ramps["ears"] = {"radius_mm": chance.uniform(50, 100), "mu": chance.uniform(0, 0.2)}
    if chance.random() < 0.25:
        ramps["gears"] = {
            "on_packs": chance.random() < 0.6,
            "pressure_deg": chance.uniform(18, 25),
            "pitch_radius_mm": chance.uniform(20, 40),
            "cone_deg": chance.uniform(40, 70),
        }
    return ramps


def pressed(ramps: dict[str, Any], angle: float, pins: float = 0.0, ears: float = 0.0, gears: float = 1.0) -> float:
    """Axial force on a pack for 1 N·m into the case: a wedge with friction, what gears push and ears take away."""
    lean, mu = math.radians(angle), max(0.0, ramps["mu"] + pins)
    along, across = math.cos(lean) - mu * math.sin(lean), math.sin(lean) + mu * math.cos(lean)
    force: float = max(0.0, 500 / ramps["pin_radius_mm"] * along / across)
    if ramps.get("gears") and ramps["gears"]["on_packs"]:
        wheel = ramps["gears"]
        tooth = 500 / wheel["pitch_radius_mm"] * math.tan(math.radians(wheel["pressure_deg"]))
        force += gears * tooth * math.sin(math.radians(wheel["cone_deg"]))
    if ramps.get("ears"):
        force -= max(0.0, ramps["ears"]["mu"] + ears) * 500 / ramps["ears"]["radius_mm"]
    return max(0.0, force)


def random_car(chance: random.Random) -> dict[str, Any]:
    """A car of which this and that is known."""
    usual = {
        "mass_kg": round(chance.uniform(500, 1700)),
        "cg_mm": round(chance.uniform(300, 700)),
        "track_mm": round(chance.uniform(1150, 1650)),
        "wheelbase_mm": round(chance.uniform(2000, 2900)),
        "tyre_mm": round(chance.uniform(255, 350)),
        "transfer_share": round(chance.uniform(0.2, 0.8), 2),
    }
    car: dict[str, Any] = {name: value for name, value in usual.items() if chance.random() < 0.6}
    car |= {"name": "Hare", "axle": chance.choice(["rear", "rear", "front"])}
    if chance.random() < 0.5:
        car["tyres"] = chance.choice(["racing_slicks", "racing_treaded", "historic", "road", "damp", "wet", "loose"])
    if chance.random() < 0.3:
        car["grip"] = round(chance.uniform(0.3, 1.6), 2)
    if chance.random() < 0.65:
        car |= {"engine_nm": round(chance.uniform(60, 500)), "final_drive": round(chance.uniform(3, 5), 2)}
        car["gears"] = [3.2, 2.1, 1.5, 1.15, 0.95][: chance.randrange(1, 6)]
    return car
