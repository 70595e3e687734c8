"""The figures behind a part's verdict, worked out by hand, and the sentences that go with it."""

import math
from typing import Any

import pytest

from server.engine import BadInput, calc

from ..checks import PLATES, changed
from ..samples import sample

SPRING = sample("spring_check", "good")
RINGS = sample("ring_check", "good")
REFIT = sample("refit", "all three")
# JCGM 100:2008: a limit that values may lie anywhere within, and the factor of a one-sided 95 % guard.
EVEN, GUARD = 1 / math.sqrt(3), 1.6449


@pytest.mark.parametrize(
    ("tool", "own", "half"),
    [
        ({"division_mm": 0.01, "deviation_mm": 0.03}, 0.03 * EVEN, 0.005 * EVEN),
        ({"division_mm": 0.02, "certificate_mm": 0.01, "deviation_mm": 0.9}, 0.005, 0.01 * EVEN),
        ({"division_mm": 0.02, "certificate_mm": 0}, 0, 0.01 * EVEN),
    ],
)
def test_the_guard_of_a_length_is_that_of_its_gauge(tool: dict[str, float], own: float, half: float) -> None:
    once = GUARD * math.hypot(own, half)
    rings = calc("ring_check", {**RINGS, "gauge": tool})
    assert calc("spring_check", {**SPRING, "gauge": tool})["guard_mm"] == pytest.approx(once, rel=1e-4)
    assert [row["guard_mm"] for row in rings["pins"]] == pytest.approx([once], rel=1e-4)
    # A step and a backlash are differences: the scale is read at both ends (JCGM 100:2008, F.2.2.1 and 5.1.2).
    twice = GUARD * math.hypot(own, half, half)
    assert rings["guard_mm"] == pytest.approx(twice, rel=1e-4)
    backlash = {**REFIT["backlash"], "gauge": tool}
    assert calc("refit", {"backlash": backlash})["checks"][0]["guard_mm"] == pytest.approx(twice, rel=1e-4)


@pytest.mark.parametrize(
    ("tool", "u"),
    [
        ({"division_nm": 2}, math.hypot(0.06 * 91 * EVEN, EVEN)),
        ({"division_nm": 2, "deviation_percent": 4}, math.hypot(0.04 * 91 * EVEN, EVEN)),
        ({"division_nm": 2, "certificate_percent": 1.5}, math.hypot(0.0075 * 91, EVEN)),
    ],
)
def test_the_guard_of_a_screw_is_that_of_its_wrench_at_the_tightest(tool: dict[str, float], u: float) -> None:
    row = calc("refit", {"screws": {**REFIT["screws"], "tool": tool}})["checks"][0]
    assert row["guard_nm"] == pytest.approx(GUARD * u, rel=1e-4)
    assert (row["lowest_nm"], row["highest_nm"]) == (88, 91)


def test_the_guard_of_the_bearings_holds_the_scatter_of_their_repeats() -> None:
    # Two readings 0.2 apart: s = 0.2 / sqrt 2, of the mean 0.1. With nothing beside it, one degree of freedom: t 6.314.
    tool = {"division_nm": 0.0001, "certificate_percent": 0}
    row = calc("refit", {"bearings": {**REFIT["bearings"], "readings_nm": [2.1, 2.3], "tool": tool}})["checks"][0]
    assert row["lowest_nm"] == row["highest_nm"] == pytest.approx(2.2)
    assert row["guard_nm"] == pytest.approx(6.314 * 0.1, rel=1e-3)


@pytest.mark.parametrize(
    ("name", "changes", "reason"),
    [
        ("backlash", {}, "Backlash: 0.130 mm to 0.150 mm, inside the limits (0.100 mm to 0.200 mm)."),
        ("backlash", {"points_mm": [0.15] * 3}, "Backlash: 0.150 mm, inside the limits (0.100 mm to 0.200 mm)."),
        ("backlash", {"low_mm": None}, "Backlash: 0.130 mm to 0.150 mm, inside the limits (at most 0.200 mm)."),
        (
            "backlash",
            {"high_mm": None, "low_mm": 0.2},
            "Backlash: 0.130 mm, outside the limits (at least 0.200 mm).",
        ),
        ("screws", {"high_nm": 85}, ", outside the limits (80.0 N·m to 85.0 N·m)."),
        ("screws", {"low_nm": 90}, "Torque of the crown-wheel screws: 88.0 N·m, closer to a limit (90.0 N·m to"),
        ("bearings", {}, "Turning torque of the bearings: 2.2 N·m, inside the limits (1.5 N·m to 3.0 N·m)."),
    ],
)
def test_a_single_check_says_value_and_band(name: str, changes: dict[str, Any], reason: str) -> None:
    given = {field: value for field, value in {**REFIT[name], **changes}.items() if value is not None}
    result = calc("refit", {name: given})
    assert reason in result["reason"]
    assert result["reason"] == result["checks"][0]["reason"]


def test_several_that_are_as_bad_are_counted_and_named() -> None:
    request = changed(REFIT, backlash__low_mm=0.16, screws__low_nm=95)
    assert calc("refit", request)["reason"] == "2 need attention: backlash, screws."
    assert calc("refit", REFIT)["reason"] == (
        "Backlash, bearings and screws are inside their limits, as far as they were checked."
    )
    worn = changed(PLATES, plates__0__marks="heavy", plates__1__marks="heavy")
    assert calc("plates", worn)["reason"] == "2 plates need attention: A2, A3."


@pytest.mark.parametrize(
    ("name", "limits", "field", "sentence"),
    [
        ("backlash", {"low_mm": None, "high_mm": None}, "backlash.low_mm", "Give at least one limit"),
        ("backlash", {"low_mm": 0, "high_mm": None}, "backlash.low_mm", "Give at least one limit"),
        ("bearings", {"low_nm": None, "high_nm": None}, "bearings.low_nm", "Give at least one limit"),
        ("bearings", {"low_nm": 2, "high_nm": 2}, "bearings.high_nm", "This must be above “At least”."),
        ("screws", {"low_nm": 90, "high_nm": 80}, "screws.high_nm", "This must be above “At least”."),
        ("screws", {"low_nm": None, "high_nm": None}, "screws.low_nm", "Give at least one limit"),
    ],
)
def test_a_band_that_judges_nothing_is_refused(name: str, limits: dict[str, Any], field: str, sentence: str) -> None:
    with pytest.raises(BadInput) as refusal:
        calc("refit", {name: {**REFIT[name], **limits}})
    assert refusal.value.field == field
    assert refusal.value.reason.startswith(sentence)


def test_nothing_checked_is_refused() -> None:
    with pytest.raises(BadInput) as refusal:
        calc("refit", {"day": "2026-05-09"})
    assert (refusal.value.field, refusal.value.reason) == (
        "backlash",
        "Give backlash, turning torque of the bearings, torque of the screws or the contact pattern.",
    )


@pytest.mark.parametrize(
    ("uneven", "found"),
    [
        (0.02, []),
        (
            0.019,
            [
                "Backlash differs by 0.020 mm from tooth to tooth; at most 0.019 mm is allowed: "
                "look for dirt or a burr under the crown wheel, and for run-out."
            ],
        ),
    ],
)
def test_uneven_backlash_is_told_from_just_beyond_what_is_allowed(uneven: float, found: list[str]) -> None:
    row = calc("refit", changed(REFIT, backlash__uneven_mm=uneven))["checks"][0]
    assert [finding["text"] for finding in row["findings"]] == found
    assert row["verdict"] == ("rework" if found else "go")
    assert row["uneven_mm"] == pytest.approx(0.02)
    if found:
        assert row["reason"] == found[0]
        assert (row["findings"][0]["name"], row["findings"][0]["weight"]) == ("uneven", "doubt")
        # Outside of its band as well: that is said first.
        tight = calc("refit", changed(REFIT, backlash__uneven_mm=uneven, backlash__low_mm=0.3, backlash__high_mm=0.4))
        assert "outside the limits" in tight["checks"][0]["reason"]


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        (
            {"springs__0__points_mm__1": 2.7},
            "springs.0.points_mm.1",
            "A disc of 4.800 mm new and 2.700 mm thick cannot stand 2.700 mm high: read again, or check the unit.",
        ),
        (
            {"springs__0__points_mm__0": 6.91},
            "springs.0.points_mm.0",
            "A disc of 4.800 mm new and 2.700 mm thick cannot stand 6.910 mm high: read again, or check the unit.",
        ),
        (
            {"springs__0__minimum_mm": 2.7},
            "springs.0.minimum_mm",
            "The limit must lie between the disc's thickness and its free height when new.",
        ),
        (
            {"springs__0__minimum_mm": 4.81},
            "springs.0.minimum_mm",
            "The limit must lie between the disc's thickness and its free height when new.",
        ),
        (
            {"springs__0__fitted_mm": 2.69},
            "springs.0.fitted_mm",
            "In the closed unit the disc lies between flat and its free height.",
        ),
        ({"springs__0__spring__di_mm": 120}, "springs.0.spring.di_mm", ""),
    ],
)
def test_a_disc_that_cannot_be_so_is_refused(changes: dict[str, Any], field: str, sentence: str) -> None:
    with pytest.raises(BadInput) as refusal:
        calc("spring_check", changed(SPRING, **changes))
    assert refusal.value.field == field
    assert sentence in refusal.value.reason


def test_a_disc_may_stand_as_high_as_twice_its_cone_and_be_fitted_flat_or_free() -> None:
    # Free 4.8 and thick 2.7: a cone of 2.1, so that up to 6.9 it may be a disc that was bent up.
    assert calc("spring_check", changed(SPRING, springs__0__points_mm=[6.899] * 3))["verdict"] == "go"
    for fitted in (2.7, 4.8):
        row = calc("spring_check", changed(SPRING, springs__0__fitted_mm=fitted))["springs"][0]
        assert row["load_new_n"] >= 0
    assert row["load_new_n"] == pytest.approx(0)
    assert row["load_now_n"] > 0
    assert row["findings"] == []
    # Set below the height at which it is fitted: it gives nothing any more.
    low = calc("spring_check", changed(SPRING, springs__0__points_mm=[4.7] * 3, springs__0__fitted_mm=4.75))
    row = low["springs"][0]
    assert row["load_now_n"] == 0
    assert row["findings"][0]["text"].startswith("S1: in the closed unit it gives 0 N; new it gave ")
    assert row["findings"][0]["weight"] == "note"


@pytest.mark.parametrize(("uneven", "verdict"), [(0.02, "go"), (0.019, "replace")])
def test_an_uneven_disc_is_told_from_just_beyond_what_is_allowed(uneven: float, verdict: str) -> None:
    row = calc("spring_check", {**SPRING, "uneven_mm": uneven})["springs"][0]
    assert row["verdict"] == verdict
    if verdict == "replace":
        assert row["reason"] == "S1: its height differs round the disc by 0.020 mm; at most 0.019 mm is allowed."


@pytest.mark.parametrize(("point", "taken"), [(11.2, True), (11.19, False), (16.32, True), (16.33, False)])
def test_a_pin_measures_what_a_pin_can(point: float, taken: bool) -> None:
    request = changed(RINGS, pins__0__points_mm=[15.99, point])
    if taken:
        row = calc("ring_check", request)["pins"][0]
        assert row["highest_mm"] == pytest.approx(max(0.01, 16 - point))
        assert row["lowest_mm"] >= 0
    else:
        with pytest.raises(BadInput) as refusal:
            calc("ring_check", request)
        assert refusal.value.field == "pins.0.points_mm.1"
        assert refusal.value.reason == (
            f"A pin of 16.000 mm new cannot measure {point:.3f} mm: read again, or check the unit."
        )


def test_a_ring_or_pin_given_twice_is_refused_at_the_second() -> None:
    for changes, field in (({"rings__1__slot": "R1"}, "rings.1.slot"), ({"pins__0__slot": "R2"}, "pins.0.slot")):
        with pytest.raises(BadInput) as refusal:
            calc("ring_check", changed(RINGS, **changes))
        assert refusal.value.field == field
        assert refusal.value.reason.endswith(" is given twice here: keep one of them.")


def test_marks_say_what_they_are() -> None:
    row = calc("ring_check", changed(RINGS, rings__0__marks="slight"))["rings"][0]
    assert row["findings"] == [
        {
            "name": "marks",
            "weight": "note",
            "number": 1.0,
            "text": "R1: slight scoring or colour. Look at it again next time.",
        }
    ]
    heavy = calc("ring_check", changed(RINGS, rings__0__marks="heavy"))
    assert heavy["rings"][0]["findings"][0]["weight"] == "doubt"
    assert heavy["reason"] == "R1: deep scoring, blue from heat, cracks."
    worn = calc("ring_check", changed(RINGS, rings__0__marks="heavy", rings__0__steps_mm=[0.2]))
    assert worn["reason"] == "R1, worn into the ramps: 0.200 mm, outside the limits (at most 0.050 mm)."


@pytest.mark.parametrize(
    ("day", "due", "verdict"),
    [
        ("2026-05-09", "2026-05-09", "go"),
        ("2026-05-09", "2026-05-08", "measure_again"),
        (None, "2020-01-01", "go"),
        ("2026-05-09", None, "go"),
    ],
)
def test_a_calibration_holds_through_its_last_day(day: str | None, due: str | None, verdict: str) -> None:
    result = calc("plates", changed(PLATES, day=day, micrometer__calibration_due=due))
    assert result["verdict"] == verdict
    # What is worn out stays so.
    worn = calc("plates", changed(PLATES, day=day, micrometer__calibration_due=due, plates__0__points_mm=[2.2] * 3))
    assert worn["plates"][0]["verdict"] == "replace"


@pytest.mark.parametrize(("point", "taken"), [(1.0, True), (0.999, False), (3.25, True), (3.251, False)])
def test_a_plate_measures_what_a_plate_can(point: float, taken: bool) -> None:
    request = changed(PLATES, plates__0__points_mm=[2.45, point, 2.45], plates__0__minimum_mm=0.5)
    if taken:
        row = calc("plates", request)["plates"][0]
        assert row["taper_mm"] == pytest.approx(abs(2.45 - point))
        thicker = [finding for finding in row["findings"] if finding["name"] == "thicker_than_new"]
        assert [finding["number"] for finding in thicker] == ([pytest.approx(0.75)] if point > 3 else [])
    else:
        with pytest.raises(BadInput) as refusal:
            calc("plates", request)
        assert refusal.value.field == "plates.0.points_mm.1"
        assert refusal.value.reason == (
            f"A plate of 2.500 mm new cannot measure {point:.3f} mm: read again, or check the unit."
        )


@pytest.mark.parametrize(
    ("name", "request_"),
    [
        ("spring_check", changed(SPRING, springs__0__points_mm=[2, 4.8, 4.8])),
        ("ring_check", changed(RINGS, pins__0__points_mm=[15.99, 17])),
        ("plates", changed(PLATES, plates__0__points_mm=[2.4, 25, 2.4])),
        ("plates", changed(PLATES, plates__0__minimum_mm=2.6)),
    ],
)
def test_a_part_that_cannot_be_is_refused_in_the_readers_unit(name: str, request_: dict[str, Any]) -> None:
    with pytest.raises(BadInput) as refusal:
        calc(name, {**request_, "write_in": "thou"})
    assert " thou" in refusal.value.reason
    assert " mm" not in refusal.value.reason
