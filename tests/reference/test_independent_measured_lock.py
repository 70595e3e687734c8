"""Lock and traction of units whose spring or depth nobody knows, by their measured torque, worked out a second way.

Statics of a wedge with friction, resolved into sine and cosine; torque of a pack by its faces (Bhandari, Design of
Machine Elements, chapter 11); ranges by Monte Carlo as in JCGM 101:2008: the reading normal with 95 % within what is
stated, friction of plates and ramps triangular. How far these may be off is common practice, no source.
"""

import math
import random
from typing import Any

import numpy
import pytest

from server.engine import BadInput, calc

from .test_independent_drive import random_ramps
from .test_independent_locking import pack, pressed_by_a_newton_metre

PLATES_OFF = 0.2


def random_case(chance: random.Random) -> tuple[dict[str, Any], int]:
    """A unit as built that lacks its spring, its depth or both, with a measured torque; and its faces."""
    (first, faces), (second, others) = pack(chance, "A"), pack(chance, "B")
    rings = [{"slot": f"R{place}", "part": "ring", "new_mm": 18.0} for place in (1, 2)]
    place = {"slot": "S1", "part": "spring"}
    between = chance.random() < 0.4
    middle = [rings[0], place, rings[1]] if between else rings
    chain = ([] if between else [place]) + first + middle + second
    inner = chance.uniform(40, 120)
    unit: dict[str, Any] = {
        "name": "Half known",
        "chain": chain,
        "stated_for": chance.choice(["one_output_held", "case_held"]),
        "friction": {
            "inner_mm": inner,
            "outer_mm": inner + chance.uniform(10, 60),
            "mu": chance.uniform(0.05, 0.2),
            "run_in": chance.random() < 0.5,
        },
        "ramps": random_ramps(chance),
    }
    spring = {"de_mm": 100, "di_mm": 51, "t_mm": 3.5, "l0_mm": 6.3}
    unit.update(chance.choice([{}, {"spring": spring}, {"cavity_mm": 400.0}]))
    torque = chance.uniform(10, 400)
    measured = {"torque_nm": torque, "expanded_nm": torque * chance.choice([0.0, chance.uniform(0, 0.2)])}
    return {"unit": unit, "measured": measured}, faces + others


def cone_known(ramps: dict[str, Any]) -> dict[str, Any]:
    """The same ramps, their gears with a cone angle in place of teeth."""
    gears = ramps.get("gears")
    if not gears or "cone_deg" in gears:
        return ramps
    cone = math.degrees(math.atan(gears["side_teeth"] / gears["pinion_teeth"]))
    return {**ramps, "gears": {**gears, "cone_deg": cone}}


def second_opinion(built: dict[str, Any], faces: int) -> dict[str, Any]:
    """Lock from preload of both packs, and the locking value of each flank."""
    unit, torque = built["unit"], built["measured"]["torque_nm"]
    ring = unit["friction"]
    out, into = ring["outer_mm"] / 2, ring["inner_mm"] / 2
    radius = (out + into) / 2 if ring["run_in"] else 2 / 3 * (out**3 - into**3) / (out**2 - into**2)
    # Both packs hold the difference between the outputs; with one output held the wrench feels half of it.
    answer = {"preload": torque if unit["stated_for"] == "case_held" else 2 * torque}
    for way in ("drive", "coast"):
        push = pressed_by_a_newton_metre(cone_known(unit["ramps"]), unit["ramps"][way + "_deg"])
        answer[way] = faces * ring["mu"] * radius / 1000 * push
    return answer


def differences(chance: random.Random) -> list[str]:
    """What a random case answers otherwise than the second opinion."""
    built, faces = random_case(chance)
    expected, unit = second_opinion(built, faces), built["unit"]
    answer = calc("ramps", {"built": built, "points": 3, "most_nm": 800})
    faults = []
    got = {"preload": answer["preload_lock_nm"]}
    got |= {way: answer["fittings"][0][way]["locking_value"] for way in ("drive", "coast")}
    faults += [name for name in got if not math.isclose(got[name], expected[name], rel_tol=1e-9, abs_tol=1e-12)]
    if not math.isclose(answer["breakaway_nm"], built["measured"]["torque_nm"], rel_tol=1e-9):
        faults.append("breakaway")
    if (answer["preload_n"], answer["crush_mm"], answer["warm"]) != (None, None, None):
        faults.append("a force that nobody knows")
    adds = any(row["part"] == "spring" for row in unit["chain"][1:-1]) and unit["chain"][0]["part"] != "spring"
    drive = answer["fittings"][0]["drive"]["curve"][1]["lock_nm"]
    by_ramps = 400 * expected["drive"]
    lock = expected["preload"] + by_ramps if adds else max(expected["preload"], by_ramps)
    if not math.isclose(drive, lock, rel_tol=1e-9):
        faults.append("curve")
    weak, strong = sorted(chance.uniform(50, 900) for _ in range(2))
    wheels = {side: {"load_kg": 100, "grip": torque / 980.665} for side, torque in (("left", weak), ("right", strong))}
    done = calc("traction", {**wheels, "tyre_radius_mm": 1000, "built": built})["unit_nm"]
    if not math.isclose(done, put_down_by_halving(expected, adds, weak, strong), rel_tol=1e-6):
        faults.append("traction")
    return faults


def put_down_by_halving(lock: dict[str, Any], adds: bool, weak: float, strong: float) -> float:
    """The largest torque into the case that both wheels carry, found by halving."""

    def carried(torque: float) -> bool:
        ramps = lock["drive"] * torque
        held = min(torque, lock["preload"] + ramps if adds else max(lock["preload"], ramps))
        # The weak wheel needs no more than its grip as long as the packs hold the rest on the other.
        return torque <= weak + strong and torque - 2 * weak <= held

    low, high = 0.0, weak + strong
    if carried(high):
        return high
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if carried(middle) else (low, middle)
    return low


@pytest.mark.parametrize("seed", range(3))
def test_a_measured_torque_gives_the_lock_without_a_spring(seed: int) -> None:
    chance = random.Random(seed)
    assert [faults for _ in range(60) if (faults := differences(chance))] == []


def test_its_range_holds_nineteen_of_twenty() -> None:
    chance, dice = random.Random(5), numpy.random.default_rng(5)
    shares: dict[str, list[float]] = {"preload": [], "drive": []}
    for _ in range(40):
        built, faces = random_case(chance)
        unit, answer = built["unit"], calc("ramps", {"built": built, "points": 3})
        many, expected = 4000, second_opinion(built, faces)
        share = built["measured"]["expanded_nm"] / built["measured"]["torque_nm"]
        preload = expected["preload"] * (1 + share / 1.96 * dice.standard_normal(many))
        ends = (answer["preload_lock_low_nm"] - 1e-9, answer["preload_lock_high_nm"] + 1e-9)
        shares["preload"].append(float(numpy.mean((preload >= ends[0]) & (preload <= ends[1]))))
        if unit["ramps"].get("gears") or unit["ramps"].get("ears") or unit["ramps"]["drive_deg"] > 80:
            continue
        plates = 1 + PLATES_OFF * dice.triangular(-1, 0, 1, many)
        rubbing = numpy.maximum(0.0, unit["ramps"]["mu"] + 0.03 * dice.triangular(-1, 0, 1, many))
        push = [pressed_by_a_newton_metre({**unit["ramps"], "mu": mu}, unit["ramps"]["drive_deg"]) for mu in rubbing]
        middle = pressed_by_a_newton_metre(unit["ramps"], unit["ramps"]["drive_deg"])
        drive = expected["drive"] * plates * numpy.array(push) / middle
        side = answer["fittings"][0]["drive"]
        shares["drive"].append(float(numpy.mean((drive >= side["locking_low"]) & (drive <= side["locking_high"]))))
    assert len(shares["drive"]) > 5
    for held in shares.values():
        assert all(share > 0.93 for share in held)


def test_without_a_measured_torque_it_says_what_it_lacks() -> None:
    built, _ = random_case(random.Random(1))
    for lacking, field in (("friction", "friction.inner_mm"), ("ramps", "ramps.pin_radius_mm"), ("chain", "chain")):
        less = {**built, "unit": {name: value for name, value in built["unit"].items() if name != lacking}}
        with pytest.raises(BadInput) as refusal:
            calc("ramps", {"built": less})
        assert refusal.value.field == f"built.unit.{field}"
    with pytest.raises(BadInput, match="The lock needs"):
        calc("ramps", {"built": {**built, "measured": None}})
