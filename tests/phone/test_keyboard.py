"""With a keyboard alone the focus is never lost: what goes away hands it on."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from .conftest import RunningServer
from .hands import PHONE, Keyboard, hands_in
from .screens import go, unit_path
from .test_story import UNIT


@pytest.fixture
def keyboard(demo: RunningServer, chromium: Browser) -> Iterator[Keyboard]:
    """A keyboard at the bench, with the demo open and a name known."""
    context, hands = hands_in(chromium, "keyboard")
    assert isinstance(hands, Keyboard)
    hands.page.goto(demo.address)
    expect(hands.page.get_by_role("link", name=UNIT)).to_be_visible(timeout=20000)
    hands.page.evaluate("import('/log/store.js').then(({ remember }) => remember('who', 'Ilse Marrow'))")
    yield hands
    context.close()


def test_what_goes_away_hands_the_focus_on(keyboard: Keyboard, demo: RunningServer) -> None:
    page = keyboard.page
    unit = unit_path(demo.address)
    go(page, "/kit")
    keyboard.button("Remove Long beam")
    expect(page.get_by_role("button", name="Put Long beam back")).to_be_focused()
    keyboard.button("Put Long beam back")
    expect(page.get_by_role("button", name="Change Long beam")).to_be_focused()
    keyboard.button("Change Long beam")
    expect(page.locator("#tool input").first).to_be_focused()

    go(page, "/shelf")
    before = page.get_by_label("Name", exact=True).count()
    keyboard.button("Add a class or a piece")
    expect(page.get_by_label("Name", exact=True).nth(before)).to_be_focused()
    keyboard.button(f"Remove piece {before + 1}")
    expect(page.get_by_role("button", name="Add a class or a piece")).to_be_focused()

    go(page, f"{unit}/rebuild")
    keyboard.button("Add a part that was fitted")
    expect(page.get_by_label("Place")).to_be_focused()
    keyboard.button("Remove this line: A1")
    expect(page.get_by_role("button", name="Add a part that was fitted")).to_be_focused()

    go(page, f"{unit}/check")
    keyboard.type("forward reading 1", "84,5")
    keyboard.button("Clear what is typed")
    expect(page.get_by_role("button", name="Undo")).to_be_focused()
    keyboard.button("Undo")
    expect(page.get_by_label("forward reading 1", exact=True)).to_have_value("84,5")


def test_the_stack_is_a_table_at_the_bench(keyboard: Keyboard) -> None:
    page = keyboard.page
    go(page, "/unit/new")
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
    expect(page.locator(".part.open h3")).to_have_text("A1, separator plate")


def test_the_skip_link_passes_by_the_bar(keyboard: Keyboard) -> None:
    page = keyboard.page
    page.reload()
    expect(page.get_by_role("link", name=UNIT)).to_be_visible(timeout=20000)
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the content")).to_be_focused()
    expect(page.get_by_role("link", name="Skip to the content")).to_be_in_viewport()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Add a unit")).to_be_focused()
