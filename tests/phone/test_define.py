"""The form of a unit: how much is typed for a full one, with thumbs, at the keyboard and with Enter alone."""

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer, until
from .hands import Hands
from .test_just_check import Counted
from .test_just_check import empty as empty
from .test_story import delivered, entries_on_disk

pytestmark = pytest.mark.in_reach

UNIT = "Rowan 3"

# Ten plates in two classes of separators, with a drawing in hand: each figure once, by its label.
FIGURES = {
    "Breakaway ordered": "65",
    "Give or take": "5",
    "Lowest torque it may run with": "45",
    "Highest torque it may run with": "90",
    "Friction plate thickness": "2.0",
    "Friction plate limit": "1.8",
    "Separator thickness": "2.5",
    "Separator limit": "2.3",
    "Second separator thickness": "1.5",
    "Second separator limit": "1.3",
    "Ramp ring thickness": "18",
    "Outside diameter De": "100",
    "Inside diameter Di": "51",
    "Thickness t": "3.5",
    "Free height l0": "6.3",
    "Depth, cover face to floor": "62",
    "Rubbing ring, inside": "72",
    "Rubbing ring, outside": "104",
    "Pin radius": "34",
    "Screw torque": "25",
}
# What is often so is a key: angles of the ramps, and the screws.
KEYS = ("Drive ramp, degrees: 45", "Coast ramp, degrees: 60", "How many: 8", "Thread: 8")
SECTIONS = ("Plates and rings", "Disc spring", "Depth", "Rubbing ring", "Ramps", "Cover screws")


@pytest.fixture
def known(empty: RunningServer, hands: Hands) -> Hands:
    """Somebody whose name the phone knows, at the form of a new unit."""
    page = hands.page
    page.goto(empty.address)
    page.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Ilse Marrow'))")
    page.goto(f"{empty.address}/#/unit/new")
    return hands


def stored(server: RunningServer) -> dict[str, Any]:
    """The one unit of the log, once it is there, as it was typed."""
    [unit] = [entry for entry in entries_on_disk(server) if entry["kind"] == "unit"]
    body: dict[str, Any] = unit["body"]
    return body


def test_a_full_unit_of_two_classes_takes_twenty_figures(empty: RunningServer, known: Hands) -> None:
    page = known.page
    known.type("Name of the unit", UNIT)
    count = Counted(known)
    known.section(*SECTIONS)
    known.choose("one spring in line")
    known.button("Separators of two thicknesses")
    for label, figure in FIGURES.items():
        known.type(label, figure)
    for key in KEYS:
        known.button(key, exact=True)
    print(f"{count.fields} figures typed, {count.taps} keys")
    assert count.fields <= 20
    # A section opened is one key, and two make the two classes.
    assert count.taps <= len(SECTIONS) + 2 + len(KEYS)
    # What is known stands beside it: torque with its band, force at the vice, travel, lock.
    for figure in ("torque", "vice", "travel", "drive", "coast"):
        expect(page.locator(f".figures [data-figure={figure}]")).to_be_visible()
    expect(page.locator(".section .state.done")).to_have_count(8)
    known.button("Add the unit")
    expect(page.get_by_role("heading", name=UNIT)).to_be_visible()
    delivered(page)
    body = stored(empty)
    plates = [
        (item["slot"], item["new_mm"], item.get("minimum_mm")) for item in body["chain"] if item["slot"][0] in "AB"
    ]
    two = {"1": ("2.5", "2.3"), "2": ("2.0", "1.8"), "3": ("1.5", "1.3"), "4": ("2.0", "1.8"), "5": ("2.5", "2.3")}
    assert plates == [(f"{side}{number}", *two[number]) for side in "AB" for number in two]
    assert body["ramps"] == {"mu": "0.1", "pin_radius_mm": "34", "drive_deg": "45", "coast_deg": "60"}
    assert (body["cover"]["screws"], body["cover"]["screw_mm"]) == ("8", "8")


# From the name on, field by field; what stays empty or as it stands is left by Enter alone.
WITH_ENTER = [
    *[UNIT, "", "65", "5", "45", "90", "", ""],
    *["2.0", "1.8", "2.5", "2.3", "18"],
    *["100", "51", "3.5", "6.3", "", ""],
    *["63.9", "72", "104", "", "34", "45", "60"],
    *["8", "8", "25", "", ""],
]


@pytest.mark.parametrize("size", [(360, 640), (1280, 800)])
def test_enter_alone_goes_through_all_sections_to_the_key_that_saves(
    empty: RunningServer, phone: Page, size: tuple[int, int]
) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(empty.address)
    phone.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Ilse Marrow'))")
    phone.goto(f"{empty.address}/#/unit/new")
    phone.get_by_label("Name of the unit", exact=True).focus()
    for figure in WITH_ENTER:
        here = phone.locator(":focus")
        if figure:
            phone.keyboard.type(figure)
        # The dimension that is typed is the one that is drawn strong, and its field is not covered.
        path = here.get_attribute("data-field") or ""
        if path.startswith(("spring.de", "cavity", "friction.outer", "ramps.drive")):
            expect(phone.locator(".dimension.typed")).to_have_count(1)
            until(phone, f"() => ({IN_SIGHT})(document.activeElement)")
        phone.keyboard.press("Enter")
    save = phone.get_by_role("button", name="Add the unit")
    expect(save).to_be_focused()
    expect(save).to_be_enabled()
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    delivered(phone)
    assert stored(empty)["spring"]["l0_mm"] == "6.3"


# Whether a field is what one sees at its middle.
IN_SIGHT = """(field) => {
    const { left, top, width, height } = field.getBoundingClientRect();
    return field.contains(document.elementFromPoint(left + width / 2, top + height / 2));
}"""

# The stack of a unit that mixes what the form types together, and figures that only other versions wrote.
MIXED = {
    "name": "Of many kinds",
    "layout": "between_rings",
    "chain": [
        {"slot": "A1", "part": "separator", "new_mm": {"typed": "0,08", "unit": "inch"}, "minimum_mm": "1.9"},
        {"slot": "A2", "part": "friction", "new_mm": 2.5},
        {"slot": "shim", "part": "shim", "new_mm": "0.10"},
        {"slot": "R1", "part": "ring", "new_mm": "18"},
        {"slot": "S1", "part": "spring", "cone_to": "cover"},
        {"slot": "R2", "part": "ring", "new_mm": "17.9"},
        {"slot": "B1", "part": "friction", "new_mm": "2.5", "minimum_mm": "2.3"},
    ],
    "limits": {"taper_mm": "0.02", "flatness_mm": "0.2"},
    "judged_on": "steady",
    "stated_for": "case_held",
    "hub_ratio": "1",
}
AGAIN = """(body) => slipbook.part("screens/unit/define-draft.js").then(({ draftAgain, unitDraft, unitRequest }) => {
    const draft = unitDraft(body);
    return [unitRequest(draft), unitRequest(draftAgain(JSON.parse(JSON.stringify(draft))))].map(JSON.stringify);
})"""


def holds(again: Any, before: Any) -> bool:
    """Whether all that was there is there still, just as it was; a group's fields that were left out may be there."""
    if isinstance(before, dict) and isinstance(again, dict):
        return all(name in again and holds(again[name], value) for name, value in before.items())
    if isinstance(before, list) and isinstance(again, list):
        return len(again) == len(before) and all(map(holds, again, before))
    return bool(again == before)


def test_a_definition_of_before_goes_through_the_form_as_it_is(empty: RunningServer, phone: Page) -> None:
    phone.goto(empty.address)
    demo = Path(__file__).parents[2] / "demo_units"
    bodies = [
        row["body"]
        for file in sorted(demo.glob("*.json"))
        for row in json.loads(file.read_text(encoding="utf-8")).get("entries", [])
        if row["kind"] == "unit"
    ]
    assert len(bodies) >= 3
    for body in [MIXED, *bodies]:
        for again in phone.evaluate(AGAIN, body):
            assert holds(json.loads(again), body)
