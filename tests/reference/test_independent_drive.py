"""Lock and traction of random units beside statics written anew: a wedge, a bevel gear, ears, a case of another metal.

Sources: statics of a wedge with friction, F = T / (2 r) · cot(alpha + phi), resolved here into sine and cosine; thrust
of a straight bevel gear, Wt tan(phi) sin(gamma), J. E. Shigley, Mechanical Engineering Design, from memory; locking
value as the common definition has it; what an axle puts down by halving towards the largest torque for which those of
the wheels add up; ranges by Monte Carlo as in JCGM 101:2008, tolerances of discs by DIN EN 16983:2017.
"""

import math
import random
from typing import Any

import numpy
import pytest

from server.engine import calc

from .random_units import (
    column_height,
    crush_of,
    faces_of,
    most_crush,
    nests,
    places,
    preload_at,
    radius_of,
    random_unit,
    solids,
    torque_per_newton,
)

GRAVITY = 9.80665


def random_ramps(chance: random.Random) -> dict[str, Any]:
    """Ramps, often with ears and bevel gears."""
    ramps: dict[str, Any] = {
        "pin_radius_mm": round(chance.uniform(20, 50), 1),
        "drive_deg": chance.choice([30, 45, 60, 80, round(chance.uniform(25, 90), 1)]),
        "coast_deg": chance.choice([45, 60, 85]),
        "mu": round(chance.uniform(0.03, 0.2), 3),
    }
    if chance.random() < 0.5:
        ramps["ears"] = {"radius_mm": round(chance.uniform(40, 90), 1), "mu": round(chance.uniform(0.05, 0.2), 3)}
    if chance.random() < 0.5:
        ramps["gears"] = {"on_packs": chance.random() < 0.7, "pressure_deg": 22.5, "pitch_radius_mm": 30}
        ramps["gears"] |= chance.choice([{"cone_deg": 60}, {"side_teeth": 16, "pinion_teeth": 10}])
    return ramps


def pushes(ramps: dict[str, Any], angle: float, ramp_off: Any = 0.0, ear_off: Any = 0.0, gear_off: Any = 0.0) -> Any:
    """Axial force on each pack for each N·m into the case, N; frictions and thrust may be off by so much."""
    tilt, mu = math.radians(angle), numpy.maximum(0.0, ramps["mu"] + ramp_off)
    across = 1000 / 2 / ramps["pin_radius_mm"]
    along, out = math.cos(tilt) - mu * math.sin(tilt), math.sin(tilt) + mu * math.cos(tilt)
    force = across * numpy.maximum(0.0, along) / out
    gears, ears = ramps.get("gears"), ramps.get("ears")
    if gears and gears["on_packs"]:
        ratio = gears["side_teeth"] / gears["pinion_teeth"] if "side_teeth" in gears else 0.0
        cone = math.atan(ratio) if ratio else math.radians(gears["cone_deg"])
        thrust = math.tan(math.radians(gears["pressure_deg"])) * math.sin(cone)
        force = force + 1000 / 2 / gears["pitch_radius_mm"] * thrust * (1 + gear_off)
    if ears:
        force = force - 1000 / 2 / ears["radius_mm"] * numpy.maximum(0.0, ears["mu"] + ear_off)
    return numpy.maximum(0.0, force)


def lock_per_newton(unit: dict[str, Any], mu: Any) -> Any:
    """Difference of the outputs for each newton: one pack gives what it holds to one output, one takes it away."""
    return sum(faces_of(unit)) * mu * radius_of(unit) / 1000


def built_of(chance: random.Random, unit: dict[str, Any]) -> tuple[dict[str, Any], float]:
    """A unit as built, half of the time with a measured torque, and the friction of its packs."""
    spots = [{"within_mm": 0.02} for item in unit["chain"] if item["part"] != "spring"]
    built: dict[str, Any] = {"unit": unit, "places": spots}
    if chance.random() < 0.5:
        torque = round(chance.uniform(20, 200), 1)
        built["measured"] = {"torque_nm": torque, "expanded_nm": round(torque * 0.06, 2)}
        return built, torque / preload_at(unit, crush_of(unit)) / torque_per_newton(unit, 1.0)
    return built, unit["friction"]["mu"]


@pytest.mark.parametrize("seed", range(80))
def test_locks_are_what_statics_give(seed: int) -> None:
    chance = random.Random(seed)
    unit = random_unit(chance) | {"ramps": random_ramps(chance)}
    unit["warming"] = {"warmer_k": 70, "case_ppm": 23, "stack_ppm": 11.5}
    built, mu = built_of(chance, unit)
    result = calc("ramps", {"built": built, "most_nm": 2000})
    crush = crush_of(unit)
    force, each = preload_at(unit, crush), lock_per_newton(unit, mu)
    assert (result["preload_n"], result["mu"], result["preload_lock_nm"]) == pytest.approx((force, mu, force * each))
    grown = (unit["cavity_mm"] + crush) * (1 + 70 * 11.5e-6) - unit["cavity_mm"] * (1 + 70 * 23e-6)
    assert result["warm"]["preload_n"] == pytest.approx(preload_at(unit, max(0.0, grown)), rel=1e-8)
    adds = unit["layout"] == "between_rings"
    for way in result["fittings"]:
        angles = [unit["ramps"]["drive_deg"], unit["ramps"]["coast_deg"]]
        angles = angles if way["fitted"] == "as_is" else angles[::-1]
        for side, angle in zip((way["drive"], way["coast"]), angles):
            locking, held = float(pushes(unit["ramps"], angle)) * each, force * each
            assert side["locking_value"] == pytest.approx(locking, rel=1e-9, abs=1e-12)
            assert side["solid"] == (side["bias_ratio"] is None) == (locking >= 1)
            if locking < 1:
                assert side["bias_ratio"] == pytest.approx((1 + locking) / (1 - locking), rel=1e-7)
                assert side["holds_to_nm"] == pytest.approx(held / (1 - locking) if adds else held, rel=1e-7)
            for row in side["curve"]:
                pressed = locking * row["torque_nm"]
                assert row["lock_nm"] == pytest.approx(held + pressed if adds else max(held, pressed), rel=1e-9)
                assert row["low_nm"] <= row["lock_nm"] <= row["high_nm"]


def resistance(wheels: list[dict[str, float]], torque: float) -> float:
    """Inner less outer torque of a solid axle of 1400 mm in a turn of 9 m, by halving towards the common speed.

    Each tyre pushes 20 times its load for a slip of 1, common practice; the lighter wheel is the inner one.
    """
    inner, outer = sorted(wheels, key=lambda wheel: wheel["load_kg"])

    def pushes(wheel: dict[str, float], ground: float, speed: float) -> float:
        most = wheel["load_kg"] * GRAVITY * wheel["grip"] * 0.3
        return max(-most, min(most, 20 * wheel["load_kg"] * GRAVITY * 0.3 * (speed / ground - 1)))

    slow, fast = -50.0, 50.0
    for _ in range(200):
        speed = (slow + fast) / 2
        each = pushes(inner, 1 - 0.7 / 9, speed), pushes(outer, 1 + 0.7 / 9, speed)
        slow, fast = (speed, fast) if sum(each) < torque else (slow, speed)
    return each[0] - each[1]


@pytest.mark.parametrize("seed", range(80))
def test_an_axle_puts_down_the_most_for_which_the_wheels_add_up(seed: int) -> None:
    chance = random.Random(seed)
    unit = random_unit(chance) | {"ramps": random_ramps(chance)}
    built, mu = built_of(chance, unit)
    wheels = [{"load_kg": chance.uniform(20, 600), "grip": chance.uniform(0.05, 1.6)} for _ in range(2)]
    request = {"left": wheels[0], "right": wheels[1], "tyre_radius_mm": 300, "built": built}
    torque = chance.uniform(100, 4000)
    result = calc("traction", request | {"input_nm": torque, "turn": {"radius_mm": 9000, "track_mm": 1400}})
    adds, each = unit["layout"] == "between_rings", lock_per_newton(unit, mu)
    held = preload_at(unit, crush_of(unit)) * each
    locking = float(pushes(unit["ramps"], unit["ramps"]["drive_deg"])) * each
    weak, strong = sorted(wheel["load_kg"] * GRAVITY * wheel["grip"] * 0.3 for wheel in wheels)

    def lock(into: float) -> float:
        return float(held + locking * into if adds else max(held, locking * into))

    def carried(into: float) -> bool:
        less = min(weak, into / 2)
        return into - less <= strong and into - 2 * less <= lock(into)

    low, high = 0.0, weak + strong
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if carried(middle) else (low, middle)
    assert result["unit_nm"] == pytest.approx(low, rel=1e-6)
    assert result["unit_low_nm"] <= result["unit_nm"] <= result["unit_high_nm"]
    assert (result["open_nm"], result["solid_nm"]) == pytest.approx((2 * weak, weak + strong))
    assert result["put_down_nm"] == pytest.approx(min(torque, low), rel=1e-6)
    assert result["turn_slip_percent"] == pytest.approx(100 * 1400 / 9000)
    # The middle of the axle rolls along the radius, so each wheel slips by half of the track over it.
    assert result["turn_slip_each_percent"] == pytest.approx(100 * 700 / 9000)
    assert result["turn_most_nm"] == pytest.approx(lock(min(torque, low)), rel=1e-6)
    resisted = resistance(wheels, min(torque, low))
    held = max(-lock(min(torque, low)), min(lock(min(torque, low)), resisted))
    assert result["turn_lock_nm"] - result["turn_helps_nm"] == pytest.approx(held, rel=1e-5, abs=1e-4)
    assert result["turn_lock_nm"] * result["turn_helps_nm"] == 0
    if torque > low + 1e-6:
        grips = [wheel["load_kg"] * wheel["grip"] for wheel in wheels]
        weaker = "left" if grips[0] < grips[1] else "right"
        assert result["spins"] == ("both" if low > weak + strong - 1e-6 else weaker)


def tolerance(t: float) -> tuple[float, float, float, float]:
    """Load above and below its table, as a share, and height above and below, mm, of a new disc."""
    rows = ((1.25, 0.25, 0.075, 0.1, 0.05), (2.0001, 0.15, 0.075, 0.15, 0.08), (3.0001, 0.15, 0.075, 0.2, 0.1))
    thicker = ((6.0001, 0.1, 0.05, 0.3, 0.15), (99, 0.05, 0.05, 0.3, 0.3))
    return next(row[1:] for row in rows + thicker if t < row[0])


def loads(spring: dict[str, Any], travel: Any, height: Any) -> Any:
    """Load of one disc without flats at many travels and free heights, but for a factor that they share."""
    t = spring["t_mm"]
    return travel * ((height - t - travel) * (height - t - travel / 2) / t**2 + 1)


@pytest.mark.parametrize("seed", range(20))
def test_a_range_holds_as_often_as_it_says(seed: int) -> None:
    chance, dice, count = random.Random(900 + seed), numpy.random.default_rng(seed), 8000
    unit = random_unit(chance, rising=True) | {"ramps": random_ramps(chance)}
    spring = unit["spring"]
    spring.pop("flats_t_mm", None)
    discs = places(unit) * nests(spring)
    crush = chance.uniform(0.2, 0.75) * most_crush(unit)
    unit["cavity_mm"] = round(solids(unit) + places(unit) * column_height(spring) - crush, 3)
    built, _ = built_of(chance, unit)
    result = calc("ramps", {"built": built})
    more, less, taller, lower = tolerance(spring["t_mm"])
    off = sum(dice.uniform(-0.02, 0.02, count) for _ in built["places"])
    heights = spring["l0_mm"] + dice.uniform(-lower, taller, count)
    travels = (crush_of(unit) + off) / discs + heights - spring["l0_mm"]
    travels = numpy.clip(travels, 0.0, heights - spring["t_mm"])
    test = 0.75 * (spring["l0_mm"] - spring["t_mm"])
    # What a new disc gives where it is tested is within its tolerance, whatever its height.
    tested = loads(spring, test, spring["l0_mm"]) / loads(spring, test + heights - spring["l0_mm"], heights)
    shape = loads(spring, travels, heights) * tested * (1 + dice.uniform(-less, more, count))
    nominal = crush_of(unit) / discs
    force = preload_at(unit, crush_of(unit)) * shape / loads(spring, nominal, spring["l0_mm"])
    if "measured" in built:
        torque = built["measured"]["torque_nm"] + dice.normal(0, built["measured"]["expanded_nm"] / 1.96, count)
        mu = torque / torque_per_newton(unit, 1.0) / numpy.maximum(force, 1.0)
    else:
        mu = unit["friction"]["mu"] * (1 + dice.triangular(-0.2, 0, 0.2, count))
    held = force * lock_per_newton(unit, mu)
    within = (result["preload_lock_low_nm"] <= held) & (held <= result["preload_lock_high_nm"])
    assert 0.93 <= within.mean() <= 0.97
    off_by = [dice.triangular(-wide, 0, wide, count) for wide in (0.03, 0.05, 0.1)]
    lockings = pushes(unit["ramps"], unit["ramps"]["drive_deg"], *off_by) * lock_per_newton(unit, mu)
    drive = result["fittings"][0]["drive"]
    within = (drive["locking_low"] <= lockings) & (lockings <= drive["locking_high"])
    # A measured torque says nothing of friction under the ramps' much larger force: that range is wider.
    assert within.mean() >= (0.93 if drive["locking_value"] > 0.02 else 0.85)
    if "measured" not in built and drive["locking_low"] > 0.02:
        assert within.mean() <= 0.98
