"""What a unit lost while its plates bedded in, as its log shows it."""

from typing import Any

import pytest

from server.engine import calc

from ..checks import UNIT, changed
from .entries import check_near, entry

NUMBERS = iter(range(10, 10000))


def written(kind: str, body: dict[str, Any], day: str) -> dict[str, Any]:
    """An entry at nine o'clock of a day of 2026."""
    number = next(NUMBERS)
    return entry(number, kind, body, f"2026-{day}T09:00:00+00:00", seq=number)


def rebuilt(day: str, parts: int = 1) -> dict[str, Any]:
    """A rebuild that fitted so many plates."""
    fitted = [{"slot": slot, "mm": 2.55} for slot in ("A2", "A4")[:parts]]
    return written("rebuild", {"fitted": fitted, "note": "Set up."}, day)


def check(low: float, outings: object, day: str, **more: Any) -> dict[str, Any]:
    """A check so many outings after the rebuild."""
    circumstances = {"outings": outings, "oil": "75W-140", "temperature": "cold"} | more
    return written("torque_check", check_near(low, **circumstances), day)


def bedding(*entries: dict[str, Any], **unit: Any) -> Any:
    """What stands of bedding in."""
    first = entry(1, "unit", changed(UNIT, **unit), "2026-01-01T09:00:00+00:00", seq=1)
    return calc("standing", {"entries": [first, *entries]})["built"]["bedding"]


def test_the_first_check_after_a_rebuild_is_set_against_those_of_its_first_outings() -> None:
    season = [rebuilt("02-01"), check(103, 0, "02-02"), check(100, 1, "02-10"), check(98, 3, "02-20")]
    [row] = bedding(*season, check(90, 4, "03-01"))
    assert row["at"] == season[0]["at"]
    assert row["first_nm"] == pytest.approx(103 + 1 / 3, abs=1e-9)
    assert row["loss_nm"] == pytest.approx((3 + 5) / 2, abs=1e-9)
    # What the one wrench is off by is in both; the scatter of their repeats is left.
    assert 0 < row["u_nm"] < 1


def test_each_rebuild_has_its_own_and_the_newest_comes_last() -> None:
    first = [rebuilt("02-01"), check(103, 0, "02-02"), check(100, 1, "02-10")]
    second = [rebuilt("05-01"), check(99, 0, "05-02"), check(97, 2, "05-10")]
    rows = bedding(*second, *first)
    assert [row["loss_nm"] for row in rows] == pytest.approx([3, 2])


@pytest.mark.parametrize(
    ("about", "season"),
    [
        ("nothing was fitted", [rebuilt("02-01", parts=0), check(103, 0, "02-02"), check(100, 1, "02-10")]),
        ("no check before the first outing", [rebuilt("02-01"), check(103, 1, "02-02"), check(100, 2, "02-10")]),
        ("outings not noted", [rebuilt("02-01"), check(103, None, "02-02"), check(100, 1, "02-10")]),
        ("none in the first outings", [rebuilt("02-01"), check(103, 0, "02-02"), check(100, 4, "03-10")]),
        ("another oil", [rebuilt("02-01"), check(103, 0, "02-02"), check(100, 1, "02-10", oil="80W-90")]),
        ("read warm", [rebuilt("02-01"), check(103, 0, "02-02"), check(100, 1, "02-10", temperature="warm")]),
        (
            "opened in between",
            [
                rebuilt("02-01"),
                check(103, 0, "02-02"),
                written("strip", {"done": ["held", "screws"], "signed": "Ilse"}, "02-05"),
                check(100, 1, "02-10"),
            ],
        ),
        (
            "stated for another way of holding",
            [
                rebuilt("02-01"),
                check(103, 0, "02-02"),
                written("torque_check", check_near(100, outings=1) | {"stated_for": "case_held"}, "02-10"),
            ],
        ),
    ],
)
def test_what_is_not_like_with_like_tells_nothing(about: str, season: list[dict[str, Any]]) -> None:
    assert bedding(*season) == [], about


def test_a_correction_tells_its_own_figure() -> None:
    season = [rebuilt("02-01"), check(103, 0, "02-02"), check(130, 1, "02-10")]
    corrected = check(100, 1, "02-11") | {"replaces": season[-1]["id"]}
    [row] = bedding(*season, corrected)
    assert row["loss_nm"] == pytest.approx(3)


def test_no_more_than_five_rebuilds_are_looked_back_on() -> None:
    season = []
    for month in range(2, 10):
        season += [rebuilt(f"0{month}-01"), check(100 + month, 0, f"0{month}-02"), check(100, 1, f"0{month}-10")]
    assert [row["loss_nm"] for row in bedding(*season)] == pytest.approx([5, 6, 7, 8, 9])


def test_units_built_alike_say_so_however_thick_their_plates_are() -> None:
    def alike(**unit: Any) -> str:
        first = entry(1, "unit", changed(UNIT, **unit), "2026-01-01T09:00:00+00:00", seq=1)
        result: str = calc("standing", {"entries": [first]})["built"]["alike"]
        return result

    assert alike(name="Sorrel", chain__2__new_mm=2.6, order__torque_nm=95) == alike()
    assert alike(spring__t_mm=3.4) != alike()
    assert alike(plate_family="bronze") != alike()
    assert alike(friction__outer_mm=100) != alike()
