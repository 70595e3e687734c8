"""What stands of the features of other parts: the last look at each, until its part is replaced.

Source of the rules: design of the log; what comes out of a unit says nothing of what took its place.
"""

from typing import Any

import pytest

from server.engine import calc
from tests.engine.checks import UNIT

from .entries import check_near, entry

PIN = {"name": "Cross pin diameter", "part": "cross_pins", "measure": "size", "new_mm": 16, "change_mm": 0.05}
CRACK = {"name": "Case cracks", "part": "case", "measure": "crack"}
DEFINED = UNIT | {"features": [PIN, CRACK]}


def day(number: int) -> str:
    return f"2026-04-{number:02d}T09:00:00Z"


def inspected(number: int, **found: Any) -> dict[str, Any]:
    """An inspection of the pin (its thickness) or of the case (what the crack test found)."""
    rows = [{**PIN, "points_mm": found["pin"]}] if "pin" in found else []
    rows += [{**CRACK, "crack": found["crack"]}] if "crack" in found else []
    return entry(number, "inspection", {"features": rows}, day(number), seq=number)


def replaced(number: int, *names: str) -> dict[str, Any]:
    return entry(number, "rebuild", {"note": "New parts.", "replaced": list(names)}, day(number), seq=number)


def check(number: int) -> dict[str, Any]:
    return entry(number, "torque_check", check_near(101), day(number), seq=number)


def stands(*entries: dict[str, Any]) -> Any:
    return calc("standing", {"entries": [entry(1, "unit", DEFINED, day(1), seq=1), *entries]})


def test_every_feature_stands_in_the_definition_s_order_inspected_or_not() -> None:
    state = stands(check(2))
    assert state["verdict"] == "go"
    assert [(row["name"], row["verdict"], row["reason"]) for row in state["features"]] == [
        ("Cross pin diameter", None, "Not inspected yet."),
        ("Case cracks", None, "Not inspected yet."),
    ]


@pytest.mark.parametrize(
    ("found", "verdict"), [({"pin": [15.99]}, "go"), ({"pin": [15.9]}, "replace"), ({"crack": "crack"}, "replace")]
)
def test_a_feature_s_verdict_is_the_unit_s(found: dict[str, Any], verdict: str) -> None:
    state = stands(check(2), inspected(3, **found))
    assert state["verdict"] == verdict
    if verdict != "go":
        assert state["reason"] == next(row["reason"] for row in state["features"] if row["verdict"] == verdict)


def test_it_counts_until_the_part_is_replaced_or_looked_at_again() -> None:
    worn = inspected(2, pin=[15.9], crack="crack")
    assert stands(worn, check(3), replaced(4), check(5))["verdict"] == "replace"
    assert stands(worn, replaced(4, "Cross pin diameter"), check(5))["verdict"] == "replace"
    both = stands(worn, replaced(4, "Cross pin diameter", "Case cracks"), check(5))
    assert (both["verdict"], both["features"][0]["reason"]) == ("go", "Replaced, and not inspected since.")
    assert stands(worn, inspected(4, pin=[15.99], crack="none"), check(5))["verdict"] == "go"
    # One of them looked at again leaves the other as it was.
    assert stands(worn, inspected(4, pin=[15.99]), check(5))["verdict"] == "replace"


def test_a_feature_that_the_unit_no_longer_has_counts_no_more() -> None:
    worn = inspected(2, pin=[15.9], crack="none")
    state = stands(worn, check(3), entry(4, "unit", UNIT | {"features": [CRACK]}, day(4), seq=4))
    assert state["verdict"] == "go"
    assert [row["name"] for row in state["features"]] == ["Case cracks"]
    # Definitions of old know of no features at all.
    assert stands(worn, check(3), entry(4, "unit", UNIT, day(4), seq=4))["features"] == []


def test_the_trend_begins_anew_with_a_new_part() -> None:
    looks = [inspected(2, pin=[16.0, 15.995]), inspected(3, pin=[15.98]), inspected(4, crack="none")]
    row = stands(*looks)["features"][0]
    assert [(point["lowest_mm"], point["id"]) for point in row["trend"]] == [(15.995, "id-2"), (15.98, "id-3")]
    assert (row["lowest_mm"], row["change_mm"], row["id"]) == (15.98, pytest.approx(-0.02), "id-3")
    later = stands(*looks, replaced(5, "Cross pin diameter"), inspected(6, pin=[16.0]))["features"][0]
    assert [point["id"] for point in later["trend"]] == ["id-6"]


def test_a_correction_takes_the_place_of_what_it_corrects() -> None:
    again = inspected(3, pin=[15.99]) | {"replaces": "id-2"}
    state = stands(inspected(2, pin=[15.9]), again, check(4))
    assert (state["verdict"], state["features"][0]["id"]) == ("go", "id-3")


def test_the_job_leads_to_what_is_worn_by_the_part_s_name() -> None:
    state = stands(check(2), inspected(3, pin=[15.9], crack="crack"))
    assert state["job"]["text"] == "Replace case and cross pins: plan the rebuild"
    unclear = stands(check(2), inspected(3, crack="unclear"))
    assert (unclear["job"]["next"], unclear["job"]["text"]) == ("inspect", "Inspect case again")
    assert {"name": "inspect", "text": "Inspect other parts", "done": True} in unclear["job"]["steps"]


def test_a_unit_without_features_has_no_such_step() -> None:
    plain = calc("standing", {"entries": [entry(1, "unit", UNIT, day(1), seq=1), check(2)]})
    assert "inspect" not in [step["name"] for step in plain["job"]["steps"]]
    assert plain["features"] == []


def test_entries_of_older_engines_stay_as_they_are() -> None:
    old = entry(1, "unit", UNIT, day(1), seq=1)
    del old["shown"]["checked"]["features"]
    built = entry(2, "rebuild", {"note": "x"}, day(2), seq=2)
    state = calc("standing", {"entries": [old, built, check(3)]})
    assert (state["verdict"], state["features"]) == ("go", [])
