"""Hostile text in every text field of every kind of entry, on every screen that links lead to."""

import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from server.engine import KINDS
from server.log.directions import steady
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


# Letters of both directions, joined ones and those that are marks, controls, and what stands between two names.
LETTERS = (
    "abZ9 2,.-'’\xa0\u0301\u05d0\u05d9\u0627\u0623\u0661\u070f\ufb1d\ufefc\U00010800\U0001e900"
    "\u200e\u200f\u061c\u202a\u202c\u202e\u2067\u2069"
)


@pytest.mark.in_reach
def test_the_phone_keeps_texts_steady_as_the_workshop_does(hostile: str, phone: Page) -> None:
    chance = random.Random(9)
    texts = [*HOSTILE, *("".join(chance.choices(LETTERS, k=chance.randint(0, 12))) for _ in range(2000))]
    phone.goto(hostile)
    phone.locator("main h1").first.wait_for()
    ask = "texts => slipbook.part('screens/frame/directions.js').then(({ steady }) => texts.map(steady))"
    assert phone.evaluate(ask, texts) == [steady(text) for text in texts]
