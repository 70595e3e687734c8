"""Where torque went, and a plan, of units whose rubbing ring nobody measured: a measured torque stands in for it.

Friction and radius of the plates only ever count as their product, which a measured torque gives. So shares of a loss
are worked out anew here by loads of the spring alone (DIN EN 16984, as in `random_units`, and Shapley's mean over all
six orders), and a plan has to come out the same with any ring at all.
"""

import itertools
import math
import random
from typing import Any

import pytest

from server.engine import BadInput, calc

from .random_units import crush_of, most_crush, preload_at, random_unit
from .test_independent_plan import random_request


def changed_unit(unit: dict[str, Any], thinner: float, lower: float) -> dict[str, Any]:
    """The same unit with one plate thinner and its discs lower, mm."""
    spring = {**unit["spring"], "l0_mm": unit["spring"]["l0_mm"] - lower}
    chain, left = [], thinner
    for item in unit["chain"]:
        off = left if item["part"] == "friction" else 0.0
        left -= off
        chain.append({**item, "new_mm": item["new_mm"] - off} if off else item)
    return {**unit, "spring": spring, "chain": chain}


def loss_by_orders(unit: dict[str, Any], thinner: float, lower: float, ratio: float) -> dict[str, float] | None:
    """Shares of ln(torque now / torque before) by the mean over all orders; None where one is all but loose or flat."""

    def force(came: tuple[str, ...]) -> float | None:
        state = changed_unit(unit, thinner if "plates" in came else 0.0, lower if "spring" in came else 0.0)
        crush = crush_of(state)
        return preload_at(state, crush) if 0.1 < crush < most_crush(state) - 0.1 else None

    forces: dict[tuple[str, ...], float] = {}
    for both in ((), ("plates",), ("spring",), ("plates", "spring")):
        load = force(both)
        if load is None:
            return None
        forces[both] = load
    friction = math.log(ratio) - math.log(forces["plates", "spring"] / forces[()])
    shares = dict.fromkeys(("plates", "spring", "friction"), 0.0)
    for order in itertools.permutations(shares):
        came: set[str] = set()
        for cause in order:
            before = tuple(sorted(came - {"friction"}))
            came.add(cause)
            after = tuple(sorted(came - {"friction"}))
            step = friction if cause == "friction" else math.log(forces[after] / forces[before])
            shares[cause] += step / 6
    return shares


def losses(chance: random.Random) -> list[str] | None:
    """What a random loss answers otherwise than the sums above; None where the case is no case."""
    unit = random_unit(chance)
    # Thicknesses count in whole micrometres.
    for item in unit["chain"]:
        if item["part"] != "spring":
            item["new_mm"] = round(item["new_mm"], 3)
    thinner, lower = round(chance.uniform(0.0, 0.15), 3), chance.uniform(0.0, 0.1)
    torque, ratio = chance.uniform(20, 200), chance.uniform(0.6, 1.1)
    expected = loss_by_orders(unit, thinner, lower, ratio)
    if expected is None:
        return None
    thin = next(item for item in unit["chain"] if item["part"] == "friction")
    if thin["new_mm"] - thinner < 0.3:
        return None
    bare = {name: value for name, value in unit.items() if name not in ("friction", "ramps")}
    now: dict[str, Any] = {"torque_nm": torque * ratio, "l0_mm": unit["spring"]["l0_mm"] - lower}
    now["plates"] = [{"slot": thin["slot"], "mm": thin["new_mm"] - thinner}]
    try:
        calc("unit", bare)
    except BadInput:
        return None
    answer = calc("loss", {"unit": bare, "before": {"torque_nm": torque}, "now": now})
    shares = {row["cause"]: row["share_log"] for row in answer["shares"]}
    faults = [cause for cause in shares if not math.isclose(shares[cause], expected[cause], rel_tol=1e-6, abs_tol=1e-9)]
    if not math.isclose(sum(shares.values()), math.log(ratio), rel_tol=1e-9, abs_tol=1e-12):
        faults.append("sum")
    if (answer["before"]["mu"], answer["now"]["mu"], answer["warnings"]) != (None, None, []):
        faults.append("a friction that nobody knows")
    return faults


@pytest.mark.parametrize("seed", range(3))
def test_a_loss_is_shared_out_without_the_rubbing_ring(seed: int) -> None:
    chance = random.Random(seed)
    cases = [faults for _ in range(80) if (faults := losses(chance)) is not None]
    assert len(cases) > 20
    assert [faults for faults in cases if faults] == []


def without_friction(answer: dict[str, Any]) -> dict[str, Any]:
    """An answer to be compared: figures rounded, and no friction of its own."""

    def rounded(value: Any) -> Any:
        if isinstance(value, float):
            return float(f"{value:.8g}") if abs(value) > 1e-9 else 0.0
        if isinstance(value, dict):
            return {name: rounded(inner) for name, inner in value.items()}
        return [rounded(inner) for inner in value] if isinstance(value, list) else value

    shown: dict[str, Any] = rounded({name: value for name, value in answer.items() if name != "mu"})
    return shown


@pytest.mark.parametrize("seed", range(8))
def test_a_plan_by_a_measured_torque_is_the_same_with_any_ring_and_with_none(seed: int) -> None:
    chance = random.Random(seed)
    request = {**random_request(chance), "alternatives": True}
    request.setdefault("measured", {"torque_nm": 60.0, "expanded_nm": 4.0})
    unit = request["unit"]
    answers, refused = [], []
    for ring in (unit["friction"], {"inner_mm": 70, "outer_mm": 90}, None):
        tried = {name: value for name, value in unit.items() if name not in ("friction", "ramps")}
        try:
            answers.append(calc("plan", {**request, "unit": {**tried, **({"friction": ring} if ring else {})}}))
        except BadInput as refusal:
            refused.append(refusal.reason)
    # A friction that nobody can believe is one of a ring that does not belong to this torque.
    assert all("comes to a friction" in reason for reason in refused)
    assert answers[-1]["mu"] is None
    assert all(without_friction(answer) == without_friction(answers[-1]) for answer in answers)


def test_without_a_measured_torque_a_plan_asks_for_the_ring() -> None:
    request = {name: value for name, value in random_request(random.Random(1)).items() if name != "measured"}
    unit = {name: value for name, value in request["unit"].items() if name != "friction"}
    with pytest.raises(BadInput) as refusal:
        calc("plan", {**request, "unit": unit})
    assert refusal.value.field == "unit.friction.inner_mm"
