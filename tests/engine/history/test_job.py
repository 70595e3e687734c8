"""What comes next for a unit, what of the job is done, and what the next check starts with."""

from typing import Any

import pytest

from server.engine import calc

from ..checks import BREAKAWAY, PLATES, UNIT, changed
from .entries import check_near, entry

DEFINED = entry(1, "unit", UNIT, "2026-03-01T09:00:00+01:00", seq=1)
STRIPPED = ["drained", "lifted", "caps", "out", "marked", "held", "screws", "relieved", "laid", "cleaned"]
WORN = changed(PLATES)
WORN["plates"][0]["points_mm"] = [2.2, 2.19, 2.2]
SCATTERED = {"forward": [88, 101, 95], "reverse": [92, 104, 90]}
PLANNED = {"fitted": [{"slot": "A2", "part": "friction", "piece": "F1", "mm": 2.5}], "torque_nm": 100}
FITTED = {"fitted": [{"slot": "A2", "piece": "F1", "mm": 2.5}], "note": "One new plate."}


def stands(*entries: dict[str, Any]) -> dict[str, Any]:
    """What stands."""
    return calc("standing", {"entries": [DEFINED, *entries], "today": "2026-05-01"})


def job(*entries: dict[str, Any]) -> tuple[str, str]:
    """What comes next."""
    state = stands(*entries)["job"]
    return state["next"], state["text"]


def check(number: int, low: float, at: str = "2026-04-02T09:00:00+02:00", **circumstances: Any) -> dict[str, Any]:
    return entry(number, "torque_check", check_near(low, **circumstances), at)


def strip(number: int, at: str = "2026-04-03T09:00:00+02:00") -> dict[str, Any]:
    return entry(number, "strip", {"done": STRIPPED, "signed": "Ilse"}, at)


def test_each_state_leads_to_its_step() -> None:
    assert job() == ("check", "Check torque")
    assert job(check(2, 100)) == ("check", "Check torque")
    assert job(check(2, 100, outings=0)) == ("check", "Check again after the first outing")
    assert job(check(2, 50)) == ("plan", "Rework: plan the rebuild")
    assert job(check(2, 71)) == ("check", "Measure again, with a better tool or held the other way")
    worn = entry(3, "plate_check", WORN, "2026-04-02T10:00:00+02:00")
    assert job(check(2, 100), worn) == ("plan", "Replace A2: plan the rebuild")
    assert job(check(2, 50), worn) == ("plan", "Replace A2: plan the rebuild")


def test_in_parts_it_goes_from_the_plates_to_the_lid() -> None:
    begun = [check(2, 50), strip(3)]
    assert job(*begun) == ("plates", "Measure plates")
    good = entry(4, "plate_check", PLATES, "2026-04-03T11:00:00+02:00")
    assert job(*begun, good) == ("plan", "Rework: plan the rebuild")
    assert job(check(2, 100), strip(3), good) == ("close", "Close it")
    built = entry(5, "rebuild", FITTED, "2026-04-03T12:00:00+02:00")
    assert job(*begun, good, built) == ("close", "Close it")


def test_what_is_done_is_ticked_since_the_last_check() -> None:
    good = entry(4, "plate_check", PLATES, "2026-04-03T11:00:00+02:00")
    built = entry(5, "rebuild", FITTED, "2026-04-03T12:00:00+02:00")

    def done(*entries: dict[str, Any]) -> list[str]:
        return [row["name"] for row in stands(*entries)["job"]["steps"] if row["done"]]

    assert done(check(2, 50), strip(3), good) == ["check", "strip", "plates"]
    assert done(check(2, 50), strip(3), good, built) == ["check", "strip", "plates", "plan", "rebuild"]
    assert done(check(2, 50), strip(3), good, built, check(6, 100, "2026-04-04T09:00:00+02:00")) == ["check"]


def test_a_plan_that_was_taken_is_ticked_and_the_job_goes_on_from_it() -> None:
    def after(*entries: dict[str, Any]) -> tuple[str, str, bool]:
        state = stands(*entries)["job"]
        return state["next"], state["text"], {row["name"]: row["done"] for row in state["steps"]}["plan"]

    plan = entry(5, "planned", PLANNED, "2026-04-03T12:00:00+02:00")
    worn = entry(3, "plate_check", WORN, "2026-04-02T10:00:00+02:00")
    assert after(check(2, 50)) == ("plan", "Rework: plan the rebuild", False)
    assert after(check(2, 50), worn, plan) == ("strip", "Strip it", True)
    assert after(check(2, 50), strip(3), plan) == ("plates", "Measure plates", True)
    good = entry(4, "plate_check", PLATES, "2026-04-03T11:00:00+02:00")
    assert after(check(2, 50), strip(3), good, plan) == ("rebuild", "Rebuild as planned", True)

    # What was measured since is not in the plan, one that was withdrawn is none, and one that was built is used up.
    later = entry(6, "plate_check", WORN, "2026-04-03T13:00:00+02:00")
    assert after(check(2, 50), strip(3), plan, later) == ("plan", "Replace A2: plan the rebuild", False)
    withdrawn = entry(6, "note", {"text": "Withdrawn."}, "2026-04-03T13:00:00+02:00", replaces="id-5")
    assert after(check(2, 50), strip(3), good, plan, withdrawn) == ("plan", "Rework: plan the rebuild", False)
    other = {"fitted": [{"slot": "A4", "piece": "F1", "mm": 2.5}], "note": "Another plate."}
    in_parts = [check(2, 50), strip(3), entry(4, "plate_check", WORN, "2026-04-03T11:00:00+02:00"), plan]
    elsewhere = entry(6, "rebuild", other, "2026-04-03T13:00:00+02:00")
    assert after(*in_parts, elsewhere)[:2] == ("plan", "Replace A2: plan the rebuild")
    oil = entry(6, "rebuild", {"note": "New oil.", "oil": "75W-90"}, "2026-04-03T13:00:00+02:00")
    assert after(*in_parts, oil) == ("rebuild", "Rebuild as planned", True)
    assert after(plan, check(6, 50, "2026-04-04T09:00:00+02:00")) == ("plan", "Rework: plan the rebuild", False)


def test_a_spring_in_a_vice_comes_first() -> None:
    left = entry(3, "strip", {"done": STRIPPED[:7], "signed": "Ilse"}, "2026-04-03T09:00:00+02:00")
    assert job(check(2, 50), left) == ("strip", "Finish it: a vice alone holds the spring")


def test_in_parts_nobody_is_sent_to_read_a_torque() -> None:
    good = entry(4, "plate_check", PLATES, "2026-04-03T11:00:00+02:00")
    assert job(check(2, 71), strip(3), good) == ("close", "Close it")


def test_in_parts_worn_plates_that_a_rebuild_left_are_planned_before_it_is_closed() -> None:
    worn = entry(4, "plate_check", WORN, "2026-04-03T11:00:00+02:00")
    other = {"fitted": [{"slot": "A4", "piece": "F1", "mm": 2.5}], "note": "Another plate."}
    left = entry(5, "rebuild", other, "2026-04-03T12:00:00+02:00")
    assert job(check(2, 50), strip(3), worn, left) == ("plan", "Replace A2: plan the rebuild")
    fitted = entry(6, "rebuild", FITTED, "2026-04-03T13:00:00+02:00")
    assert job(check(2, 50), strip(3), worn, left, fitted) == ("close", "Close it")


def test_what_is_not_finished_has_no_tick() -> None:
    def done(*entries: dict[str, Any]) -> set[str]:
        return {row["name"] for row in stands(*entries)["job"]["steps"] if row["done"]}

    left = entry(3, "strip", {"done": STRIPPED[:7], "signed": "Ilse"}, "2026-04-03T09:00:00+02:00")
    assert "strip" not in done(check(2, 50), left)
    assert "strip" in done(check(2, 50), strip(3))
    laid = entry(4, "close", {"done": ["clean"], "signed": "Ilse"}, "2026-04-03T10:00:00+02:00")
    assert "close" not in done(check(2, 50), strip(3), laid)


@pytest.mark.parametrize(
    ("changes", "text"),
    [
        ({"last_nm": 135.0, "steady_nm": {"forward": [99.6, 100, 99.8]}}, "Measure again from the start"),
        ({"steady_nm": {"forward": [110, 105, 100, 95]}}, "Measure again from the start"),
        ({"limits": {"low_nm": 95}}, "Measure again, with a better tool or held the other way"),
        ({"limits": {"low_nm": 88}, "steady_nm": SCATTERED}, "Measure again: three more each way"),
    ],
)
def test_more_readings_are_asked_for_only_where_they_would_decide(changes: dict[str, Any], text: str) -> None:
    read = entry(2, "torque_check", changed(BREAKAWAY, **changes), "2026-04-02T09:00:00+02:00")
    assert job(read) == ("check", text), read["shown"]["next"]


def test_a_check_on_a_scale_in_doubt_is_nothing_to_go_by() -> None:
    # 92 lbf·ft are 124.7 N·m (NIST SP 811), typed as N·m; saved so, the same slip would pass as a go the next time.
    right = check(2, 125, "2026-04-01T09:00:00+02:00", outings=3)
    body = check_near(92, outings=4) | {"last_nm": 125.3}
    wrong = entry(3, "torque_check", body, "2026-04-02T09:00:00+02:00")
    assert wrong["shown"]["next"]["name"] == "unit"
    start = stands(right, wrong)["start"]
    assert start["last"] == "id-3"
    assert start["last_nm"] == pytest.approx(125.3, abs=0.1)
    fresh = check(2, 125, "2026-04-01T09:00:00+02:00", outings=0)
    assert stands(fresh, wrong)["start"]["last_nm"] is None
    assert stands(wrong)["start"]["last_nm"] is None


@pytest.mark.parametrize(
    ("entries", "start"),
    [
        ([], {"last": None, "last_nm": None, "outings": None, "against": "service"}),
        (
            [check(2, 100)],
            {"last": "id-2", "last_nm": pytest.approx(100, abs=1), "outings": None, "against": "service"},
        ),
        (
            [check(2, 100, outings="7")],
            {"last": "id-2", "last_nm": pytest.approx(100, abs=1), "outings": 7, "against": "service"},
        ),
        (
            [check(2, 100, outings="0")],
            {"last": "id-2", "last_nm": None, "outings": 0, "against": "service"},
        ),
        (
            [check(2, 100, outings="7"), entry(5, "rebuild", FITTED, "2026-04-03T12:00:00+02:00")],
            {"last": "id-2", "last_nm": None, "outings": 0, "against": "order"},
        ),
        (
            [check(2, 100, outings="7"), check(3, 99, "2026-04-05T09:00:00+02:00")],
            {"last": "id-3", "last_nm": pytest.approx(99, abs=1), "outings": 7, "against": "service"},
        ),
    ],
)
def test_the_next_check_starts_with_what_the_log_knows(entries: list[dict[str, Any]], start: dict[str, Any]) -> None:
    assert stands(*entries)["start"] == start


def test_a_note_in_the_place_of_a_check_undoes_it() -> None:
    undone = entry(3, "note", {"text": "Undone."}, "2026-04-02T09:01:00+02:00", replaces="id-2")
    state = stands(check(2, 50), undone)
    assert state["torque"] is None
    assert state["replaced"] == {"id-2": "id-3"}
    assert state["start"]["last"] is None


def test_a_unit_without_an_order_is_judged_by_its_limits() -> None:
    unit = {name: value for name, value in UNIT.items() if name != "order"}
    defined = entry(1, "unit", unit, "2026-03-01T09:00:00+01:00", seq=1)
    built = entry(5, "rebuild", FITTED, "2026-04-03T12:00:00+02:00")
    found = calc("standing", {"entries": [defined, check(2, 100), built], "today": "2026-05-01"})
    assert found["start"]["against"] == "service"


@pytest.mark.parametrize(
    ("unit", "reason"),
    [
        (None, "100.3 N·m. Limits: 70.0 N·m to 130.0 N·m. Good to run."),
        ("nm", "100.3 N·m. Limits: 70.0 N·m to 130.0 N·m. Good to run."),
        # NIST SP 811, B.8: 1 lbf·ft is 1.355 818 N·m.
        ("lbf_ft", "74.0 lbf·ft. Limits: 51.6 lbf·ft to 95.9 lbf·ft. Good to run."),
    ],
)
def test_the_reason_stands_in_the_readers_unit(unit: str | None, reason: str) -> None:
    request = {"entries": [DEFINED, check(2, 100)], "today": "2026-05-01"} | ({"write_in": unit} if unit else {})
    found = calc("standing", request)
    assert found["reason"] == reason
    assert found["torque"]["reason"] == reason
