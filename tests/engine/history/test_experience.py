"""Which builds of a unit count for a plan from experience, by the check that says what each was worth."""

from typing import Any

import pytest

from server.engine import calc

from ..checks import PLATES, UNIT, changed
from .entries import check_near, entry

TAKEN_IN = entry(1, "unit", UNIT, "2026-03-01T09:00:00+01:00", seq=1)
NEW_MM = sum(item["new_mm"] for item in UNIT["chain"] if "new_mm" in item)


def check(number: int, torque: float, day: str, **circumstances: Any) -> dict[str, Any]:
    return entry(number, "torque_check", check_near(torque, **circumstances), f"{day}T09:00:00+01:00", seq=number)


def rebuild(number: int, mm: float, day: str, **more: Any) -> dict[str, Any]:
    """A rebuild that fits one plate of this thickness."""
    body = {"fitted": [{"slot": "A2", "mm": mm}], "note": "Set up.", **more}
    return entry(number, "rebuild", body, f"{day}T09:00:00+01:00", seq=number)


def plates(number: int, day: str, less: float = 0.05) -> dict[str, Any]:
    """Every plate measured, worn by the same."""
    rows = [
        {**item, "points_mm": [item["new_mm"] - less] * 3}
        for item in UNIT["chain"]
        if item["part"] not in ("ring", "spring")
    ]
    return entry(number, "plate_check", changed(PLATES, plates=rows), f"{day}T09:00:00+01:00", seq=number)


BUILDS = [
    rebuild(10, 2.5, "2026-04-01"),
    check(11, 118, "2026-04-02", outings=0),
    check(12, 100, "2026-04-09", outings=1),
    check(13, 90, "2026-05-09", outings=6),
    rebuild(20, 2.65, "2026-06-01"),
    check(21, 116, "2026-06-09", outings=2),
]


def found(*entries: dict[str, Any], **more: Any) -> Any:
    return calc("experience", {"entries": list(entries), **more})


def test_each_rebuild_counts_with_the_first_check_after_bedding_in() -> None:
    result = found(TAKEN_IN, *BUILDS)
    rows = [(row["check"], row["thickness_mm"], row["counts"]) for row in result["builds"]]
    assert rows == [
        ("id-12", pytest.approx(NEW_MM), True),
        ("id-21", pytest.approx(NEW_MM + 0.15), True),
    ]
    assert "in the check of 2026-04-09, outings since: 1" in result["builds"][0]["text"]
    assert result["shown"]["text"] == "From 2 builds"
    first, second = (row["torque_nm"] for row in result["builds"])
    assert result["shown"]["tenth_nm"] == pytest.approx((second - first) / 1.5, rel=1e-9)


def test_what_a_plan_takes_is_what_was_found() -> None:
    result = found(TAKEN_IN, *BUILDS)
    assert [row["thickness_mm"] for row in result["for_plan"]["own"]] == pytest.approx([NEW_MM, NEW_MM + 0.15])
    assert all(row["u_nm"] > 0 for row in result["for_plan"]["own"])


def test_a_build_checked_only_fresh_does_not_count_and_says_so() -> None:
    result = found(TAKEN_IN, *BUILDS[:2], *BUILDS[4:])
    assert [row["counts"] for row in result["builds"]] == [False, True]
    assert "only fresh from the rebuild" in result["builds"][0]["text"]
    assert result["shown"] is None
    assert result["why"].startswith("One more build")


def test_a_check_with_a_fault_does_not_count() -> None:
    late = changed(check_near(100, outings=1), wrench__calibration_due="2026-01-01")
    faulty = entry(12, "torque_check", late, "2026-04-09T09:00:00+01:00", seq=12)
    assert any(row["weight"] == "doubt" for row in faulty["shown"]["findings"])
    result = found(TAKEN_IN, BUILDS[0], faulty, BUILDS[3])
    assert result["builds"][0]["check"] == "id-13"
    result = found(TAKEN_IN, BUILDS[0], faulty)
    assert "cannot be trusted" in result["builds"][0]["text"]


def test_a_check_without_outings_counts_only_where_no_other_says_them() -> None:
    silent = check(12, 104, "2026-04-03")
    assert found(TAKEN_IN, BUILDS[0], silent, BUILDS[3])["builds"][0]["check"] == "id-13"
    result = found(TAKEN_IN, BUILDS[0], silent)
    assert result["builds"][0]["check"] == "id-12"
    assert "outings not noted" in result["builds"][0]["text"]


def test_builds_with_another_spring_do_not_count() -> None:
    sprung = [rebuild(20, 2.65, "2026-06-01", spring="a new one", other_spring=True), BUILDS[5]]
    result = found(TAKEN_IN, *BUILDS[:4], *sprung)
    assert [row["counts"] for row in result["builds"]] == [False, True]
    assert "another spring" in result["builds"][0]["text"]


def test_a_unit_as_taken_in_counts_once_its_plates_were_measured() -> None:
    as_it_came = [check(2, 80, "2026-03-02"), check(3, 78, "2026-03-20")]
    result = found(TAKEN_IN, *as_it_came, *BUILDS)
    assert "not measured" in result["builds"][0]["text"]
    assert not result["builds"][0]["counts"]
    result = found(TAKEN_IN, *as_it_came, plates(4, "2026-03-21"), *BUILDS)
    # The last check before the plates were measured: the stack is as thick as it was then.
    assert result["builds"][0]["check"] == "id-3"
    assert result["builds"][0]["thickness_mm"] == pytest.approx(NEW_MM - 10 * 0.05)


def test_plates_that_stayed_count_as_they_were_measured() -> None:
    result = found(TAKEN_IN, *BUILDS[:4], plates(15, "2026-05-20"), *BUILDS[4:])
    assert result["builds"][1]["thickness_mm"] == pytest.approx(NEW_MM + 0.15 - 9 * 0.05)


def test_other_units_of_the_pattern_stand_in_for_what_is_missing() -> None:
    third = [rebuild(30, 2.55, "2026-07-01"), check(31, 107, "2026-07-09", outings=1)]
    other: dict[str, Any] = {"name": "Its twin", "entries": [TAKEN_IN, *BUILDS, *third]}
    result = found(TAKEN_IN, *BUILDS[:4], others=[other, other | {"name": "Another"}])
    assert result["shown"]["text"] == "From 1 build of this unit and 6 builds of 2 other units of its pattern"
    assert len(result["shown"]["others"]) == 6


def test_without_a_definition_or_builds_it_says_what_it_takes() -> None:
    for entries in ([], [TAKEN_IN]):
        result = found(*entries)
        assert result["builds"] == []
        assert (
            result["why"] == "Two more builds with thickness and torque in the log would show what a plate does here."
        )


def disagreement(*entries: dict[str, Any]) -> list[dict[str, Any]]:
    """What stands of spring and builds that disagree."""
    findings = calc("standing", {"entries": [TAKEN_IN, *entries]})["findings"]
    return [row for row in findings if row["name"] == "builds_disagree"]


def curve_at(added: float) -> float:
    """How many times as much the spring of the unit pushes with so many mm more in the stack."""
    crush = calc("unit", UNIT)["crush_mm"]
    forces = [
        calc("spring", {"spring": UNIT["spring"], "deflection_mm": crush + more})["at"]["load_n"] for more in (added, 0)
    ]
    return float(forces[0] / forces[1])


@pytest.mark.parametrize("factor", [1.0, 1.5])
def test_spring_and_builds_that_disagree_are_a_finding_of_the_unit(factor: float) -> None:
    """Four builds, half a millimetre apart: as the spring's curve has it, or with far more for the thick ones."""
    entries = []
    for number, added in enumerate((0.0, 0.4, 0.0, 0.4)):
        torque = 80.0 * (factor * curve_at(added) if added else 1.0)
        day = f"2026-0{number + 4}"
        entries += [
            rebuild(10 * number + 10, 2.5 + added, f"{day}-01"),
            check(10 * number + 12, round(torque, 1), f"{day}-09", outings=2),
        ]
    found_now = disagreement(*entries)
    assert bool(found_now) == (factor != 1.0)
    if found_now:
        assert "Measure the spring's free height and the depth" in found_now[0]["text"]
        assert found_now[0]["verdict"] is None
    assert disagreement(*entries[:2]) == []
