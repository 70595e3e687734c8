"""The shelf at a PC: a grid that is typed through with Enter and the arrows, marks what is wrong, and loses nothing."""

import re

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer, becomes, draft_is_kept
from .test_shelf import SETTLE
from .test_story import ids_on_disk, new_on_disk
from .test_tables import faults, fits

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]


# Three of the class are lacking to its lowest stock, and that is said at its row.
LOW = "2 left, and the lowest stock is 5: buy 3."


def open_shelf(page: Page, server: RunningServer) -> None:
    """The shelf, once the log has come; who counts is known."""
    page.goto(server.address)
    expect(page.get_by_role("link", name="Bramble 1")).to_be_visible()
    page.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Ilse Marrow'))")
    page.goto(f"{server.address}/#/shelf")
    expect(page.get_by_label("F 2.40, Name")).to_be_visible()


def here(page: Page) -> str:
    """What has the focus, by its name."""
    name: str = page.evaluate("document.activeElement.ariaLabel ?? document.activeElement.textContent.trim()")
    return name


def test_the_shelf_is_typed_with_enter_and_arrows_and_saved_by_enter(demo: RunningServer, bench: Page) -> None:
    open_shelf(bench, demo)
    before = ids_on_disk(demo)
    bench.get_by_label("F 2.40, How many").focus()
    bench.keyboard.press("ControlOrMeta+A")
    keys = bench.keyboard
    for typed in ("3", "2"):
        keys.type(typed)
        keys.press("Enter")
    assert here(bench) == "F 2.50, How many"
    keys.press("Shift+Enter")
    keys.press("ArrowRight")
    keys.type("5")
    assert here(bench) == "F 2.45, Lowest stock"
    keys.press("ArrowRight")
    keys.type("0,09 in")
    # A list of choices is no trap for the arrows.
    keys.press("Home")
    for _ in range(4):
        keys.press("ArrowLeft")
        keys.press("Home")
    assert here(bench) == "F 2.45, Part"
    keys.press("ArrowLeft")
    assert here(bench) == "F 2.45, Name"
    expect(bench.get_by_text("what I changed: 2 rows")).to_be_visible()

    # A new row is begun below the last, and Enter ends at the key that saves.
    bench.get_by_label("S 2.60, Name").focus()
    keys.press("Enter")
    assert here(bench) == "New row, Name"
    keys.type("Shim 0.10")
    expect(bench.get_by_label("Shim 0.10, Name")).to_be_focused()
    # Nobody is told off for what he has not come to.
    expect(bench.get_by_role("alert")).to_have_count(0)
    keys.press("ArrowRight")
    keys.type("sh")
    keys.press("ArrowRight")
    keys.type("0.1")
    expect(bench.get_by_label("Shim 0.10, Part")).to_have_value("shim")
    draft_is_kept(bench, '0.1"')
    bench.reload()
    expect(bench.get_by_label("Shim 0.10, Thickness")).to_have_value("0.1")
    bench.get_by_role("button", name="Save the count").focus()
    keys.press("Enter")
    expect(bench.get_by_text("The count is saved.")).to_be_visible()
    expect(bench.get_by_label("F 2.45, Limit")).to_have_value("0,09")
    expect(bench.locator('td:has([aria-label="F 2.45, Limit"]) small')).to_have_text("inch")
    expect(bench.locator('tr:has([aria-label="F 2.45, Name"]) + tr.said')).to_contain_text(LOW)
    assert becomes(bench, lambda: len(new_on_disk(demo, before, "shelf")) == 1)
    [count] = new_on_disk(demo, before, "shelf")
    assert count["shown"]["only_these"]
    assert [(row["name"], row["part"], row["count"]) for row in count["shown"]["pieces"]] == [
        ("F 2.40", "friction", 3),
        ("F 2.45", "friction", 2),
        ("Shim 0.10", "shim", 1),
    ]
    # An inch is 25.4 mm, exactly.
    assert count["shown"]["pieces"][1]["minimum_mm"] == pytest.approx(0.09 * 25.4)
    assert count["body"]["pieces"][1]["minimum_mm"] == {"typed": "0,09", "unit": "inch"}
    assert count["agrees"]


def test_a_wrong_cell_is_marked_with_one_sentence_and_stays_as_typed(demo: RunningServer, bench: Page) -> None:
    open_shelf(bench, demo)
    cases = {
        ("F 2.50, Thickness", "NaN"): "Type a number, for example 72.5; got 'NaN'.",
        ("F 2.50, Thickness", "-2"): "This must be at least 0.02 mm; got -2 mm.",
        ("F 2.50, How many", "2,5"): "Type a whole number; got 2.5.",
        ("F 2.50, How many", "many"): "Type a number, for example 72.5; got 'many'.",
        ("F 2.50, Limit", "2.50"): "F 2.50 is not above this limit: take it off the shelf, or correct its limit or its "
        "thickness, 2.500 mm.",
        ("F 2.55, Name", "F 2.50"): "F 2.50 is on the shelf twice: give each piece or class its own name.",
    }
    for (label, typed), sentence in cases.items():
        field = bench.get_by_label(label, exact=True)
        was = field.input_value()
        # Its name, and so its label, may change with what is typed.
        cell = bench.locator(f"[data-row='{field.evaluate('one => one.closest(`tr`).dataset.row')}']").locator(
            f"[data-cell='{field.evaluate('one => one.closest(`td`).dataset.cell')}'] input"
        )
        cell.fill(typed)
        expect(bench.get_by_role("alert")).to_have_text(sentence)
        expect(cell).to_have_attribute("aria-invalid", "true")
        expect(cell).to_have_accessible_description(re.compile(re.escape(sentence)))
        expect(bench.locator("[aria-invalid=true]")).to_have_count(1)
        bench.get_by_role("button", name="Save the count").focus()
        bench.keyboard.press("Enter")
        # The key leads to it, and what was typed is still there.
        expect(cell).to_be_focused()
        expect(cell).to_have_value(typed)
        draft_is_kept(bench, typed)
        cell.fill(was)
        expect(bench.get_by_role("alert")).to_have_count(0)


def test_the_grid_fits_and_is_no_harder_for_anybody(demo: RunningServer, bench: Page) -> None:
    open_shelf(bench, demo)
    bench.get_by_label("F 2.50, How many").fill("x")
    expect(bench.get_by_role("alert")).to_be_visible()
    assert faults(bench) == []
    fits(bench)
    # A phone has its cards, and what was typed.
    bench.set_viewport_size({"width": 360, "height": 640})
    expect(bench.locator("table")).to_have_count(0)
    expect(bench.get_by_label("How many").nth(2)).to_have_value("x")


def test_rows_in_other_units_say_so_at_their_cells(demo: RunningServer, bench: Page) -> None:
    open_shelf(bench, demo)
    inches = {"name": "I98", "part": "friction", "mm": {"typed": "0,0984", "unit": "inch"}, "count": "3"}
    millimetres = {"name": "M25", "part": "friction", "mm": "2,5", "count": "2"}
    bench.evaluate(SETTLE, [inches, millimetres])
    bench.reload()
    expect(bench.get_by_role("columnheader", name="Thickness inch")).to_be_visible()
    expect(bench.get_by_label("M25, Thickness")).to_have_value("2,5")
    expect(bench.locator('td:has([aria-label="M25, Thickness"]) small')).to_have_text("mm")
    expect(bench.locator('td:has([aria-label="I98, Thickness"]) small')).to_have_count(0)
