"""Setting a crown wheel, worked out a second way.

Geometry: a tooth of the crown wheel is drawn in three dimensions, as two flanks over its pitch cone (a logarithmic
spiral, so that the spiral angle is the same all along; the profile leans by the normal pressure angle). Two points of
the pinion touch them at the middle of the tooth. The crown wheel is slid along its axis, and turned until each flank
touches its point again, found by bisection: nothing of the engine's formula stands here. The formula itself, backlash =
2 tan(pressure) sin(cone) / cos(spiral) for each mm, is that of makers' handbooks for setting bevel gears, from memory.

Everything else: numpy's line through the tries, shims by trying every pair of whole steps, the range by corners.
"""

import math
import random
from typing import Any

import numpy as np
import pytest

from server.engine import calc

EVEN = 1 / math.sqrt(3)
USUAL = (0.7, 0.5, 0.9)
POINT = tuple[float, float, float]


def height_and_turn(point: POINT, cone: float) -> tuple[float, float, float]:
    """Distance from the apex along the pitch cone, height over the cone towards the pinion, and azimuth."""
    x, y, z = point
    out = math.hypot(x, y)
    # The axis is z, the apex the origin, the teeth look to +z; the cone goes outwards and down from it.
    along = out * math.sin(cone) - z * math.cos(cone)
    over = out * math.cos(cone) + z * math.sin(cone)
    return along, over, math.atan2(y, x)


def flank(point: POINT, side: int, gear: dict[str, float]) -> float:
    """Azimuth from a flank to a point, rad: 0 on it. `side` 1 is the flank that faces +azimuth."""
    cone, spiral = gear["cone"], gear["spiral"]
    pressure = gear["pressure"] if side > 0 else gear["other"]
    along, over, turn = height_and_turn(point, cone)
    spiralled = math.tan(spiral) * math.log(along / gear["middle"]) / math.sin(cone)
    leaning = over * math.tan(pressure) / (math.cos(spiral) * along * math.sin(cone))
    return turn - spiralled + side * leaning


def on_cone(gear: dict[str, float]) -> POINT:
    """The middle of the tooth, at azimuth 0."""
    return gear["middle"] * math.sin(gear["cone"]), 0.0, -gear["middle"] * math.cos(gear["cone"])


def turned(point: POINT, angle: float) -> POINT:
    """A point turned about the crown wheel's axis."""
    x, y, z = point
    return x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle), z


def touches_at(gear: dict[str, float], side: int, away: float, deeper: float) -> float:
    """Angle at which a flank touches the pinion's point again, the wheel being `away`, the pinion `deeper`, mm."""
    x, y, z = on_cone(gear)
    # Away from the pinion is -z for a wheel whose teeth look to +z: the point rises by as much as it sees the wheel.
    seen = (x - deeper, y, z + away)
    low, high = -0.01, 0.01
    for _ in range(80):
        half = (low + high) / 2
        if flank(turned(seen, -half), side, gear) > 0:
            low = half
        else:
            high = half
    return (low + high) / 2


def backlash_by_turning(gear: dict[str, float], away: float, deeper: float = 0.0) -> float:
    """How much further apart both flanks touch, mm along the circle at the middle of the tooth."""
    apart = touches_at(gear, 1, away, deeper) - touches_at(gear, -1, away, deeper)
    return apart * on_cone(gear)[0]


def square_to_the_flank(gear: dict[str, float]) -> float:
    """What a gauge square to the flank reads for each mm along the circle: by the flank's gradient, numerically."""
    at, step = on_cone(gear), 1e-5
    slopes = []
    for axis in range(3):
        more, less = list(at), list(at)
        more[axis] += step
        less[axis] -= step
        slopes.append(flank(tuple(more), 1, gear) - flank(tuple(less), 1, gear))  # type: ignore[arg-type]
    # At azimuth 0 the circle runs along y.
    return abs(slopes[1]) / math.sqrt(sum(slope**2 for slope in slopes))


def random_gears(chance: random.Random) -> tuple[dict[str, float], dict[str, Any]]:
    """Gears for the drawing in three dimensions, and the same as typed."""
    radius = round(chance.uniform(50, 120), 1)
    typed: dict[str, Any] = {
        "pressure_deg": round(chance.uniform(14, 26), 1),
        "spiral_deg": round(chance.choice([0, chance.uniform(5, 50)]), 1),
        "mean_radius_mm": radius,
        "gauge_radius_mm": round(radius * chance.uniform(0.9, 1.25), 1),
        "along": chance.choice(["tooth", "round"]),
    }
    if chance.random() < 0.4:
        typed["other_pressure_deg"] = round(chance.uniform(14, 26), 1)
    if chance.random() < 0.5:
        typed["crown_teeth"], typed["pinion_teeth"] = chance.randrange(33, 50), chance.randrange(7, 18)
        cone = math.atan2(typed["crown_teeth"], typed["pinion_teeth"])
    else:
        typed["cone_deg"] = round(chance.uniform(60, 82), 1)
        cone = math.radians(typed["cone_deg"])
    return {
        "pressure": math.radians(typed["pressure_deg"]),
        "other": math.radians(typed.get("other_pressure_deg", typed["pressure_deg"])),
        "spiral": math.radians(typed["spiral_deg"]),
        "cone": cone,
        "middle": radius / math.sin(cone),
    }, typed


def ratio_by_turning(gear: dict[str, float], typed: dict[str, Any]) -> float:
    """What the gauge reads for each mm sideways."""
    slid = 0.001
    ratio = (backlash_by_turning(gear, slid) - backlash_by_turning(gear, -slid)) / (2 * slid)
    read = square_to_the_flank(gear) if typed["along"] == "tooth" else 1.0
    return float(ratio * read * typed["gauge_radius_mm"] / typed["mean_radius_mm"])


TIGHT = {"points_mm": [0.05, 0.06, 0.05], "low_mm": 0.1, "high_mm": 0.2, "gauge": {}}


def test_backlash_follows_the_flanks_as_they_are_turned(rounds: int) -> None:
    for seed in range(50 * rounds):
        gear, typed = random_gears(random.Random(seed))
        found = calc("refit", {"backlash": TIGHT, "gears": typed})["setting"]
        assert found["backlash"]["ratio_from"] == "geometry"
        assert found["backlash"]["ratio"] == pytest.approx(ratio_by_turning(gear, typed), rel=1e-4), seed
        # Away from the pinion, so that backlash grows.
        assert found["move_mm"] == pytest.approx((0.15 - 0.055) / ratio_by_turning(gear, typed), rel=1e-4)
        assert backlash_by_turning(gear, 0.1) > 0


def test_the_crown_wheel_goes_with_the_pinion_so_that_backlash_stays(rounds: int) -> None:
    good = {**TIGHT, "points_mm": [0.15, 0.15, 0.15]}
    for seed in range(50 * rounds):
        chance = random.Random(seed)
        gear, typed = random_gears(chance)
        where = chance.choice(["face", "flank"])
        found = calc("refit", {"backlash": good, "gears": typed, "contact": {"drive": where}})["setting"]
        deeper, away = found["pinion_change_mm"], found["with_pinion_mm"]
        assert deeper == pytest.approx(0.05 if where == "face" else -0.05)
        # Alone the pinion changes backlash; with the crown wheel it does not.
        alone = backlash_by_turning(gear, 0.0, deeper)
        assert alone * deeper < 0
        assert abs(backlash_by_turning(gear, away, deeper)) < 0.002 * abs(alone), seed


def shim_pairs(sideways: float, more: float, step: float) -> set[tuple[int, int]]:
    """The best whole steps behind and on the tooth side, by trying all: the total first, then the place."""
    reach = range(-60, 61)
    pairs = [(behind, tooth) for behind in reach for tooth in reach]
    total = min(abs((b + t) * step - more) for b, t in pairs)
    near = [(b, t) for b, t in pairs if abs((b + t) * step - more) < total + 1e-9]
    found = set()
    # Two totals may be as near as each other.
    for whole in {b + t for b, t in near}:
        mine = [(b, t) for b, t in near if b + t == whole]
        place = min(abs((t - b) / 2 * step - sideways) for b, t in mine)
        found |= {(b, t) for b, t in mine if abs((t - b) / 2 * step - sideways) < place + 1e-9}
    return found


def random_refit(chance: random.Random) -> dict[str, Any]:
    """Backlash and bearings with shims and perhaps tries that follow a line, well or badly."""
    rise, stiff = chance.uniform(0.4, 1.0), chance.uniform(2, 20)
    behind, tooth = round(chance.uniform(2, 4), 3), round(chance.uniform(2, 4), 3)
    played, held = chance.uniform(0.02, 0.4), chance.uniform(0.5, 3)

    def at(b: float, t: float) -> tuple[float, float]:
        side = ((t - b) - (tooth - behind)) / 2
        more = (t + b) - (tooth + behind)
        return max(0.0, round(played + rise * side, 3)), max(0.0, round(held + stiff * more, 2))

    tried = []
    for _ in range(chance.choice([0, 0, 1, 1, 2, 4])):
        b = round(behind + chance.choice([0, 0.002, 0.1, 0.3]) * chance.uniform(-1, 1), 3)
        t = round(tooth + chance.choice([0, 0.002, 0.1, 0.3]) * chance.uniform(-1, 1), 3)
        lash, torque = at(b, t)
        lash = lash + chance.choice([0, 0.02]) * chance.random()
        tried.append({"behind_mm": b, "tooth_mm": t, "points_mm": [lash, lash + 0.01], "torque_nm": torque})
    spread = chance.choice([0, 0.01, 0.03])
    lash, torque = at(behind, tooth)
    shims = {"behind_mm": behind, "tooth_mm": tooth}
    if chance.random() < 0.6:
        shims["step_mm"] = chance.choice([0.02, 0.025, 0.05])
    request: dict[str, Any] = {
        "backlash": {
            "points_mm": [lash, lash + spread, lash + spread / 2],
            "low_mm": round(chance.uniform(0.05, 0.12), 3),
            "high_mm": round(chance.uniform(0.14, 0.3), 3),
            "gauge": {"division_mm": 0.01, "deviation_mm": chance.choice([0.003, 0.01, 0.02])},
        },
        "bearings": {
            "readings_nm": [torque, torque + 0.02, torque + 0.01],
            "low_nm": round(chance.uniform(0.6, 1.4), 2),
            "high_nm": round(chance.uniform(1.6, 3), 2),
            "tool": {"division_nm": 0.02, "deviation_percent": 4},
        },
        "shims": shims,
        "tries": tried,
    }
    if chance.random() < 0.5:
        request["backlash"]["wanted_mm"] = 0.13
    if chance.random() < 0.4:
        request["bearings"]["rise_nm"], request["bearings"]["for_mm"] = 0.6, 0.05
    return request


def middle(points: list[float]) -> float:
    return (min(points) + max(points)) / 2


def line(points: list[tuple[float, float]], u_along: float, u_up: float) -> tuple[float, float] | None:
    """Slope and its expanded uncertainty; None where the shims are all alike."""
    xs, ys = np.array([x for x, _ in points]), np.array([y for _, y in points])
    if len(points) < 2 or np.ptp(xs) < 1e-6:
        return None
    slope, height = np.polyfit(xs - xs.mean(), ys, 1)
    variance = u_up**2 + (slope * u_along) ** 2
    if len(points) > 2:
        variance = max(variance, float(((ys - height - slope * (xs - xs.mean())) ** 2).sum()) / (len(points) - 2))
    return float(slope), 1.96 * math.sqrt(variance / float(((xs - xs.mean()) ** 2).sum()))


def gauge_u(gauge: dict[str, float]) -> float:
    """Backlash is the difference of two readings."""
    return math.sqrt((gauge["deviation_mm"] * EVEN) ** 2 + 2 * (gauge["division_mm"] / 2 * EVEN) ** 2)


def expected_ratio(request: dict[str, Any]) -> tuple[float, float, float]:
    shims, backlash = request["shims"], request["backlash"]
    rows = [*request["tries"], {**shims, "points_mm": backlash["points_mm"]}]
    if min(backlash["points_mm"]) == 0:
        rows = []
    # A tooth without backlash says nothing of how far the wheel is in.
    rows = [row for row in rows if min(row["points_mm"]) > 0]
    points = [((row["tooth_mm"] - row["behind_mm"]) / 2, middle(row["points_mm"])) for row in rows]
    learnt = line(points, math.sqrt(2) * 0.005 * EVEN / 2, gauge_u(backlash["gauge"]))
    if learnt is None or learnt[0] <= 0 or learnt[1] > learnt[0] / 2:
        return USUAL
    return learnt[0], learnt[0] - learnt[1], learnt[0] + learnt[1]


def outside(low: float, high: float, least: float, most: float, guard: float) -> bool:
    return least - low < guard or high - most < guard


def test_moves_are_those_of_a_second_implementation(rounds: int) -> None:
    learnt = moved = 0
    for seed in range(50 * rounds):
        request = random_refit(random.Random(seed))
        found = calc("refit", request)["setting"]
        backlash, gauge = request["backlash"], request["backlash"]["gauge"]
        ratio = expected_ratio(request)
        learnt += ratio != USUAL
        got = found["backlash"]
        assert (got["ratio"], got["ratio_low"], got["ratio_high"]) == pytest.approx(ratio, rel=1e-4), seed
        points, within = backlash["points_mm"], 1.96 * gauge_u(gauge)
        aim = backlash.get("wanted_mm", (backlash["low_mm"] + backlash["high_mm"]) / 2)
        guard = 1.6449 * gauge_u(gauge)
        needed = outside(backlash["low_mm"], backlash["high_mm"], min(points), max(points), guard)
        needed = needed or ("wanted_mm" in backlash and abs(middle(points) - 0.13) > within)
        error = aim - middle(points) if needed else 0.0
        assert found["move_mm"] == pytest.approx(error / ratio[0], abs=1e-9), seed
        if needed:
            moved += 1
            corners = [(error + w) / k for w in (-within, within) for k in ratio[1:]]
            assert (found["move_low_mm"], found["move_high_mm"]) == pytest.approx(
                (min(corners), max(corners)), abs=2e-5, rel=1e-4
            )
        more = shims_to_add(request, found["rises_nm"])
        behind, tooth = found["behind_change_mm"], found["tooth_change_mm"]
        step = request["shims"].get("step_mm")
        if step:
            pair = round(behind / step), round(tooth / step)
            assert pair in shim_pairs(found["move_mm"], more, step), seed
            assert (behind, tooth) == pytest.approx((pair[0] * step, pair[1] * step))
        else:
            assert (behind + tooth, (tooth - behind) / 2) == pytest.approx((more, found["move_mm"]), abs=1e-9)
        shifted = (tooth - behind) / 2
        assert got["expected_mm"] == pytest.approx(max(0, middle(points) + ratio[0] * shifted), abs=1e-9)
        off = math.hypot(within, shifted * (ratio[2] - ratio[1]) / 2)
        assert got["expected_within_mm"] == pytest.approx(off, rel=1e-4)
    # Both happen often, or this tells little.
    assert min(learnt, moved) > 10 * rounds


def shims_to_add(request: dict[str, Any], rises: float | None) -> float:
    """What the turning torque asks for, and that the engine's rise is the one of the tries or the stated one."""
    given, shims = request["bearings"], request["shims"]
    readings = np.array(given["readings_nm"])
    torque = float(readings.mean())
    known = 0.04 * torque * EVEN, 0.01 * EVEN
    u = math.sqrt(float(readings.var(ddof=1)) / 3 + known[0] ** 2 + known[1] ** 2)
    points = [(r["behind_mm"] + r["tooth_mm"], r["torque_nm"]) for r in request["tries"] if r["torque_nm"] > 0]
    slope = line([*points, (shims["behind_mm"] + shims["tooth_mm"], torque)], math.sqrt(2) * 0.005 * EVEN, u)
    per_mm = 12.0 if "rise_nm" in given else None
    if slope is not None and points and slope[0] > 0 and slope[1] <= slope[0] / 2:
        per_mm = slope[0]
    assert rises == (None if per_mm is None else pytest.approx(per_mm / 10, rel=1e-6))
    edge = min(torque - given["low_nm"], given["high_nm"] - torque)
    inside = edge >= guard_of_bearings(request)
    if inside or per_mm is None:
        return 0.0
    aim = (given["low_nm"] + given["high_nm"]) / 2
    change = (aim - torque) / per_mm
    seen = [y for _, y in points] + [torque]
    beyond = abs(change) > 0.05 and not min(seen) <= aim <= max(seen)
    return float(change / 2 if beyond else change)


def guard_of_bearings(request: dict[str, Any]) -> float:
    """The engine's guard band, which tests of its own hold."""
    [row] = [row for row in calc("refit", request)["checks"] if row["name"] == "bearings"]
    return float(row["guard_nm"])
