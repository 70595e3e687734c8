"""The unit as it is built now: what sits in each place, how thick it is and how that is known, and what it comes to."""

import copy
import math
import random
from typing import Any

import pytest

from server.engine import calc

from ..checks import BREAKAWAY, PLATES, UNIT, chain, changed
from ..samples import samples
from .entries import check_near, entry

TAKEN_IN = entry(1, "unit", UNIT, "2026-03-01T09:00:00+01:00", seq=1)
MEASURED = entry(2, "plate_check", PLATES, "2026-03-02T09:00:00+01:00", seq=2)
REBUILT = entry(
    3,
    "rebuild",
    {"fitted": [{"slot": "A3", "mm": 1.95}, {"slot": "B3", "mm": 2.05}], "note": "set up anew"},
    "2026-03-03T09:00:00+01:00",
    seq=3,
)


def built(*entries: dict[str, Any]) -> Any:
    """The unit as it is built now."""
    return calc("standing", {"entries": list(entries)})["built"]


def place(found: dict[str, Any], slot: str) -> Any:
    """What sits in one place."""
    return next(row for row in found["places"] if row["slot"] == slot)


def spring_check(height: float) -> Any:
    """A measured spring of the unit."""
    body = copy.deepcopy(samples("spring_check")[0]["request"])
    body["springs"] = body["springs"][:1]
    body["springs"][0]["points_mm"] = [height, height, height]
    body["springs"][0]["spring"] = UNIT["spring"]
    return body


def test_a_new_unit_is_built_as_it_was_taken_in() -> None:
    found, derived = built(TAKEN_IN), TAKEN_IN["shown"]
    assert {row["known"] for row in found["places"]} == {"nominal"}
    assert (found["crush_mm"], found["preload_n"]) == (derived["crush_mm"], derived["preload_n"])
    assert found["measured"] is None
    assert found["spring_mm"] is None


def test_a_measured_plate_counts_with_its_mean_and_is_judged_by_its_lowest_point() -> None:
    build = built(TAKEN_IN, MEASURED)
    plate = place(build, "A2")
    assert plate["known"] == "measured"
    assert plate["mm"] == pytest.approx((2.46 + 2.45 + 2.46) / 3, abs=1e-12)
    assert plate["lowest_mm"] == 2.45
    assert plate["at"] == MEASURED["at"]
    # Every thickness counts one to one.
    thinner = 2.5 - plate["mm"] + 2.0 - place(build, "A3")["mm"]
    assert build["crush_mm"] == pytest.approx(TAKEN_IN["shown"]["crush_mm"] - thinner, abs=1e-12)


def test_a_fitted_plate_counts_until_it_is_measured() -> None:
    build = built(TAKEN_IN, MEASURED, REBUILT)
    assert (place(build, "A3")["known"], place(build, "A3")["mm"]) == ("fitted", 1.95)
    assert place(build, "A2")["known"] == "measured", "it was not exchanged"
    assert (place(build, "B2")["known"], place(build, "B2")["mm"]) == ("nominal", 2.5)
    again = entry(4, "plate_check", changed(PLATES, plates__1__points_mm=[1.9] * 3), "2026-04-02T09:00:00+02:00", seq=4)
    assert place(built(TAKEN_IN, MEASURED, REBUILT, again), "A3")["mm"] == pytest.approx(1.9)


def test_the_torque_of_this_build_comes_with_its_expanded_uncertainty() -> None:
    before = entry(4, "torque_check", check_near(90), "2026-03-02T08:00:00+01:00", seq=4)
    after = entry(5, "torque_check", check_near(101), "2026-03-04T08:00:00+01:00", seq=5)
    assert built(TAKEN_IN, REBUILT, before)["measured"] is None, "another build's"
    measured = built(TAKEN_IN, REBUILT, before, after)["measured"]
    assert measured == {"torque_nm": after["shown"]["value_nm"], "expanded_nm": after["shown"]["expanded_nm"]}
    assert measured["expanded_nm"] != after["shown"]["guard_nm"], "not the guard band, which is taken at the limit"


def test_a_slow_phones_check_after_a_rebuild_is_of_this_build() -> None:
    # Half an hour after the rebuild, by a clock that is an hour slow.
    slow = entry(6, "torque_check", check_near(101), "2026-03-03T08:30:00+01:00", seq=6, clock_off_s=3600)
    result = calc("standing", {"entries": [TAKEN_IN, REBUILT, slow]})
    assert result["built"]["measured"] is not None
    assert result["order"] == ["id-6", "id-3", "id-1"]
    assert calc("outlook", {"entries": [TAKEN_IN, REBUILT, slow]})["why"].count("there are none"), "no outings noted"


def test_a_spring_counts_with_its_height_until_another_is_fitted() -> None:
    set_ = entry(4, "spring_check", spring_check(6.2), "2026-03-02T10:00:00+01:00", seq=4)
    build = built(TAKEN_IN, set_, REBUILT)
    assert build["spring_mm"] == pytest.approx(6.2)
    assert build["unit"]["spring"]["l0_mm"] == pytest.approx(6.2)
    assert build["strongest"]["spring"]["l0_mm"] == 6.3, "the vice is ready for a new one"
    other = entry(
        7,
        "rebuild",
        {"fitted": [], "spring": "new one", "other_spring": True, "note": "spring"},
        "2026-03-05T09:00:00Z",
        seq=7,
    )
    assert built(TAKEN_IN, set_, REBUILT, other)["spring_mm"] is None


def test_the_height_is_the_mean_of_every_disc_that_was_gauged_whichever_came_last() -> None:
    two = entry(
        1,
        "unit",
        changed(UNIT, layout="two_springs", chain=chain("two_springs"), cavity_mm=67.5),
        "2026-03-01T09:00:00Z",
        seq=1,
    )

    def gauged(number: int, **heights: float) -> Any:
        body = spring_check(6.2)
        rows = [body["springs"][0] | {"slot": slot, "points_mm": [mm] * 3} for slot, mm in heights.items()]
        return entry(number, "spring_check", body | {"springs": rows}, f"2026-03-0{number}T10:00:00+01:00", seq=number)

    both = built(two, gauged(2, S1=6.3, S2=6.1))
    assert both["spring_mm"] == pytest.approx(6.2)
    thinner = 2 * (6.3 - 6.2)
    assert both["crush_mm"] == pytest.approx(two["shown"]["crush_mm"] - thinner, abs=1e-9)
    assert built(two, gauged(2, S1=6.3), gauged(3, S2=6.1))["spring_mm"] == pytest.approx(6.2)
    assert built(two, gauged(2, S1=6.3, S2=6.1), gauged(3, S2=6.0))["spring_mm"] == pytest.approx(6.15)
    assert built(two, gauged(2, left=6.1))["spring_mm"] == pytest.approx(6.1), "by a name that is no place"


def test_the_vice_is_ready_for_the_thickest_that_each_place_has_held() -> None:
    thick = entry(
        4,
        "plate_check",
        changed(PLATES, plates__1__new_mm=2.0, plates__1__points_mm=[2.02] * 3),
        "2026-04-02T09:00:00Z",
        seq=4,
    )
    build = built(TAKEN_IN, thick)
    strongest = {item["slot"]: item["new_mm"] for item in build["strongest"]["chain"]}
    assert strongest["A2"] == 2.5, "worn, but the vice is ready for it as it was"
    assert strongest["A3"] == pytest.approx(2.02)


def test_a_gap_at_first_thread_that_an_older_engine_filled_in_is_nobody_s() -> None:
    cover = {"screws": 8, "screw_mm": 8, "torque_nm": 25}
    older = entry(1, "unit", changed(UNIT, cover=cover), "2026-03-01T09:00:00+01:00", seq=1)
    older["shown"]["checked"]["cover"]["start_mm"] = 2.0
    for name in ("unit", "strongest"):
        assert built(older)[name]["cover"]["start_mm"] is None
    assert calc("closing", {"unit": built(older)["strongest"]})["start_assumed"]
    given = entry(1, "unit", changed(UNIT, cover={**cover, "start_mm": "2"}), "2026-03-01T09:00:00+01:00", seq=1)
    assert built(given)["strongest"]["cover"]["start_mm"] == 2.0


def test_a_plate_without_a_limit_has_that_of_common_practice_and_says_so() -> None:
    unlimited = entry(1, "unit", changed(UNIT, chain__2__minimum_mm=None), "2026-03-01T09:00:00+01:00", seq=1)
    plate = place(built(unlimited), "A2")
    assert (plate["minimum_mm"], plate["usual_minimum"]) == (2.3, True)
    assert place(built(TAKEN_IN), "A2")["usual_minimum"] is False


def test_a_stack_that_is_worn_loose_has_no_preload_and_says_how_loose() -> None:
    worn = entry(
        2,
        "rebuild",
        {
            "fitted": [{"slot": f"{side}{number}", "mm": 0.4} for side in "AB" for number in (1, 2, 3, 4, 5)],
            "note": "x",
        },
        "2026-03-02T09:00:00Z",
        seq=2,
    )
    build = built(TAKEN_IN, worn)
    assert build["preload_n"] is None
    taken = sum((2.5 if number in (2, 4) else 2.0) - 0.4 for number in (1, 2, 3, 4, 5)) * 2
    assert build["crush_mm"] == pytest.approx(TAKEN_IN["shown"]["crush_mm"] - taken, abs=1e-9)
    assert build["warnings"][0]["text"]


def test_how_loose_a_worn_stack_is_counts_the_springs_set_too() -> None:
    thin = [{"slot": f"{side}{number}", "mm": 0.4} for side in "AB" for number in (1, 2, 3, 4, 5)]
    worn = entry(2, "rebuild", {"fitted": thin, "note": "x"}, "2026-03-02T09:00:00Z", seq=2)
    set_ = entry(4, "spring_check", spring_check(6.0), "2026-03-03T10:00:00+01:00", seq=4)
    build = built(TAKEN_IN, worn, set_)
    assert build["crush_mm"] == pytest.approx(built(TAKEN_IN, worn)["crush_mm"] - 0.3, abs=1e-9)
    assert f"{-build['crush_mm']:.3f} mm" in build["warnings"][0]["text"]


def test_crush_is_what_the_places_add_up_to_whatever_was_measured_and_fitted() -> None:
    chance = random.Random(11)
    slots = [item["slot"] for item in UNIT["chain"] if item["part"] not in ("spring", "ring")]
    for _ in range(60):
        fitted = {slot: round(chance.uniform(1.6, 2.7), 2) for slot in chance.sample(slots, chance.randrange(1, 6))}
        rebuilt = {"fitted": [{"slot": slot, "mm": fitted[slot]} for slot in sorted(fitted)], "note": "x"}
        build = built(TAKEN_IN, entry(2, "rebuild", rebuilt, "2026-03-02T09:00:00Z", seq=2))
        total = math.fsum(row["mm"] for row in build["places"]) + UNIT["spring"]["l0_mm"]
        assert build["crush_mm"] == pytest.approx(total - UNIT["cavity_mm"], abs=1e-9)
        for slot, mm in fitted.items():
            assert place(build, slot)["mm"] == mm


def test_a_plate_of_another_kind_does_not_keep_the_limit_of_the_one_before_it() -> None:
    thicker = {"fitted": [{"slot": "A1", "mm": 2.5}, {"slot": "A3", "mm": 2.05}], "note": "x"}
    build = built(TAKEN_IN, entry(2, "rebuild", thicker, "2026-03-02T09:00:00Z", seq=2))
    assert (place(build, "A1")["minimum_mm"], place(build, "A1")["usual_minimum"]) == (2.3, True), "2.0 had 1.9"
    assert (place(build, "A3")["minimum_mm"], place(build, "A3")["usual_minimum"]) == (1.9, False), "the same kind"
    thinner = {"fitted": [{"slot": "A1", "mm": 1.85}], "note": "x"}
    build = built(TAKEN_IN, entry(2, "rebuild", thinner, "2026-03-02T09:00:00Z", seq=2))
    assert place(build, "A1")["minimum_mm"] == 1.702, "a new plate is above its own limit"


def test_a_limit_goes_with_the_piece_from_the_rebuild_into_its_place() -> None:
    thicker = {"fitted": [{"slot": "A1", "mm": 2.5, "minimum_mm": 2.4, "within_mm": 0.01}], "note": "x"}
    rebuilt = entry(2, "rebuild", thicker, "2026-03-02T09:00:00Z", seq=2)
    build = built(TAKEN_IN, rebuilt)
    plate = place(build, "A1")
    assert (plate["minimum_mm"], plate["usual_minimum"], plate["within_mm"]) == (2.4, False, 0.01)
    worn = [{"slot": "A1", "part": "separator", "new_mm": 2.5, "minimum_mm": 2.4, "points_mm": [2.38, 2.38, 2.38]}]
    later = entry(3, "plate_check", changed(PLATES, plates=worn), "2026-04-02T09:00:00Z", seq=3)
    build = built(TAKEN_IN, rebuilt, later)
    assert place(build, "A1")["minimum_mm"] == 2.4
    assert [row["slot"] for row in build["places"] if row["replace"]] == ["A1"]


def test_a_limit_that_was_given_with_the_measurement_counts_where_nobody_gave_another() -> None:
    unlimited = entry(1, "unit", changed(UNIT, chain__2__minimum_mm=None), "2026-03-01T09:00:00+01:00", seq=1)
    own = entry(2, "plate_check", changed(PLATES, plates__0__minimum_mm=2.42), "2026-03-02T09:00:00Z", seq=2)
    plate = place(built(unlimited, own), "A2")
    assert (plate["minimum_mm"], plate["usual_minimum"]) == (2.42, False)
    assert place(built(TAKEN_IN, own), "A2")["minimum_mm"] == 2.3, "the definition's"
    usual = entry(2, "plate_check", changed(PLATES, plates__0__minimum_mm=2.3), "2026-03-02T09:00:00Z", seq=2)
    plate = place(built(unlimited, usual), "A2")
    assert (plate["minimum_mm"], plate["usual_minimum"]) == (2.3, True), "common practice, whoever wrote it down"
    fitted = entry(3, "rebuild", {"fitted": [{"slot": "A2", "mm": 2.5}], "note": "x"}, "2026-03-03T09:00:00Z", seq=3)
    assert place(built(unlimited, own, fitted), "A2")["usual_minimum"], "it went with the plate that was taken out"


def test_how_far_off_a_thickness_may_be_follows_from_how_it_is_known() -> None:
    rebuilt = entry(3, "rebuild", {"fitted": [{"slot": "A3", "mm": 1.95}], "note": "x"}, "2026-03-03T09:00:00Z", seq=3)
    build = built(TAKEN_IN, MEASURED, rebuilt)
    assert place(build, "A2")["within_mm"] == MEASURED["shown"]["plates"][0]["guard_mm"]
    assert place(build, "A3")["within_mm"] == place(build, "B1")["within_mm"] == 0.02
    assert build["spring_within_mm"] is None, "nobody gauged it: the standard's tolerance counts"
    gauged = entry(4, "spring_check", spring_check(6.2), "2026-03-02T10:00:00+01:00", seq=4)
    assert built(TAKEN_IN, gauged)["spring_within_mm"] == gauged["shown"]["guard_mm"]


def test_a_plan_takes_the_places_as_they_stand() -> None:
    build = built(TAKEN_IN, MEASURED)
    shelf = [{"name": "F 2.55", "part": "friction", "mm": 2.55, "count": 2}]
    fields = ("slot", "mm", "lowest_mm", "new_mm", "minimum_mm", "within_mm", "replace")
    fitted = [{name: row[name] for name in fields} for row in build["places"]]
    result = calc("plan", {"unit": build["unit"], "fitted": fitted, "shelf": shelf})
    assert result["now"]["crush_mm"] == pytest.approx(build["crush_mm"], abs=1e-3), "in whole micrometres"


RAMPED = changed(UNIT, ramps={"pin_radius_mm": 34, "drive_deg": 45, "coast_deg": 60})
CHECKED = changed(BREAKAWAY, steady_nm={"forward": [183, 185, 184], "reverse": [184, 184, 184]})
WHEELS = {
    "left": {"load_kg": 200, "grip": 0},
    "right": {"load_kg": 240, "grip": 1.0},
    "tyre_radius_mm": 300,
}


def test_ramps_and_traction_go_by_the_unit_as_it_was_rebuilt_and_measured() -> None:
    taken_in = entry(1, "unit", RAMPED, "2026-03-01T09:00:00+01:00", seq=1)
    checked = entry(4, "torque_check", changed(CHECKED, wrench__high_nm=400), "2026-03-04T09:00:00+01:00", seq=4)
    build = built(taken_in, MEASURED, REBUILT, checked)
    result = calc("ramps", {"built": build})
    assert result["crush_mm"] == pytest.approx(build["crush_mm"], abs=1e-9)
    assert result["crush_mm"] != pytest.approx(taken_in["shown"]["crush_mm"], abs=1e-3)
    assert result["preload_n"] == pytest.approx(build["preload_n"])
    assert result["breakaway_nm"] == pytest.approx(184)
    # One wheel in the air: the packs hold what the wrench felt, twice over, and that drives.
    assert calc("traction", {**WHEELS, "built": build})["unit_nm"] == pytest.approx(2 * 184)
    assert calc("traction", {**WHEELS, "locking_value": 0.4})["unit_nm"] == 0, "what was asked before"


def test_a_spring_between_the_rings_helps_a_wheel_in_the_air_by_what_the_ramps_add() -> None:
    unit = changed(RAMPED, layout="between_rings", chain=chain("between_rings"))
    build = built(entry(1, "unit", unit, "2026-03-01T09:00:00+01:00", seq=1))
    lock = calc("ramps", {"built": build})
    slope, preload = lock["fittings"][0]["drive"]["locking_value"], lock["preload_lock_nm"]
    driven = calc("traction", {**WHEELS, "built": build})
    assert driven["unit_nm"] == pytest.approx(preload / (1 - slope))
    assert "what the ramps add" in driven["text"]


def test_an_order_that_its_limits_turn_down_shows_wherever_the_unit_does() -> None:
    taken_in = entry(1, "unit", changed(UNIT, service__high_nm=95), "2026-03-01T09:00:00Z", seq=1)
    assert "service.high_nm" in [row["name"] for row in built(taken_in)["warnings"]]
