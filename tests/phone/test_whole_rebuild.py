"""A whole rebuild offline, at the bench and on the phone: every part looked at, from the strip to the sheet."""

import pytest
from playwright.sync_api import Page, expect

from server.engine import calc

from .conftest import RunningServer
from .test_enter import remember_name
from .test_story import UNIT, delivered, ids_on_disk, new_on_disk, ready_offline

# The places of the demonstration's unit; the first friction plate is worn.
PLATES = [f"{side}{number}" for side in "AB" for number in range(1, 6)]
WORN = "A2"

COUNTS = """addEventListener('click', (event) => {
    if (event.detail) globalThis.taps = (globalThis.taps ?? 0) + 1;
}, true)"""


def thickness(slot: str) -> str:
    """What is measured of a plate: the thin separator in the middle of each pack has the number 3."""
    return "2.25" if slot == WORN else "1.49" if slot[1] == "3" else "2.49"


def enter(page: Page, *figures: str) -> None:
    """Type figures as a gauge does, Enter after each."""
    for figure in figures:
        page.keyboard.type(figure)
        page.keyboard.press("Enter")


def go_on(page: Page, words: str) -> None:
    """The main key of the strip's page, which leads to what was not looked at."""
    expect(page.get_by_role("heading", name="What the strip found")).to_be_visible()
    page.locator("a.button.main", has_text=words).click()


def saved(page: Page) -> None:
    """By Enter, past what is left empty, on the key that saves; the strip's page says so."""
    key = page.locator("main button.main").last
    for _ in range(4):
        if key.evaluate("key => document.activeElement === key"):
            break
        page.keyboard.press("Enter")
    expect(key).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="What the strip found")).to_be_visible()
    expect(page.get_by_role("button", name="Undo")).to_be_visible()


def guided(page: Page, procedure: str) -> None:
    for number in range(1, len(calc("steps", {})[procedure]) + 1):
        page.get_by_role("button", name=f"Done: step {number}", exact=True).click()
    page.get_by_role("button", name="Sign it off").click()


@pytest.mark.parametrize("size", [(360, 640), (1280, 800)])
def test_a_unit_is_rebuilt_with_every_part_looked_at(demo: RunningServer, phone: Page, size: tuple[int, int]) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    before = ids_on_disk(demo)
    phone.goto(demo.address)
    ready_offline(phone)
    remember_name(phone)
    phone.get_by_role("link", name=UNIT).first.click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    unit = phone.evaluate("location.hash")
    phone.evaluate(COUNTS)
    demo.stop()

    def go(screen: str) -> None:
        phone.evaluate("path => { location.hash = path; }", f"{unit}{screen}")

    go("/strip")
    guided(phone, "strip")

    go_on(phone, "Inspect the other parts")
    phone.get_by_label("no crack found", exact=True).check()
    phone.get_by_role("group", name="Bevel gear teeth").first.get_by_role("radio").first.check()
    phone.get_by_label("Cover screws: used how often so far").focus()
    # Screws, four places of the cover, four of the pins, two of a side gear's float, three of a washer.
    enter(phone, "2", "0", "0.05", "0.05", "0", *("15.99",) * 4, "0.18", "0.20", *("1.48",) * 3)
    saved(phone)
    go_on(phone, "Measure the spring")
    phone.get_by_label("S1 point 1", exact=True).focus()
    enter(phone, "5.95", "5.95", "5.95")
    saved(phone)
    go_on(phone, "Measure the plates")
    phone.get_by_label("A1 point 1", exact=True).focus()
    enter(phone, *(thickness(slot) for slot in PLATES for _ in range(3)))
    saved(phone)
    go_on(phone, "Measure the rings")
    for slot in ("R1", "R2"):
        for number in (1, 2, 3):
            phone.get_by_label(f"{slot} point {number}", exact=True).fill("0.02")
    phone.get_by_role("button", name="Save", exact=True).click()

    # One page says what is good, what is worn and what to order.
    verdict = phone.get_by_role("region", name="Verdict")
    expect(verdict).to_contain_text("20 of 20 looked at")
    expect(verdict.locator(".verdict")).to_have_text("replace")
    expect(phone.get_by_role("region", name="To order")).to_contain_text(WORN)
    go_on(phone, "Plan the rebuild")
    phone.get_by_role("button", name="Rebuild it like this").first.click()
    phone.get_by_role("button", name="Save, and close it up").click()

    # The worn plate was exchanged, so nothing is asked.
    expect(phone.get_by_role("heading", name="Close it up")).to_be_visible()
    expect(phone.get_by_role("region", name="The strip found these bad")).to_have_count(0)
    guided(phone, "close")
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()

    go("/refit")
    backlash = phone.get_by_role("region", name="Backlash")
    for number, value in enumerate(("0.13", "0.14", "0.13"), 1):
        backlash.get_by_label(f"Backlash, tooth {number}", exact=True).fill(value)
    backlash.get_by_label("At least").fill("0.08")
    backlash.get_by_label("At most,").first.fill("0.20")
    expect(backlash.locator(".verdict").first).to_have_text("go")
    phone.get_by_role("button", name="Save the refit").click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()

    go("/sheet")
    sheet = phone.get_by_role("article")
    for words in ("Cross pin diameter", "Cover flatness", WORN, "signed Joss Tarn"):
        expect(sheet).to_contain_text(words)
    print(f"{phone.evaluate('globalThis.taps')} taps besides figures and Enter at {size[0]} x {size[1]}")

    demo.start()
    phone.evaluate("dispatchEvent(new Event('online'))")
    delivered(phone)
    written = new_on_disk(demo, before)
    kinds = {"strip", "inspection", "spring_check", "plate_check", "ring_check", "rebuild", "close", "refit"}
    assert kinds <= {entry["kind"] for entry in written}
    assert all(entry["agrees"] for entry in written)
