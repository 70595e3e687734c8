"""How often a verdict is wrong when the truth is known: readings drawn around a true torque."""

from typing import Any

import numpy
import pytest

from server.engine import calc

from ..checks import BREAKAWAY, changed

TRIALS = 10_000

BUDGETS = {
    "three each way, beam wrench": {"count": 3, "scatter": 2.0, "deviation": 6.0, "division": 2.0},
    "two each way, scatter above all": {"count": 2, "scatter": 6.0, "deviation": 1.0, "division": 1.0},
    "five each way, coarse scale": {"count": 5, "scatter": 1.0, "deviation": 4.0, "division": 10.0},
    "ten each way, fine wrench": {"count": 10, "scatter": 3.0, "deviation": 1.0, "division": 0.5},
}


def verdicts(truth: float, budget: dict[str, float], trials: int, limits: dict[str, float]) -> dict[str, float]:
    """Shares of the verdicts over trials with a tool, a scatter and a scale as the budget says."""
    generator = numpy.random.default_rng(20261125)
    count = int(budget["count"])
    off = generator.uniform(-budget["deviation"], budget["deviation"], trials) / 100
    noise = generator.normal(0.0, budget["scatter"], (trials, 2, count))
    half = budget["division"] / 2
    rounding = generator.uniform(-half, half, (trials, 1, 1))
    readings = truth * (1 + off[:, None, None]) + noise + rounding
    found: dict[str, float] = {}
    wrench = {
        "kind": "beam",
        "high_nm": 200,
        "division_nm": budget["division"],
        "deviation_percent": budget["deviation"],
    }
    base: dict[str, Any] = changed(BREAKAWAY, wrench=wrench, limits=limits)
    for forward, reverse in readings.tolist():
        base["steady_nm"] = {"forward": forward, "reverse": reverse}
        verdict = calc("breakaway", base)["verdict"]
        found[verdict] = found.get(verdict, 0.0) + 1 / trials
    return found


@pytest.mark.parametrize("name", BUDGETS)
def test_at_the_limit_go_is_said_in_at_most_five_percent(name: str) -> None:
    found = verdicts(80.0, BUDGETS[name], TRIALS, {"low_nm": 80})
    assert found.get("go", 0.0) <= 0.05
    # A needless rework is the same risk at the same rate; ten thousand trials leave it uncertain by 0.2 % (1 sd).
    assert found.get("rework", 0.0) <= 0.05 + 3 * (0.05 * 0.95 / TRIALS) ** 0.5
    # A guard so wide that nothing could pass would hold the risk as well: most trials must still be real ones.
    assert found["measure_again"] < 1.0


def test_at_the_upper_limit_the_risk_is_the_same() -> None:
    found = verdicts(80.0, BUDGETS["three each way, beam wrench"], TRIALS, {"high_nm": 80})
    assert found.get("go", 0.0) <= 0.05


def test_measure_again_falls_as_repeats_rise() -> None:
    shares = []
    for count in (2, 3, 5, 10):
        budget = {"count": count, "scatter": 6.0, "deviation": 2.0, "division": 1.0}
        shares.append(verdicts(86.0, budget, 1500, {"low_nm": 80}).get("measure_again", 0.0))
    assert shares == sorted(shares, reverse=True)
    assert shares[-1] < 0.5 * shares[0]


def test_well_inside_the_limits_go_is_the_rule() -> None:
    found = verdicts(100.0, BUDGETS["three each way, beam wrench"], 1500, {"low_nm": 80, "high_nm": 120})
    assert found["go"] > 0.9
