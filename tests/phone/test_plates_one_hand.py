"""Plates with a micrometer in the other hand: taps counted, the plate in hand in sight, and slips asked about."""

import random
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.bench.workshop import Workshop, judged

from . import crowd
from .conftest import RunningServer, until
from .hands import Thumbs
from .test_one_hand import COUNTING
from .test_photo import png
from .test_story import delivered, entries_on_disk

pytestmark = pytest.mark.in_reach

NAME = "Six a side"
SIX = [("separator", 2.5), ("friction", 2.4)] + [("separator", 1.5), ("friction", 2.4)] * 2
SLOTS = [f"{side}{number}" for side in "AB" for number in range(1, 7)]
NEW = dict.fromkeys(SLOTS, 2.4) | dict.fromkeys(["A1", "B1"], 2.5) | dict.fromkeys(["A3", "A5", "B3", "B5"], 1.5)
MOST_TAPS = 20
# With a phone's keyboard up, half of its height is left.
KEYBOARD_UP = {"width": 360, "height": 320}

# What must be in sight while it is typed: inside the window, above the bar, and under nothing.
IN_SIGHT = """slot => {
    const now = document.querySelector(".in-hand");
    const bar = document.querySelector(".verdict-bar").getBoundingClientRect();
    const parts = now.matches("tr") ? ["th"] : ["h2", ".known", "svg"];
    const wanted = [...parts.map((one) => now.querySelector(one)), document.activeElement];
    return wanted.filter((one) => {
        const box = one.getBoundingClientRect();
        const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
        return box.top < 0 || box.bottom > Math.min(innerHeight, bar.top) + 0.5 || !(one.contains(top) || top === now);
    }).map((one) => `${one.tagName} of ${slot}`);
}"""


@pytest.fixture
def twelve(tmp_path: Path) -> Iterator[RunningServer]:
    """A workshop with a unit of twelve plates, which were measured before."""
    with RunningServer(tmp_path / "log") as server:
        workshop = Workshop(1, 5)
        at = datetime(2026, 11, 1, 9, tzinfo=UTC)
        body = crowd.definition(NAME, SIX)
        plates = crowd.plates_of(body, random.Random(3), "2026-11-01")
        unit = workshop.units[0]
        entries = [(0, "unit", body, at), (1, "plate_check", plates, at.replace(hour=10))]
        crowd.send(
            server.address, [workshop.entry(turn, unit, judged(kind, of), when) for turn, kind, of, when in entries]
        )
        yield server


def to_the_plates(page: Page, server: RunningServer) -> Thumbs:
    """The list of units, with a user who is known; taps are counted from here."""
    page.goto(server.address)
    expect(page.get_by_role("link", name=NAME)).to_be_visible()
    page.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Joss Tarn'))")
    page.evaluate(COUNTING)
    hands = Thumbs(page)
    open_again(page, hands)
    return hands


def open_again(page: Page, hands: Thumbs) -> None:
    hands.link(NAME)
    hands.link("Measure plates")
    expect(page.locator(".plate-head input").first).to_be_focused()


def saved(page: Page, server: RunningServer, number: int) -> dict[str, Any]:
    """Save, and what is then in the log: the plate check with this number, once it is home."""
    page.get_by_role("button", name="Save the plates").tap()
    expect(page.get_by_role("status").filter(has_text="Saved")).to_be_visible()
    delivered(page)
    checks = [entry for entry in entries_on_disk(server) if entry["kind"] == "plate_check"]
    assert len(checks) == number
    return max(checks, key=lambda entry: entry["seq"])


def test_twelve_plates_at_three_points_take_few_taps(twelve: RunningServer, phone: Page) -> None:
    hands = to_the_plates(phone, twelve)
    phone.set_viewport_size(KEYBOARD_UP)  # type: ignore[arg-type]
    figures = {slot: [f"{NEW[slot] - 0.01 * place:.2f}" for place in (2, 3, 2)] for slot in SLOTS}
    for slot in SLOTS:
        expect(phone.get_by_role("region", name=f"Plate {slot}")).to_contain_text("Limit")
        expect(phone.get_by_role("region", name=f"Plate {slot}")).to_contain_text("last ")
        for figure in figures[slot]:
            until(phone, f"() => ({IN_SIGHT})('{slot}').length === 0")
            phone.keyboard.type(figure)
            phone.keyboard.press("Enter")
    expect(phone.get_by_role("button", name="Save the plates")).to_be_focused()
    expect(phone.locator(".verdict-bar")).to_contain_text("12 of 12 measured")
    check = saved(phone, twelve, 2)
    taps = phone.evaluate("taps")
    print(f"taps besides figures and Enter: {taps}")
    assert taps <= 3
    rows = check["body"]["plates"]
    assert [row["slot"] for row in rows] == SLOTS
    assert {row["slot"]: [point["typed"] for point in row["points_mm"]] for row in rows} == figures
    assert not any(row.get("same_all_round") for row in rows)

    # One figure for all round, and no key of the keyboard but figures: marked so in the entry.
    phone.evaluate("taps = 0")
    phone.evaluate("location.hash = '#/'")
    open_again(phone, hands)
    hands.button("Same all round")
    for slot in SLOTS:
        field = phone.get_by_label(f"{slot} all round", exact=True)
        if slot != SLOTS[0]:
            hands.button(f"Next: {slot}")
        else:
            field.tap()
        expect(field).to_be_focused()
        phone.keyboard.type(f"{NEW[slot] - 0.02:.2f}")
    check = saved(phone, twelve, 3)
    taps = phone.evaluate("taps")
    print(f"taps without Enter, one figure for all round: {taps}")
    assert taps <= MOST_TAPS
    rows = check["body"]["plates"]
    assert all(row["same_all_round"] and len(row["points_mm"]) == 3 for row in rows)
    assert [row["points_mm"][0]["typed"] for row in rows] == [f"{NEW[slot] - 0.02:.2f}" for slot in SLOTS]

    # Saved by mistake: it is undone, and all that was typed is back.
    hands.button("Undo")
    expect(phone.get_by_text("Undone. What was typed is back in its form.")).to_be_visible()
    hands.link("Go on with the plates")
    expect(phone.get_by_label("B6 all round", exact=True)).to_have_value("2.38")


def test_a_gauge_that_types_is_never_waited_for(twelve: RunningServer, phone: Page) -> None:
    """Every key in one go, as fast as a gauge sends them: nothing is lost, and an empty Enter passes a plate by."""
    to_the_plates(phone, twelve)
    phone.keyboard.type("2.48\n2.48\n2.47\n\n1.48\n1.47\n1.48\n2.37\n")
    for label, value in (
        ("A1 point 3", "2.47"),
        ("A2 point 1", ""),
        ("A3 point 2", "1.47"),
        ("A4 point 1", "2.37"),
        ("A4 point 2", ""),
    ):
        phone.locator(f".stack [aria-label^='{label.split()[0]} ']").tap()
        expect(phone.get_by_label(label, exact=True)).to_have_value(value)
    expect(phone.get_by_label("A4 point 2", exact=True)).to_be_focused()
    # A fourth point where somebody wants one.
    Thumbs(phone).button("One more point")
    expect(phone.get_by_label("A4 point 4", exact=True)).to_be_focused()


def test_what_fits_another_plate_is_asked_about_at_once(twelve: RunningServer, phone: Page) -> None:
    hands = to_the_plates(phone, twelve)
    phone.set_viewport_size(KEYBOARD_UP)  # type: ignore[arg-type]
    question = phone.get_by_role("group", name="Figure of")
    phone.keyboard.type("1.48")
    # Not while somebody is still typing, but as soon as the figure stands there.
    expect(phone.get_by_label("A1 point 1", exact=True)).to_have_value("1.48")
    expect(question).to_have_count(0)
    phone.keyboard.press("Enter")
    expect(question).to_contain_text("1.480 mm fits A3 and A5 (separator plates, 1.500 mm new), not A1 (2.500 mm new).")
    expect(phone.get_by_label("A1 point 1", exact=True)).to_have_attribute("aria-invalid", "true")
    # A browser scrolls to what is typed: it stays in sight then as well.
    phone.keyboard.type("1")
    phone.keyboard.press("Backspace")
    until(phone, f"() => ({IN_SIGHT})('A1').length === 0")
    for width, height in ((360, 320), (640, 360), (1280, 800), (360, 640)):
        phone.set_viewport_size({"width": width, "height": height})
        for key in ("It was A3", "It was A1", "Type again", "Save the plates"):
            expect(phone.get_by_role("button", name=key)).to_be_in_viewport(ratio=1)
        until(phone, f"() => ({IN_SIGHT})('A1').length === 0")
    hands.button("It was A3")
    expect(question).to_have_count(0)
    expect(phone.get_by_role("region", name="Plate A3")).to_be_visible()
    expect(phone.get_by_label("A3 point 2", exact=True)).to_be_focused()
    for figure in ("1.47", "1.48"):
        phone.keyboard.type(figure)
        phone.keyboard.press("Enter")
    # A plate that is really so thin: said once, and never asked about again.
    for figure in ("1.49", "1.49", "1.49"):
        phone.keyboard.type(figure)
        phone.keyboard.press("Enter")
    expect(question).to_contain_text("not A4 (2.400 mm new)")
    hands.button("It was A4")
    expect(question).to_have_count(0)
    phone.keyboard.type("1.1")
    phone.keyboard.press("Enter")
    expect(question).to_have_count(0)

    # What is worn is hatched, in the stack and in the head.
    expect(phone.get_by_role("button", name="A4 1.490 mm, friction plate, replace")).to_be_visible()
    expect(phone.locator(".stack .hatch")).to_have_count(1)
    phone.locator(".stack [aria-label^='A4 ']").tap()
    expect(phone.locator(".plate-now .hatch")).to_have_count(1)

    # A photo of the plate in hand, with its undo beside it, while the figures stay.
    phone.locator("input[type=file]").set_input_files(
        {"name": "a4.png", "mimeType": "image/png", "buffer": png(90, 60)}
    )
    expect(phone.get_by_text("Photo of A4 saved.")).to_be_visible()
    hands.button("Undo")
    expect(phone.get_by_text("Undone.")).to_be_visible()
    delivered(phone)
    [photo] = [entry for entry in entries_on_disk(twelve) if entry["kind"] == "photo"]
    assert photo["body"]["slot"] == "A4"
    expect(phone.get_by_label("A4 point 1", exact=True)).to_have_value("1.49")


# Keyboards that cover the page leave it as tall as it was: what the browser says of them is put in its place.
COVERED = """height => {
    Object.defineProperty(visualViewport, "height", { configurable: true, get: () => height });
    visualViewport.dispatchEvent(new Event("resize"));
}"""


def test_a_keyboard_over_the_page_covers_neither_the_plate_nor_the_key(twelve: RunningServer, phone: Page) -> None:
    to_the_plates(phone, twelve)
    phone.evaluate(COVERED, 320)
    phone.keyboard.type("2.48\n")
    until(phone, f"() => ({IN_SIGHT})('A1').length === 0")
    until(phone, "() => document.querySelector('.verdict-bar').getBoundingClientRect().bottom <= 321")
    phone.evaluate(COVERED, 640)
    until(phone, "() => document.querySelector('.verdict-bar').getBoundingClientRect().bottom > 600")
    # Elsewhere nothing of it is left.
    phone.evaluate("location.hash = '#/'")
    expect(phone.get_by_role("heading", name="Units", exact=True)).to_be_visible()
    until(phone, "() => !document.documentElement.style.cssText.includes('--')")
