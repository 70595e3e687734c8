"""The devices of a season's five people, and the workshop's PC: see `test_five_people.py`."""

import re
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Locator, Page, expect

from tests.server.lan_server import network_server

from .conftest import free_port
from .hands import BENCH, PHONE, Hands, Thumbs

TABLET = {"width": 820, "height": 1180}


class Mouse(Hands):
    """A PC with a mouse."""

    def press(self, what: Locator) -> None:
        what.click()

    def choose(self, label: str) -> None:
        self.page.get_by_label(label, exact=True).check()

    def pick(self, label: str, option: str) -> None:
        self.page.get_by_label(label, exact=True).select_option(label=option)

    def fill(self, what: Locator, text: str) -> None:
        what.fill(text)


class Season:
    """Their devices, and the workshop's PC, which is another one from June on.

    Parameters
    ----------
    folder : Path
        Where data folders and files that are carried about lie.
    browser : Browser
        Where all devices are.
    """

    def __init__(self, folder: Path, browser: Browser) -> None:
        self.folder, self.browser, self.port = folder, browser, free_port()
        self.errors: list[str] = []
        self.server = network_server(folder / "Moorfield", port=self.port)
        self.pc = Mouse(self.device(BENCH))
        self.tablet = Thumbs(self.device(TABLET, has_touch=True))
        self.paddock, self.second = (Thumbs(self.device(PHONE, has_touch=True, is_mobile=True)) for _ in range(2))

    def device(self, size: dict[str, int], **more: Any) -> Page:
        """A device with storage of its own, on which nothing was opened yet."""
        page = self.browser.new_context(viewport=size, **more).new_page()  # type: ignore[arg-type]
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        return page

    @property
    def address(self) -> str:
        """Where the workshop's PC is."""
        return self.server.address

    @property
    def phones(self) -> tuple[Thumbs, Thumbs, Thumbs]:
        """What is carried about."""
        return self.tablet, self.paddock, self.second

    def entries(self) -> dict[str, dict[str, Any]]:
        """What the log holds, by id."""
        status, answer = self.server.ask("GET", "/api/log?most=500")
        assert status == 200
        return {entry["id"]: entry for entry in answer["entries"]}

    def let_in(self, hands: Hands, role: str, name: str) -> None:
        """A code is made at the PC and typed on the device."""
        self.pc.link("Devices", exact=True)
        self.pc.choose(role)
        self.pc.button("Make a pairing code")
        # Its text counts, drawn already or not.
        code = self.pc.page.get_by_role("region", name="Pairing code").locator(".figure").text_content() or ""
        hands.page.goto(f"{self.address}/#/pair")
        hands.type("Code", code.strip())
        hands.fill(hands.page.get_by_label(re.compile("^What the workshop calls this")), name)
        hands.button("Pair", exact=True)
        expect(hands.page.get_by_role("heading", name="Paired")).to_be_visible()
        expect(self.pc.page.get_by_text(f"{name} is paired.")).to_be_visible()
        hands.link("To the units")

    def close(self) -> None:
        """Everybody goes home."""
        if self.server.process.poll() is None:
            self.server.stop()
        for context in self.browser.contexts:
            context.close()


def tab(hands: Hands, name: str) -> None:
    """One of the places at the foot of a phone."""
    hands.press(hands.page.locator("#tabs").get_by_role("link", name=re.compile(name)))


def open_unit(hands: Hands, name: str) -> None:
    """From anywhere to a unit's page."""
    tab(hands, "Units")
    expect(hands.page.get_by_role("heading", name="Units", exact=True)).to_be_visible()
    if not hands.page.get_by_role("link", name=name).count():
        # Another device wrote it just now.
        hands.button("Fetch new entries now")
    hands.link(name)
    expect(hands.page.get_by_role("heading", name=name, exact=True)).to_be_visible()


def main_key(hands: Hands, words: str) -> None:
    """The main key of what a strip found, which leads to what was not looked at."""
    expect(hands.page.get_by_role("heading", name="What the strip found")).to_be_visible()
    hands.press(hands.page.locator("a.button.main", has_text=words))
