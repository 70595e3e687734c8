"""The kit at a PC: tables that are typed through with the keyboard; each row that changed is an entry of its own."""

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer, becomes, draft_is_kept
from .hands import PHONE
from .test_refused import WRITE
from .test_shelf_grid import here
from .test_story import ids_on_disk, new_on_disk
from .test_tables import faults, fits

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

# After so many entries none is stored any more, as on a disk that runs full.
FAILS = """after => {
    const { add } = IDBObjectStore.prototype;
    let count = 0;
    window.mend = () => { IDBObjectStore.prototype.add = add; };
    IDBObjectStore.prototype.add = function (...given) {
        const asked = add.apply(this, given);
        if (this.name !== "entries" || ++count <= after) return asked;
        // One that has said all it wants could no longer be undone from here.
        this.transaction.commit = () => {};
        Object.defineProperty(this.transaction, "error", { value: new DOMException("", "QuotaExceededError") });
        asked.addEventListener("success", () => this.transaction.abort());
        return asked;
    };
}"""


def open_kit(page: Page, server: RunningServer) -> None:
    """The kit, once the log has come; who writes is known."""
    page.goto(server.address)
    expect(page.get_by_role("link", name="Bramble 1")).to_be_visible()
    page.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Ilse Marrow'))")
    page.goto(f"{server.address}/#/kit")
    expect(page.get_by_role("heading", name="Kit", exact=True)).to_be_visible()


def tools_of(entries: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """What was written of each tool, by its name."""
    return {entry["body"][entry["body"]["tool"]]["name"]: entry for entry in entries}


def test_the_kit_is_typed_with_enter_and_arrows_and_each_row_is_an_entry(demo: RunningServer, bench: Page) -> None:
    open_kit(bench, demo)
    before = ids_on_disk(demo)
    keys = bench.keyboard
    bench.get_by_label("Bench dial, One division").focus()
    keys.press("Enter")
    keys.press("Enter")
    assert here(bench) == "Long beam, One division"
    keys.press("ControlOrMeta+A")
    keys.type("1,5")
    keys.press("ArrowLeft")
    for _ in range(3):
        keys.press("ArrowLeft")
    assert here(bench) == "Long beam, Scale ends at"
    keys.press("ControlOrMeta+A")
    # In another unit than the column's, as its sign says.
    keys.type("150 lbf·ft")
    # From the last row of a table to the next one, and back; at last to the key that saves.
    for name in ("Small dial, Scale ends at", "New torque wrench, Scale ends at", "Spring balance, Scale ends at"):
        keys.press("Enter")
        assert here(bench) == name
    keys.press("Shift+Enter")
    assert here(bench) == "New torque wrench, Scale ends at"
    bench.get_by_label("Micrometer 0-25, Calibrated until").focus()
    keys.press("ControlOrMeta+A")
    keys.type("31.3.2027")
    keys.press("ArrowDown")
    assert here(bench) == "New gauge, Calibrated until"
    bench.get_by_label("New gauge, Name").focus()
    keys.type("Leaves")
    expect(bench.get_by_label("Leaves, Name")).to_be_focused()
    # Nobody is told off for what he has not come to, and another row waits below.
    expect(bench.get_by_role("alert")).to_have_count(0)
    expect(bench.get_by_label("New gauge, Name")).to_have_value("")
    keys.press("ArrowRight")
    expect(bench.get_by_role("alert")).to_have_count(0)
    keys.type("fe")
    keys.press("ArrowRight")
    keys.type("0.05")
    draft_is_kept(bench, "0.05")
    bench.reload()
    expect(bench.get_by_label("Leaves, One division")).to_have_value("0.05")
    expect(bench.get_by_label("Long beam, Scale ends at")).to_have_value("150 lbf·ft")
    bench.get_by_label("New gauge, Name").focus()
    keys.press("Enter")
    assert here(bench) == "Save 3 tools"
    keys.press("Enter")
    expect(bench.get_by_text("3 tools saved.")).to_be_visible()
    assert becomes(bench, lambda: len(new_on_disk(demo, before)) == 3)
    tools = tools_of(new_on_disk(demo, before, "kit"))
    beam, micrometer, leaves = (tools[name]["body"] for name in ("Long beam", "Micrometer 0-25", "Leaves"))
    assert beam["wrench"]["high_nm"] == {"typed": "150", "unit": "lbf_ft"}
    assert beam["wrench"]["division_nm"] == {"typed": "1,5", "unit": "nm"}
    assert beam["id"] in before
    assert micrometer["micrometer"]["calibration_due"] == "2027-03-31"
    assert micrometer["micrometer"]["deviation_mm"] == {"typed": "0.004", "unit": "mm"}
    assert leaves == {"tool": "feeler", "feeler": {"name": "Leaves", "division_mm": {"typed": "0.05", "unit": "mm"}}}
    assert all(entry["agrees"] for entry in tools.values())
    # What was saved is read in its unit, and nothing is left to be saved.
    expect(bench.get_by_label("Long beam, Scale ends at")).to_have_value("150")
    expect(bench.locator('td:has([aria-label="Long beam, Scale ends at"]) small')).to_have_text("lbf·ft")
    expect(bench.get_by_role("button", name="Save", exact=True)).to_have_attribute("aria-disabled", "true")
    bench.reload()
    expect(bench.get_by_label("Leaves, Kind")).to_have_value("feeler")
    expect(bench.get_by_role("button", name="Save", exact=True)).to_be_visible()


def test_a_wrong_cell_says_why_and_the_other_rows_are_saved(demo: RunningServer, bench: Page) -> None:
    open_kit(bench, demo)
    before = ids_on_disk(demo)
    cases = {
        ("Long beam, One division", "abc"): "Type a number, for example 72.5; got 'abc'.",
        ("Long beam, Scale starts at", "300"): "This must be above “Scale starts at”.",
        ("Long beam, Scale ends at", "2 mm"): "That is not a unit for this. Use one of these: N·m",
        ("Spring balance, Permitted deviation, %", "60 %"): "This must be at most 50",
        ("Micrometer 0-25, Off zero at its last check", "-0.01"): "This must be at least 0 mm; got -0.01 mm.",
        ("Micrometer 0-25, Calibrated until", "3/4/2027"): "Write the day as year-month-day",
        ("Long beam, Name", ""): "Give the tool a name",
    }
    for (label, typed), sentence in cases.items():
        field = bench.get_by_label(label, exact=True)
        at = field.evaluate("one => [one.closest('tr').dataset.row, one.closest('td').dataset.cell]")
        cell = bench.locator(f"[data-row='{at[0]}'] [data-cell='{at[1]}'] input")
        was = cell.input_value()
        cell.fill(typed)
        expect(bench.get_by_role("alert")).to_contain_text(sentence)
        wrong = bench.locator("[aria-invalid=true]")
        expect(wrong).to_have_count(1)
        expect(wrong).to_have_accessible_description(re.compile(re.escape(sentence)))
        cell.fill(was)
        expect(bench.get_by_role("alert")).to_have_count(0)
        expect(bench.get_by_role("button", name="Save", exact=True)).to_be_visible()

    bench.get_by_label("Long beam, One division").fill("abc")
    bench.get_by_label("Bench dial, One division").fill("2")
    # A gauge of which nobody said which it is, is none yet.
    bench.get_by_label("New gauge, Name").fill("Bore 35-60")
    bench.get_by_role("button", name="Save 3 tools").focus()
    bench.keyboard.press("Enter")
    expect(bench.get_by_text("1 tool saved. 2 tools cannot be taken yet")).to_be_visible()
    assert here(bench) == "Long beam, One division"
    expect(bench.get_by_label("Bore 35-60, Kind")).to_have_accessible_description(re.compile("Fill this in"))
    draft_is_kept(bench, "Bore 35-60")
    bench.reload()
    expect(bench.get_by_label("Long beam, One division")).to_have_value("abc")
    expect(bench.get_by_label("Bore 35-60, Kind")).to_have_attribute("aria-invalid", "true")
    assert becomes(bench, lambda: len(new_on_disk(demo, before)) == 1)
    bench.get_by_role("button", name="Clear what is typed").click()
    expect(bench.get_by_label("Long beam, One division")).to_have_value("2")
    bench.get_by_role("button", name="Undo").click()
    expect(bench.get_by_label("Long beam, One division")).to_have_value("abc")
    expect(bench.get_by_label("Bore 35-60, Name")).to_be_visible()
    bench.get_by_label("Bore 35-60, Kind").select_option("bore_gauge")
    bench.get_by_role("button", name="Remove Bore 35-60").click()
    assert here(bench) == "New gauge, Name"


def test_nothing_is_lost_where_one_of_several_cannot_be_written(demo: RunningServer, bench: Page) -> None:
    open_kit(bench, demo)
    before = ids_on_disk(demo)
    for label in ("Bench dial, One division", "Long beam, One division", "Spring balance, One division"):
        bench.get_by_label(label).fill("0.5")
    bench.evaluate(FAILS, 1)
    bench.get_by_role("button", name="Save 3 tools").click()
    expect(bench.get_by_text("This could not be saved, and what you typed is kept")).to_be_visible()
    expect(bench.get_by_text("1 tool saved.")).to_be_visible()
    bench.reload()
    for label in ("Bench dial, One division", "Long beam, One division", "Spring balance, One division"):
        expect(bench.get_by_label(label)).to_have_value("0.5")
    bench.get_by_role("button", name="Save 2 tools").click()
    expect(bench.get_by_text("2 tools saved.")).to_be_visible()
    assert becomes(bench, lambda: len(new_on_disk(demo, before)) == 3)
    assert tools_of(new_on_disk(demo, before, "kit")).keys() == {"Bench dial", "Long beam", "Spring balance"}


def test_what_others_change_meanwhile_is_said_and_what_is_removed_comes_back(demo: RunningServer, bench: Page) -> None:
    open_kit(bench, demo)
    before = ids_on_disk(demo)
    bench.get_by_label("Long beam, One division").fill("1")
    draft_is_kept(bench, '"typed":"1"')
    tool = bench.locator("tr:has([aria-label='Long beam, Name'])").get_attribute("data-tool")
    wrench = {"name": "Long beam", "kind": "beam", "high_nm": "180", "division_nm": "4"}
    bench.evaluate(
        WRITE,
        {
            "unit": "",
            "kind": "kit",
            "body": {"tool": "wrench", "wrench": wrench, "id": tool},
            "shown": {"verdict": None},
        },
    )
    # What was not typed here follows the log; what was is kept, and said.
    expect(bench.get_by_label("Long beam, Scale ends at")).to_have_value("180")
    expect(bench.get_by_label("Long beam, One division")).to_have_value("1")
    expect(
        bench.get_by_text("One division was changed meanwhile, to 4: what is typed here replaces it.")
    ).to_be_visible()
    bench.get_by_role("button", name="Remove Long beam").click()
    expect(bench.get_by_text("Long beam is no longer in use; its checks stay in the log.")).to_be_visible()
    expect(bench.get_by_label("Long beam, Name")).to_have_count(0)
    assert here(bench) == "Put Long beam back"
    bench.keyboard.press("Enter")
    expect(bench.get_by_label("Long beam, Name")).to_be_focused()
    expect(bench.get_by_label("Long beam, One division")).to_have_value("1")
    bench.get_by_role("button", name="Save 1 tool").click()
    expect(bench.get_by_text("1 tool saved.")).to_be_visible()
    assert becomes(bench, lambda: len(new_on_disk(demo, before)) == 4)
    assert [entry["body"].get("gone") for entry in new_on_disk(demo, before)] == [None, "yes", "no", None]


def test_two_tabs_see_what_each_has_typed_in_a_row(demo: RunningServer, bench: Page) -> None:
    open_kit(bench, demo)
    before = ids_on_disk(demo)
    bench.get_by_label("Long beam, One division").fill("1")
    draft_is_kept(bench, '"typed":"1"')
    other = bench.context.new_page()
    other.goto(f"{demo.address}/#/kit")
    expect(other.get_by_label("Long beam, One division")).to_have_value("1")
    bench.get_by_label("Bench dial, One division").fill("3")
    draft_is_kept(bench, '"typed":"3"')
    other.get_by_label("Bench dial, One division").focus()
    expect(other.get_by_label("Bench dial, One division")).to_have_value("3")
    expect(other.get_by_role("button", name="Save 2 tools")).to_be_visible()
    bench.get_by_role("button", name="Save 2 tools").click()
    expect(bench.get_by_text("2 tools saved.")).to_be_visible()
    # What one tab has saved is nothing to be saved in the other.
    expect(other.get_by_role("button", name="Save", exact=True)).to_be_visible()
    assert becomes(bench, lambda: len(new_on_disk(demo, before)) == 2)


def test_the_tables_fit_and_a_narrow_window_has_cards_that_say_what_waits(demo: RunningServer, bench: Page) -> None:
    open_kit(bench, demo)
    bench.get_by_label("Long beam, One division").fill("x")
    expect(bench.get_by_role("alert")).to_be_visible()
    assert faults(bench) == []
    fits(bench)
    bench.set_viewport_size(PHONE)  # type: ignore[arg-type]
    expect(bench.locator("table")).to_have_count(0)
    expect(bench.get_by_text("1 tool that you typed in the wide tables is not saved yet: Long beam.")).to_be_visible()
    # Whose label was read has the focus.
    tool = bench.locator("li:has-text('Bench dial') [data-tool]").get_attribute("data-tool")
    bench.goto(f"{demo.address}/#/kit/tool/{tool}")
    bench.set_viewport_size({"width": 1280, "height": 800})
    expect(bench.get_by_label("Long beam, One division")).to_have_value("x")
    bench.reload()
    expect(bench.get_by_label("Bench dial, Name")).to_be_focused()
    expect(bench.locator("tr.pointed")).to_have_count(1)
    bench.set_viewport_size(PHONE)  # type: ignore[arg-type]
    # What is begun in the form of a narrow window is there at the bench as well.
    bench.get_by_role("button", name="Change Bench dial").click()
    bench.get_by_label("Scale ends at", exact=True).fill("240")
    bench.set_viewport_size({"width": 1280, "height": 800})
    expect(bench.get_by_label("Long beam, One division")).to_have_value("x")
    expect(bench.get_by_label("Scale ends at", exact=True)).to_have_value("240")


def test_figures_in_several_units_stay_so_in_the_form(demo: RunningServer, phone: Page) -> None:
    open_kit(phone, demo)
    before = ids_on_disk(demo)
    wrench = {
        "name": "Mixed",
        "kind": "beam",
        "high_nm": {"typed": "150", "unit": "lbf_ft"},
        "division_nm": {"typed": "1", "unit": "nm"},
    }
    gauge = {"name": "Inches", "deviation_mm": {"typed": "0.0002", "unit": "inch"}}
    for body in ({"tool": "wrench", "wrench": wrench}, {"tool": "micrometer", "micrometer": gauge}):
        phone.evaluate(WRITE, {"unit": "", "kind": "kit", "body": body, "shown": {"verdict": None}})
    for name in ("Mixed", "Inches"):
        expect(phone.get_by_role("button", name=f"Change {name}")).to_be_visible()
    for name in ("Mixed", "Inches"):
        phone.get_by_role("button", name=f"Change {name}").tap()
        expect(phone.get_by_label("Name", exact=True)).to_have_value(name)
        if name == "Mixed":
            expect(phone.get_by_label("Unit of Scale ends at")).to_have_value("lbf_ft")
            expect(phone.get_by_label("Unit of One division")).to_have_value("nm")
        phone.get_by_label("Calibrated until").fill("2027-01-01")
        phone.get_by_role("button", name="Save the tool").tap()
        expect(phone.get_by_text(f"{name} is in the kit.")).to_be_visible()
    assert becomes(phone, lambda: len(new_on_disk(demo, before)) == 4)
    changed = [entry["body"] for entry in new_on_disk(demo, before) if "id" in entry["body"]]
    assert changed[0]["wrench"] == wrench | {"calibration_due": "2027-01-01"}
    assert changed[1]["micrometer"] == gauge | {"calibration_due": "2027-01-01"}
