"""What a strip found: in the order in which parts come out, counted since it was begun, until it is answered."""

from typing import Any

import pytest

from server.engine import BadInput, calc

from ..checks import PLATES, UNIT, changed
from .entries import entry

CRACK = {"name": "Case cracks", "part": "case", "measure": "crack"}
SCREWS = {"name": "Cover screws", "part": "screws", "measure": "used", "most_uses": 3}
DEFINED = {**UNIT, "features": [CRACK, SCREWS]}
DONE = ["drained", "out", "held", "screws", "relieved"]
WORN = changed(PLATES, plates__0__points_mm=[2.05, 2.06, 2.05])


def at(day: int, hour: int = 9) -> str:
    return f"2026-06-{day:02d}T{hour:02d}:00:00+02:00"


def stripped(number: int = 2, day: int = 2) -> dict[str, Any]:
    return entry(number, "strip", {"done": DONE, "guide": 2, "signed": "Ilse"}, at(day), seq=number)


TAKEN_IN = entry(1, "unit", DEFINED, at(1), seq=1)
MEASURED = entry(3, "plate_check", WORN, at(2, 11), seq=3)


def cracked(number: int, answer: str) -> dict[str, Any]:
    return entry(number, "inspection", {"features": [{**CRACK, "crack": answer}]}, at(2, 12), seq=number)


def found(*entries: dict[str, Any], **settings: Any) -> Any:
    return calc("strip_found", {"entries": [TAKEN_IN, *entries], **settings})


def part(answer: Any, name: str) -> Any:
    return next(row for row in answer["parts"] if row["name"] == name)


def test_everything_is_to_be_looked_at_in_the_order_in_which_it_comes_out() -> None:
    answer = found(stripped())
    names = [row["name"] for row in answer["parts"]]
    assert names == ["Cover screws", *(item["slot"] for item in UNIT["chain"] if item["part"] != "shim"), "Case cracks"]
    assert {row["state"] for row in answer["parts"]} == {"unseen"}
    assert (answer["open"], answer["stripped"], answer["verdict"]) == (True, at(2), None)
    assert answer["text"] == f"0 of {len(names)} looked at."


def test_only_what_was_measured_since_the_strip_counts() -> None:
    before = entry(4, "plate_check", PLATES, at(1, 11), seq=4)
    assert part(found(before, stripped()), "A2")["state"] == "unseen"
    answer = found(before, stripped(), MEASURED)
    assert (part(answer, "A2")["state"], part(answer, "A3")["state"]) == ("replace", "go")
    assert part(answer, "A2")["id"] == "id-3"
    assert answer["verdict"] == "replace"
    # A strip of the next season begins anew.
    assert part(found(stripped(), MEASURED, stripped(5, 20)), "A2")["state"] == "unseen"


def test_what_is_worn_is_to_be_ordered_until_it_is_exchanged() -> None:
    answer = found(stripped(), MEASURED)
    assert answer["order"] == [{"what": "friction plate, 2.500 mm when new", "count": 1, "names": ["A2"]}]
    assert part(answer, "A2")["asks"]
    fitted = entry(6, "rebuild", {"note": "Set up.", "fitted": [{"slot": "A2", "mm": 2.5}]}, at(3), seq=6)
    answer = found(stripped(), MEASURED, fitted)
    assert part(answer, "A2")["answer"] == "exchanged on 2026-06-03, 2.500 mm fitted"
    assert not part(answer, "A2")["asks"]
    assert answer["order"] == []
    # What was found stays as it was found.
    assert part(answer, "A2")["state"] == "replace"


def test_a_closing_answers_what_was_found() -> None:
    body = {"done": ["held", "started", "screws"], "guide": 2, "signed": "Ilse"}
    answers = [{"name": "A2", "answer": "left", "why": "one outing only, then it is replaced"}]
    closed = entry(6, "close", {**body, "answers": answers}, at(3), seq=6)
    answer = found(stripped(), MEASURED, closed)
    assert not answer["open"]
    assert part(answer, "A2")["answer"] == "left as it is: one outing only, then it is replaced"
    assert not part(answer, "A2")["asks"]
    with pytest.raises(BadInput) as refused:
        calc("close", {**body, "answers": [{"name": "A2", "answer": "left"}]})
    assert (refused.value.field, refused.value.reason) == ("answers.0.why", "Say why A2 stays as it is.")


def test_other_parts_count_as_well() -> None:
    answer = found(stripped(), MEASURED, cracked(4, "crack"))
    assert part(answer, "Case cracks")["state"] == "replace"
    assert [row["what"] for row in answer["order"]] == ["friction plate, 2.500 mm when new", "Case cracks (case)"]
    replaced = entry(6, "rebuild", {"note": "New case.", "replaced": ["Case cracks"]}, at(3), seq=6)
    answer = found(stripped(), MEASURED, cracked(4, "crack"), replaced)
    assert part(answer, "Case cracks")["answer"] == "replaced on 2026-06-03"
    assert part(found(stripped(), cracked(4, "none")), "Case cracks")["state"] == "go"


def test_marked_parts_that_were_exchanged_answer_for_their_own_places() -> None:
    two = {
        **DEFINED,
        "layout": "two_springs",
        "cavity_mm": None,
        "chain": [*UNIT["chain"], {"slot": "S2", "part": "spring"}],
    }
    springs = [{"slot": slot, "spring": UNIT["spring"], "points_mm": [5.9, 5.9, 5.9]} for slot in ("S1", "S2")]
    worn = entry(3, "spring_check", {"gauge": {"division_mm": 0.01}, "springs": springs}, at(2, 11), seq=3)
    marked = [{"part": "spring", "place": "s2", "mark": "15"}, {"part": "case", "out_mark": "C1"}]
    rebuilt = entry(6, "rebuild", {"note": "Set up.", "marked_parts": marked}, at(3), seq=6)
    taken_in = entry(1, "unit", two, at(1), seq=1)
    answer = calc("strip_found", {"entries": [taken_in, stripped(), worn, cracked(4, "crack"), rebuilt]})
    assert part(answer, "S2")["answer"] == "spring 15 fitted on 2026-06-03"
    assert part(answer, "S1")["asks"]
    assert part(answer, "Case cracks")["answer"] == "another one fitted on 2026-06-03"


def test_nobody_answers_what_was_not_found_yet() -> None:
    body = {"done": ["held", "started", "screws"], "guide": 2, "signed": "Ilse"}
    fitted = entry(4, "rebuild", {"note": "Set up.", "fitted": [{"slot": "A2", "mm": 2.5}]}, at(3), seq=4)
    closed = entry(5, "close", {**body, "answers": [{"name": "A2", "answer": "put_right"}]}, at(4), seq=5)
    # What was fitted is measured, and it is worn too.
    again = entry(6, "plate_check", WORN, at(5), seq=6)
    for done in ([fitted], [closed], [MEASURED, fitted], [MEASURED, fitted, closed]):
        answer = found(stripped(), *done, again)
        assert part(answer, "A2")["asks"]
        assert part(answer, "A2")["answer"] == ""
        assert answer["order"][0]["names"] == ["A2"]


def test_a_unit_of_which_nothing_is_known_says_so() -> None:
    answer = calc("strip_found", {"entries": []})
    assert answer["text"] == "Nothing is known of its parts yet: add what the unit has in it."
    assert (answer["stripped"], answer["open"], answer["verdict"]) == (None, False, None)
