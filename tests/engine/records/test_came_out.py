"""Where plates that come out of a unit may go, and why."""

from typing import Any

from server.engine import calc

PLACE = {
    **{"slot": "A2", "part": "friction", "mm": 2.45, "lowest_mm": 2.447, "known": "measured", "within_mm": 0.004},
    **{"at": None, "new_mm": 2.5, "minimum_mm": 2.35, "usual_minimum": False, "replace": False},
}


def out(looked: dict[str, Any], **place: Any) -> dict[str, Any]:
    """The plate from A2, by its last measurement."""
    request = {"unit_name": "Bramble", "places": [{**PLACE, **place}], "by_slot": {"A2": looked}, "slots": ["A2"]}
    [plate] = calc("came_out", request)["plates"]
    return dict(plate)


def test_a_plate_that_is_thick_enough_and_has_to_go_says_for_what() -> None:
    cracked = {"verdict": "replace", "reason": "A2: deep scoring, blue from heat, cracks."}
    plate = out(cracked, replace=True)
    assert (plate["start"], plate["why"]) == ("scrap", "its last check found: deep scoring, blue from heat, cracks")


def test_a_worn_plate_says_what_is_left_of_it_and_its_limit_where_it_is_measured() -> None:
    plate = out({"verdict": "replace", "reason": "A2: 2.340 mm, below 2.350 mm."}, replace=True, lowest_mm=2.34)
    assert (plate["start"], plate["why"]) == ("scrap", "worn: its last check found 2.340 mm")


def test_a_plate_that_has_to_go_and_says_nothing_more_is_scrap_and_not_called_worn() -> None:
    plate = out({"verdict": "replace"}, replace=True)
    assert (plate["start"], plate["why"]) == ("scrap", "its last check says that it has to be replaced")
