"""Hostile names on the pages that only a server of many workshops has: pairing, its devices, another workshop's log."""

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from server.cli import main
from server.lan import BENCH, TRACKSIDE
from server.lan.postgres import DatabaseRegisters
from server.log.postgres import DatabaseLog, workshops
from tests.server.database_made import Prepared
from tests.server.hostile_text import HOSTILE, entries_of
from tests.server.processes import ServerProcess
from tests.server.test_hostile_hosted import SHORT, code_in

from .conftest import open_phone
from .test_hosted import pair
from .test_hostile_text import BROUGHT_IN, TURNED_ROUND, WATCH, WIDTH

UNIT = "01930000-0000-7000-8000-00000000b100"
WRITE_NOTE = """async (text) => {
    const { write } = await import("/log/outbox.js");
    const { remember } = await import("/log/store.js");
    await remember("who", text);
    await write({ unit: "", kind: "note", body: { text }, shown: { verdict: null } });
}"""


def names_of_workshops() -> list[str]:
    """Names of a workshop that together have every hostile text in them."""
    names = [HOSTILE[0]]
    for text in (text[:100] for text in HOSTILE[1:]):
        if len(names[-1]) + len(text) < 200:
            names[-1] += f" {text}"
        else:
            names.append(text)
    return names


@pytest.fixture
def server(prepared: Prepared) -> Iterator[ServerProcess]:
    server = ServerProcess("serve", "--database", prepared.url, warm=False)
    yield server
    server.stop()
    assert "Traceback" not in server.errors()


def wrong_on(page: Page) -> list[str]:
    """What a text brought into the page that is shown, or turned round on it."""
    if re.search("#/(devices|calendar)$", page.url) and "not paired" not in page.locator("#bar .state").inner_text():
        expect(page.locator("main li", has_text=SHORT[-1]).first).to_be_visible()
    wide = page.evaluate("document.documentElement.scrollWidth")
    found = [*page.evaluate(BROUGHT_IN), *page.evaluate(TURNED_ROUND), *([f"{wide} px wide"] if wide > WIDTH else [])]
    return [f"{page.url.partition('#')[2]}: {text}" for text in found]


def is_shown(page: Page, name: str) -> bool:
    """Whether the page shows the log of this name."""
    shown = page.evaluate("import('/log/logs.js').then(({ ownLog }) => ownLog())")
    return bool(shown and shown["name"] == name)


def unfold(page: Page) -> None:
    """Open all that is folded away."""
    page.evaluate("document.querySelectorAll('main details').forEach((fold) => { fold.open = true; })")


@pytest.fixture
def unit_file(tmp_path: Path) -> Path:
    """A unit with hostile text in every field, as another workshop hands it over."""
    entries = [sent for sent in entries_of(UNIT, 3, HOSTILE[10]) if sent["unit"]]
    file = tmp_path / "unit.json"
    file.write_text(
        json.dumps({"slipbook_export": 1, "units": [{"unit": UNIT, "name": HOSTILE[9], "entries": entries}]}), "utf-8"
    )
    return file


def test_no_page_of_many_workshops_takes_a_name_for_anything_else(
    prepared: Prepared,
    server: ServerProcess,
    chromium: Browser,
    unit_file: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    address = f"http://127.0.0.1:{server.port}/"
    wrong: list[str] = []
    names = names_of_workshops()
    others: list[str] = []
    registers = DatabaseRegisters(prepared.database)
    with open_phone(chromium) as context:
        context.add_init_script(WATCH)
        page = context.new_page()
        page.set_viewport_size({"width": WIDTH, "height": 700})
        for number, name in enumerate(names):
            capsys.readouterr()
            assert main(["workshop", "add", "--database", prepared.owner_url, "--", name]) == 0
            workshop = workshops.find(prepared.owner, name)
            register = registers.register_of(workshop)
            for text in SHORT:
                register.devices.add(text, TRACKSIDE)
                register.feeds.add(text)
            page.goto(address)
            pair(page, address, code_in(capsys.readouterr().out), SHORT[number])
            wrong += wrong_on(page)
            page.get_by_role("link", name="To the units").click()
            # Another workshop's log has a book of its own, for which the page is loaded anew.
            expect(page.locator("#bar .state")).to_have_text("up to date")
            assert is_shown(page, name)
            page.goto(f"{address}#/outbox")
            expect(page.get_by_text("1 entry waits for another log")).to_have_count(len(others))
            for path in ("devices", "calendar", "settings", "outbox", "backup", "pair", "import"):
                page.goto(f"{address}#/{path}")
                expect(page.locator("main h1").first).to_be_visible()
                unfold(page)
                wrong += wrong_on(page)
            page.locator("input[type=file]").set_input_files(unit_file)
            expect(page.get_by_role("button", name=re.compile("Import [0-9]+ entries"))).to_be_visible()
            unfold(page)
            wrong += wrong_on(page)
            # What waits here while the next workshop's log is shown is told of with this one's name.
            [own] = [device for device in register.devices.all() if device.role == BENCH]
            register.devices.revoke(own.id)
            page.evaluate(WRITE_NOTE, name)
            expect(page.locator("#bar .state")).to_have_text("not paired")
            for path in ("outbox", "devices", "pair", "settings"):
                page.goto(f"{address}#/{path}")
                expect(page.locator("main h1").first).to_be_visible()
                unfold(page)
                wrong += wrong_on(page)
            assert DatabaseLog(prepared.database, workshop).last == 0
            others.append(name)
        page.evaluate("text => document.body.insertAdjacentHTML('beforeend', text)", HOSTILE[1])
        assert page.evaluate(BROUGHT_IN), "a screen that took it for something else would be seen"
    assert wrong == []
