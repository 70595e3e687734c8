"""The shelf is shown as it was counted, and read in the units of whoever reads it."""

from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .test_story import ready_offline

SETTLE = """async (pieces) => {
    const { write } = await import("/log/outbox.js");
    const { calc } = await import("/engine/door.js");
    const { remember } = await import("/log/store.js");
    await remember("who", "Ilse Marrow");
    await remember("lengthUnit", "inch");
    const body = { pieces };
    return write({ unit: "", kind: "shelf", body, shown: await calc("shelf", body) });
}"""


def test_a_count_comes_back_as_typed_and_says_what_it_is_in_the_readers_unit(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
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
