"""The doubt of a change between two checks beside draws: what comes from one source is off alike in both.

Sources: JCGM 100:2008, 5.2 and F.1.2, for inputs that share a source; JCGM 101:2008, 6.4 and 7.7, for what is drawn.
"""

import math
import random
from typing import Any

import numpy
import pytest

from server.engine import calc

DRAWS = 40000


def parts(chance: random.Random, tool: str, even: bool, lever: str) -> list[dict[str, Any]]:
    """The parts of one check's doubt."""

    def part(name: str, source: str, spread_evenly: bool) -> dict[str, Any]:
        return {"name": name, "u_nm": round(chance.uniform(0.2, 3.5), 2), "even": spread_evenly, "source": source}

    return [
        part("tool", tool, even),
        part("repeats", "", False),
        part("division", "", True),
        part("lengths", lever, True),
    ]


@pytest.mark.parametrize("seed", range(60))
def test_what_two_checks_share_cancels_as_often_as_it_says(seed: int) -> None:
    chance, dice = random.Random(seed), numpy.random.default_rng(seed)
    even, tool, lever = (chance.random() < 0.6 for _ in range(3))
    sides = [parts(chance, f"tool {side * (not tool)}", even, f"lever {side * (not lever)}") for side in (0, 1)]
    values = [round(chance.uniform(60, 120), 1) for _ in sides]
    checks = {name: {"value_nm": value, "parts": side} for name, value, side in zip(("before", "now"), values, sides)}
    result = calc("compare", checks)
    assert result["change_nm"] == pytest.approx(values[1] - values[0])
    assert result["change_percent"] == pytest.approx(100 * (values[1] / values[0] - 1))
    assert result["certain"] == (abs(result["change_nm"]) > result["expanded_nm"])
    slopes: dict[tuple[str, str], float] = {}
    for sign, side in zip((-1, 1), sides):
        for part in side:
            key = (part["name"], part["source"] or str(sign))
            slopes[key] = slopes.get(key, 0.0) + sign * part["u_nm"]
    off = numpy.zeros(DRAWS)
    for (name, _), u in slopes.items():
        spread_evenly = {"tool": even, "repeats": False}.get(name, True)
        width = math.sqrt(3)
        off += u * (dice.uniform(-width, width, DRAWS) if spread_evenly else dice.normal(0, 1, DRAWS))
    assert 0.935 <= (abs(off) <= result["expanded_nm"]).mean() <= 0.965
