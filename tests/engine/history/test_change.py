"""What changed between two checks: the parts as they were at each, whichever clock wrote it."""

from typing import Any

import pytest

from server.engine import BadInput, calc

from ..checks import PLATES, UNIT, changed
from .made import entry, tight

TAKEN_IN = entry(1, "unit", UNIT, "2026-03-01T09:00:00+01:00", seq=1)
FIRST = entry(2, "torque_check", tight(110, oil="LS 90", outings=1), "2026-03-02T09:00:00+01:00", seq=2)
NEW_PLATES = entry(
    3, "plate_check", changed(PLATES, plates__0__points_mm=[2.5] * 3), "2026-03-02T10:00:00+01:00", seq=3
)
SECOND = entry(4, "torque_check", tight(80, oil="LS 90", outings=6), "2026-05-02T09:00:00+01:00", seq=4)
WORN_PLATES = entry(
    5, "plate_check", changed(PLATES, plates__0__points_mm=[2.44, 2.46, 2.45]), "2026-05-02T12:00:00+01:00", seq=5
)
LOG = [TAKEN_IN, FIRST, NEW_PLATES, SECOND, WORN_PLATES]


def found(entries: list[dict[str, Any]], **asked: Any) -> Any:
    """What changed."""
    return calc("change", {"entries": entries, **asked})


def test_a_check_is_compared_with_the_parts_as_they_were_measured_after_it() -> None:
    got = found(LOG)
    assert [row["id"] for row in got["checks"]] == ["id-2", "id-4"]
    assert (got["before"], got["now"], got["unmeasured"], got["fault"]) == ("id-2", "id-4", ["spring"], "")
    by_hand = calc(
        "loss",
        {
            "unit": UNIT,
            "before": {
                "torque_nm": FIRST["shown"]["value_nm"],
                "u_nm": FIRST["shown"]["u_nm"],
                "plates": [{"slot": "A2", "mm": 2.5}, {"slot": "A3", "mm": (1.49 + 1.48 + 1.49) / 3}],
            },
            "now": {
                "torque_nm": SECOND["shown"]["value_nm"],
                "u_nm": SECOND["shown"]["u_nm"],
                "plates": [{"slot": "A2", "mm": 2.45}, {"slot": "A3", "mm": (1.49 + 1.48 + 1.49) / 3}],
            },
        },
    )
    assert got["loss"]["change_log"] == pytest.approx(by_hand["change_log"], rel=1e-12)
    for share, other in zip(got["loss"]["shares"], by_hand["shares"]):
        assert share["share_log"] == pytest.approx(other["share_log"], rel=1e-9, abs=1e-12)
    assert got["compared"] == calc(
        "compare",
        {
            "before": {
                "value_nm": FIRST["shown"]["value_nm"],
                "u_nm": FIRST["shown"]["u_nm"],
                "oil": "LS 90",
                "outings": 1,
            },
            "now": {
                "value_nm": SECOND["shown"]["value_nm"],
                "u_nm": SECOND["shown"]["u_nm"],
                "oil": "LS 90",
                "outings": 6,
            },
        },
    )


def test_what_nobody_measured_between_two_checks_is_named() -> None:
    assert found([TAKEN_IN, FIRST, SECOND])["unmeasured"] == ["plates", "spring"]
    assert found([TAKEN_IN, FIRST, NEW_PLATES, SECOND])["unmeasured"] == ["plates", "spring"], "measured before"


def test_the_earlier_check_is_the_first_since_the_rebuild_unless_another_is_asked_for() -> None:
    rebuilt = entry(6, "rebuild", {"fitted": [], "note": "oil"}, "2026-05-03T09:00:00+01:00", seq=6)
    third = entry(7, "torque_check", tight(105), "2026-05-04T09:00:00+01:00", seq=7)
    fourth = entry(8, "torque_check", tight(101), "2026-06-04T09:00:00+01:00", seq=8)
    assert found([*LOG, rebuilt, third, fourth])["before"] == "id-7"
    assert found([*LOG, rebuilt, third, fourth], before="id-2", now="id-4")["loss"]["cause"] is not None
    assert found([*LOG, rebuilt])["before"] == "id-2", "no check since"


def test_a_slow_clock_does_not_put_a_measurement_before_the_check_that_it_followed() -> None:
    slow = WORN_PLATES | {"at": "2026-05-02T08:30:00+01:00", "clock_off_s": 3 * 3600}
    assert found([TAKEN_IN, FIRST, NEW_PLATES, SECOND, slow])["unmeasured"] == ["spring"]


@pytest.mark.parametrize("entries", [[], [TAKEN_IN], [TAKEN_IN, FIRST], [FIRST, SECOND]])
def test_with_too_little_to_compare_there_is_neither_loss_nor_fault(entries: list[dict[str, Any]]) -> None:
    got = found(entries)
    assert (got["loss"], got["compared"], got["fault"]) == (None, None, "")


def test_plates_that_cannot_be_are_a_sentence_and_not_a_crash() -> None:
    thin = [{"slot": f"{side}{number}", "mm": 0.4} for side in "AB" for number in (1, 2, 3, 4, 5)]
    loose = entry(9, "rebuild", {"fitted": thin, "note": "x"}, "2026-03-01T10:00:00+01:00", seq=9)
    assert found([TAKEN_IN, loose, FIRST, SECOND])["fault"].endswith("check the thicknesses.")


def test_an_unknown_field_is_refused() -> None:
    with pytest.raises(BadInput, match="leave it out"):
        found(LOG, after="id-2")


def test_one_check_is_nothing_to_compare() -> None:
    assert found(LOG)["comparable"]
    assert not found([TAKEN_IN, FIRST])["comparable"]
