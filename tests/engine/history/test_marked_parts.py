"""Marked parts by hand: where each is, what it ran, what it brings along, and what screws have been through."""

from typing import Any

import pytest

from server.engine import BadInput, calc
from tests.engine.checks import UNIT, changed
from tests.engine.history.entries import check_near, entry

SPRING: dict[str, Any] = {
    "gauge": {"division_mm": 0.01, "deviation_mm": 0.03},
    "springs": [{"slot": "S1", "spring": UNIT["spring"], "points_mm": [5.9, 5.9, 5.9]}],
}
COVER = {"name": "Cover screws", "part": "screws", "measure": "used", "most_uses": 1, "counted": "closing"}
CRACKS = {"name": "Case cracks", "part": "case", "measure": "crack"}
STRIPPED = {"done": ["held", "screws"], "guide": 2, "signed": "Ilse"}
CLOSED = {"done": ["held", "started", "screws"], "guide": 2, "signed": "Ilse"}


def log(unit: dict[str, Any], *done: tuple[str, dict[str, Any]]) -> list[dict[str, Any]]:
    """Entries of a unit, one a day."""
    entries = [entry(1, "unit", unit, "2026-03-01T08:00:00Z")]
    for number, (kind, body) in enumerate(done, 2):
        entries.append(entry(number, kind, body, f"2026-03-{number:02d}T08:00:00Z"))
    return entries


def stands(*entries: dict[str, Any]) -> dict[str, Any]:
    return calc("standing", {"entries": list(entries)})


def parts(**units: list[dict[str, Any]]) -> dict[str, Any]:
    """Every marked part by its name; `units` are the entries of each unit."""
    stays = [
        stay | {"unit": name, "unit_name": name}
        for name, entries in units.items()
        for stay in stands(*entries)["marked_parts"]["stays"]
    ]
    return {row["name"]: row for row in calc("marked_parts", {"stays": stays})["parts"]}


def marked(mark: str = "", out_mark: str = "", **more: Any) -> dict[str, Any]:
    return {"part": "spring", "place": "S1", "mark": mark, "out_mark": out_mark} | more


def rebuild(*rows: dict[str, Any]) -> tuple[str, dict[str, Any]]:
    return "rebuild", {"note": "Set up.", "marked_parts": list(rows)}


WITH_14 = changed(UNIT, marked_parts=[{"part": "spring", "mark": "14"}])


def test_a_spring_goes_from_one_unit_to_another_with_what_it_ran_and_what_was_found() -> None:
    first = log(
        WITH_14,
        ("outing", {"minutes": 30}),
        ("outing", {"minutes": 60}),
        ("spring_check", SPRING),
        rebuild(marked("15", "14")),
    )
    found = parts(Bramble=first)
    assert found["spring 14"]["where"] == "stock"
    assert found["spring 14"]["verdict"] == "replace"
    brought = found["spring 14"]["for_rebuild"]["found"]
    assert [(row["verdict"], row["unit_name"], row["day"]) for row in brought] == [("replace", "Bramble", "2026-03-04")]

    second = log(UNIT, rebuild(marked(" 14", found=brought)), ("outing", {"minutes": 30}))
    now = stands(*second)
    assert now["verdict"] == "replace"
    assert now["reason"].startswith("Spring 14 was judged replace in Bramble on 2026-03-04")
    assert now["job"]["text"] == "Replace spring 14: plan the rebuild"
    spring = parts(Bramble=first, Sorrel=second)["spring 14"]
    assert (spring["where"], spring["unit"], spring["place"]) == ("unit", "Sorrel", "S1")
    assert (spring["outings"], spring["hours"], spring["exact"]) == (3, 2.0, True)
    assert spring["used"] == "3 outings, 2.0 h."
    assert [stay["unit_name"] for stay in spring["stays"]] == ["Sorrel", "Bramble"]


def test_what_was_brought_along_ends_when_somebody_looks_again() -> None:
    brought = {"verdict": "replace", "reason": "S1 low.", "unit_name": "Bramble"}
    good = changed(SPRING, springs__0__points_mm=[6.3, 6.3, 6.3])
    before = log(UNIT, rebuild(marked("14", found=[brought])))
    assert stands(*before)["verdict"] == "replace"
    after = log(UNIT, rebuild(marked("14", found=[brought])), ("spring_check", good))
    assert stands(*after)["marked_parts"]["brought"] == []
    assert parts(Sorrel=after)["spring 14"]["verdict"] == "go"


def test_a_feature_that_was_found_bad_elsewhere_counts_until_that_feature_is_inspected() -> None:
    unit = changed(UNIT, features=[CRACKS, {"name": "Case bore", "part": "case", "measure": "size", "new_mm": 90}])
    brought = {"feature": "Case cracks", "verdict": "replace", "reason": "Crack found.", "unit_name": "Bramble"}
    case = {"part": "case", "mark": "C2", "found": [brought]}
    bore = ("inspection", {"features": [unit["features"][1] | {"points_mm": [90.0]}]})
    cracks = ("inspection", {"features": [CRACKS | {"crack": "none"}]})
    assert stands(*log(unit, rebuild(case), bore))["verdict"] == "replace"
    assert stands(*log(unit, rebuild(case), bore, cracks))["marked_parts"]["brought"] == []


def test_a_spring_of_two_that_is_exchanged_leaves_what_was_found_of_the_other() -> None:
    two: dict[str, Any] = changed(UNIT, layout="two_springs", cavity_mm=None)
    two["chain"] = [*UNIT["chain"], {"slot": "S2", "part": "spring"}]
    both = changed(SPRING)
    both["springs"].append(changed(SPRING["springs"][0], slot="S2"))
    found = stands(*log(two, ("spring_check", both), rebuild(marked("15"))))
    assert [row["slot"] for row in found["parts"]] == ["S2"]


def test_a_ring_by_its_mark_alone_ends_what_was_found_of_the_ring_before() -> None:
    rings = {"gauge": {"division_mm": 0.01}, "rings": [{"slot": name, "steps_mm": [0.2]} for name in ("R1", "R2")]}
    ring = {"part": "ring", "place": "r1", "mark": "7"}
    found = stands(*log(UNIT, ("ring_check", rings), rebuild(ring)))
    assert [row["slot"] for row in found["parts"]] == ["R2"]


def test_a_mark_that_was_read_only_as_it_came_out_takes_its_history_along() -> None:
    spring = parts(Bramble=log(UNIT, ("outing", {}), rebuild(marked("", "14", out_to="away"))))["spring 14"]
    assert (spring["where"], spring["outings"], spring["exact"]) == ("away", 1, False)
    assert spring["used"] == "1 outing, hours not known."
    assert spring["text"] == "Spring 14 left for another workshop. It came out of Bramble on 2026-03-03."


def test_a_part_in_two_units_at_once_is_told() -> None:
    units = {"Bramble": log(WITH_14), "Sorrel": log(UNIT, ("outing", {}), rebuild(marked("14")))}
    spring = parts(**units)["spring 14"]
    assert spring["unit"] == "Sorrel"
    assert spring["says"] == [
        "Spring 14 is in two places at once: Bramble, S1 and Sorrel, S1, from 2026-03-03 on. Say in a rebuild that it "
        "came out of one of them, or correct the mark; until then what it ran counts in both."
    ]


def test_another_mark_that_comes_out_than_went_in_is_told_and_mended_by_a_correction() -> None:
    entries = log(WITH_14, rebuild(marked("15", "41")))
    found = parts(Bramble=entries)
    assert found["spring 14"]["where"] == "unknown"
    assert found["spring 41"]["where"] == "stock"
    assert "says that 41 came out: correct the one that is wrong." in found["spring 14"]["says"][0]
    right = entry(9, "rebuild", rebuild(marked("15", "14"))[1], "2026-03-20T08:00:00Z", replaces="id-2")
    found = parts(Bramble=[*entries, right])
    assert sorted(found) == ["spring 14", "spring 15"]
    assert found["spring 15"]["since"] == "2026-03-02T08:00:00Z"
    assert not found["spring 14"]["says"]


def test_a_rebuild_that_is_taken_back_moved_nothing() -> None:
    entries = log(WITH_14, rebuild(marked("15", "14")))
    taken_back = entry(9, "note", {"text": "Not done."}, "2026-03-20T08:00:00Z", replaces="id-2")
    found = parts(Bramble=[*entries, taken_back])
    assert list(found) == ["spring 14"]
    assert found["spring 14"]["where"] == "unit"


@pytest.mark.parametrize(("off_s", "outings"), [(0, 0), (-6 * 86400, 1)])
def test_a_clock_that_was_found_wrong_is_put_right_before_anything_is_counted(off_s: float, outings: int) -> None:
    entries = log(WITH_14)
    clock = {"clock_off_s": off_s}
    entries.append(entry(2, "rebuild", rebuild(marked("15", "14"))[1], "2026-03-10T08:00:00Z", **clock))
    entries.append(entry(3, "outing", {}, "2026-03-05T08:00:00Z"))
    found = parts(Bramble=entries)
    assert (found["spring 15"]["outings"] or 0, found["spring 14"]["outings"] or 0) == (outings, 1 - outings)


def test_another_spring_without_a_mark_ends_the_stay_of_a_marked_one() -> None:
    entries = log(WITH_14, ("rebuild", {"note": "x", "spring": "A new one."}))
    found = parts(Bramble=entries)["spring 14"]
    assert found["where"] == "unknown"
    assert found["text"].startswith("Nobody said where spring 14 is.")


def test_a_mark_is_looked_up_however_it_is_written() -> None:
    stays = [stay | {"unit": "u", "unit_name": ""} for stay in stands(*log(WITH_14))["marked_parts"]["stays"]]
    wanted = [{"part": "spring", "mark": " 14 "}, {"part": "case", "mark": "14"}, {"part": "spring"}]
    answer = calc("marked_parts", {"stays": stays, "asked": wanted})
    assert [row["key"] for row in answer["asked"]] == ["14", None, None]


def test_numbers_in_marks_are_put_in_order_by_size() -> None:
    marks = ["S10", "S2", "10", "9", "A"]
    units = {f"Unit {mark}": log(changed(UNIT, marked_parts=[{"part": "case", "mark": mark}])) for mark in marks}
    assert [row["mark"] for row in parts(**units).values()] == ["9", "10", "A", "S2", "S10"]


@pytest.mark.parametrize(
    ("rows", "field", "sentence"),
    [
        ([marked()], "marked_parts.0.mark", "Type the mark of what went in, or of what came out."),
        (
            [marked("a 1", "A  1")],
            "marked_parts.0.mark",
            "Spring a 1 came out and went in: correct a mark, or remove this line.",
        ),
        ([marked("1"), marked("2", place="s1")], "marked_parts.1.place", "s1 is there twice: say which one this is."),
        (
            [marked("1"), marked("1", place="S2")],
            "marked_parts.1.mark",
            "Spring 1 is there twice: give each a mark of its own.",
        ),
        ([marked("1", uses=2)], "marked_parts.0.uses", "Only screws are counted: leave this empty."),
    ],
)
def test_marked_parts_that_contradict_themselves_are_refused(
    rows: list[dict[str, Any]], field: str, sentence: str
) -> None:
    with pytest.raises(BadInput) as refused:
        calc("rebuild", {"note": "x", "marked_parts": rows})
    assert (refused.value.field, refused.value.reason) == (field, sentence)


def test_a_spring_cannot_be_the_same_and_another() -> None:
    with pytest.raises(BadInput) as refused:
        calc("rebuild", {"note": "x", "other_spring": False, "marked_parts": [marked("1")]})
    assert refused.value.field == "marked_parts.0.part"


def screws(*done: tuple[str, dict[str, Any]], **more: Any) -> dict[str, Any]:
    """What stands of the cover's screws."""
    row: dict[str, Any] = stands(*log(changed(UNIT, features=[COVER | more]), *done))["features"][0]
    return row


NEW = ("rebuild", {"note": "x", "replaced": ["Cover screws"]})


def test_single_use_screws_warn_from_when_they_are_loose_again() -> None:
    closed = screws(NEW, ("close", CLOSED))
    assert (closed["uses"], closed["verdict"], closed["at_closing"]) == (1, "go", closed["reason"])
    opened = screws(NEW, ("close", CLOSED), ("strip", STRIPPED))
    assert (opened["uses"], opened["verdict"]) == (1, "replace")
    assert opened["at_closing"] == (
        "Cover screws: used once, and may be used once in all: fit new ones before it is closed."
    )
    again = screws(NEW, ("close", CLOSED), ("strip", STRIPPED), ("close", CLOSED))
    assert (again["uses"], again["verdict"], again["at_closing"]) == (2, "replace", again["reason"])
    mended = screws(NEW, ("close", CLOSED), ("strip", STRIPPED), NEW, ("close", CLOSED))
    assert (mended["uses"], mended["verdict"]) == (1, "go")


def test_what_nobody_logged_is_counted_from_what_followed() -> None:
    check = ("torque_check", check_near(98))
    bare: tuple[str, dict[str, Any]] = ("rebuild", {"note": "x"})
    assert screws(NEW, check)["uses"] == 1
    # A close that is signed after the check is the same one.
    assert screws(NEW, check, ("close", CLOSED))["uses"] == 1
    assert screws(NEW, ("outing", {}), bare, ("outing", {}))["uses"] == 2
    # Whoever rebuilds it again has closed it in between.
    assert screws(NEW, bare)["uses"] == 1
    # Opened to look, and closed again.
    assert screws(NEW, ("close", CLOSED), ("close", CLOSED))["uses"] == 2


def test_screws_that_it_was_added_with_were_used_at_least_once() -> None:
    row = screws(most_uses=3)
    assert (row["uses"], row["verdict"]) == (1, None)
    assert row["reason"].startswith("Cover screws: used at least once, and may be used 3 times in all.")
    # An inspection says how often, and the log counts on.
    inspected = ("inspection", {"features": [COVER | {"most_uses": 3, "uses": 2}]})
    row = screws(("strip", STRIPPED), inspected, ("close", CLOSED), most_uses=3)
    assert (row["uses"], row["verdict"]) == (3, "go")
    row = screws(("strip", STRIPPED), inspected, ("close", CLOSED), ("strip", STRIPPED), ("close", CLOSED), most_uses=3)
    assert (row["uses"], row["verdict"]) == (4, "replace")


def test_a_unit_that_ran_before_it_was_first_closed_was_closed_already() -> None:
    row = screws(("outing", {}), ("close", CLOSED), most_uses=9)
    assert (row["uses"], row["verdict"]) == (2, None)
    # One that was closed first was built up before that.
    row = screws(("close", CLOSED), most_uses=9)
    assert (row["uses"], row["verdict"]) == (1, "go")


def test_an_inspection_that_says_less_than_the_log_is_told() -> None:
    inspected = ("inspection", {"features": [COVER | {"most_uses": 5, "uses": 0}]})
    row = screws(NEW, ("close", CLOSED), inspected, most_uses=5)
    assert row["uses"] == 1
    assert row["reason"].endswith("The inspection of 2026-03-04 says 0, and the log counts 1 by then.")


def test_a_marked_set_of_screws_takes_its_count_along() -> None:
    unit = changed(UNIT, features=[COVER | {"most_uses": 2}], marked_parts=[{"part": "screws", "mark": "K"}])
    first = log(unit, ("strip", STRIPPED), rebuild({"part": "screws", "out_mark": "K", "mark": "L"}), ("close", CLOSED))
    old = parts(Bramble=first)["screw set K"]
    assert old["for_rebuild"]["uses"] == 1
    bare = changed(unit, marked_parts=None)
    second = log(bare, rebuild({"part": "screws", "mark": "K", "uses": 1}), ("close", CLOSED))
    row = stands(*second)["features"][0]
    assert (row["uses"], row["verdict"]) == (2, "go")
    assert parts(Bramble=first, Sorrel=second)["screw set K"]["uses"] == 2
    third = [
        *second,
        entry(8, "strip", STRIPPED, "2026-03-08T08:00:00Z"),
        entry(9, "close", CLOSED, "2026-03-09T08:00:00Z"),
    ]
    assert stands(*third)["features"][0]["verdict"] == "replace"


def test_crown_wheel_screws_are_counted_as_the_unit_goes_back() -> None:
    screwed = {"readings_nm": [88, 90], "low_nm": 80, "high_nm": 100, "tool": {"division_nm": 1}}
    refit = ("refit", {"screws": screwed})
    # A cover that is closed tightens none of them.
    assert screws(NEW, ("close", CLOSED), counted="refit")["uses"] == 0
    assert screws(NEW, ("close", CLOSED), refit, counted="refit")["uses"] == 1


def test_only_times_used_are_counted_by_the_log() -> None:
    with pytest.raises(BadInput) as refused:
        calc("unit", changed(UNIT, features=[CRACKS | {"counted": "closing"}]))
    assert refused.value.field == "features.0.counted"


def test_the_sheet_says_what_is_in_it_and_how_often_its_screws_were_used() -> None:
    unit = changed(WITH_14, features=[COVER | {"most_uses": 3}])
    entries = log(unit, rebuild(marked("15", "14"), {"part": "case", "mark": "C2"}), ("close", CLOSED))
    rows = calc("sheet", {"entries": entries, "today": "2026-04-01"})["sheet"]["rows"]
    text_by_title = {row["title"]: row["text"] for row in rows}
    assert text_by_title["Marked parts"] == "case C2, spring 15 (S1)"
    assert text_by_title["Exchanged"] == "spring 15 for 14, case C2"
    assert text_by_title["Other parts"].startswith(
        "Cover screws: used at least 2 times, and may be used 3 times in all."
    )


def test_a_mark_that_was_copied_into_many_units_is_told_in_a_few_sentences() -> None:
    units = {f"unit {number}": log(WITH_14) for number in range(40)}
    [spring] = [row for name, row in parts(**units).items() if name == "spring 14"]
    assert len(spring["says"]) == 31
    assert spring["says"][-1] == "Spring 14 is in more places at once: one mark was given to more than one part."
