"""Every screen as a paddock has it: large text, a phone on its side, its keyboard up, sun, and gloves."""

from collections.abc import Callable, Iterator
from itertools import chain, islice
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from .conftest import RunningServer, until
from .hands import BENCH, PHONE
from .screens import empty, form, go, in_use, opened
from .test_access import PALE, STRONG, with_axe

# The first phone on its side, and with a keyboard over half of it.
LOW = {"on its side": (640, 360), "keyboard up": (360, 320)}
# What scrolls beside the page grows with the window, a little at a time.
MOST_ROUNDS = 30
HIGH = """new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() =>
    resolve(document.documentElement.scrollHeight))))"""
# What is out of sight is not laid out otherwise, and could not be measured.
LAID_OUT = "@media screen { .card { content-visibility: visible !important } }"


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with RunningServer(tmp_path_factory.mktemp("conditions") / "log", "demo") as server:
        yield server.address


def sideways(page: Page) -> list[str]:
    # A phone shows a page that is too wide smaller, and calls its window wider for it.
    wide = page.evaluate("Math.max(document.documentElement.scrollWidth, innerWidth)")
    width = (page.viewport_size or PHONE)["width"]
    return [f"{wide} px wide on {width}"] if wide > width else []


def cut_off(page: Page, width: int) -> list[str]:
    found: list[str] = []
    # What an answer of the engine added meanwhile is measured with it.
    for _ in range(2):
        found = as_high_as_its_content(page, width) + sideways(page) + list(page.evaluate("inPage.cut()"))
        if not found:
            break
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    return found


def as_high_as_its_content(page: Page, width: int) -> list[str]:
    """Nothing is scrolled out of sight then; a bar over it makes it higher."""
    high = PHONE["height"]
    for _ in range(MOST_ROUNDS):
        page.set_viewport_size({"width": width, "height": high})
        before, high = high, page.evaluate(HIGH)
        if high <= before:
            return []
    return [f"higher than any window, {high} px by now"]


def usual_text(page: Page) -> list[str]:
    return cut_off(page, PHONE["width"]) + cut_off(page, BENCH["width"])


def twice_the_text(page: Page) -> list[str]:
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    found = cut_off(page, PHONE["width"])
    page.evaluate("document.documentElement.style.fontSize = ''")
    return found


def little_height(page: Page) -> list[str]:
    found = []
    for name, (width, height) in LOW.items():
        page.set_viewport_size({"width": width, "height": height})
        # The verdict's bar says how high it is once it was drawn.
        page.evaluate(HIGH)
        found += [f"{name}: {fault}" for fault in sideways(page) + page.evaluate("inPage.covered()")]
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    return found


def big_keys(page: Page) -> list[str]:
    page.evaluate("document.documentElement.dataset.keys = 'big'")
    found = sideways(page) + list(page.evaluate("inPage.small(56)"))
    page.evaluate("document.documentElement.dataset.keys = 'usual'")
    return found


def sun(page: Page) -> list[str]:
    with_axe(page)
    found = []
    for scheme in ("dark", "light"):
        page.emulate_media(color_scheme=scheme, contrast="more")
        expect(page.locator("html")).to_have_attribute("data-contrast", scheme)
        found += [f"{scheme}: {fault}" for fault in page.evaluate(PALE, STRONG)]
    found += [f"faint: {fault}" for fault in page.evaluate("inPage.faint(7)")]
    page.emulate_media(color_scheme="light", contrast="no-preference")
    return found


CONDITIONS: dict[str, Callable[[Page], list[str]]] = {
    "usual text": usual_text,
    "twice the text": twice_the_text,
    "little height": little_height,
    "big keys": big_keys,
    "sun": sun,
}


def test_every_screen_stands_every_condition(running: str, chromium: Browser, tmp_path: Path) -> None:
    wrong: list[str] = []
    seen: set[str] = set()
    # An empty book differs in its first screen alone.
    for stop in chain(
        in_use(chromium, running, tmp_path, lessons=False), islice(empty(chromium, running, tmp_path), 1)
    ):
        name = f"{stop.state} {form(stop.path)}"
        # Entries of every kind are alike in how they are laid out.
        if name in seen:
            continue
        seen.add(name)
        stop.page.add_style_tag(content=LAID_OUT)
        for condition, faults in CONDITIONS.items():
            wrong += [f"{name}, {condition}: {fault}" for fault in faults(stop.page)]
    assert {"empty /", "in use /settings", "in use /unit/*/plan"} <= seen
    assert not wrong, "\n".join(wrong)


def test_a_high_contrast_is_chosen_in_settings_and_stays(running: str, chromium: Browser) -> None:
    paper = "getComputedStyle(document.body).backgroundColor"
    with opened(chromium, running, in_reach=True) as page:
        go(page, "/settings")
        usual = page.evaluate(paper)
        assert usual != "rgb(255, 255, 255)"
        page.get_by_label("high, for sun").check()
        expect(page.locator("html")).to_have_attribute("data-contrast", "light")
        until(page, f"() => {paper} === 'rgb(255, 255, 255)'")
        page.get_by_label("dark", exact=True).check()
        until(page, f"() => {paper} === 'rgb(0, 0, 0)'")
        page.reload()
        expect(page.get_by_role("heading", name="Settings")).to_be_visible()
        until(page, f"() => {paper} === 'rgb(0, 0, 0)'")
        page.get_by_role("group", name="Contrast").get_by_label("as the phone").check()
        expect(page.locator("html")).not_to_have_attribute("data-contrast", "dark")
