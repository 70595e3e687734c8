"""Inspected features: verdicts beside an uncertainty that was worked by hand, and what else decides them.

Sources: JCGM 100:2008 (GUM), 4.3.7 (rectangular parts), 5.1.2 (their sum); ISO 14253-1 (guard bands). Permitted errors
of gauges from memory, as `USUAL_GAUGES` says.
"""

import math
from typing import Any

import pytest

from server.engine import BadInput, calc
from tests.engine.samples import samples

# A dial gauge with divisions of 0.01 mm that may be off by 0.02 mm, for the end float of a side gear. An end float is
# the difference of two readings, with the gear pulled and pushed.
#
#   what                                   distribution    half width   standard uncertainty
#   permitted error of the gauge           rectangular     20 um        20 / 1.7321 = 11.547 um
#   division, reading with the gear in     rectangular      5 um         5 / 1.7321 =  2.887 um
#   division, reading with the gear out    rectangular      5 um         5 / 1.7321 =  2.887 um
#
# Squares: 133.33 + 8.333 + 8.333 = 150.00 um2 (JCGM 100, 5.1.2), so that u = 12.247 um. All parts are known by
# statement, so the one-sided 95 % factor is that of the normal distribution, 1.6449, and the guard band 20.145 um.
DIAL_GUARD_MM = 0.020145

FLOAT = {
    "name": "Side gear end float",
    "part": "bevel_gears",
    "measure": "end_float",
    "gauge": "dial_gauge",
    "low_mm": 0.1,
    "high_mm": 0.3,
    "tool": {"division_mm": 0.01, "deviation_mm": 0.02},
}

# 0.0762 mm, of which the computer makes a little less.
THREE_THOU = {"typed": "3", "unit": "thou"}


def judged(feature: dict[str, Any], **change: Any) -> dict[str, Any]:
    row: dict[str, Any] = calc("inspection", {"day": "2026-05-09", "features": [{**feature, **change}]})["features"][0]
    return row


@pytest.mark.parametrize(
    ("value", "verdict"),
    [
        # 0.300 - 0.020145 = 0.279855 is the last that is certainly inside; 0.320145 the first that is certainly not.
        (0.27985, "go"),
        (0.27986, "measure_again"),
        (0.32014, "measure_again"),
        (0.32015, "rework"),
        # The same at the lower limit: 0.120145 and 0.079855.
        (0.12015, "go"),
        (0.12014, "measure_again"),
        (0.07986, "measure_again"),
        (0.07985, "rework"),
    ],
)
def test_a_dial_gauge_decides_where_the_worked_guard_band_ends(value: float, verdict: str) -> None:
    row = judged(FLOAT, points_mm=[value])
    assert row["guard_mm"] == pytest.approx(DIAL_GUARD_MM, abs=5e-7)
    assert row["verdict"] == verdict


def test_a_certificate_and_the_zero_count_as_worked() -> None:
    # U = 8 um with k = 2 is u = 4 um; zero off by 6 um either way, rectangular, 3.464 um; two divisions as above:
    # 16 + 12 + 16.667 = 44.667 um2, u = 6.6833 um, guard band 10.993 um.
    row = judged(FLOAT, points_mm=[0.2], tool={"certificate_mm": 0.008, "zero_mm": 0.006})
    assert row["guard_mm"] == pytest.approx(0.010993, abs=5e-7)


def test_a_micrometer_is_read_once() -> None:
    # 4 um and one half division of 5 um, both rectangular: 5.3333 + 8.3333 = 13.667 um2, u = 3.6968 um, g = 6.0808 um.
    pin = {"name": "Pin", "part": "cross_pins", "measure": "size", "new_mm": 16, "change_mm": 0.05}
    assert judged(pin, points_mm=[16])["guard_mm"] == pytest.approx(0.0060808, abs=5e-8)


def test_the_leaf_that_passes_is_half_a_step_below_the_gap() -> None:
    # Leaves of 0.05 mm steps: a gap through which 0.25 passes and 0.30 does not is 0.275 +/- 0.025 mm; the leaf itself
    # may be off by 5 um: (25^2 + 5^2) / 3 = 216.67 um2, u = 14.720 um, g = 24.212 um.
    play = {"name": "Ear play", "part": "rings", "measure": "play", "gauge": "feeler", "high_mm": 0.3}
    row = judged(play, points_mm=[0.25])
    assert (row["verdict"], row["lowest_mm"]) == ("go", pytest.approx(0.275))
    assert row["guard_mm"] == pytest.approx(0.024212, abs=5e-7)
    assert "0.250 mm counts as 0.275 mm" in row["findings"][0]["text"]
    # The leaf of the limit itself passes: the gap is larger.
    assert judged(play, points_mm=[0.3])["verdict"] == "replace"


def test_the_worst_place_decides_and_every_place_is_wanted() -> None:
    assert judged(FLOAT, points_mm=[0.2, 0.35], places=2)["verdict"] == "rework"
    few = judged(FLOAT, points_mm=[0.2], places=2)
    assert (few["verdict"], few["reason"]) == (
        "measure_again",
        "Side gear end float: measured in 1 of 2 places. Measure the others too.",
    )
    # What is outside in one place is outside, however many others there are.
    assert judged(FLOAT, points_mm=[0.35], places=2)["verdict"] == "rework"


@pytest.mark.parametrize(
    ("tool", "words"),
    [
        ({"calibration_due": "2026-05-08"}, "ran out on 2026-05-08"),
        ({"zero_mm": 0.021}, "stood 0.021 mm from zero"),
    ],
)
def test_an_unfit_gauge_lets_nothing_go_and_what_is_outside_stays_outside(tool: dict[str, Any], words: str) -> None:
    row = judged(FLOAT, points_mm=[0.2], tool=tool)
    assert row["verdict"] == "measure_again"
    assert words in row["reason"]
    assert judged(FLOAT, points_mm=[0.5], tool=tool)["verdict"] == "rework"


@pytest.mark.parametrize("tool", [{"calibration_due": "2026-05-09"}, {"zero_mm": 0.02}, {"zero_mm": 0}])
def test_a_gauge_at_its_own_limit_is_fit(tool: dict[str, Any]) -> None:
    assert judged(FLOAT, points_mm=[0.2], tool=tool)["verdict"] == "go"


def test_a_change_against_new_is_a_band_about_it() -> None:
    pin = {"name": "Pin", "part": "cross_pins", "measure": "size", "new_mm": 16, "change_mm": 0.05}
    row = judged(pin, points_mm=[15.97, 16.01])
    assert (row["low_mm"], row["high_mm"]) == (pytest.approx(15.95), pytest.approx(16.05))
    assert row["change_mm"] == pytest.approx(-0.03)
    unknown = judged({**pin, "new_mm": None}, points_mm=[15.97])
    assert (unknown["verdict"], unknown["change_mm"]) == (None, None)
    assert "its figure when new is not known" in unknown["reason"]


def test_a_change_that_cannot_be_judged_is_told_beside_the_limits_that_were() -> None:
    pin = {"name": "Pin", "part": "cross_pins", "measure": "size", "high_mm": 16.1, "change_mm": 0.05}
    row = judged(pin, points_mm=[15.9])
    assert (row["verdict"], row["low_mm"], row["high_mm"]) == ("go", None, 16.1)
    assert row["reason"].endswith(" Its change against new is not judged: its figure when new is not known.")
    assert "change against new" not in judged(pin, points_mm=[15.99], new_mm=16)["reason"]


@pytest.mark.parametrize("limits", [{"low_mm": 0.3}, {"low_mm": 0.25, "change_mm": 0.05}])
def test_a_band_of_no_width_is_refused_whatever_rounding_leaves_of_it(limits: dict[str, float]) -> None:
    # 0.2 + 0.1 is a little more than 0.3 in the computer, and no band for that.
    play = {"name": "Play", "part": "splines", "measure": "play", "new_mm": 0.2, "change_mm": 0.1, **limits}
    with pytest.raises(BadInput) as refusal:
        judged(play, points_mm=[0.2])
    assert refusal.value.field == "features.0.change_mm"


def test_limits_of_no_width_are_refused_whichever_unit_each_was_typed_in() -> None:
    with pytest.raises(BadInput) as refusal:
        judged({**FLOAT, "low_mm": THREE_THOU, "high_mm": 0.0762}, points_mm=[0.07])
    assert refusal.value.field == "features.0.high_mm"


def test_a_lower_limit_that_only_rounding_keeps_from_0_limits_nothing() -> None:
    play = {"name": "Play", "part": "splines", "measure": "play", "new_mm": 0.0762, "change_mm": THREE_THOU}
    row = judged(play, points_mm=[0.01])
    assert (row["verdict"], row["low_mm"]) == ("go", None)


# The guard band is 20.145 um: of limits 0.040 mm apart nothing is inside both by as much, of 0.041 mm something is. A
# play of 0 is 0.020 mm below its limit and no more; a feeler gauge of 0.05 mm reads no less than half a step, 0.025 mm,
# with a guard band of 24.212 um, so that 0.049 mm can never be shown and 0.050 mm can.
@pytest.mark.parametrize(
    ("feature", "finer"),
    [
        ({"low_mm": 0.26, "points_mm": [0.28]}, True),
        ({"low_mm": 0.259, "points_mm": [0.28]}, False),
        ({"low_mm": 0.259, "points_mm": [0.29]}, False),
        ({"low_mm": None, "high_mm": 0.02, "points_mm": [0]}, True),
        ({"low_mm": 0, "high_mm": 0.02, "points_mm": [0.01]}, True),
        ({"low_mm": None, "high_mm": 0.021, "points_mm": [0.01]}, False),
        (
            {"measure": "flatness", "gauge": None, "tool": None, "low_mm": None, "high_mm": 0.049, "points_mm": [0]},
            True,
        ),
        (
            {"measure": "flatness", "gauge": None, "tool": None, "low_mm": None, "high_mm": 0.05, "points_mm": [0.05]},
            False,
        ),
        ({"low_mm": 0.26, "points_mm": [0.4]}, False),
    ],
)
def test_a_gauge_that_can_never_show_a_part_inside_is_told(feature: dict[str, Any], finer: bool) -> None:
    row = judged({**FLOAT, **feature})
    assert row["reason"].endswith(" no value can be far enough inside: use a finer one.") == finer
    assert not finer or row["verdict"] == "measure_again"


@pytest.mark.parametrize(
    ("feature", "verdict"),
    [
        ({"measure": "crack", "crack": "none"}, "go"),
        ({"measure": "crack", "crack": "unclear"}, "measure_again"),
        ({"measure": "crack", "crack": "crack", "outside": "rework"}, "replace"),
        ({"measure": "surface", "marks": "none"}, "go"),
        ({"measure": "surface", "marks": "slight"}, "go"),
        ({"measure": "surface", "marks": "heavy"}, "replace"),
        ({"measure": "surface", "marks": "heavy", "outside": "rework"}, "rework"),
        ({"measure": "used", "uses": 2, "most_uses": 3}, "go"),
        ({"measure": "used", "uses": 3, "most_uses": 3}, "replace"),
        ({"measure": "used", "uses": 0, "most_uses": 1}, "go"),
        ({"measure": "used", "uses": 1, "most_uses": 1}, "replace"),
        ({"measure": "used", "uses": 5}, None),
    ],
)
def test_what_has_no_length_passes_fails_or_is_counted(feature: dict[str, Any], verdict: str | None) -> None:
    assert judged({"name": "It", "part": "screws", **feature})["verdict"] == verdict


def test_what_has_no_limit_is_kept_and_not_judged() -> None:
    journal = {"name": "Journal", "part": "journals", "measure": "size", "points_mm": [39.99, 40.0]}
    alone = calc("inspection", {"features": [journal]})
    assert (alone["verdict"], alone["features"][0]["highest_mm"]) == (None, 40.0)
    both = calc("inspection", {"features": [journal, {**FLOAT, "points_mm": [0.2]}]})
    assert both["verdict"] == "go"
    assert both["reason"].endswith("Not judged, without a limit: Journal.")


def test_the_usual_lists_can_be_inspected_as_they_are() -> None:
    parts = calc("usual_features", {})["parts"]
    listed = [feature for part in parts for feature in part["features"]]
    assert len({feature["name"] for feature in listed}) == len(listed) > 15
    assert calc("unit", {"name": "Hillclimb", "features": listed})["checked"]["features"] == listed
    for feature in listed:
        has_limit = any(feature[name] is not None for name in ("low_mm", "high_mm", "change_mm", "most_uses"))
        assert has_limit == feature["usual_limits"], "a limit that is nobody's but common practice is marked so"
    found: dict[str, Any] = {"surface": {"marks": "none"}, "crack": {"crack": "none"}, "used": {"uses": 1}}
    rows = [{**feature, **found.get(feature["measure"], {"points_mm": [0.0]})} for feature in listed]
    assert calc("inspection", {"features": rows})["verdict"] is not None


def test_a_gauge_s_doubt_is_the_root_of_its_parts_whatever_they_are() -> None:
    for deviation, division, zero in ((0.01, 0.001, 0.0), (0.003, 0.02, 0.003), (0.02, 0.05, 0.01)):
        tool = {"deviation_mm": deviation, "division_mm": division, "zero_mm": zero}
        worked = 1.6448536 * math.sqrt((deviation**2 + 2 * (division / 2) ** 2 + zero**2) / 3)
        assert judged(FLOAT, points_mm=[0.2], tool=tool)["guard_mm"] == pytest.approx(worked, rel=1e-6)


@pytest.mark.parametrize("row", [row for row in samples("inspection") if row["about"].startswith("bad:")])
def test_a_refusal_is_at_the_field_at_fault(row: dict[str, Any]) -> None:
    with pytest.raises(BadInput) as refusal:
        calc("inspection", row["request"])
    assert refusal.value.field.startswith("features")
    assert refusal.value.reason.endswith(".")
