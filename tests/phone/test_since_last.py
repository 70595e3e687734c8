"""What became of a plate since it was measured last stands beside what is typed, on the phone and at the bench."""

import pytest
from playwright.sync_api import Page, expect

from server.engine import calc
from server.engine.request.units import say

from .conftest import RunningServer
from .test_story import UNIT, entries_on_disk, ready

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]


def to_the_plates(demo: RunningServer, page: Page) -> dict[str, float]:
    """Open the plates of the unit; the lowest point of each as it was measured last."""
    page.goto(demo.address)
    ready(page)
    entries = entries_on_disk(demo)
    unit = next(row["unit"] for row in entries if row["kind"] == "unit" and row["body"]["name"] == UNIT)
    found = calc("standing", {"entries": [row for row in entries if row["unit"] == unit]})
    page.evaluate("(unit) => { location.hash = `#/unit/${unit}/plates`; }", unit)
    expect(page.get_by_role("heading", name="Measure plates")).to_be_visible()
    return {slot: row["lowest_mm"] for slot, row in found["by_slot"].items()}


def type_points(page: Page, slot: str, figure: str) -> None:
    """Three points of a plate, all alike."""
    for number in (1, 2, 3):
        page.get_by_label(f"{slot} point {number}", exact=True).fill(figure)


def test_a_phone_says_whether_a_change_is_real(demo: RunningServer, phone: Page) -> None:
    lasts = to_the_plates(demo, phone)
    slot = phone.locator(".plate-head h2").inner_text().split(",")[0]
    now = f"{lasts[slot] - 0.04:.3f}"
    type_points(phone, slot, now)
    worn = say(lasts[slot] - float(now), "mm")
    expect(phone.locator("main")).to_contain_text(f"Thinner than last time by {worn}, give or take 0.01")
    type_points(phone, slot, f"{lasts[slot]:.3f}")
    expect(phone.locator("main")).to_contain_text("No change that both measurements could show")
    expect(phone.locator("main")).not_to_contain_text("Thinner than last time")


def test_the_grid_has_the_difference_of_each_plate_with_its_doubt(demo: RunningServer, phone: Page) -> None:
    phone.set_viewport_size({"width": 1280, "height": 800})
    lasts = to_the_plates(demo, phone)
    worn, same = sorted(lasts)[:2]
    type_points(phone, worn, f"{lasts[worn] - 0.04:.3f}")
    type_points(phone, same, f"{lasts[same]:.3f}")
    rows = {slot: phone.locator(".plate-grid tbody tr").filter(has_text=slot) for slot in (worn, same)}
    cell = rows[worn].locator("[data-cell=last]")
    expect(cell).to_contain_text("−0.0")
    expect(cell).to_contain_text("± 0.01")
    expect(cell.locator(".thinner")).to_be_visible()
    expect(rows[same].locator("[data-cell=last] .unsure")).to_be_visible()
    # The whole table is in sight: nothing has to be scrolled to.
    assert phone.locator(".plate-grid").evaluate("(table) => table.scrollWidth <= table.parentElement.clientWidth")
    others = phone.locator(".plate-grid tbody tr").filter(has_not_text=worn).filter(has_not_text=same)
    expect(others.locator(".change")).to_have_count(0)
