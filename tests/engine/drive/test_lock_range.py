"""The range of a lock: it covers as often as it says, and each thing that is not known has its share in it."""

import copy
import random
from typing import Any

import numpy
import pytest

from server.engine import calc
from server.engine.drive.lock import Lock
from server.engine.drive.lock_range import EVEN, NORMAL, TAPERED, Cause, range_of, shares_of
from server.engine.unit.spring_tolerance import height_tolerance, load_tolerance

from ...reference import by_virtual_work as work
from ...reference.test_statics import both_packs_per_newton, locking_value, unit_of
from ..samples import sample

TRIALS = 4000
BUILT = sample("ramps", "as built, with its measured torque")["built"]
EVERYTHING = sample("ramps", "as built, with everything given")["built"]


def lock_of(slope: float) -> Lock:
    return Lock(100.0, slope, False)


def tapered(chance: numpy.random.Generator, off: float) -> Any:
    return chance.triangular(-off, 0.0, off, TRIALS) if off else numpy.zeros(TRIALS)


@pytest.mark.parametrize("seed", range(5))
def test_the_range_covers_as_often_as_it_says(seed: int) -> None:
    # JCGM 101: friction of plates, pins and ears, the gears' thrust, load and height of the spring and the thickness of
    # the plates drawn anew for each trial, and what comes of them worked out without the engine.
    chance = numpy.random.default_rng(seed)
    unit = unit_of(random.Random(100 + seed))
    unit["ramps"].update(drive_deg=30 + 5 * seed, mu=0.1)
    unit["ramps"]["ears"]["mu"] = 0.1
    unit.pop("warming")
    ramps, spring = unit["ramps"], unit["spring"]
    plates = 1 + tapered(chance, 0.2)
    pins, ears, thrust = tapered(chance, 0.03), tapered(chance, 0.05), 1 + tapered(chance, 0.1)
    slopes, per_newton = [], both_packs_per_newton(unit)
    gears = locking_value({**unit, "ramps": {**ramps, "ears": {"radius_mm": 60, "mu": 0}}}, 90.0, 1.0)
    for plate, pin, ear, push in zip(plates, pins, ears, thrust, strict=True):
        pressing = work.ramp_and_ears(
            1.0,
            ramps["drive_deg"],
            ramps["mu"] + pin,
            ramps["pin_radius_mm"],
            ramps["ears"]["mu"] + ear,
            ramps["ears"]["radius_mm"],
        )
        slopes.append(max(0.0, pressing + gears * push) * per_newton * plate)
    above, below = load_tolerance(spring["t_mm"])
    high, low = height_tolerance(spring["t_mm"])
    parts = [part for part in unit["chain"] if part["part"] != "spring"]
    springs = len(unit["chain"]) - len(parts)
    crush = work.crush_of(unit) + chance.uniform(-0.02, 0.02, (len(parts) + 1, TRIALS)).sum(axis=0)
    loads = 1 + chance.uniform(-below / 100, above / 100, TRIALS)
    preloads = []
    for taller, squeeze, load, plate in zip(chance.uniform(-low, high, TRIALS), crush, loads, plates, strict=True):
        test, other = 0.75 * (spring["l0_mm"] - spring["t_mm"]), {**spring, "l0_mm": spring["l0_mm"] + taller}
        same = work.disc_load(spring, test) / work.disc_load(other, test + taller)
        force = work.disc_load(other, max(0.0, squeeze / springs + taller)) * same * load
        preloads.append(force * per_newton * plate)
    result = calc("ramps", {"unit": unit, "points": 3})
    drive = result["fittings"][0]["drive"]
    turns = result["fittings"][0]["drive"]["takes_over_nm"] or 500.0
    at_turn = calc("ramps", {"unit": unit, "points": 3, "most_nm": 2 * turns})["fittings"][0]["drive"]["curve"][1]
    together = preloads + numpy.array(slopes) * turns
    if not result["adds"]:
        together = numpy.maximum(preloads, numpy.array(slopes) * turns)
    axle = {"left": {"load_kg": 150, "grip": 0.2}, "right": {"load_kg": 400, "grip": 1.2}, "tyre_radius_mm": 300}
    found = calc("traction", {**axle, "built": {"unit": unit}})
    driven = [
        work.put_down(held, slope, result["adds"], found["left_nm"], found["right_nm"])
        for held, slope in zip(preloads, slopes, strict=True)
    ]
    for drawn, least, most in (
        (together, at_turn["low_nm"], at_turn["high_nm"]),
        (driven, found["unit_low_nm"], found["unit_high_nm"]),
        (slopes, drive["locking_low"], drive["locking_high"]),
        (preloads, result["preload_lock_low_nm"], result["preload_lock_high_nm"]),
    ):
        covered = numpy.mean([least <= drawn_value <= most for drawn_value in drawn])
        assert 0.93 <= covered <= 0.97, covered


def test_a_range_moves_where_its_ends_lie_unevenly() -> None:
    # +10 and -5 % of 0.4, anywhere between: the middle lies at 0.41.
    causes = [Cause("load", "", lock_of(0.38), lock_of(0.44), EVEN)]
    low, high = range_of(lambda lock: lock.ramp, lock_of(0.4), causes)
    assert (low + high) / 2 == pytest.approx(0.41)
    # However uneven: what is likely lies in it.
    causes = [Cause(name, "", lock_of(0.4), lock_of(0.5), EVEN) for name in "abcdef"]
    low, high = range_of(lambda lock: lock.ramp, lock_of(0.4), causes)
    assert low == 0.4 < high


def test_causes_add_up_like_variances_and_their_shares_to_one() -> None:
    causes = [
        Cause("tapered", "", lock_of(0.4 - 0.03), lock_of(0.4 + 0.03), TAPERED),
        Cause("even", "", lock_of(0.4 - 0.02), lock_of(0.4 + 0.02), EVEN),
        Cause("normal", "", lock_of(0.4 - 0.01), lock_of(0.4 + 0.01), NORMAL),
        Cause("nothing", "", lock_of(0.4), lock_of(0.4), EVEN),
    ]
    low, high = range_of(lambda lock: lock.ramp, lock_of(0.4), causes)
    # JCGM 100, 4.3.9 and 4.3.7: a squared over 6 and over 3.
    u = (0.03**2 / 6 + 0.02**2 / 3 + (0.01 / 1.96) ** 2) ** 0.5
    assert (high - low) / 2 == pytest.approx(1.96 * u)
    shares = shares_of(lambda lock: lock.ramp, causes)
    assert [row["name"] for row in shares] == ["tapered", "even", "normal"]
    assert sum(row["share"] for row in shares) == pytest.approx(1)


def test_what_is_not_given_has_no_share_and_what_is_given_has_one() -> None:
    plain, full = (calc("ramps", {"built": built, "points": 3}) for built in (BUILT, EVERYTHING))
    beside = {"gears", "ears", "discs"}
    names = [{row["name"] for row in result["fittings"][0]["drive"]["doubt"]} for result in (plain, full)]
    assert names[0] & beside == set()
    assert names[1] >= beside
    assert "warm" not in {row["name"] for row in plain["preload_doubt"]}
    assert "warm" in {row["name"] for row in full["preload_doubt"]}


def test_a_measured_torque_says_more_of_the_preload_than_the_spring_s_table() -> None:
    measured, guessed = (calc("ramps", {"built": built, "points": 3}) for built in (BUILT, {**BUILT, "measured": None}))
    assert measured["preload_lock_nm"] == pytest.approx(2 * 184)
    # 184 with an expanded uncertainty of 9: the range is that of the reading.
    assert measured["preload_lock_low_nm"] == pytest.approx(2 * (184 - 9))
    assert measured["preload_lock_high_nm"] == pytest.approx(2 * (184 + 9))
    wide = guessed["preload_lock_high_nm"] - guessed["preload_lock_low_nm"]
    assert wide > 3 * (measured["preload_lock_high_nm"] - measured["preload_lock_low_nm"])


def test_a_lock_that_may_be_solid_is_named() -> None:
    unit = copy.deepcopy(BUILT)
    unit["unit"]["ramps"]["drive_deg"] = 25
    result = calc("ramps", {"built": unit, "points": 3})
    drive = result["fittings"][0]["drive"]
    assert drive["locking_value"] < 1 < drive["locking_high"]
    assert drive["bias_high"] is None
    assert drive["bias_range"].endswith("to locked")
    assert "may_lock_drive" in [warning["name"] for warning in result["warnings"]]


def test_every_point_of_a_curve_lies_in_its_range() -> None:
    for built in (BUILT, EVERYTHING, {**BUILT, "measured": None}):
        result = calc("ramps", {"built": built, "points": 41})
        for way in ("drive", "coast"):
            for row in result["fittings"][0][way]["curve"]:
                assert row["low_nm"] < row["lock_nm"] < row["high_nm"]
