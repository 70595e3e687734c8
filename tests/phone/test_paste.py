"""Tables from spreadsheets, pasted onto the shelf: shown first, judged row by row, mended there, and nothing lost."""

import json
import re

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer, becomes, draft_is_kept, until
from .hands import PHONE
from .stock_lists import ROWS, WRONG, messy_list, thickness_of
from .test_shelf_grid import here, open_shelf
from .test_story import ids_on_disk, new_on_disk
from .test_tables import faults

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

PASTE = """text => {
    const clipboardData = new DataTransfer();
    clipboardData.setData("text/plain", text);
    const event = new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true });
    return !document.activeElement.dispatchEvent(event);
}"""


def paste(page: Page, text: str) -> None:
    """Paste a text where the focus is; it is taken as a table."""
    assert page.evaluate(PASTE, text)


def number_in_table(plate: int) -> int:
    """The row of the messy list that a plate stands in: title, blank row and heads before it, a blank row each 50."""
    return plate + 3 + (plate - 1) // 50


def test_a_messy_list_of_300_rows_is_mended_and_taken_by_keyboard(demo: RunningServer, bench: Page) -> None:
    open_shelf(bench, demo)
    before = ids_on_disk(demo)
    bench.get_by_label("F 2.40, How many").focus()
    paste(bench, messy_list())
    expect(bench).to_have_url(re.compile("#/shelf/paste$"))
    expect(bench.get_by_text(f"{ROWS - len(WRONG)} rows can be taken; {len(WRONG)} cannot")).to_be_visible(
        timeout=180000
    )
    expect(bench.get_by_text("297 blank cells of Part take what stands above")).to_be_visible()
    expect(bench.locator("#pasted-rows tr[data-row]")).to_have_count(ROWS)
    for plate, (column, typed, sentence) in WRONG.items():
        cell = bench.get_by_label(f"Row {number_in_table(plate)}, {column}", exact=True)
        expect(cell).to_have_value(typed)
        expect(cell).to_have_attribute("aria-invalid", "true")
        expect(cell).to_have_accessible_description(re.compile(re.escape(sentence)))
    expect(bench.locator("#pasted-rows [aria-invalid=true]")).to_have_count(len(WRONG))

    # The key that takes them leads to the first that cannot be taken, and Enter from there to the next.
    keys = bench.keyboard
    bench.locator("#take").focus()
    keys.press("Enter")
    mended = {17: "2,085", 40: "3", 41: "2.205", 77: "F 077", 150: "1,25", 200: "1.3", 222: "4", 299: "0.44"}
    for plate, typed in mended.items():
        assert here(bench) == f"Row {number_in_table(plate)}, {WRONG[plate][0]}"
        keys.press("ControlOrMeta+A")
        keys.type(typed)
        keys.press("Enter")
    expect(bench.locator("#take")).to_be_focused()
    expect(bench.get_by_text(f"{ROWS} rows can be taken.")).to_be_visible(timeout=180000)
    # A reload loses neither the table nor what was mended.
    draft_is_kept(bench, "2,085")
    bench.reload()
    expect(bench.get_by_text(f"{ROWS} rows can be taken.")).to_be_visible(timeout=180000)
    # With what is there it is more than a shelf takes, which the engine says, and nothing is written.
    expect(bench.locator("#changes")).to_contain_text(f"New {ROWS}:")
    bench.locator("#take").focus()
    keys.press("Enter")
    expect(bench.get_by_text(re.compile("^Give at most 300 pieces here; there are 3"))).to_be_visible()
    bench.get_by_label("Replace what is there").check()
    expect(bench.locator("#changes")).to_contain_text(re.compile(r"Gone 1\d:\s+F 2\.40 \(4\)"), timeout=180000)
    assert faults(bench) == []
    bench.locator("#take").focus()
    keys.press("Enter")
    expect(bench.get_by_text(f"{ROWS} rows are on the shelf.")).to_be_visible(timeout=180000)
    assert here(bench) == "Shelf"
    assert becomes(bench, lambda: len(new_on_disk(demo, before, "shelf")) == 1)
    [count] = new_on_disk(demo, before, "shelf")
    assert "only_these" not in count["body"]
    assert count["agrees"]
    stored = count["shown"]["pieces"]
    assert [piece["part"] for piece in stored] == ["friction"] * 140 + ["separator"] * 120 + ["shim"] * 40
    # However they were written, thicknesses are what the list says, to what it was rounded.
    for number, piece in enumerate(stored, 1):
        assert piece["mm"] == pytest.approx(thickness_of(number), abs=0.0006 if number != 150 else 0.01), piece["name"]
    keys.press("Enter")
    expect(bench.get_by_label("F 001, Name")).to_be_visible(timeout=180000)
    expect(bench.locator("tr[data-row]")).to_have_count(ROWS + 1)


HEADS = "Name\tPart\tThickness (mm)\tQty\n"


def open_paste(page: Page, server: RunningServer) -> None:
    open_shelf(page, server)
    page.get_by_role("link", name="Paste a table").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_label("Table", exact=True)).to_be_visible()


def test_rows_join_what_is_there_and_a_count_that_was_begun(demo: RunningServer, bench: Page) -> None:
    open_shelf(bench, demo)
    before = ids_on_disk(demo)
    bench.get_by_label("F 2.55, How many").fill("9")
    draft_is_kept(bench, '"count":"9"')
    bench.get_by_label("F 2.40, Name").focus()
    rows = "F 2.40\tfriction\t2,4\t3\nF 2.70\tfriction\t0.1063 in\t2\n"
    rows += "F 2.45\tfriction\t2.5\t1\nF 2.50\tfriction\t2.5\t97\n"
    paste(bench, HEADS + rows)
    # What is there under a name is another plate, or would be too many of one: each said at its cell.
    another = bench.get_by_label("Row 4, Name")
    expect(another).to_have_accessible_description(re.compile("F 2.45 is on the shelf, as friction of 2.450 mm: give"))
    expect(bench.get_by_label("Row 5, How many")).to_have_accessible_description(re.compile("at most 99; got 101"))
    another.fill("F 2.50 B")
    bench.get_by_label("Row 5, How many").fill("0")
    expect(bench.locator("#changes")).to_contain_text("New 2: F 2.70 (2), F 2.50 B (1)")
    expect(bench.locator("#changes")).to_contain_text("Changed 1: F 2.40 (4 → 7)")
    expect(bench.locator("#changes")).to_contain_text("As it is 1: F 2.50 (4 → 4)")
    bench.get_by_role("button", name="Add 4 rows to the shelf").click()
    expect(bench.get_by_text("4 rows are on the shelf.")).to_be_visible()
    bench.get_by_role("link", name="Shelf", exact=True).last.click()
    # What was begun is still there, with the new rows, and is saved without taking any away.
    expect(bench.get_by_label("F 2.55, How many")).to_have_value("9")
    expect(bench.get_by_label("F 2.40, How many")).to_have_value("7")
    expect(bench.get_by_label("F 2.70, Thickness")).to_have_value("0.1063")
    expect(bench.get_by_text("what I changed: 1 row")).to_be_visible()
    bench.get_by_role("button", name="Save the count").click()
    expect(bench.get_by_text("The count is saved.")).to_be_visible()
    assert becomes(bench, lambda: len(new_on_disk(demo, before, "shelf")) == 2)
    added, counted = new_on_disk(demo, before, "shelf")
    assert [(row["name"], row["count"]) for row in added["shown"]["pieces"]] == [
        ("F 2.40", 7),
        ("F 2.70", 2),
        ("F 2.50 B", 1),
        ("F 2.50", 4),
    ]
    assert [(row["name"], row["count"]) for row in counted["shown"]["pieces"]] == [("F 2.55", 9)]


def test_what_is_no_table_of_plates_says_so_and_stays(demo: RunningServer, bench: Page) -> None:
    open_paste(bench, demo)
    table = bench.get_by_label("Table", exact=True)
    show = bench.get_by_role("button", name="Show the rows")
    cases = {
        "": "Nothing is in it",
        " \n\t\n": "Nothing is in it",
        HEADS: "These are heads, and no rows are below them",
    }
    for text, sentence in cases.items():
        table.fill(text)
        show.click()
        expect(table).to_have_accessible_description(re.compile(sentence))
        expect(table).to_be_focused()
        expect(table).to_have_value(text)
    many = HEADS + "".join(f"F {number}\tfriction\t2.5\t1\n" for number in range(10000))
    paste(bench, many)
    expect(table).to_have_accessible_description(re.compile("This has 10000 rows, and the shelf takes 300 at most"))
    expect(table).to_have_value(many)


def test_columns_are_guessed_and_chosen_and_every_cell_can_be_mended(demo: RunningServer, bench: Page) -> None:
    open_paste(bench, demo)
    table = bench.get_by_label("Table", exact=True)
    # One column: it is taken for thicknesses, and rows are named by them; what kind of plate nobody says.
    table.fill("2,50\n2,45\n2,45\n")
    bench.get_by_role("button", name="Show the rows").click()
    expect(bench.get_by_text("No column holds names: each row is called by its part and thickness.")).to_be_visible()
    expect(bench.get_by_text("0 rows can be taken; 3 cannot")).to_be_visible()
    expect(bench.get_by_label("Row 1, Part")).to_have_accessible_description(re.compile("Fill this in|Choose one of"))
    for row in (1, 2, 3):
        bench.get_by_label(f"Row {row}, Part").select_option("shim")
    expect(bench.get_by_label("Row 3, Name")).to_have_accessible_description(re.compile("twice"))
    bench.get_by_role("button", name="Leave out row 3").click()
    expect(bench.get_by_text("2 rows can be taken.")).to_be_visible()

    # Another meaning and another unit of a column, and heads that are none.
    bench.get_by_role("button", name="Paste another table").click()
    table.fill("Name;Part;A;B\nX1;Friction plate;2485;2\nX2;steel;1,5 mm;3\n")
    bench.get_by_role("button", name="Show the rows").click()
    expect(bench.get_by_text("0 rows can be taken; 2 cannot")).to_be_visible()
    # What is needed and not known stands open.
    bench.get_by_label("A", exact=True).select_option("mm")
    expect(bench.get_by_label("Row 2, Thickness")).to_have_accessible_description(re.compile("at most 50 mm; got 2485"))
    bench.get_by_label("Unit of A").select_option("um")
    bench.get_by_label("B", exact=True).select_option("count")
    expect(bench.get_by_text("2 rows can be taken.")).to_be_visible()
    expect(bench.locator("#changes")).to_contain_text("New 2: X1 (2), X2 (3)")


def test_a_csv_is_taken_on_a_phone(demo: RunningServer, phone: Page) -> None:
    before = ids_on_disk(demo)
    phone.goto(demo.address)
    expect(phone.get_by_role("link", name="Bramble 1")).to_be_visible()
    phone.goto(f"{demo.address}/#/shelf")
    phone.get_by_role("link", name="Paste a table").tap()
    # As a spreadsheet of that country writes it: Windows-1252, semicolons, decimal commas.
    csv = (
        "Name;Part;Thickness [mm];Qty\r\nMüller 1;friction;2,505;2\r\nMüller 2;friction;dünn;1\r\nM 3;shim;0,10;99\r\n"
    )
    choose = phone.get_by_label("Choose a CSV")
    choose.set_input_files({"name": "list.csv", "mimeType": "text/csv", "buffer": csv.encode("cp1252")})
    expect(phone.get_by_text("2 rows can be taken; 1 cannot, and their cells say why.")).to_be_visible()
    assert phone.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    wrong = phone.get_by_label("Thickness, mm")
    expect(wrong).to_have_accessible_description(re.compile("Type a number, for example 72.5; got"))
    expect(phone.get_by_role("textbox", name="Name", exact=True)).to_have_value("Müller 2")
    wrong.fill("2,41")
    expect(phone.get_by_text("3 rows can be taken.")).to_be_visible()
    # The card stays under the thumb that mended it.
    expect(wrong).to_be_focused()
    phone.get_by_label("Counted by").fill("Ilse Marrow")
    phone.get_by_role("button", name="Add 3 rows to the shelf").tap()
    expect(phone.get_by_text("3 rows are on the shelf.")).to_be_visible()
    assert becomes(phone, lambda: len(new_on_disk(demo, before, "shelf")) == 1)
    [count] = new_on_disk(demo, before, "shelf")
    assert [(row["name"], row["mm"], row["count"]) for row in count["shown"]["pieces"]] == [
        ("Müller 1", 2.505, 2),
        ("Müller 2", 2.41, 1),
        ("M 3", 0.1, 99),
    ]
    # A workbook is no text, and says what to do.
    choose.set_input_files({"name": "list.xlsx", "mimeType": "", "buffer": b"PK\x03\x04 packed"})
    expect(
        phone.get_by_text("This is a workbook: save it as CSV, or copy its cells and paste them here.")
    ).to_be_visible()


def test_a_word_is_pasted_where_the_caret_is(demo: RunningServer, bench: Page) -> None:
    open_shelf(bench, demo)
    bench.get_by_label("F 2.40, Name").focus()
    # A spreadsheet puts a line's end behind a single cell.
    assert not bench.evaluate(PASTE, "F 2.41\n")
    assert not bench.evaluate(PASTE, json.dumps("one, two; three"))
    until(bench, "() => location.hash === '#/shelf'")
