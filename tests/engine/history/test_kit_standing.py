"""The tools and the shelf that stand, from the entries that belong to no unit, whatever order they come in."""

import random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from server.engine import KINDS, calc

BEAM = {"name": "Long beam", "kind": "beam", "high_nm": 150, "division_nm": 2}
SPRING_SCALE = {"name": "Spring scale", "kind": "pull_scale", "high_n": 500, "division_n": 2}


def entry(number: int, kind: str, body: dict[str, Any], **more: Any) -> dict[str, Any]:
    """An entry of no unit, as the log holds it."""
    shown = calc(KINDS[kind].calculation, body)
    heading = {"id": f"id-{number}", "unit": "", "kind": kind, "at": f"2026-03-{number:02d}T09:00:00Z", "seq": number}
    return {**heading, "body": body, "shown": shown, **more}


def wrench(number: int, name: str = "Long beam", **more: Any) -> dict[str, Any]:
    """An entry that brings in or changes a wrench; `of` names the tool that it changes, `gone` puts it out of use."""
    body = {"tool": "wrench", "wrench": {**BEAM, "name": name}}
    body.update({"id": more.pop("of")} if "of" in more else {})
    body.update({"gone": more.pop("gone")} if "gone" in more else {})
    return entry(number, "kit", body, **more)


def shelf(number: int, count: int, **more: Any) -> dict[str, Any]:
    """A count of the shelf."""
    return entry(number, "shelf", {"pieces": [{"name": "2.50", "part": "friction", "mm": 2.5, "count": count}]}, **more)


def stands(*entries: dict[str, Any]) -> dict[str, Any]:
    """What stands."""
    return calc("kit_standing", {"entries": list(entries)})


def tools(found: dict[str, Any]) -> list[tuple[str, str, str]]:
    """Id, kind and name of the tools, in order."""
    return [(tool["id"], tool["tool"], tool["name"]) for tool in found["tools"]]


def test_nothing_stands_where_nothing_was_entered() -> None:
    nothing: dict[str, Any] = {
        "tools": [],
        "cars": [],
        "shelf": [],
        "shelf_count": 0,
        "shelf_entry": None,
        "counts": [],
        "count_ids": [],
        "patterns": [],
        "knows": [],
    }
    nothing["letterhead"], nothing["customers"] = None, []
    assert stands() == nothing


def test_every_tool_stands_under_its_own_id_sorted_by_name() -> None:
    scale = entry(1, "kit", {"tool": "scale", "scale": SPRING_SCALE})
    micrometer = entry(2, "kit", {"tool": "micrometer", "micrometer": {"name": "Mike"}})
    state = stands(scale, micrometer, wrench(3), wrench(4))
    assert tools(state) == [
        ("id-3", "wrench", "Long beam"),
        ("id-4", "wrench", "Long beam"),
        ("id-2", "micrometer", "Mike"),
        ("id-1", "scale", "Spring scale"),
    ]
    assert state["tools"][3]["body"] == scale["body"]


def test_a_change_keeps_the_tools_id_and_counts_from_then_on() -> None:
    assert tools(stands(wrench(1), wrench(2, "Short beam", of="id-1"))) == [("id-1", "wrench", "Short beam")]
    assert tools(stands(wrench(1), wrench(2, gone="yes", of="id-1"), wrench(3))) == [("id-3", "wrench", "Long beam")]
    back = (wrench(1), wrench(2, gone="yes", of="id-1"), wrench(3, gone="no", of="id-1"))
    assert tools(stands(*back)) == [("id-1", "wrench", "Long beam")]


def test_a_correction_takes_the_place_of_what_it_corrects() -> None:
    assert tools(stands(wrench(1, "Log beam"), wrench(2, replaces="id-1"))) == [("id-1", "wrench", "Long beam")]
    gone_by_mistake = wrench(2, gone="yes", of="id-1")
    mended = wrench(3, "Short beam", of="id-1", replaces="id-2")
    assert tools(stands(wrench(1), gone_by_mistake, mended)) == [("id-1", "wrench", "Short beam")]
    assert stands(shelf(1, 6), shelf(2, 5, replaces="id-1"))["shelf"][0]["count"] == 5


def test_the_last_count_of_the_shelf_stands_by_arrival_and_one_on_its_way_comes_last() -> None:
    late = shelf(1, 4, seq=9)
    assert stands(late, shelf(2, 6))["shelf"] == late["shown"]["pieces"]
    on_its_way = shelf(1, 3, seq=None)
    assert stands(on_its_way, late, shelf(2, 6))["shelf"][0]["count"] == 3


@settings(max_examples=30)
@given(st.randoms(use_true_random=False))
def test_the_order_in_the_request_does_not_matter(chance: random.Random) -> None:
    entries = [
        *(wrench(1), wrench(2, "Short beam", of="id-1"), wrench(3, "Third"), shelf(4, 6), shelf(5, 7)),
        wrench(6, gone="yes", of="id-3"),
    ]
    shuffled = list(entries)
    chance.shuffle(shuffled)
    assert stands(*shuffled) == stands(*entries)
    assert tools(stands(*shuffled)) == [("id-1", "wrench", "Short beam")]
    assert stands(*shuffled)["shelf"][0]["count"] == 7


def test_a_calibration_has_run_out_once_its_last_day_is_past() -> None:
    due = entry(1, "kit", {"tool": "wrench", "wrench": {**BEAM, "calibration_due": "2026-03-31"}})
    for today, past in (("2026-03-31", False), ("2026-04-01", True), (None, False)):
        [tool] = calc("kit_standing", {"entries": [due], "today": today})["tools"]
        assert tool["overdue"] is past


def test_the_shelf_is_counted() -> None:
    assert stands()["shelf_count"] == 0
    assert stands(shelf(1, 6))["shelf_count"] == 6


def car(number: int, name: str, **more: Any) -> dict[str, Any]:
    """An entry that brings in or changes a car."""
    return entry(number, "car", {"name": name, **more})


def test_a_car_stands_by_its_newest_entry_until_it_is_gone() -> None:
    def cars(*entries: dict[str, Any]) -> list[tuple[str, str]]:
        return [(row["id"], row["name"]) for row in stands(*entries)["cars"]]

    both = (car(1, "Red car"), car(2, "Blue car"))
    assert cars(*both) == [("id-2", "Blue car"), ("id-1", "Red car")]
    assert cars(*both, car(3, "Green car", id="id-1")) == [("id-2", "Blue car"), ("id-1", "Green car")]
    assert cars(*both, car(3, "Red car", id="id-1", gone="yes")) == [("id-2", "Blue car")]
    assert stands(*both)["cars"][0]["body"] == {"name": "Blue car"}
