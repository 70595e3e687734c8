"""Two kinds of hands for one story: thumbs on a phone, and a keyboard at the bench that has no mouse."""

import re
from abc import ABC, abstractmethod
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect

IN_PAGE = Path(__file__).with_name("in_page.js")
PHONE = {"width": 360, "height": 640}
BENCH = {"width": 1280, "height": 800}

# More stops than any screen has: who needs more goes round in circles.
MOST_STOPS = 200

Name = str | re.Pattern[str]

# The key on a unit's page, and not "Just check torque" on the list, which is still there while that page opens.
CHECK_TORQUE = re.compile("^Check torque")


class Hands(ABC):
    """What somebody does with a page, however they do it."""

    def __init__(self, page: Page) -> None:
        self.page = page

    @abstractmethod
    def press(self, what: Locator) -> None:
        """Act on a key, a link, or a fold."""

    @abstractmethod
    def choose(self, label: str) -> None:
        """Choose one out of a few big keys."""

    @abstractmethod
    def pick(self, label: str, option: str) -> None:
        """Pick out of a list by the words of the option."""

    @abstractmethod
    def fill(self, what: Locator, text: str) -> None:
        """Type into a field, over what it holds."""

    def button(self, name: Name, exact: bool = False) -> None:
        self.press(self.page.get_by_role("button", name=name, exact=exact))

    def link(self, name: Name, exact: bool = False, within: Locator | None = None) -> None:
        self.press((within or self.page).get_by_role("link", name=name, exact=exact).first)

    def type(self, label: str, text: str) -> None:
        self.fill(self.page.get_by_label(label, exact=True), text)

    def unfold(self, words: str) -> None:
        """Open a fold by its words, if it is not open."""
        fold = self.page.locator("details", has=self.page.locator("summary", has_text=words)).last
        if fold.get_attribute("open") is None:
            self.press(fold.locator("summary").first)

    def section(self, *titles: str) -> None:
        """Open sections of a unit's definition, if they are not open."""
        for title in titles:
            section = self.page.locator("details.section", has=self.page.locator(f'summary b:text-is("{title}")'))
            if section.get_attribute("open") is None:
                self.press(section.locator("summary").first)

    def readings(self, forward: list[str], reverse: list[str]) -> None:
        """Type readings both ways."""
        for direction, values in (("forward", forward), ("reverse", reverse)):
            for number, value in enumerate(values, 1):
                self.type(f"{direction} reading {number}", value)


class Thumbs(Hands):
    """Touch alone."""

    def press(self, what: Locator) -> None:
        what.tap()

    def choose(self, label: str) -> None:
        self.page.get_by_label(label).tap()
        expect(self.page.get_by_label(label)).to_be_checked()

    def pick(self, label: str, option: str) -> None:
        # The list itself is drawn by the phone, not by the page.
        self.page.get_by_label(label).select_option(label=option)

    def fill(self, what: Locator, text: str) -> None:
        what.tap()
        what.fill(text)


class Keyboard(Hands):
    """Tab, Shift+Tab, Enter, Space, arrows and typing; every stop on the way must be seen."""

    def reach(self, what: Locator) -> None:
        """Tab until it has the focus.

        Raises
        ------
        AssertionError
            It cannot be reached, or a stop on the way has no outline or lies under something.
        """
        expect(what).to_be_visible()
        target = what.element_handle()
        for _ in range(MOST_STOPS):
            stop: dict[str, Any] = self.page.evaluate("target => inPage.stop(target)", target)
            assert not stop["fault"], stop["fault"]
            if stop["here"] or stop["group"]:
                return
            if stop["gone"]:
                # What arrived meanwhile had it drawn anew.
                expect(what).to_be_visible()
                target = what.element_handle()
                continue
            self.page.keyboard.press("Shift+Tab" if stop["back"] else "Tab")
        raise AssertionError(f"The keyboard does not reach {what}")

    def press(self, what: Locator) -> None:
        self.reach(what)
        before = self.page.url
        self.page.keyboard.press("Enter")
        self.page.wait_for_function("before => inPage.kept(before)", arg=before)

    def choose(self, label: str) -> None:
        radio = self.page.get_by_label(label)
        self.reach(radio)
        for _ in range(10):
            if radio.evaluate("one => one === document.activeElement"):
                break
            self.page.keyboard.press("ArrowDown")
        if not radio.is_checked():
            self.page.keyboard.press("Space")
        expect(radio).to_be_checked()
        expect(radio).to_be_focused()

    def pick(self, label: str, option: str) -> None:
        field = self.page.get_by_label(label)
        self.reach(field)
        chosen = "one => one.selectedOptions[0]?.textContent.trim()"
        self.page.keyboard.press("Home")
        for _ in range(field.locator("option").count()):
            if field.evaluate(chosen) == option:
                break
            self.page.keyboard.press("ArrowDown")
        assert field.evaluate(chosen) == option
        expect(field).to_be_focused()

    def fill(self, what: Locator, text: str) -> None:
        self.reach(what)
        self.page.keyboard.press("Control+A")
        self.page.keyboard.type(text) if text else self.page.keyboard.press("Delete")
        expect(what).to_have_value(text)
        expect(what).to_be_focused()


def hands_in(browser: Browser, kind: str, **more: Any) -> tuple[BrowserContext, Hands]:
    """A browser context of their own for `thumbs` on a phone or a `keyboard` at the bench."""
    if kind == "thumbs":
        context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True, **more)  # type: ignore[arg-type]
        return context, Thumbs(context.new_page())
    context = browser.new_context(viewport=BENCH, **more)  # type: ignore[arg-type]
    context.add_init_script(path=IN_PAGE)
    return context, Keyboard(context.new_page())
