"""When wear will meet a limit."""

import random
from typing import Any

import pytest

from server.engine import BadInput, calc

from ..samples import sample


def worn(slope: float, scatter: float, seed: int, many: int = 6, start: float = 100.0) -> dict[str, Any]:
    """Torque checks of a unit that wears by `slope` an outing, read with some scatter."""
    chance = random.Random(seed)
    rows = [{"use": use, "torque_nm": start + slope * use + chance.gauss(0, scatter)} for use in range(many)]
    return {"torque": rows, "limits": {"low_nm": 70}}


def test_readings_on_a_line_meet_the_limit_where_it_does() -> None:
    result = calc("life", worn(-1.5, 0.0, 1))
    row = result["meets"][0]
    assert row["likely_use"] == pytest.approx(20)
    assert row["earliest_use"] == pytest.approx(20)
    assert result["left_use"] == pytest.approx(15)
    assert result["certain"]


def test_the_earliest_is_earlier_the_more_the_readings_scatter() -> None:
    calm, wild = (calc("life", worn(-1.5, scatter, 5))["meets"][0] for scatter in (0.2, 1.5))
    assert calm["earliest_use"] < calm["likely_use"]
    assert wild["earliest_use"] < calm["earliest_use"]


def test_before_the_earliest_few_readings_are_past_the_limit() -> None:
    # 5 % are promised; 400 units, the reading at the earliest use itself: past it in 5 % of all, within 3 sigma.
    past = total = 0
    for seed in range(400):
        due = calc("life", worn(-1.5, 1.0, seed))["meets"][0]["earliest_use"]
        if due is not None and due > 5:
            total += 1
            past += 100 - 1.5 * due + random.Random(10_000 + seed).gauss(0, 1.0) < 70
    assert total > 300
    assert past / total == pytest.approx(0.05, abs=0.035)


@pytest.mark.parametrize("about", ["two readings are no trend"])
def test_fewer_than_three_points_fall_back_on_once_a_season(about: str) -> None:
    result = calc("life", sample("life", about))
    assert not result["enough"]
    assert "no trend" in result["text"]
    # Common practice, no source.
    assert "once a season" in result["text"]


def test_a_trend_that_chance_would_give_is_called_that() -> None:
    result = calc("life", sample("life", "no trend beyond chance"))
    assert not result["certain"]
    assert "may be chance" in result["text"]


def test_a_unit_that_gets_better_has_no_limit_in_sight() -> None:
    result = calc("life", worn(0.8, 0.05, 3))
    assert result["due_use"] is None
    assert result["meets"][0]["likely_use"] is None
    assert "No limit is in sight" in result["text"]


def test_past_the_limit_it_is_due_now() -> None:
    result = calc("life", sample("life", "already there"))
    assert result["left_use"] == 0


def test_an_upper_limit_is_met_from_below() -> None:
    result = calc("life", {**worn(2.0, 0.0, 1), "limits": {"low_nm": 70, "high_nm": 130}})
    rows = {row["limit"]: row for row in result["meets"]}
    assert rows["high_nm"]["likely_use"] == pytest.approx(15)
    assert rows["low_nm"]["likely_use"] is None


def test_the_order_of_readings_does_not_matter() -> None:
    request = sample("life", "torque over outings")
    turned = {**request, "torque": request["torque"][::-1]}
    assert calc("life", turned) == calc("life", request)


def test_a_stacks_thickness_is_carried_to_torque_through_the_spring() -> None:
    request = sample("life", "a stack carried to torque")
    result = calc("life", request)
    row = result["meets"][0]
    # Build the unit with the stack worn to the limit's thickness: it has the limit's torque, with the last friction.
    lost = sum(item.get("new_mm", 0) for item in request["unit"]["chain"]) - row["value"]
    unit = {**request["unit"], "cavity_mm": request["unit"]["cavity_mm"] + lost}
    last = {**unit, "cavity_mm": request["unit"]["cavity_mm"] + 71.0 - request["stack"][-1]["thickness_mm"]}
    ratio = request["measured_nm"] / calc("unit", last)["breakaway_nm"]
    assert calc("unit", unit)["breakaway_nm"] * ratio == pytest.approx(70, rel=1e-9)
    assert row["likely_use"] == pytest.approx(result["meets"][0]["likely_use"])
    assert result["curve"][-1]["torque_nm"] <= 70 + 1e-6


def test_through_a_curved_spring_torque_does_not_fall_evenly() -> None:
    curve = calc("life", sample("life", "a stack carried to torque"))["curve"]
    steps = [earlier["torque_nm"] - later["torque_nm"] for earlier, later in zip(curve, curve[1:])]
    assert steps[-1] > 1.1 * steps[0] > 0


@pytest.mark.parametrize(
    ("about", "field"),
    [
        ("bad: all at one use", "torque.0.use"),
        ("bad: limit of another kind", "limits.minimum_mm"),
        ("bad: no limit", "limits.low_nm"),
        ("bad: two sets", "stack"),
        ("bad: stack without its unit", "unit"),
        ("bad: now before the last reading", "now"),
        ("bad: a limit it never had", "limits.low_nm"),
    ],
)
def test_a_contradiction_is_refused_at_its_field(about: str, field: str) -> None:
    with pytest.raises(BadInput) as refusal:
        calc("life", sample("life", about))
    assert refusal.value.field == field


def test_the_band_of_a_torque_ends_at_nothing() -> None:
    low = [point["low"] for point in calc("life", worn(-20, 12.0, 3, many=5))["curve"]]
    assert min(low) == 0
    assert max(low) > 0
