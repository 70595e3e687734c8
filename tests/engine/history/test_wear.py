"""Wear from the first check on: what earlier builds, and those of other units of the pattern, say of this one."""

from typing import Any

import pytest

from server.engine import calc

from ..checks import UNIT
from .test_experience import TAKEN_IN, check, plates, rebuild

# An earlier build with three checks and its plates measured before and after; then a rebuild.
EARLIER = [
    rebuild(10, 2.5, "2026-04-01"),
    plates(11, "2026-04-02", 0.0),
    check(12, 100, "2026-04-09", outings=1),
    check(13, 96, "2026-05-09", outings=4),
    check(14, 90, "2026-05-20", outings=8),
    plates(15, "2026-05-25", 0.04),
    rebuild(20, 2.65, "2026-06-01"),
]
FIRST = check(21, 116, "2026-06-09", outings=1)


def wear(*entries: dict[str, Any], **more: Any) -> Any:
    return calc("outlook", {"entries": list(entries), **more})["wear"]


def test_with_the_first_check_an_earlier_build_says_what_an_outing_takes() -> None:
    found = wear(TAKEN_IN, *EARLIER, FIRST)["torque"]
    # The level of the earlier build, which was set to less, is no wear.
    assert found["per_use_nm"] == pytest.approx(-1.43, abs=0.02)
    assert found["text"].startswith("From 1 check since the rebuild and 1 earlier build: it loses 1.4 N·m an outing")
    assert found["due_use"] > 1
    assert found["left_use"] == pytest.approx(found["due_use"] - 1)
    assert found["curve"][0]["use"] == 1


def test_builds_of_the_pattern_make_it_surer() -> None:
    alone = wear(TAKEN_IN, *EARLIER, FIRST)["torque"]
    other = {"name": "Its twin", "entries": [TAKEN_IN, *EARLIER]}
    found = wear(TAKEN_IN, *EARLIER, FIRST, others=[other, other])["torque"]
    assert found["per_use_within_nm"] < alone["per_use_within_nm"]
    assert found["due_use"] is None or found["due_use"] > alone["due_use"]
    assert "and 2 of other units of its pattern" in found["text"]


def test_without_another_build_checked_twice_the_season_stays_the_rule() -> None:
    found = calc("outlook", {"entries": [TAKEN_IN, rebuild(10, 2.5, "2026-04-01"), FIRST]})
    assert found["wear"] == {"torque": None, "plates": []}
    assert "once a season" in found["why"]


@pytest.mark.parametrize("entries", [[], [TAKEN_IN], [TAKEN_IN, *EARLIER]])
def test_before_the_first_check_nothing_is_said_of_the_torque(entries: list[dict[str, Any]]) -> None:
    assert wear(*entries)["torque"] is None


def test_a_build_with_another_spring_says_nothing_of_this_one() -> None:
    sprung = rebuild(20, 2.65, "2026-06-01", spring="new", other_spring=True)
    assert wear(TAKEN_IN, *EARLIER[:-1], sprung, FIRST)["torque"] is None


def test_each_kind_of_plate_says_what_an_outing_takes_and_when_one_may_be_at_its_limit() -> None:
    rows = {row["part"]: row for row in wear(TAKEN_IN, *EARLIER, FIRST)["plates"]}
    assert set(rows) == {"friction", "separator"}
    for row in rows.values():
        assert row["per_use_mm"] == pytest.approx(0.04 / 8, rel=1e-9)
    # Separators have 1.96 mm left and a limit of 1.9: sooner there than a friction plate of 2.46 and 2.3.
    assert 1 < rows["separator"]["due_use"] < 12
    assert "open it and measure by then" in rows["separator"]["text"]
    assert rows["friction"]["due_use"] is None or rows["friction"]["due_use"] > rows["separator"]["due_use"]


def test_a_reading_below_the_limit_that_is_possible_now_is_said() -> None:
    low = check(21, 72, "2026-06-09", outings=1)
    assert UNIT["service"]["low_nm"] == 70
    assert "possible now: check it before it runs again" in wear(TAKEN_IN, *EARLIER, low)["torque"]["text"]
