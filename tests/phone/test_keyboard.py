"""With a keyboard alone the focus is never lost: what goes away hands it on."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from .conftest import RunningServer
from .hands import Keyboard, hands_in
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
    keyboard.button("Take out Long beam")
    expect(page.get_by_role("button", name="Put Long beam back")).to_be_focused()
    keyboard.button("Put Long beam back")
    expect(page.get_by_role("button", name="Change Long beam")).to_be_focused()
    keyboard.button("Change Long beam")
    expect(page.locator("#tool input").first).to_be_focused()

    go(page, "/shelf")
    before = page.get_by_label("Called").count()
    keyboard.button("Add a class or a piece")
    expect(page.get_by_label("Called").nth(before)).to_be_focused()
    keyboard.button(f"Take off piece {before + 1}")
    expect(page.get_by_role("button", name="Add a class or a piece")).to_be_focused()

    go(page, f"{unit}/rebuild")
    keyboard.button("Add a part that was fitted")
    expect(page.get_by_label("Place")).to_be_focused()
    keyboard.button("Not fitted: A1")
    expect(page.get_by_role("button", name="Add a part that was fitted")).to_be_focused()

    go(page, f"{unit}/check")
    keyboard.type("forward reading 1", "84,5")
    keyboard.button("Clear what is typed")
    expect(page.get_by_role("button", name="Put back what was typed")).to_be_focused()
    keyboard.button("Put back what was typed")
    expect(page.get_by_label("forward reading 1", exact=True)).to_have_value("84,5")


def test_the_skip_link_passes_by_the_bar(keyboard: Keyboard) -> None:
    page = keyboard.page
    page.reload()
    expect(page.get_by_role("link", name=UNIT)).to_be_visible(timeout=20000)
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the content")).to_be_focused()
    expect(page.get_by_role("link", name="Skip to the content")).to_be_in_viewport()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Take one in")).to_be_focused()
