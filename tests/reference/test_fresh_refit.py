"""What a refit says to move, at random, beside `fresh_fitter`, which knows nothing of how the engine does it."""

import collections
import math
import random
from typing import Any

from server.engine import calc

from .fresh_fitter import SIDES, Fitter, OnTheEdgeError, middle, place

FIGURES = (
    "move_mm",
    "move_low_mm",
    "move_high_mm",
    "with_pinion_mm",
    "behind_change_mm",
    "tooth_change_mm",
    "pinion_change_mm",
    "rises_nm",
    "behind_mm",
    "tooth_mm",
    "pinion_mm",
)
OF_BACKLASH = (
    "found_mm",
    "found_within_mm",
    "aim_mm",
    "ratio",
    "ratio_low",
    "ratio_high",
    "expected_mm",
    "expected_within_mm",
)


def some_gears(chance: random.Random) -> dict[str, Any]:
    gears: dict[str, Any] = {"spiral_deg": chance.choice([0, 20, 33.5, 35, 50])}
    if chance.random() < 0.9:
        gears["pressure_deg"] = chance.choice([14.5, 16, 20, 22.5])
    if chance.random() < 0.4:
        gears["other_pressure_deg"] = chance.choice([18, 24, 27.5])
    if chance.random() < 0.5:
        gears["cone_deg"] = chance.choice([62, 71.5, 76, 88])
    if chance.random() < 0.7:
        gears |= {"crown_teeth": chance.randrange(33, 48), "pinion_teeth": chance.randrange(8, 16)}
    if chance.random() < 0.6:
        mean = chance.uniform(60, 100)
        gears |= {"mean_radius_mm": mean, "gauge_radius_mm": mean * chance.uniform(0.9, 1.3)}
    if chance.random() < 0.5:
        gears["along"] = chance.choice(["tooth", "round"])
    return gears


def some_backlash(chance: random.Random) -> dict[str, Any]:
    low = chance.choice([0, 0.08, 0.1, 0.13])
    high = chance.choice([0.18, 0.2, 0.25, 0.4])
    at, spread = chance.uniform(0.04, 0.45), chance.choice([0, 0.01, 0.03])
    points = [round(at + chance.uniform(0, spread), 3) for _ in range(chance.randrange(3, 7))]
    gauge = {"division_mm": chance.choice([0.002, 0.01]), "deviation_mm": chance.choice([0.004, 0.01, 0.02])}
    if chance.random() < 0.3:
        gauge["certificate_mm"] = chance.choice([0.003, 0.008])
    if chance.random() < 0.3:
        gauge["zero_mm"] = chance.choice([0.001, 0.004])
    given: dict[str, Any] = {"points_mm": points, "low_mm": low, "high_mm": high, "gauge": gauge}
    if chance.random() < 0.3:
        given["wanted_mm"] = round(chance.uniform(max(low, 0.02) + 0.01, high - 0.01), 3)
    return given


def some_bearings(chance: random.Random) -> dict[str, Any]:
    at = chance.uniform(0.6, 3.4)
    readings = [round(at + chance.choice([-0.05, 0, 0.05]), 2) for _ in range(chance.randrange(2, 5))]
    given: dict[str, Any] = {"readings_nm": readings, "tool": {"division_nm": 0.05}}
    given |= chance.choice([{"low_nm": 1.5, "high_nm": 2.5}, {"low_nm": 1.2, "high_nm": 3}, {"low_nm": 1.5}])
    if chance.random() < 0.3:
        given["wanted_nm"] = round(chance.uniform(1.6, 2.4), 2)
    if chance.random() < 0.6:
        given |= {"rise_nm": chance.choice([0.3, 0.5, 1]), "for_mm": chance.choice([0.02, 0.05, 0.1])}
    return given


def some_tries(chance: random.Random, request: dict[str, Any]) -> list[dict[str, Any]]:
    """What was tried before, by a ratio and a stiffness that somebody may have met."""
    shims, slope, stiff = request["shims"], chance.uniform(0.3, 1.1), chance.uniform(5, 25)
    here, total = place(shims), shims.get("behind_mm", 0) + shims.get("tooth_mm", 0)
    tries = []
    for _ in range(chance.randrange(1, 4)):
        aside, more = chance.choice([-0.3, -0.1, -0.02, 0.05, 0.2]), chance.choice([-0.1, 0, 0.04, 0.1, 0.2])
        row: dict[str, Any] = {"contact": chance.choice(["good", "toe", "heel", "face", "flank"])}
        if here is not None:
            row["behind_mm"] = shims["behind_mm"] + more / 2 - aside
            row["tooth_mm"] = shims["tooth_mm"] + more / 2 + aside
        if here is not None and "backlash" in request:
            at = middle(request["backlash"]["points_mm"]) + slope * aside + chance.uniform(-0.005, 0.005)
            row["points_mm"] = [max(0, round(at, 3))]
        if here is not None and "bearings" in request and total and chance.random() < 0.7:
            at = request["bearings"]["readings_nm"][0] + stiff * more
            row["torque_nm"] = max(0, round(at + chance.uniform(-0.02, 0.02), 2))
        if "pinion_mm" in shims:
            row["pinion_mm"] = shims["pinion_mm"] + chance.choice([0, 0, 0, -0.1, 0.06])
        tries.append(row)
    return tries


def random_refit(chance: random.Random) -> dict[str, Any]:
    request: dict[str, Any] = {}
    if chance.random() < 0.85:
        request["backlash"] = some_backlash(chance)
    if chance.random() < 0.5 or not request:
        request["bearings"] = some_bearings(chance)
    if chance.random() < 0.6:
        request["contact"] = {"drive": chance.choice(["good", "toe", "heel", "face", "flank"])}
    if chance.random() < 0.6:
        request["gears"] = some_gears(chance)
    if chance.random() < 0.75:
        shims: dict[str, Any] = {}
        if chance.random() < 0.8:
            shims |= {"behind_mm": round(chance.uniform(0.5, 3), 2), "tooth_mm": round(chance.uniform(0.5, 3), 2)}
        if chance.random() < 0.4:
            shims["pinion_mm"] = round(chance.uniform(0.8, 2), 2)
        if chance.random() < 0.5:
            shims["step_mm"] = chance.choice([0.02, 0.025, 0.05, 0.1])
        if chance.random() < 0.4:
            shims["thicker"] = chance.choice(["deeper", "shallower"])
        request["shims"] = shims
        if shims and chance.random() < 0.5:
            request["tries"] = some_tries(chance, request)
    return request


def same(found: float | None, expected: float | None) -> bool:
    return (
        found is expected
        if found is None or expected is None
        else math.isclose(found, expected, abs_tol=1e-6, rel_tol=5e-5)
    )


def wrong_in(found: dict[str, Any], expected: dict[str, Any]) -> list[str]:
    """Names of what differs, with both."""
    pairs = [(name, found[name], expected[name]) for name in FIGURES]
    backlash, by_hand = found["backlash"], expected["backlash"]
    if backlash and by_hand:
        pairs += [(name, backlash[name], by_hand[name]) for name in OF_BACKLASH]
        if backlash["ratio_from"] != by_hand["ratio_from"]:
            return [f"ratio from {backlash['ratio_from']}, not {by_hand['ratio_from']}"]
    wrong = [f"{name}: {a}, not {b}" for name, a, b in pairs if not same(a, b)]
    if found["way"] != expected["way"]:
        wrong.append(f"way: {found['way']}, not {expected['way']}")
    return wrong


def test_what_to_move_is_what_flanks_and_a_bag_of_shims_say(rounds: int) -> None:
    seen: collections.Counter[str] = collections.Counter()
    for seed in range(50 * rounds):
        request = random_refit(random.Random(f"refit {seed}"))
        found = calc("refit", request)
        torque = [row["verdict"] for row in found["checks"] if row["name"] == "bearings"]
        try:
            expected = Fitter(request, torque == ["go"]).answer()
        except OnTheEdgeError:
            seen["on the edge"] += 1
            continue
        wrong = wrong_in(found["setting"], expected)
        assert not wrong, (seed, request, wrong)
        seen[expected["way"]] += 1
        seen["compared"] += 1
        seen[expected["backlash"]["ratio_from"] if expected["backlash"] else "no backlash"] += 1
        seen["pinion"] += expected["pinion_change_mm"] != 0
        seen["bearings"] += abs(expected["behind_change_mm"] + expected["tooth_change_mm"]) > 1e-6
        seen["for contact"] += request.get("contact", {}).get("drive") in SIDES and expected["move_mm"] != 0
    print(dict(seen))
    assert seen["compared"] > 10 * seen["on the edge"] / 3
    for name in ("away", "towards", "still", "usual", "geometry", "tries", "pinion", "bearings", "for contact"):
        assert seen[name] > 0, (name, seen)


def made_of(points: list[float], low: float, high: float, **more: Any) -> dict[str, Any]:
    """What to move for some backlash on a fine gauge."""
    gauge = {"division_mm": 0.01, "deviation_mm": 0.005}
    backlash = {"points_mm": points, "low_mm": low, "high_mm": high, "gauge": gauge}
    setting: dict[str, Any] = calc("refit", {"backlash": backlash, **more})["setting"]
    return setting


def test_away_is_more_backlash_and_more_shims_are_more_torque() -> None:
    """The signs by themselves, without any reckoning."""
    tight, loose = made_of([0.05] * 3, 0.1, 0.2), made_of([0.3] * 3, 0.1, 0.2)
    assert tight["move_mm"] > 0 > loose["move_mm"]
    # The back of the crown wheel is away from the pinion: a shim behind it pushes it in, and the total is kept.
    assert tight["behind_change_mm"] < 0 < loose["behind_change_mm"]
    for setting in (tight, loose):
        assert math.isclose(setting["behind_change_mm"], -setting["tooth_change_mm"])
    free: dict[str, Any] = {"readings_nm": [1, 1], "low_nm": 1.5, "high_nm": 2.5, "tool": {"division_nm": 0.05}}
    more = calc("refit", {"bearings": free | {"rise_nm": 1, "for_mm": 0.1}})["setting"]
    assert more["behind_change_mm"] == more["tooth_change_mm"] > 0


def test_an_odd_step_for_the_bearings_keeps_the_crown_wheel_where_backlash_has_room() -> None:
    free: dict[str, Any] = {"readings_nm": [1.0, 1.0], "low_nm": 1.6, "high_nm": 2.4, "tool": {"division_nm": 0.05}}
    free |= {"rise_nm": 0.5, "for_mm": 0.05}
    found = made_of([0.135] * 3, 0.08, 0.18, bearings=free, contact={"drive": "heel"}, shims={"step_mm": 0.05})
    assert math.isclose(found["behind_change_mm"] + found["tooth_change_mm"], 0.05)
    assert found["backlash"]["expected_mm"] - found["backlash"]["expected_within_mm"] > 0.08


def test_a_range_for_the_contact_pattern_begins_with_its_lower_end() -> None:
    found = made_of([0.25] * 3, 0.05, 0.4, contact={"drive": "heel"})
    assert found["move_low_mm"] < found["move_high_mm"] < 0


def test_a_try_of_the_opposite_pattern_is_the_end_of_the_range_and_never_where_to_go() -> None:
    tries = [{"behind_mm": 2.45, "tooth_mm": 2.55, "contact": "toe"}]
    shims = {"behind_mm": 2.4, "tooth_mm": 2.6}
    found = made_of([0.2] * 3, 0.05, 0.4, contact={"drive": "heel"}, shims=shims, tries=tries)
    assert math.isclose(found["move_low_mm"], -0.05)
    assert found["move_high_mm"] == 0
    stepped = made_of([0.2] * 3, 0.05, 0.4, contact={"drive": "heel"}, shims=shims | {"step_mm": 0.05}, tries=tries)
    assert stepped["behind_change_mm"] == 0
    assert any("a thinner one is needed" in row["text"] for row in stepped["advice"])


def test_nothing_is_learnt_of_a_try_that_jammed() -> None:
    tries = [{"behind_mm": 2.9, "tooth_mm": 2.1, "points_mm": [0, 0, 0]}]
    found = made_of([0.25] * 3, 0.05, 0.2, shims={"behind_mm": 2.4, "tooth_mm": 2.6}, tries=tries)
    assert found["backlash"]["ratio_from"] == "usual"
