"""With a keyboard alone the focus is never lost: what goes away hands it on."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from server.engine.part_checks.plates import PLATE

from .conftest import NEVER_KEPT, RunningServer, what_is_known
from .hands import BENCH, MOST_STOPS, PHONE, Keyboard, hands_in
from .screens import form, go, in_use, unit_path
from .test_story import UNIT, delivered, ids_on_disk, new_on_disk

KNOWN = pytest.mark.knows_the_demo


@pytest.fixture
def keyboard(request: pytest.FixtureRequest, demo: RunningServer, chromium: Browser) -> Iterator[Keyboard]:
    """A keyboard at the bench, with the demo open and a name known."""
    context, hands = hands_in(chromium, "keyboard", **what_is_known(request))
    context.add_init_script(NEVER_KEPT)
    assert isinstance(hands, Keyboard)
    hands.page.goto(demo.address)
    expect(hands.page.get_by_role("link", name=UNIT)).to_be_visible()
    hands.page.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Ilse Marrow'))")
    yield hands
    context.close()


@KNOWN
def test_what_goes_away_hands_the_focus_on(keyboard: Keyboard, demo: RunningServer) -> None:
    page = keyboard.page
    unit = unit_path(demo.address)
    go(page, "/kit")
    keyboard.button("Remove Long beam")
    expect(page.get_by_role("button", name="Put Long beam back")).to_be_focused()
    keyboard.button("Put Long beam back")
    expect(page.get_by_label("Long beam, Name")).to_be_focused()
    keyboard.button("Add a gauge")
    expect(page.get_by_label("New gauge, Name")).to_be_focused()

    go(page, "/shelf")
    # Enter goes down the grid; Tab goes through each of its cells.
    page.get_by_label(re.compile("^S .*, Name$")).last.focus()
    keyboard.button("Add a class or a piece")
    fresh = page.get_by_label("New row, Name")
    expect(fresh).to_be_focused()
    page.keyboard.type("F 2.70")
    keyboard.button("Remove F 2.70")
    expect(page.get_by_role("button", name="Add a class or a piece")).to_be_focused()
    expect(fresh).to_have_value("")

    go(page, f"{unit}/rebuild")
    keyboard.button("Add a part that was fitted")
    expect(page.get_by_label("Place", exact=True)).to_be_focused()
    keyboard.button("Remove this line: A1")
    expect(page.get_by_role("button", name="Add a part that was fitted")).to_be_focused()

    go(page, f"{unit}/check")
    keyboard.type("forward reading 1", "84,5")
    keyboard.button("Clear what is typed")
    expect(page.get_by_role("button", name="Undo")).to_be_focused()
    keyboard.button("Undo")
    expect(page.get_by_label("forward reading 1", exact=True)).to_have_value("84,5")


@KNOWN
def test_the_stack_is_a_table_at_the_bench(keyboard: Keyboard) -> None:
    page = keyboard.page
    go(page, "/unit/new")
    keyboard.section("Plates and rings")
    keyboard.unfold("Every part by itself")
    keyboard.type("A1 thickness", "2,0")
    for key, name in (("ArrowDown", "A2"), ("Enter", "A3"), ("ArrowUp", "A2"), ("Shift+Enter", "A1")):
        page.keyboard.press(key)
        expect(page.get_by_label(f"{name} thickness", exact=True)).to_be_focused()
    page.keyboard.press("Tab")
    expect(page.get_by_label("A1 limit", exact=True)).to_be_focused()
    # The focus goes with the part that it was on.
    keyboard.button("Move A1 down")
    expect(page.get_by_role("button", name="Move A1 down")).to_be_focused()
    keyboard.button("Copy A1")
    expect(page.get_by_role("button", name="Copy A6")).to_be_focused()
    expect(page.get_by_label("A6 thickness", exact=True)).to_have_value("2,0")
    keyboard.button("Take out A6")
    expect(page.get_by_role("button", name="Take out A3")).to_be_focused()
    keyboard.button("Add a part at the floor")
    expect(page.get_by_label("B6 part", exact=True)).to_be_focused()
    keyboard.button("Take out B6")
    expect(page.get_by_role("button", name="Take out B5")).to_be_focused()
    # One row a part, and the figures beside them.
    row, below = (page.get_by_label(f"{name} thickness", exact=True).bounding_box() for name in ("A1", "A3"))
    assert row
    assert below
    assert (row["x"], 40 < below["y"] - row["y"] < 80) == (below["x"], True)
    # On a phone a part is a card, with its place and keys behind one.
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    expect(page.get_by_label("A1 place", exact=True)).to_be_hidden()
    page.get_by_role("button", name="Change A1").click()
    expect(page.get_by_label("A1 place", exact=True)).to_be_visible()
    page.get_by_role("button", name="Move A1 up").click()
    expect(page.get_by_role("button", name="Move A1 up")).to_be_focused()
    expect(page.locator(".part.open h2")).to_have_text("A1, separator plate")


@KNOWN
def test_plates_are_a_grid_at_the_bench(keyboard: Keyboard, demo: RunningServer) -> None:
    page = keyboard.page
    before = ids_on_disk(demo)
    go(page, f"{unit_path(demo.address)}/plates")
    expect(page.get_by_label("A1 point 1", exact=True)).to_be_focused()
    # Enter goes through a plate and on to the next one, as on a phone; what is in hand is marked in row and stack.
    page.keyboard.type("2,48\n2.47\n2.48\n")
    expect(page.get_by_label("A2 point 1", exact=True)).to_be_focused()
    expect(page.locator("tr[aria-current]")).to_contain_text("A2")
    expect(page.get_by_role("button", name="A2 2.500 mm, friction plate, not measured")).to_have_attribute(
        "aria-pressed", "true"
    )
    expect(page.get_by_role("row", name="A1")).to_contain_text("go")
    expect(page.get_by_role("row", name="A1")).to_contain_text("lowest 2.470")
    # The arrows go by cells, and within a figure by letters.
    for key, label in (
        ("ArrowUp", "A1 point 1"),
        ("ArrowRight", "A1 point 2"),
        ("ArrowDown", "A2 point 2"),
        ("ArrowLeft", "A2 point 1"),
        ("ArrowDown", "A3 point 1"),
    ):
        page.keyboard.press(key)
        expect(page.get_by_label(label, exact=True)).to_be_focused()
    page.keyboard.type("1.3")
    page.keyboard.press("ArrowLeft")
    expect(page.get_by_label("A3 point 1", exact=True)).to_be_focused()
    page.keyboard.press("ArrowRight")
    page.keyboard.type("9\n1.39\n1.39\n")
    feeler = (PLATE.fields["gap_mm"].label or "").lower()
    keyboard.type(f"A3 {feeler}", "thick")
    # Said in its own cell, and not at the points.
    expect(page.get_by_label(f"A3 {feeler}", exact=True)).to_have_accessible_description(re.compile("Type a number"))
    expect(page.locator("td[data-cell=points] .error")).to_have_count(0)
    keyboard.type(f"A3 {feeler}", "0.05")
    page.keyboard.press("Enter")
    expect(page.get_by_label(f"A4 {feeler}", exact=True)).to_be_focused()
    expect(page.get_by_role("row", name="A3")).to_contain_text("replace")
    keyboard.button("Save the plates")
    expect(page.get_by_role("status").filter(has_text="Saved")).to_be_visible()
    delivered(page)
    [check] = new_on_disk(demo, before)
    rows = check["body"]["plates"]
    assert [(row["slot"], [point["typed"] for point in row["points_mm"]]) for row in rows] == [
        ("A1", ["2,48", "2.47", "2.48"]),
        ("A3", ["1.39", "1.39", "1.39"]),
    ]
    assert rows[1]["gap_mm"]["typed"] == "0.05"


@KNOWN
def test_letters_are_shortcuts_and_never_while_somebody_types(keyboard: Keyboard, demo: RunningServer) -> None:
    page = keyboard.page
    heading = page.locator("main h1")
    keys = page.get_by_role("dialog", name="Keys")
    for letters, name in (("gk", "Kit"), ("gs", "Shelf"), ("gu", "Units")):
        page.keyboard.type(letters)
        expect(heading).to_have_text(name)
    # The units come one after the other as they were listed.
    expect(page.get_by_role("link", name="Sorrel")).to_be_visible()
    keyboard.link(UNIT)
    expect(heading).to_have_text(UNIT)
    page.keyboard.type("n")
    expect(heading).not_to_have_text(UNIT)
    page.keyboard.type("p")
    expect(heading).to_have_text(UNIT)
    page.keyboard.type("?")
    expect(keys).to_contain_text("Next unit of the list")
    expect(keys).to_contain_text("Check torque")
    places = keys.locator("dt:has(kbd:nth-of-type(2)):not(:has(kbd:nth-of-type(3))) kbd:last-of-type").all_inner_texts()
    assert len(places) == len(set(places)) > 10, "no two places have one letter"
    page.keyboard.press("Escape")
    expect(keys).to_have_count(0)
    page.keyboard.type("s")
    expect(heading).to_have_text("Torque check")
    field = page.get_by_label("forward reading 1", exact=True)
    expect(field).to_be_focused()
    page.keyboard.type("gk?")
    expect(field).to_have_value("gk?")
    expect(heading).to_have_text("Torque check")
    # Off where somebody says so; what they would do can still be read.
    go(page, "/settings")
    page.get_by_role("group", name="Letters as shortcuts").get_by_label("no").check()
    page.keyboard.type("gk?")
    expect(keys).to_contain_text("they are off")
    expect(heading).to_have_text("Settings")


@KNOWN
def test_the_skip_link_passes_by_the_bar(keyboard: Keyboard) -> None:
    page = keyboard.page
    page.reload()
    expect(page.get_by_role("link", name=UNIT)).to_be_visible()
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the content")).to_be_focused()
    expect(page.get_by_role("link", name="Skip to the content")).to_be_in_viewport()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    expect(page.locator("#main a").first).to_be_focused()


# Tab is held for so many stops before the page is asked what it saw, as by somebody who looks for the end.
HELD = 40


def by_tab(page: Page) -> list[str]:
    """What is wrong where Tab goes through the screen that is open, and what it does not come to."""
    found: list[str] = []
    page.evaluate("inPage.begin()")
    for _ in range(0, 3 * MOST_STOPS, HELD):
        # Playwright says "down" again for a key that is down already.
        page.keyboard.press("+".join(["Tab"] * HELD))
        stops = page.evaluate("inPage.stops()")
        found += stops["faults"]
        if stops["ended"]:
            break
    else:
        found.append(f"more than {3 * MOST_STOPS} stops")
    return found + [f"a mouse alone presses {key}" for key in page.evaluate("inPage.missed()")]


def test_whatever_a_mouse_presses_the_keyboard_reaches(demo: RunningServer, chromium: Browser, tmp_path: Path) -> None:
    wrong: list[str] = []
    seen: set[str] = set()
    for stop in in_use(chromium, demo.address, tmp_path, lessons=False):
        name = form(stop.path)
        if name in seen:
            continue
        seen.add(name)
        if not wrong and len(seen) == 1:
            # The walk goes on at the bench from here.
            stop.page.set_viewport_size(BENCH)  # type: ignore[arg-type]
            go(stop.page, stop.path)
        wrong += [f"{name}: {fault}" for fault in by_tab(stop.page)]
    assert {"/", "/unit/*/plan", "/unit/*/check", "/settings", "/labels"} <= seen
    assert not wrong, "\n".join(wrong)
