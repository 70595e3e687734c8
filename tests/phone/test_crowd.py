"""Three hundred units, the most and the fewest plates, two years of checks: found, clear, no wider than a phone."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from . import crowd
from .conftest import RunningServer
from .hands import IN_PAGE
from .screens import go

UNITS = 300
WITH_SPECIAL = UNITS + len(crowd.SPECIAL)

# How many units were shown at most while more were said to come, however short that was.
MORE_TO_COME = """(() => {
    globalThis.shownMeanwhile = 0;
    new MutationObserver(() => {
        if (!/more to come/.test(document.querySelector("main [role=status]")?.textContent ?? "")) return;
        shownMeanwhile = Math.max(shownMeanwhile, document.querySelectorAll(".units li").length);
    }).observe(document, { subtree: true, childList: true, characterData: true });
})()"""

# Read at once: the list may be drawn anew between two questions.
NAMES_AND_DUE = """() => [...document.querySelectorAll(".list > li:has(strong)")].map((row) =>
    [row.querySelector("strong").textContent, row.textContent.includes("Due: ")])"""


@pytest.fixture
def crowded(tmp_path: Path) -> Iterator[RunningServer]:
    """A workshop with all of them."""
    with RunningServer(tmp_path / "log") as server:
        crowd.send(server.address, crowd.crowd(UNITS))
        yield server


@pytest.mark.in_reach
def test_in_a_crowd_every_unit_is_found_and_every_screen_fits(crowded: RunningServer, phone: Page) -> None:
    phone.add_init_script(path=IN_PAGE)
    phone.add_init_script(MORE_TO_COME)
    phone.goto(crowded.address)
    expect(phone.get_by_text(f"of {WITH_SPECIAL}", exact=False).last).to_be_visible(timeout=120000)
    expect(phone.locator(".units[aria-busy=true]")).to_have_count(0)
    # While it worked out what stands it said how far it was, and showed what was there.
    expect(phone.get_by_text("more to come")).to_have_count(0)
    assert phone.evaluate("shownMeanwhile") > 0
    # What is due comes first, by number, as people count: the second before the tenth.
    rows = phone.evaluate(NAMES_AND_DUE)
    due = [name for name, is_due in rows if is_due]
    assert [name for name, _ in rows][: len(due)] == due
    numbers = [int(name.rpartition(" ")[2]) for name in due if name.startswith("Bramble ")]
    assert len(numbers) > 2
    assert numbers == sorted(numbers)
    assert len(rows) < WITH_SPECIAL / 2

    show = phone.get_by_label("Show", exact=True)
    expect(show.locator("option").first).to_have_text(f"all, {WITH_SPECIAL}")
    counts = [text.rpartition(", ") for text in show.locator("option").all_inner_texts()]
    judged = sum(int(count) for words, _, count in counts if words not in ("all", "something due"))
    assert judged == WITH_SPECIAL
    show.select_option("replace")
    expect(phone.locator(".list .verdict").first).to_have_text("replace")
    expect(phone.locator(".list > li", has=phone.locator(".verdict:not(:text-is('replace'))"))).to_have_count(0)
    find = phone.get_by_label("Find")
    find.fill("nobody's")
    expect(phone.get_by_text("No unit of these has “nobody's”")).to_be_visible()
    show.select_option("")
    paths = {}
    for name in (*crowd.SPECIAL, "Bramble 1"):
        find.fill(name)
        link = phone.get_by_role("link", name=name).first
        expect(link).to_be_visible()
        paths[name] = (link.get_attribute("href") or "").removeprefix("#")
    for name, path in paths.items():
        for screen in ("", "/check", "/plates", "/plan", "/rebuild", "/changed", "/change", "/ramps", "/sheet"):
            go(phone, f"{path}{screen}")
            assert phone.evaluate("document.documentElement.scrollWidth") <= 360, f"{name}{screen}"
            phone.get_by_text(name).first.wait_for()

    # Every one of fourteen plates can be tapped and is judged where it is typed.
    phone.goto("about:blank")
    phone.goto(f"{crowded.address}/#{paths[crowd.LONG_NAME]}/plates")
    phone.get_by_role("button", name="B7 2.500 mm, separator plate").click()
    for number, point in enumerate(("2,49", "2.49", "2,48"), 1):
        phone.get_by_label(f"B7 point {number}", exact=True).fill(point)
    expect(phone.get_by_role("region", name="Verdict")).to_contain_text(re.compile(r"B7\s+go"))
    expect(phone.get_by_text("13 of 14 not measured yet")).to_be_visible()

    # Two years of checks: the newest first, the rest a tap away.
    phone.goto(f"{crowded.address}/#{paths['Bramble 1']}")
    rows = phone.locator("section[aria-labelledby=history] li")
    expect(rows.first).to_contain_text("Nov 13, 2026")
    phone.get_by_role("button", name="Show all", exact=False).click()
    expect(rows.nth(104)).to_be_attached()
