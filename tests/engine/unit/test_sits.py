"""Where in the car a unit sits: what is said of it, where a unit between the axles is refused, and units of old."""

import copy
from typing import Any

import pytest

from server.engine import BadInput, calc

from ..samples import sample

COMPLAINT = sample("complaint", "pushes on power in slow corners, a usual car")
CORNER = sample("corner_map", "a usual car")
TRACTION = sample("traction", "as built")
CENTRE = sample("standing", "a unit between the axles")


def sitting(request: dict[str, Any], where: str) -> dict[str, Any]:
    request_there = copy.deepcopy(request)
    request_there["built"]["unit"]["sits"] = where
    return request_there


@pytest.mark.parametrize(
    ("name", "request_"), [("complaint", COMPLAINT), ("corner_map", CORNER), ("traction", TRACTION)]
)
def test_what_is_about_two_wheels_says_nothing_of_a_centre_unit(name: str, request_: dict[str, Any]) -> None:
    for where in ("front", "rear"):
        assert calc(name, sitting(request_, where)) == calc(name, request_)
    with pytest.raises(BadInput) as refusal:
        calc(name, sitting(request_, "centre"))
    assert refusal.value.field == "built.unit.sits"
    assert "shafts to the front and to the rear" in refusal.value.reason


def test_a_unit_of_old_stands_as_it_did() -> None:
    old = copy.deepcopy(CENTRE)
    del old["entries"][0]["body"]["sits"], old["entries"][0]["shown"]["checked"]["sits"]
    found = calc("standing", old)
    assert found["sits"] == {
        "where": None,
        "text": "",
        "corner": "",
        "car": "",
        "goes_back": "Back into the axle",
    }
    assert found["job"]["steps"][-1]["text"] == "Back into the axle"
    assert calc("standing", CENTRE)["job"]["steps"][-1]["text"] == "Back into its housing"
    assert calc("standing", CENTRE)["verdict"] == found["verdict"]


def test_the_sheet_says_where_it_sits() -> None:
    def rows(entries: list[dict[str, Any]]) -> dict[str, str]:
        found = calc("sheet", {"entries": entries, "today": "2026-11-25"})["sheet"]
        return {row["title"]: row["text"] for row in found["rows"]}

    centre = rows(CENTRE["entries"])
    assert centre["Sits"] == "centre, between the axles"
    assert "Into the axle" not in centre
    assert "output shafts" in centre["Into its housing"]
