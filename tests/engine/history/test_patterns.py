"""The patterns that stand: by their newest entry, whatever order entries come in, with what was overwritten unseen."""

import itertools
from typing import Any

from server.engine import calc

LOW = {"service": {"low_nm": 45}}


def entry(number: int, body: dict[str, Any], knows: list[int], **more: Any) -> dict[str, Any]:
    """An entry of a pattern, written knowing others, as the log holds it; on its way without `seq`."""
    heading: dict[str, Any] = {
        "id": f"id-{number}",
        "unit": "",
        "kind": "pattern",
        "at": f"2026-03-{number:02d}T09:00:00Z",
    }
    heading |= {"who": "Mara", "device": "d", "knows": [f"id-{other}" for other in knows], "clock": {"fell_s": 0}}
    return {**heading, "seq": number, "body": body, "shown": {"verdict": None}, **more}


def stand(*entries: dict[str, Any]) -> list[dict[str, Any]]:
    """The patterns that stand, the same in whatever order their entries come."""
    found = [calc("kit_standing", {"entries": list(order)})["patterns"] for order in itertools.permutations(entries)]
    assert all(rows == found[0] for rows in found)
    patterns: list[dict[str, Any]] = found[0]
    return patterns


FIRST = entry(1, {"name": "Hillclimb", **LOW}, [])


def test_a_pattern_is_known_by_its_first_entry_and_stands_as_its_newest_says() -> None:
    renamed = entry(2, {"name": "Hillclimb, wide", "id": "id-1", **LOW}, [1])
    [pattern] = stand(FIRST, renamed)
    assert (pattern["id"], pattern["name"], pattern["entry"], pattern["gone"]) == (
        "id-1",
        "Hillclimb, wide",
        "id-2",
        False,
    )
    # A unit of it is made with two fields, and has seen the pattern as it is.
    link = {"id": "id-1", "name": "Hillclimb, wide", "seen": "id-2"}
    assert pattern["unit"] == {**LOW, "pattern": link}
    assert calc("unit", {**pattern["unit"], "name": "Bramble 9", "owner": "Ilse"})["checked"]["pattern"] == link
    assert pattern["overwritten"] == []
    assert [row["entry"] for row in pattern["history"]] == ["id-2", "id-1"]


def test_a_withdrawn_pattern_stays_known_and_can_come_back() -> None:
    gone = entry(2, {"name": "Hillclimb", "id": "id-1", "gone": "yes", **LOW}, [1])
    assert [pattern["gone"] for pattern in stand(FIRST, gone)] == [True]
    back = entry(3, {"name": "Hillclimb", "id": "id-1", **LOW}, [2])
    assert [pattern["gone"] for pattern in stand(FIRST, gone, back)] == [False]


def test_two_changes_at_once_the_later_one_counts_and_the_other_is_pointed_out_until_somebody_saw_both() -> None:
    ours = entry(2, {"name": "Hillclimb", "id": "id-1", "service": {"low_nm": 50}}, [1], who="Tove")
    theirs = entry(3, {"name": "Hillclimb", "id": "id-1", **LOW, "note": "wide"}, [1])
    [pattern] = stand(FIRST, ours, theirs)
    assert pattern["entry"] == "id-3"
    [lost] = pattern["overwritten"]
    assert (lost["entry"], lost["base"], lost["who"]) == ("id-2", "id-1", "Tove")
    # What it changed, of all that differs between the two.
    offer = {"own": theirs["body"], "seen": FIRST["body"], "wanted": ours["body"]}
    found = calc("pattern_offer", offer)
    assert [(row["now"], row["offered"]) for row in found["offers"]] == [("45.0 N·m", "50.0 N·m")]
    both = calc("pattern_offer", {**offer, "accepted": ["service.low_nm"]})["body"]
    assert both == {"name": "Hillclimb", "id": "id-1", "service": {"low_nm": 50}, "note": "wide"}
    [settled] = stand(FIRST, ours, theirs, entry(4, both, [2, 3]))
    assert (settled["body"], settled["overwritten"]) == (both, [])


def test_of_several_changes_in_a_row_on_one_phone_the_last_is_pointed_out() -> None:
    renamed = entry(2, {"name": "A", "id": "id-1"}, [1])
    two = entry(3, {"name": "B", "id": "id-1"}, [2])
    [pattern] = stand(FIRST, renamed, two, entry(4, {"name": "C", "id": "id-1"}, [1]))
    assert [row["entry"] for row in pattern["overwritten"]] == ["id-3"]


def test_a_correction_of_the_first_entry_is_the_same_pattern() -> None:
    corrected = entry(2, {"name": "Hill climb"}, [1], replaces="id-1")
    again = entry(3, {"name": "Hill-climb"}, [2], replaces="id-2")
    [pattern] = stand(FIRST, corrected, again)
    assert (pattern["id"], pattern["name"], pattern["overwritten"]) == ("id-1", "Hill-climb", [])


def test_patterns_stand_by_name_beside_kit_and_shelf() -> None:
    tool = entry(3, {"tool": "micrometer", "micrometer": {"name": "Mike"}}, [2], kind="kit")
    found = stand(FIRST, entry(2, {"name": "circuit"}, [1]), tool)
    assert [pattern["name"] for pattern in found] == ["circuit", "Hillclimb"]
