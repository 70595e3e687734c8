"""Plates since they were measured last, a second way: micrometres as decimals, and the covered share drawn at random.

JCGM 100:2008: a difference of two independent values has the sum of their variances (5.1.2), and 6.2.1 takes k times
its root, k = 1.95996 for 95 % two-sided of a normal distribution. A guard band is 1.64485 standard uncertainties.

By hand: 2.370 mm, now 2.340 mm, both with a guard band of 6 micrometres. u = 6 / 1.64485 = 3.648; the root of twice its
square is 5.159; 1.95996 of that are 10.11. 30 less is more than that: thinner.
"""

import random
from decimal import Decimal
from typing import Any

import pytest

from server.engine import BadInput, calc

# Quantiles of the standard normal distribution, from printed tables (95 % one-sided and two-sided).
ONE_SIDED = Decimal("1.644853627")
TWO_SIDED = Decimal("1.959963985")


def random_plate(chance: random.Random, number: int) -> dict[str, Decimal | str | None]:
    """Two measurements, in micrometres, that differ by about what they may be off."""
    guard = Decimal(chance.choice([0, chance.randint(1, 30), chance.randint(1, 300)])) / 10
    last_guard = chance.choice([None, Decimal(0), guard, Decimal(chance.randint(1, 300)) / 10])
    last = Decimal(chance.randint(500, 4000))
    apart = Decimal(chance.choice([0, 1, -1, chance.randint(-20, 20), chance.randint(-300, 300)])) / 2
    return {"slot": f"P{number}", "now": last + apart, "guard": guard, "last": last, "last_guard": last_guard}


def by_decimals(plate: dict[str, Any]) -> tuple[Decimal, Decimal, str]:
    """Change, expanded uncertainty and what was found."""
    last_guard = plate["guard"] if plate["last_guard"] is None else plate["last_guard"]
    expanded = TWO_SIDED / ONE_SIDED * (plate["guard"] ** 2 + last_guard**2).sqrt()
    change = plate["now"] - plate["last"]
    if abs(change) <= expanded:
        return change, expanded, "unsure"
    return change, expanded, "thinner" if change < 0 else "thicker"


def typed_plate(plate: dict[str, Any]) -> dict[str, Any]:
    request = {
        "slot": plate["slot"],
        "now_mm": float(plate["now"] / 1000),
        "now_guard_mm": float(plate["guard"] / 1000),
        "last_mm": float(plate["last"] / 1000),
    }
    if plate["last_guard"] is not None:
        request["last_guard_mm"] = float(plate["last_guard"] / 1000)
    return request


def test_changes_and_their_doubt_are_those_of_decimals(rounds: int) -> None:
    seen = {"thinner": 0, "thicker": 0, "unsure": 0}
    for seed in range(50 * rounds):
        chance = random.Random(seed)
        plates = [random_plate(chance, number) for number in range(chance.randint(0, 8))]
        rows = calc("since_last", {"plates": [typed_plate(plate) for plate in plates]})["plates"]
        assert [row["slot"] for row in rows] == [plate["slot"] for plate in plates]
        for row, plate in zip(rows, plates, strict=True):
            change, expanded, found = by_decimals(plate)
            assert row["change_mm"] == pytest.approx(float(change) / 1000, abs=1e-9)
            assert row["expanded_mm"] == pytest.approx(float(expanded) / 1000, rel=1e-6, abs=1e-12)
            assert row["found"] == found, (seed, plate)
            seen[found] += 1
    assert min(seen.values()) > 20 * rounds, seen
    print(seen)


def test_one_in_twenty_plates_that_stayed_the_same_is_called_changed(rounds: int) -> None:
    chance = random.Random(20260529)
    wrong = {"thinner": 0, "thicker": 0, "unsure": 0}
    for _ in range(25 * rounds):
        plates = []
        for number in range(80):
            u_now, u_last = chance.uniform(0.001, 0.01), chance.uniform(0.001, 0.01)
            plates.append(
                {
                    "slot": f"P{number}",
                    "now_mm": chance.gauss(2.0, u_now),
                    "now_guard_mm": float(ONE_SIDED) * u_now,
                    "last_mm": chance.gauss(2.0, u_last),
                    "last_guard_mm": float(ONE_SIDED) * u_last,
                }
            )
        for row in calc("since_last", {"plates": plates})["plates"]:
            wrong[row["found"]] += 1
    many = sum(wrong.values())
    # Four standard deviations of a count of that many draws.
    for side in ("thinner", "thicker"):
        assert wrong[side] / many == pytest.approx(0.025, abs=4 * (0.025 * 0.975 / many) ** 0.5)
    print({name: count / many for name, count in wrong.items()})


def test_a_plate_named_twice_is_refused_at_its_second_name(rounds: int) -> None:
    for seed in range(10 * rounds):
        chance = random.Random(seed)
        plates = [typed_plate(random_plate(chance, number)) for number in range(chance.randint(2, 8))]
        first, second = sorted(chance.sample(range(len(plates)), 2))
        plates[second]["slot"] = plates[first]["slot"]
        with pytest.raises(BadInput) as refused:
            calc("since_last", {"plates": plates})
        assert refused.value.field == f"plates.{second}.slot"


def test_one_gauge_both_times_calls_no_more_plates_changed(rounds: int) -> None:
    """JCGM 100:2008, 5.2.2: the constant error of the same gauge drops out, and what is left is two readings."""
    chance = random.Random(20260530)
    called = {"thinner": 0, "thicker": 0, "unsure": 0}
    permitted, division = 0.004, 0.01
    guard = float(ONE_SIDED) * ((2 * permitted) ** 2 / 12 + division**2 / 12) ** 0.5
    for _ in range(25 * rounds):
        plates = []
        for number in range(80):
            gauge = 2.0 + chance.uniform(-permitted, permitted)
            reads = [gauge + chance.uniform(-division / 2, division / 2) for _ in range(2)]
            row = {"now_mm": reads[0], "now_guard_mm": guard, "last_mm": reads[1]}
            plates.append({"slot": f"P{number}", **row})
        for row in calc("since_last", {"plates": plates})["plates"]:
            called[row["found"]] += 1
    assert (called["thinner"] + called["thicker"]) / sum(called.values()) < 0.05
    # A plate that wore by twice a division is still found in nearly every case.
    worn = [
        {"slot": f"P{number}", "now_mm": 1.98 + chance.uniform(-0.005, 0.005), "now_guard_mm": guard, "last_mm": 2.0}
        for number in range(80)
    ]
    found = [row["found"] for row in calc("since_last", {"plates": worn})["plates"]]
    assert found.count("thinner") > 70
    print(called)
