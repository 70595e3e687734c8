"""What became of a plate since it was measured last: the difference of two independent measurements.

JCGM 100:2008, 5.1.2 and 6.2; the factors of the normal distribution, 1.645 and 1.960, are of its table G.2.
"""

import math
from typing import Any

import pytest

from server.engine import calc
from server.engine.part_checks.gauges import gauge_guard, gauge_u
from server.engine.part_checks.plates import MICROMETER


def row(now: float, last: float, now_guard: float = 0.006, **more: Any) -> dict[str, Any]:
    """What became of a plate from `last` to `now`."""
    plate = {"slot": "A2", "now_mm": now, "now_guard_mm": now_guard, "last_mm": last, **more}
    [answer] = calc("since_last", {"plates": [plate]})["plates"]
    return dict(answer)


def test_both_doubts_add_up_as_squares() -> None:
    answer = row(2.34, 2.37, 0.006, last_guard_mm=0.008)
    assert answer["change_mm"] == pytest.approx(-0.03)
    assert answer["expanded_mm"] == pytest.approx(1.960 / 1.645 * 0.01, rel=1e-3)


def test_the_doubt_is_that_of_the_gauge_itself() -> None:
    tool: Any = MICROMETER.read({"division_mm": 0.01, "deviation_mm": 0.004}, "")
    u = math.hypot(gauge_u(tool), 0.01 / 2 / math.sqrt(3))
    answer = row(2.34, 2.37, gauge_guard(tool))
    assert answer["expanded_mm"] == pytest.approx(1.960 * math.sqrt(2) * u, rel=1e-3)


@pytest.mark.parametrize(
    ("now", "found", "words"),
    [
        (2.34, "thinner", "Thinner than last time by 0.030 mm, give or take 0.010 mm."),
        (2.3605, "unsure", "No change that both measurements could show: 0.010 mm, and they may be off by 0.010 mm."),
        (2.37, "unsure", "No change"),
        (2.3795, "unsure", "No change"),
        (2.381, "thicker", "Thicker than last time by 0.011 mm"),
    ],
)
def test_a_change_is_real_beyond_its_doubt(now: float, found: str, words: str) -> None:
    answer = row(now, 2.37, last_guard_mm=0.006)
    assert answer["found"] == found
    assert answer["text"].startswith(words)


def test_a_measurement_without_a_guard_band_is_as_good_as_the_one_now() -> None:
    assert row(2.34, 2.37) == row(2.34, 2.37, last_guard_mm=0.006)


def test_gauges_without_doubt_show_any_change() -> None:
    assert row(2.369, 2.37, 0.0)["found"] == "thinner"
    assert row(2.37, 2.37, 0.0)["found"] == "unsure"
