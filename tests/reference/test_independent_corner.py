"""A driven axle in a corner, beside an axle that is rolled through it in small steps of time.

The four cases of `corner_cases.csv` were worked out by an independent solver; in case 12 the side force to spare with
the inner wheel spinning by hand, with the load and the yaw of the torque that spins it. Sources of the model, from
memory: Milliken and Milliken, Race Car Vehicle Dynamics; Gillespie, Fundamentals of Vehicle Dynamics; Pacejka, Tire and
Vehicle Dynamics.
"""

import csv
import random
from pathlib import Path
from typing import Any

import pytest

from server.engine import calc

from .rolling_axle import Rolling

CASES = list(csv.DictReader((Path(__file__).parent / "corner_cases.csv").open(encoding="utf-8")))


def as_value(text: str) -> Any:
    if text in ("true", "false"):
        return text == "true"
    try:
        return float(text)
    except ValueError:
        return text


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"].split()[0])
def test_a_case_that_was_solved_elsewhere(case: dict[str, str]) -> None:
    given = {name[3:]: as_value(text) for name, text in case.items() if name.startswith("in_")}
    result = calc("corner", given)
    for name, text in case.items():
        if name.startswith("out_"):
            expected = as_value(text)
            if isinstance(expected, float):
                expected = pytest.approx(expected, rel=1e-4, abs=1e-6)
            assert result[name[4:]] == expected, name


def random_axle(chance: random.Random) -> dict[str, Any]:
    """A car in a corner with a torque that its wheels put down, or a little more."""
    request: dict[str, Any] = {
        "axle": chance.choice(["rear", "front"]),
        "mass_kg": chance.uniform(500, 1900),
        "cg_mm": chance.uniform(300, 650),
        "track_mm": chance.uniform(1200, 1650),
        "wheelbase_mm": chance.uniform(2100, 2900),
        "weight_share": chance.uniform(0.38, 0.65),
        "transfer_share": chance.uniform(0.2, 0.75),
        "tyre_mm": chance.uniform(260, 350),
        "grip": chance.uniform(0.5, 1.6),
        "along": chance.uniform(0.85, 1.15),
        "sensitivity": chance.choice([0.0, chance.uniform(0, 0.2)]),
        "stiffness": chance.uniform(12, 35),
        "radius_m": chance.choice([chance.uniform(8, 30), chance.uniform(30, 300)]),
        "preload_nm": chance.choice([0.0, chance.uniform(0, 30), chance.uniform(20, 300)]),
        "s_drive": chance.choice([chance.uniform(0, 0.12), chance.uniform(0, 0.7)]),
        "s_coast": chance.uniform(0, 0.5),
        "adds": chance.random() < 0.4,
        "pitch": chance.random() < 0.25,
        "yaw_balance": chance.random() < 0.25,
    }
    request["lateral_ms2"] = request["grip"] * 9.80665 * chance.uniform(0.1, 0.75)
    grip = request["grip"] * request["weight_share"] * request["mass_kg"] * 9.80665 * request["tyre_mm"] / 1e3
    request["torque_nm"] = grip * chance.uniform(-0.3, 0.8)
    return request


def rolled(requests: list[dict[str, Any]], seconds: float = 4.0) -> list[tuple[float, float, bool]]:
    if not requests:
        return []
    inner, outer, steady = Rolling(requests).roll(seconds)
    return [(float(inner[row]), float(outer[row]), bool(steady[row])) for row in range(len(requests))]


def test_both_wheels_carry_what_a_rolling_axle_settles_at(rounds: int) -> None:
    requests = [random_axle(random.Random(seed)) for seed in range(10 * rounds)]
    worst, seen = 0.0, {"settled": 0, "runs away": 0, "outer_faster": 0, "inner_faster": 0, "locked": 0}
    for request, (inner, outer, steady) in zip(requests, rolled(requests), strict=True):
        result = calc("corner", request)
        spare = abs(request["torque_nm"] - result["put_down_nm"])
        if not steady:
            # A wheel that runs away has more torque than it puts down; nothing is asked just at the limit.
            assert spare > 0.0 or result["inner_at_limit"], request
            seen["runs away"] += 1
            continue
        assert spare <= 1e-3 * abs(request["torque_nm"]), request
        scale = abs(inner) + abs(outer) + 1.0
        worst = max(worst, abs(result["inner_nm"] - inner) / scale, abs(result["outer_nm"] - outer) / scale)
        assert (result["inner_nm"], result["outer_nm"]) == pytest.approx((inner, outer), abs=2e-3 * scale), request
        seen["settled"] += 1
        seen[result["state"]] += 1
    print(f"worst deviation {worst:.1e} of the torque; {seen}")
    assert min(seen.values()) > 0, seen
    assert seen["settled"] > len(requests) / 2


@pytest.mark.parametrize("sign", [1, -1])
def test_the_most_is_where_a_rolling_axle_begins_to_run_away(rounds: int, sign: int) -> None:
    requests = [random_axle(random.Random(1000 + seed)) for seed in range(10 * rounds)]
    small = [request | {"torque_nm": sign * 10.0} for request in requests]
    name = "most_nm" if sign > 0 else "coast_most_nm"
    most = [calc("corner", request)[name] for request in small]
    # An axle that slides sideways anyhow has none.
    axles = [(request, torque) for request, torque in zip(requests, most, strict=True) if torque > 20]
    assert len(axles) > 0.7 * len(requests)

    def off_by(share: float) -> list[dict[str, Any]]:
        by = [share * max(torque, 400) for _, torque in axles]
        return [row | {"torque_nm": sign * (torque + off)} for (row, torque), off in zip(axles, by, strict=True)]

    below, above = off_by(-0.01), off_by(0.01)
    # Plates that are about to let go take long to catch a wheel.
    slow = [row for row, (_, _, steady) in zip(below, rolled(below), strict=True) if not steady]
    assert len(slow) < 0.1 * len(below)
    assert [steady for _, _, steady in rolled(slow, 20.0)] == [True] * len(slow)
    assert [steady for _, _, steady in rolled(above)] == [False] * len(above)
