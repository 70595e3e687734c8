"""The shelf is shown as it was counted, in the units of whoever reads it, and keeps itself as units are rebuilt."""

import re

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .test_bench import UNIT
from .test_story import ids_on_disk, new_on_disk, ready

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

SETTLE = """async (pieces) => {
    const { write } = await slipbook.part("log/outbox.js");
    const { calc } = await slipbook.part("engine/door.js");
    const { remember } = await slipbook.part("log/store.js");
    await remember("who", "Ilse Marrow");
    await remember("lengthUnit", "inch");
    const body = { pieces };
    return write({ unit: "", kind: "shelf", body, shown: await calc("shelf", body) });
}"""


def test_a_count_comes_back_as_typed_and_says_what_it_is_in_the_readers_unit(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready(phone)
    inches = {"name": "I98", "part": "friction", "mm": {"typed": "0,0984", "unit": "inch"}, "count": "3"}
    millimetres = {"name": "M25", "part": "friction", "mm": "2,5", "count": "2"}
    phone.evaluate(SETTLE, [inches, millimetres])
    phone.goto(f"{demo.address}/#/shelf")
    expect(phone.get_by_role("heading", name="Shelf", exact=True)).to_be_visible()
    rows = phone.get_by_role("listitem")
    expect(rows).to_have_count(2)
    thickness = phone.get_by_label("Thickness", exact=True)
    expect(thickness.nth(0)).to_have_value("0,0984")
    expect(phone.get_by_label("Unit of Thickness").nth(0)).to_have_value("inch")
    expect(thickness.nth(1)).to_have_value("2,5")
    expect(phone.get_by_label("Unit of Thickness").nth(1)).to_have_value("mm")
    # 2.5 mm / 25.4 mm (the inch of 1959, exact) = 0.098425.
    expect(rows.nth(1)).to_contain_text("is 0.0984 inch")
    expect(rows.nth(0)).not_to_contain_text("is 0.0984 inch")


def test_a_plan_reserves_a_rebuild_moves_and_a_count_of_one_row_leaves_the_others(
    demo: RunningServer, phone: Page
) -> None:
    before = ids_on_disk(demo)
    phone.goto(demo.address)
    ready(phone)
    phone.evaluate("async () => (await slipbook.part('log/store.js')).remember('who', 'Ilse Marrow')")
    unit = phone.get_by_role("link", name=UNIT).get_attribute("href")
    phone.goto(f"{demo.address}/{unit}/plan")
    phone.get_by_role("button", name="Take it for later").click(timeout=30000)
    expect(phone.get_by_role("heading", name="Planned, not rebuilt yet")).to_be_visible(timeout=30000)
    # The unit's own plan keeps nothing from it.
    expect(phone.get_by_text("left out: planned for")).to_have_count(0)

    phone.goto(f"{demo.address}/#/shelf")
    planned = phone.get_by_text(re.compile(rf"^Planned for {UNIT} \(2\); \d left"))
    expect(planned.first).to_be_visible(timeout=20000)
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360

    # The step is ticked, and the rebuild can be filled in with it.
    phone.goto(f"{demo.address}/{unit}")
    phone.get_by_text("At the bench: measure, plan, rebuild, hand over").click(timeout=20000)
    step = phone.get_by_role("link", name="Plan the rebuild", exact=True)
    expect(step).to_have_attribute("aria-description", "done")
    phone.get_by_role("link", name="Rebuild", exact=True).click()
    phone.get_by_role("button", name="Fill in the plan of").click(timeout=20000)
    expect(phone.get_by_label("Thickness", exact=True)).to_have_count(5)

    phone.goto(f"{demo.address}/{unit}/plan")
    phone.get_by_role("button", name="Rebuild it as planned").click(timeout=30000)
    expect(phone.get_by_role("heading", name="What came out")).to_be_visible(timeout=20000)
    phone.get_by_role("group", name="The plate from A3").get_by_role("radio", name="scrap").check()
    expect(phone.get_by_text(re.compile(r"^\s*take 5 off, put 4 on\s*$"))).to_be_visible()
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360
    phone.get_by_role("button", name="Save, and close it up").click()
    expect(phone.get_by_role("heading", name="Close it up")).to_be_visible(timeout=20000)

    phone.goto(f"{demo.address}/#/shelf")
    expect(phone.get_by_text(re.compile("79 plates"))).to_be_visible(timeout=20000)
    expect(planned).to_have_count(0)
    expect(phone.get_by_text(re.compile(rf"{UNIT} A3 "))).to_have_count(0)
    kept = phone.locator("li.card").filter(has=phone.get_by_text(re.compile(rf"{UNIT} A4 ")))
    expect(kept).to_have_count(1)
    phone.get_by_label("How many").first.fill("9")
    expect(phone.get_by_text("what I changed: 1 row")).to_be_visible()
    phone.get_by_role("button", name="Save the count").click()
    expect(phone.get_by_text("The count is saved.")).to_be_visible(timeout=20000)
    expect(phone.get_by_role("link", name="up to date")).to_be_visible(timeout=30000)

    [count] = new_on_disk(demo, before, "shelf")
    assert count["shown"]["only_these"]
    assert [piece["count"] for piece in count["shown"]["pieces"]] == [9]
    [rebuilt] = new_on_disk(demo, before, "rebuild")
    assert [plate["where"] for plate in rebuilt["shown"]["came_out"]] == ["scrap", "keep", "keep", "keep", "keep"]
    # Each names what it rests on in the other book.
    assert rebuilt["id"] in count["knows"]
    assert all(entry["agrees"] for kind in ("planned", "rebuild", "shelf") for entry in new_on_disk(demo, before, kind))
