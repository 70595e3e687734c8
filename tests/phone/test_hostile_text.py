"""Hostile text in every text field of every kind of entry, on every screen that links lead to."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from server.engine import KINDS
from tests.server.hostile_text import HOSTILE, entries_of

from .conftest import RunningServer
from .screens import Stop, opened, put, walk

UNIT = "01930000-0000-7000-8000-00000000b000"
# What a text would call or bring in if a screen took it for HTML.
WATCH = "globalThis.hostile = () => { globalThis.wasHostile = true; };"
BROUGHT_IN = """() => [
    ...document.querySelectorAll("img[src='x'], [onerror], [onload], svg:empty, main style, main script"),
].map((found) => found.outerHTML.slice(0, 80)).concat(globalThis.wasHostile ? ["a script ran"] : [])"""
WIDTH = 320
# Lines in which a letter or figure of ours stands left of the one that it follows.
TURNED_ROUND = """() => {
    const range = document.createRange();
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const found = new Set();
    let block, before;
    while (walker.nextNode()) {
        const node = walker.currentNode;
        // A text that is turned round takes along what stands in the same paragraph.
        let own = node.parentElement;
        while (getComputedStyle(own).display.startsWith("inline")) own = own.parentElement;
        if (own !== block) [block, before] = [own, undefined];
        if (!node.parentElement.checkVisibility() || node.parentElement.closest("svg, option, textarea")) continue;
        for (const { index } of node.data.matchAll(/[A-Za-z0-9]/g)) {
            range.setStart(node, index);
            range.setEnd(node, index + 1);
            const { left, top, width } = range.getBoundingClientRect();
            if (!width) continue;
            if (before && Math.abs(before.top - top) < 2 && left < before.left - 1) found.add(own.textContent.trim());
            before = { left, top };
        }
    }
    return [...found].map((text) => text.replace(/\\s+/g, " ").slice(0, 120));
}"""


@pytest.fixture(scope="module")
def entries() -> list[dict[str, Any]]:
    return entries_of(UNIT, 0, HOSTILE[0])


@pytest.fixture(scope="module")
def hostile(entries: list[dict[str, Any]], tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a log that holds them."""
    with RunningServer(tmp_path_factory.mktemp("hostile") / "log") as server:
        put(server.address, entries)
        yield server.address


def stops(page: Page, entries: list[dict[str, Any]]) -> Iterator[Stop]:
    of_unit = {sent["kind"]: f"/unit/{UNIT}/entry/{sent['id']}" for sent in entries if sent["unit"]}
    # The last of each kind: what stands on its screen does not differ from one to the next.
    corrected = {
        sent["kind"]: f"/unit/{UNIT}/{KINDS[sent['kind']].corrected_on}/{sent['id']}"
        for sent in entries
        if sent["unit"] and KINDS[sent["kind"]].corrected_on
    }
    seeds = ["/", f"/unit/{UNIT}", *of_unit.values(), *corrected.values(), "/outbox"]
    yield from walk(page, "hostile", seeds)


def test_no_screen_takes_a_text_for_anything_else(
    hostile: str, entries: list[dict[str, Any]], chromium: Browser, tmp_path: Path
) -> None:
    wrong: dict[str, Any] = {}
    seen = 0
    with opened(chromium, hostile, in_reach=True) as page:
        page.context.add_init_script(WATCH)
        page.reload()
        expect(page.get_by_role("link", name="up to date")).to_be_visible()
        page.set_viewport_size({"width": WIDTH, "height": 700})
        for stop in stops(page, entries):
            seen += 1
            found = page.evaluate(BROUGHT_IN)
            wide = page.evaluate("document.documentElement.scrollWidth")
            turned = page.evaluate(TURNED_ROUND)
            if found or turned or wide > WIDTH:
                wrong[stop.path] = [*found, *turned, f"{wide} px wide"]
        page.evaluate("text => document.body.insertAdjacentHTML('beforeend', text)", HOSTILE[1])
        assert page.evaluate(BROUGHT_IN), "a screen that took it for something else would be seen"
    assert wrong == {}
    assert seen > 40
