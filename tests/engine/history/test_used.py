"""Outings that are logged and those that checks tell of: how they make one count, and what is due by it."""

from typing import Any

import pytest

from server.engine import calc

from ..checks import chain
from .entries import check_near, entry

UNIT: dict[str, Any] = {"name": "Bramble", "service": {"low_nm": 60}}


def unit(**service: Any) -> dict[str, Any]:
    """A unit with intervals."""
    return entry(1, "unit", {**UNIT, "service": {"low_nm": 60, **service}}, at(1), seq=1)


def at(day: int, hour: int = 9) -> str:
    return f"2026-05-{day:02d}T{hour:02d}:00:00+02:00"


def outing(number: int, written: str, **body: Any) -> dict[str, Any]:
    return entry(number, "outing", {"where": "Old airfield", **body}, written, seq=number)


def check(number: int, written: str, outings: int | None = None, torque: float = 90.0) -> dict[str, Any]:
    body = check_near(torque) if outings is None else check_near(torque, outings=outings)
    return entry(number, "torque_check", body, written, seq=number)


def rebuild(number: int, written: str) -> dict[str, Any]:
    return entry(number, "rebuild", {"fitted": [], "note": "Set up."}, written, seq=number)


def standing(*entries: dict[str, Any], today: str = "2026-05-20") -> Any:
    return calc("standing", {"entries": list(entries), "today": today})


def test_a_check_that_says_more_than_was_logged_says_that_some_were_not() -> None:
    log = [unit(), rebuild(2, at(1, 10)), *[outing(number, at(number)) for number in (3, 4, 5, 6)], check(7, at(7), 6)]
    used = standing(*log)["used"]
    assert (used["outings"], used["logged"], used["unlogged"]) == (6, 4, 2)
    assert used["text"] == (
        "6 outings since the rebuild on 2026-05-01, 4 of them logged. "
        "The check of 2026-05-07 says 6, so 2 were not logged."
    )
    assert used["contradictions"] == []
    assert standing(*log, outing(8, at(8)))["used"]["outings"] == 7


def test_a_check_that_says_less_is_told_and_the_count_never_falls() -> None:
    log = [unit(), rebuild(2, at(1, 10)), *[outing(number, at(number)) for number in (3, 4, 5)], check(6, at(7), 2)]
    found = standing(*log)
    assert found["used"]["outings"] == 3
    assert [row["outings"] for row in found["trend"]] == [3]
    assert found["used"]["contradictions"] == [
        {
            "id": "id-6",
            "text": "The check of 2026-05-07 says 2 outings since the rebuild, but 3 are logged by then: "
            "3 are counted until you correct the check, or undo an outing that was not run.",
        }
    ]


def test_where_nothing_was_logged_a_check_says_its_own_figure_even_if_it_falls() -> None:
    found = standing(unit(), check(2, at(2), 6), check(3, at(3), 3), check(4, at(4)))
    assert [row["outings"] for row in found["trend"]] == [6, 3, None]
    assert (found["used"]["text"], found["used"]["contradictions"]) == ("", [])
    assert found["start"]["outings"] == 6


def test_an_outing_counts_from_its_own_day_in_the_life_that_it_was_in() -> None:
    late = outing(5, at(9), day="2026-05-02", minutes=30)
    found = standing(unit(), check(2, at(3), 1), rebuild(3, at(4)), check(4, at(5), 0), late)
    assert (found["used"]["outings"], found["used"]["logged"]) == (0, 0)
    assert [row["outings"] for row in found["trend"]] == [1, 0]


def test_an_outing_written_in_the_evening_is_one_that_the_check_of_noon_counted() -> None:
    log = [unit(), rebuild(2, at(1, 10)), check(3, at(2, 12), 1), outing(4, at(2, 20)), outing(5, at(2, 21))]
    used = standing(*log)["used"]
    assert (used["outings"], used["unlogged"]) == (2, 0)


def test_an_evening_further_west_still_belongs_to_the_check_of_that_day() -> None:
    log = [
        unit(),
        rebuild(2, at(1, 10)),
        check(3, "2026-05-02T20:59:00+00:00", 1),
        check(4, "2026-05-03T00:39:00+00:00"),
    ]
    late = outing(5, "2026-05-04T09:00:00-05:00", day="2026-05-02")
    used = standing(*log, late)["used"]
    assert (used["outings"], used["unlogged"]) == (1, 0)


def test_an_undone_outing_no_longer_counts() -> None:
    undo = entry(5, "note", {"text": "Undone."}, at(4), seq=5, replaces="id-4")
    assert standing(unit(), outing(3, at(2)), outing(4, at(3)), undo)["used"]["outings"] == 1


def test_the_next_check_begins_with_what_was_logged() -> None:
    order = entry(1, "unit", UNIT | {"order": {"torque_nm": 90, "tolerance_nm": 5}}, at(1), seq=1)
    fresh = [order, rebuild(2, at(1, 10))]
    assert (standing(*fresh)["start"]["outings"], standing(*fresh)["start"]["against"]) == (0, "order")
    start = standing(*fresh, outing(3, at(2)), outing(4, at(3)))["start"]
    assert (start["outings"], start["against"]) == (2, "service")


def test_a_check_fresh_from_a_rebuild_is_due_again_once_it_ran() -> None:
    log = [unit(), rebuild(2, at(1, 10)), check(3, at(1, 11), 0)]
    assert [row["text"] for row in standing(*log)["due"]][:1] == [
        "Checked fresh from a rebuild: check again after the first outing."
    ]
    assert [row["text"] for row in standing(*log, outing(4, at(2)))["due"]][:1] == [
        "Checked fresh from a rebuild, and 1 outing since: check it again now."
    ]


def test_the_trend_goes_by_hours_where_each_outing_has_its_time() -> None:
    log = [unit(), rebuild(2, at(1, 10))]
    for place, torque in enumerate((96.0, 93.0, 90.0)):
        log.append(outing(3 + 2 * place, at(2 + place), minutes=30))
        log.append(check(4 + 2 * place, at(2 + place, 12), torque=torque))
    ahead = calc("outlook", {"entries": log, "use": "hours"})
    assert ahead["uses"] == ["outings", "hours"]
    assert [row["use"] for row in ahead["checks"]] == [0.5, 1.0, 1.5]
    assert ahead["life"]["slope"] == pytest.approx(-6.0)
    log[2] = outing(3, at(2))
    ahead = calc("outlook", {"entries": log, "use": "hours"})
    assert (ahead["uses"], ahead["life"]) == (["outings"], None)
    assert "with their hours logged" in ahead["why"]


def test_what_was_run_since_the_last_check_is_no_longer_left() -> None:
    log = [unit(), rebuild(2, at(1, 10))]
    for place, torque in enumerate((96.0, 93.0, 90.0, 87.0)):
        log.append(outing(3 + 2 * place, at(2 + place)))
        log.append(check(4 + 2 * place, at(2 + place, 12), torque=torque))
    before, after = (calc("outlook", {"entries": rows})["life"] for rows in (log, [*log, outing(11, at(8))]))
    assert after["due_use"] == pytest.approx(before["due_use"])
    assert after["left_use"] == pytest.approx(before["left_use"] - 1)


def test_oil_is_due_by_what_comes_first() -> None:
    log = [unit(oil_every_outings=3, oil_every_days=30), outing(2, at(2)), outing(3, at(3))]
    [row] = standing(*log)["upkeep"]
    assert (row["first"], row["due"], row["due_on"]) == ("outings", False, "2026-05-31")
    assert row["text"] == (
        "Change the oil in 1 outing or by 2026-05-31, whichever comes first; unit added on 2026-05-01."
    )
    due = [row["text"] for row in standing(*log, outing(4, at(4)))["due"]]
    text = "Change the oil: unit added on 2026-05-01, 3 outings since; allowed: 3 outings."
    assert text in due
    changed = entry(5, "service", {"oil_changed": True}, at(5), seq=5)
    [row] = standing(*log, outing(4, at(4)), changed, outing(6, at(6)))["upkeep"]
    assert (row["since"], row["due"], row["measures"][0]["left"]) == ("2026-05-05", False, 2)
    assert standing(*log, today="2026-05-31")["upkeep"][0]["due"] is False
    assert standing(*log, today="2026-06-01")["upkeep"][0]["due"] is True


def test_plates_are_due_by_outings_and_once_a_season_beside() -> None:
    log = [unit(plates_every_outings=2), rebuild(2, at(1, 10)), outing(3, at(2)), outing(4, at(3))]
    [row] = standing(*log)["upkeep"]
    assert [(each["measure"], each["every"]) for each in row["measures"]] == [("outings", 2), ("days", 365)]
    text = "Measure the plates: rebuilt on 2026-05-01, 2 outings since; allowed: 2 outings."
    assert text in [row["text"] for row in standing(*log)["due"]]
    assert standing(unit(), rebuild(2, at(1, 10)), outing(3, at(2)))["upkeep"] == []


STACK = [item for item in chain() if item["part"] in ("friction", "separator")]


def measured(number: int, written: str, plates: list[dict[str, Any]]) -> dict[str, Any]:
    rows = [{**plate, "points_mm": [plate["new_mm"] - 0.03] * 3} for plate in plates]
    return entry(number, "plate_check", {"micrometer": {"division_mm": 0.01}, "plates": rows}, written, seq=number)


def new_plates(number: int, written: str) -> dict[str, Any]:
    body = {"fitted": [{"slot": plate["slot"], "mm": plate["new_mm"]} for plate in STACK], "note": "Set up."}
    return entry(number, "rebuild", body, written, seq=number)


def with_stack(**service: Any) -> dict[str, Any]:
    return entry(1, "unit", {**UNIT, "chain": chain(), "service": {"low_nm": 60, **service}}, at(1), seq=1)


def plates_since(*entries: dict[str, Any]) -> tuple[str, float]:
    """Day from which the plates' interval runs, and outings since."""
    [row] = standing(*entries)["upkeep"]
    return row["since"], row["measures"][0]["used"]


def test_plates_that_were_all_measured_after_a_rebuild_go_by_that_measurement() -> None:
    log = [with_stack(plates_every_outings=5), new_plates(2, at(2)), outing(3, at(3))]
    assert plates_since(*log) == ("2026-05-02", 1)
    assert plates_since(*log, measured(4, at(4), STACK), outing(5, at(5)), outing(6, at(6))) == ("2026-05-04", 2)
    # One of them is known from the rebuild alone.
    assert plates_since(*log, measured(4, at(4), STACK[1:]), outing(5, at(5))) == ("2026-05-02", 2)


def test_a_rebuild_that_fits_no_plates_does_not_begin_their_interval_anew() -> None:
    log = [with_stack(plates_every_outings=5), new_plates(2, at(2)), outing(3, at(3)), rebuild(4, at(4))]
    assert plates_since(*log, outing(5, at(5))) == ("2026-05-02", 2)
    assert plates_since(log[0], rebuild(4, at(4)), outing(5, at(5))) == ("2026-05-04", 1)


def test_by_days_alone_plates_go_by_the_same_measurement() -> None:
    log = [with_stack(plates_every_days=10), new_plates(2, at(2)), measured(3, at(9), STACK)]
    assert standing(*log, today="2026-05-19")["plates_by"] == "2026-05-19"
    assert "plates" not in [row["name"] for row in standing(*log, today="2026-05-19")["due"]]
    [late] = [row["text"] for row in standing(*log, today="2026-05-20")["due"] if row["name"] == "plates"]
    assert late == "Measure the plates: last done 11 days ago, 10 days are allowed."


def test_a_corrected_day_counts_although_it_is_later_than_the_first_writing() -> None:
    log = [unit(oil_every_outings=3), rebuild(2, at(1, 10)), outing(3, at(2), day="2026-05-02"), check(4, at(3), 0)]
    moved = entry(5, "outing", {"where": "Old airfield", "day": "2026-05-04"}, at(5), seq=5, replaces="id-3")
    found = standing(*log, moved)
    assert [row["outings"] for row in found["trend"]] == [0]
    assert (found["used"]["outings"], found["used"]["contradictions"]) == (1, [])
    oil = entry(6, "service", {"oil_changed": True, "day": "2026-05-05"}, at(5), seq=6)
    mended = entry(7, "service", {"oil_changed": True, "day": "2026-05-07"}, at(8), seq=7, replaces="id-6")
    [row] = standing(*log, moved, oil, outing(8, at(6)), mended)["upkeep"]
    assert (row["since"], row["measures"][0]["used"]) == ("2026-05-07", 0)


def test_a_day_that_was_still_to_come_by_the_clock_counts_as_the_day_of_writing() -> None:
    ahead = outing(3, at(2), day="2026-05-09")
    assert [row["outings"] for row in standing(unit(), ahead, check(4, at(3)))["trend"]] == [1]


def checks_due(*entries: dict[str, Any], today: str) -> list[str]:
    return [row["text"] for row in standing(*entries, today=today)["due"] if row["name"] in ("check", "torque")]


def test_a_torque_that_was_checked_more_than_a_year_ago_is_to_be_checked_again() -> None:
    log = [unit(), check(2, at(7))]
    assert checks_due(*log, today="2027-05-07") == []
    text = "Check the torque: checked on 2026-05-07, 366 days since; allowed: 365 days."
    assert checks_due(*log, today="2027-05-08") == [text]
    assert checks_due(*log, check(3, at(9)), today="2027-05-09") == []
    # Whoever gives an interval has decided on it.
    assert checks_due(unit(check_every_outings=9), check(2, at(7)), today="2028-05-08") == []
    [after] = checks_due(*log, rebuild(3, at(9)), today="2028-05-08")
    assert after.startswith("Rebuilt on 2026-05-09 and not torque-checked since")
