"""Every zone, figure and sentence of a corner beside the statics of its two wheels, with no zone left out.

A wheel pushes no further than its circle of grip (an ellipse, where grip along is another). One that grips leans on it
as its neighbour does, with one slip angle; one that spins turns its push from there to straight along, and then has no
more to give. The plates hand over as much as they hold, and the sum of both pushes sideways carries the corner or not.

References
----------
1. W. F. and D. L. Milliken, Race Car Vehicle Dynamics: load transfer, friction ellipse, load sensitivity; from memory.
2. T. D. Gillespie, Fundamentals of Vehicle Dynamics: load shifted by driving force; from memory.
3. H. B. Pacejka, Tire and Vehicle Dynamics: force along in proportion to slip until the tyre slides; from memory.

How little is too small to feel, a hundredth of the weight on the axle: common practice, no source.
"""

import math
import random
from collections import Counter
from collections.abc import Callable
from typing import Any, NamedTuple

import pytest

from server.engine import calc
from tests.engine.samples import sample

GRAVITY = 9.80665
BATCHES, CASES = 20, 100
BUILT = sample("corner_map", "a usual car")["built"]

Lock = NamedTuple("Lock", [("preload", float), ("slope", float), ("adds", bool)])


def held(lock: Lock, torque: float) -> float:
    """Difference that the plates hold while so much reaches the ground, N·m."""
    ramps = lock.slope * abs(torque)
    return lock.preload + ramps if lock.adds else max(lock.preload, ramps)


def crossing(low: float, high: float, is_past: Callable[[float], bool]) -> float:
    """Where something begins that is not yet at `low`."""
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if is_past(middle) else (middle, high)
    return high


class Statics:
    """Both wheels at a lateral acceleration, by the figures of a car; forces in N, torques in N·m."""

    def __init__(
        self, car: dict[str, float], lateral: float, radius: float, onto: float = 0.0, asked: float = 0.0
    ) -> None:
        """With load that goes onto the axle, and side force that it is asked for besides that of the corner."""
        weight = car["weight_share"] * car["mass_kg"] * GRAVITY
        moved = car["transfer_share"] * car["mass_kg"] * lateral * car["cg_mm"] / car["track_mm"]
        inner = max(0.0, (weight + onto) / 2 - moved)
        loads, fades = (inner, max(0.0, weight + onto) - inner), car["sensitivity"]
        # More load never takes of what a wheel can push: beyond the peak of that line it stays there.
        peak = weight / 4 * (1 + fades) / fades if fades else math.inf
        heavy = [min(load, peak) for load in loads]
        self.push = [car["grip"] * (1 - fades * (2 * load / weight - 1)) * load for load in heavy]
        self.asked = max(0.0, car["weight_share"] * car["mass_kg"] * lateral + asked)
        self.use = self.asked / sum(self.push) if sum(self.push) else math.inf
        self.arm = car["tyre_mm"] / 1000 * car["along"]
        lean = math.sqrt(max(0.0, 1 - self.use**2))
        self.left = [self.arm * push * lean for push in self.push]
        self.stiff = [car["tyre_mm"] / 1000 * car["stiffness"] * load for load in loads]
        self.ways = [1 + way * car["track_mm"] / 2000 / radius for way in (-1, 1)]
        self.small = 0.01 * weight
        # A side force at the other axle that turns the car as a difference of torque does.
        self.to_side = car["track_mm"] / 2 / car["tyre_mm"] / (car["wheelbase_mm"] / 1000)

    def solid(self, torque: float) -> float:
        """Inner less outer torque with both wheels at one speed, by that speed."""

        def at(speed: float) -> list[float]:
            free = [stiff * (speed / way - 1) for stiff, way in zip(self.stiff, self.ways)]
            return [max(-left, min(left, wheel)) for left, wheel in zip(self.left, free)]

        carried = at(crossing(0.0, 3.0, lambda speed: sum(at(speed)) >= torque))
        # The wheel that slides is known; the other one has the rest.
        if abs(carried[0]) >= self.left[0]:
            return 2 * carried[0] - torque
        return torque - 2 * carried[1]

    def with_inner(self, lock: Lock, inner: float) -> float:
        """What reaches the ground where the inner wheel has so much, slides, and is helped with all that is held."""
        most = self.arm * sum(self.push) * 2
        return crossing(0.0, most, lambda torque: torque - held(lock, torque) >= 2 * inner)

    def let_go(self, lock: Lock) -> tuple[float, float | None, float]:
        """Torque at which the inner wheel slides, at which the axle leaves its line, and side force to spare at last.

        The axle leaves its line where no push of both wheels along these torques has the side force that is asked for.
        """
        starts = self.with_inner(lock, self.left[0])
        if starts - self.left[0] >= self.left[1] * (1 - 1e-6):
            return sum(self.left), sum(self.left), -self.asked

        def spare(turned: float) -> float:
            """Side force to spare with the inner wheel's push turned so far from sideways to along."""
            # With a full turn cos is a hair beside 0.
            along = self.push[0] * (1.0 if turned == math.pi / 2 else math.sin(turned))
            outer = self.with_inner(lock, self.arm * along) / self.arm - along
            if outer > self.push[1] * (1 + 1e-9):
                return -self.asked
            sideways = math.sqrt(max(0.0, self.push[1] ** 2 - outer**2))
            return self.push[0] * math.cos(turned) + sideways - self.asked

        last = spare(math.pi / 2)
        if last >= 0:
            return starts, None, last
        turned = crossing(math.acos(min(1.0, self.use)), math.pi / 2, lambda angle: spare(angle) < 0)
        return starts, self.with_inner(lock, self.arm * self.push[0] * math.sin(turned)), last


def zone_of(here: Statics, torque: float, lock: Lock, limits: tuple[float, float | None, float]) -> str:
    """The zone of a torque that presses this lock."""
    if here.use >= 1:
        return "slides"
    most, gone, _ = limits
    if abs(torque) > most:
        if gone is not None and gone <= most * (1 + 1e-9):
            return "both_go"
        if gone is not None and abs(torque) > gone:
            return "slides"
        return "inner_spins" if torque > 0 else "inner_drags"
    holds = held(lock, torque)
    push = max(-holds, min(holds, here.solid(torque))) * here.to_side
    if abs(push) < here.small:
        return "even"
    return "nose_out" if push > 0 else "tail_out"


def some_car(chance: random.Random) -> dict[str, Any]:
    """A car, low or tall, of which these figures are given and the others follow."""
    tall = chance.random() < 0.35
    car: dict[str, Any] = {"name": "Van", "axle": chance.choice(["rear", "front"])}
    car |= {"mass_kg": chance.randrange(600, 1900), "wheelbase_mm": chance.randrange(2000, 3000)}
    car |= {"cg_mm": chance.randrange(600, 900) if tall else chance.randrange(300, 650)}
    car |= {"track_mm": chance.randrange(1100, 1400) if tall else chance.randrange(1200, 1700)}
    car |= {"tyre_mm": chance.randrange(250, 350), "grip": round(chance.uniform(0.2, 1.6), 2)}
    share = chance.uniform(0.75, 1) if tall else chance.uniform(0, 0.8)
    return car | {"transfer_share": round(share, 2)}


def some_torque(chance: random.Random, drawn: dict[str, Any], edges: list[float]) -> float:
    """Drive or engine braking, in the picture or beyond it, anywhere or close to where something begins."""
    end = chance.choice([drawn["foot_nm"], drawn["top_nm"]])
    share = chance.choice([0.0, *[chance.random()] * 4, 10 ** chance.uniform(-6, 0), chance.uniform(1, 20)])
    if edges and chance.random() < 0.4:
        off = chance.choice([-1, 1]) * 10 ** chance.uniform(-5, -1)
        return math.copysign(chance.choice(edges) * (1 + off), end)
    return max(-5e4, min(5e4, float(end * share)))


@pytest.mark.parametrize("batch", range(BATCHES))
def test_each_zone_and_what_is_said_of_it_is_what_the_wheels_can_do(batch: int) -> None:
    seen: Counter[str] = Counter()
    chance = random.Random(f"zones {batch}")
    tries = [
        {"drive_deg": chance.randrange(25, 89), "coast_deg": chance.randrange(25, 89)},
        {"torque_nm": chance.randrange(5, 90), "drive_deg": chance.randrange(25, 89)},
    ]
    locks = {"open axle": (Lock(0, 0, False), Lock(0, 0, False)), "solid axle": (Lock(1e9, 0, False),) * 2}
    for row in calc("candidates", {"built": BUILT, "tries": tries})["candidates"]:
        slopes = (row["drive"]["locking_value"], row["coast"]["locking_value"])
        locks[row["name"]] = tuple(Lock(row["preload_lock_nm"], slope, False) for slope in slopes)  # type: ignore[assignment]
    for case in range(CASES):
        car, radius = some_car(chance), chance.choice([4.0, 6.0, 12.0, 40.0, 150.0, 900.0])
        request: dict[str, Any] = {"built": BUILT, "car": car, "tries": tries, "radius_m": radius, "points": 0}
        drawn = calc("corner_map", request)
        figures = {row["name"]: row["value"] for row in calc("car", car)["figures"]}
        share = chance.choice([0.0, *[chance.random()] * 3, 1 - 10 ** chance.uniform(-6, -1), chance.uniform(1.001, 2)])
        here = Statics(figures, share * drawn["limit_ms2"], radius)
        limits = {name: [here.let_go(lock) for lock in pair] for name, pair in locks.items()}
        edges = [edge for both in limits.values() for ends in both for edge in ends[:2] if edge and edge > 1e-6]
        torque = some_torque(chance, drawn, edges)
        request["point"] = {"lateral_ms2": share * drawn["limit_ms2"], "torque_nm": torque}
        panels = {panel["name"]: panel["point"] for panel in calc("corner_map", request)["panels"]}
        assert set(panels) == set(locks)
        for name, told in panels.items():
            way = 0 if torque >= 0 else 1
            lock, ends = locks[name][way], limits[name][way]
            near_by = {0.0} if torque == 0 else {0.0, 2e-6, -2e-6}
            zones = {zone_of(here, torque * (1 + off), lock, ends) for off in near_by}
            about = (batch, case, name, zones, ends, told, request)
            # Where two zones meet either may be told, and the figures are asked for all the same.
            assert told["zone"] in zones, about
            check_figures(here, torque, lock, ends, told, about)
            if len(zones) == 1:
                check_words(here, torque, told, about)
            seen[f"{told['zone']} {'drive' if torque > 0 else 'coast' if torque < 0 else 'neither'}"] += 1
            seen["met"] += len(zones) > 1
    ways = {f"{zone} {way}" for zone in ("even", "nose_out", "both_go", "slides") for way in ("drive", "coast")}
    assert min(seen[way] for way in ways | {"tail_out drive", "inner_spins drive", "inner_drags coast"}) >= 2, seen
    assert seen["met"] < 0.05 * seen.total(), seen


def check_figures(here: Statics, torque: float, lock: Lock, ends: Any, told: dict[str, Any], about: Any) -> None:
    """What each wheel carries, beside as much as both put down."""
    slack = 1e-6 * (1 + here.arm * sum(here.push))
    most = ends[0] if here.use < 1 else 0.0
    put_down = math.copysign(min(abs(torque), most), torque)
    by = 0.0 if here.use >= 1 else max(-held(lock, put_down), min(held(lock, put_down), here.solid(put_down)))
    assert told["put_down_nm"] == pytest.approx(put_down, abs=slack), about
    assert told["inner_nm"] == pytest.approx((put_down + by) / 2, abs=slack), about
    assert told["outer_nm"] == pytest.approx((put_down - by) / 2, abs=slack), about
    assert told["yaw_side_n"] == pytest.approx(-by * here.to_side, abs=slack * here.to_side * 2), about


def check_words(here: Statics, torque: float, told: dict[str, Any], about: Any) -> None:
    """No word of a point is against another, nor against a figure."""
    zone, text, state = told["zone"], told["text"], told["state"]
    if here.use >= 1:
        assert (zone, state, text[:26]) == ("slides", "slides", "The axle slides sideways w"), about
        return
    assert state != "slides", about
    assert ("leaves its line" in text) == (zone in ("both_go", "slides")), about
    assert text.startswith("Both wheels slide: ") == (zone == "both_go"), about
    alone = zone in ("inner_spins", "inner_drags", "slides")
    assert text.startswith("The inner wheel slides: ") == alone, about
    # A wheel that spins is the faster one, and one that is dragged the slower one.
    if alone:
        assert state == ("inner_faster" if torque > 0 else "outer_faster"), about
    elif zone == "both_go":
        assert (state, told["outer_at_limit"]) == ("locked", True), about
    else:
        assert ("reach the ground" in text, told["put_down_nm"]) == (False, pytest.approx(torque)), about
        lead = {"locked": "Both wheels turn at one", "outer_faster": "The outer wheel turns f"}
        assert text.startswith(lead.get(state, "The inner wheel turns f")), about
        way = "pushes the nose out" if zone == "nose_out" else "helps the tail round"
        assert zone == "even" or way in text, about


def by_hand(chance: random.Random) -> dict[str, Any]:
    """A car in a corner with a lock of which all figures are given."""
    tall = chance.random() < 0.3
    request: dict[str, Any] = {
        "axle": chance.choice(["rear", "front"]),
        "mass_kg": chance.uniform(500, 1900),
        "cg_mm": chance.uniform(600, 900) if tall else chance.uniform(300, 650),
        "track_mm": chance.uniform(1100, 1650),
        "wheelbase_mm": chance.uniform(2100, 2900),
        "weight_share": chance.uniform(0.38, 0.65),
        "transfer_share": chance.uniform(0.7, 0.95) if tall else chance.uniform(0, 0.75),
        "tyre_mm": chance.uniform(260, 350),
        "grip": chance.uniform(0.3, 1.6),
        "along": chance.uniform(0.8, 1.2),
        "sensitivity": chance.choice([0.0, chance.uniform(0, 1 / 3)]),
        "stiffness": chance.uniform(12, 35),
        "radius_m": chance.choice([chance.uniform(4, 30), chance.uniform(30, 300)]),
        "preload_nm": chance.choice([0.0, chance.uniform(0, 30), chance.uniform(20, 900)]),
        "s_drive": chance.choice([0.0, chance.uniform(0, 0.2), chance.uniform(0, 0.9), 1.5]),
        "s_coast": chance.choice([0.0, chance.uniform(0, 0.2), chance.uniform(0, 0.9), 1.5]),
        "adds": chance.random() < 0.4,
    }
    request["lateral_ms2"] = request["grip"] * GRAVITY * chance.choice([0, *[chance.uniform(0, 1)] * 4, 1.3])
    grip = request["grip"] * request["weight_share"] * request["mass_kg"] * GRAVITY * request["tyre_mm"] / 1e3
    request["torque_nm"] = grip * chance.choice([0, chance.uniform(-1, 1), chance.uniform(-3, 3)])
    return request


@pytest.mark.parametrize("batch", range(BATCHES))
def test_the_torques_of_a_corner_are_those_of_its_wheels(batch: int) -> None:
    seen: Counter[str] = Counter()
    chance = random.Random(f"limits {batch}")
    for case in range(CASES):
        request = by_hand(chance)
        result, torque = calc("corner", request), request["torque_nm"]
        here = Statics(request, request["lateral_ms2"], request["radius_m"])
        about, slack = (batch, case, request, result), 2e-6 * (1 + here.arm * sum(here.push))
        assert result["use"] == pytest.approx(here.use), about
        limits = []
        for names, slope in (("most_nm", "gone_nm"), "s_drive"), (("coast_most_nm", "coast_gone_nm"), "s_coast"):
            lock = Lock(request["preload_nm"], request[slope], request["adds"])
            ends = here.let_go(lock) if here.use < 1 else (0.0, 0.0, 0.0)
            limits.append((lock, ends))
            for name, end in zip(names, ends):
                assert result[name] == (None if end is None else pytest.approx(end, abs=slack)), (name, ends, about)
            seen["kept" if ends[1] is None else "together" if ends[0] == ends[1] else "left"] += 1
        lock, ends = limits[0]
        if here.use < 1 and ends[0] != ends[1]:
            assert result["spun_side_spare_n"] == pytest.approx(ends[2], abs=slack / here.arm), about
        lock, ends = limits[torque < 0]
        check_figures(here, torque, lock, ends, result, about)
        zones = {zone_of(here, torque * (1 + off), lock, ends) for off in (0.0, 2e-6, -2e-6)}
        if len(zones) == 1:
            check_words(here, torque, result | {"zone": zones.pop()}, about)
        # Where the axle slides side force is lacking, and else there is some to spare.
        assert (result["state"] == "slides") == (result["use"] >= 1), about
        assert result["side_spare_n"] >= -1e-3 or result["use"] >= 1, about
        if result["spun_side_spare_n"] > 0:
            assert (result["use"] < 1, result["gone_nm"]) == (True, None), about
    assert min(seen[way] for way in ("kept", "together", "left")) >= 10, seen


def spare_beyond(request: dict[str, Any], torque: float) -> float | None:
    """Side force to spare at a torque with which the inner wheel slides; None from where that has no more to give.

    With what the torque itself does: load goes along the car, and what turns the car is held by side force [2]_.
    """
    drives, lock = torque >= 0, Lock(request["preload_nm"], request["s_drive"], request["adds"])
    if not drives:
        lock = lock._replace(slope=request["s_coast"])
    tyre, base = request["tyre_mm"] / 1000, request["wheelbase_mm"] / 1000
    rear = 1 if request["axle"] == "rear" else -1
    onto = rear * request["pitch"] * torque / tyre * request["cg_mm"] / 1000 / base
    way = (request, request["lateral_ms2"], request["radius_m"])
    here = Statics(*way, onto)
    if sum(here.push) == 0:
        # All the load went to the other axle.
        return None
    # No plates hand over more than makes both wheels slide alike.
    by = min(held(lock, torque), abs(torque) * (here.push[1] - here.push[0]) / sum(here.push))
    inwards = math.copysign(by, torque) * request["track_mm"] / 2000 / tyre
    here = Statics(*way, onto, rear * request["yaw_balance"] * inwards / base)
    along = [(abs(torque) - by) / 2 / here.arm, (abs(torque) + by) / 2 / here.arm]
    if along[0] > here.push[0] + 1e-9 * sum(here.push):
        return None
    if along[1] > here.push[1] * (1 + 1e-9):
        return -here.asked
    if onto > (1 - request["weight_share"]) * request["mass_kg"] * GRAVITY:
        # With the other axle in the air no line is held.
        return -math.inf
    return sum(math.sqrt(max(0.0, push**2 - part**2)) for push, part in zip(here.push, along)) - here.asked


@pytest.mark.parametrize("batch", range(BATCHES // 4))
def test_where_a_torque_shifts_load_and_is_balanced_an_axle_leaves_its_line_as_its_wheels_do(batch: int) -> None:
    seen: Counter[str] = Counter()
    chance = random.Random(f"shifts {batch}")
    for case in range(CASES):
        request = by_hand(chance) | {"pitch": chance.random() < 0.7, "yaw_balance": chance.random() < 0.7}
        result = calc("corner", request)
        for sign, names in ((1, ("most_nm", "gone_nm")), (-1, ("coast_most_nm", "coast_gone_nm"))):
            most, gone = (result[name] for name in names)
            about = (batch, case, sign, most, gone, request)
            if gone == pytest.approx(most, rel=1e-9, abs=1e-9):
                seen["at once"] += 1
                # With any more torque side force is lacking, or there is no more to give.
                more = spare_beyond(request, sign * (most * 1.001 + 0.01))
                assert result["use"] >= 1 or more is None or more < 0, about
                continue
            steps = [most + (gone or 10 * (1 + most)) * step / 200 - most * step / 200 for step in range(1, 200)]
            spare = [spare_beyond(request, sign * torque) for torque in steps]
            # Up to there the side force is there.
            known = [force for force in spare if force is not None]
            assert all(force > -1e-3 for force in known), about
            if gone is None:
                # The inner wheel has no more to give before any is lacking.
                assert None in spare or not known, about
                seen["kept"] += 1
                continue
            assert None not in spare, about
            beyond = spare_beyond(request, sign * (gone * 1.0001 + 1e-3))
            assert beyond is None or beyond < 0, about
            seen["left"] += 1
    assert min(seen[way] for way in ("kept", "left", "at once")) >= 3, seen
