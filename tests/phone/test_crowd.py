"""Three hundred units, the most and the fewest plates, two years of checks: found, clear, no wider than a phone."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from . import crowd
from .conftest import RunningServer

UNITS = 300
WITH_SPECIAL = UNITS + len(crowd.SPECIAL)


@pytest.fixture
def crowded(tmp_path: Path) -> Iterator[RunningServer]:
    """A workshop with all of them."""
    with RunningServer(tmp_path / "log") as server:
        crowd.send(server.address, crowd.crowd(UNITS))
        yield server


def test_in_a_crowd_every_unit_is_found_and_every_screen_fits(crowded: RunningServer, phone: Page) -> None:
    phone.goto(crowded.address)
    # While it works out what stands it says how far it is, and shows what is there.
    expect(phone.get_by_text("more to come")).to_be_visible(timeout=30000)
    expect(phone.get_by_text(f"of {WITH_SPECIAL}", exact=False).last).to_be_visible(timeout=120000)
    names = phone.locator(".list strong").all_inner_texts()
    # By number, as people count: the second before the tenth.
    assert names[:3] == ["Bramble 1", "Bramble 2", "Bramble 3"]
    assert len(names) < WITH_SPECIAL / 2

    show = phone.get_by_label("Show", exact=True)
    expect(show.locator("option").first).to_have_text(f"all, {WITH_SPECIAL}")
    counts = [text.rpartition(", ") for text in show.locator("option").all_inner_texts()]
    judged = sum(int(count) for words, _, count in counts if words not in ("all", "something due"))
    assert judged == WITH_SPECIAL
    show.select_option("replace")
    expect(phone.locator(".list .verdict").first).to_have_text("replace")
    assert set(phone.locator(".list .verdict").all_inner_texts()) == {"replace"}
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
            phone.goto("about:blank")
            phone.goto(f"{crowded.address}/#{path}{screen}")
            phone.locator("main h1").first.wait_for(timeout=15000)
            phone.wait_for_timeout(300)
            assert phone.evaluate("document.documentElement.scrollWidth") <= 360, f"{name}{screen}"
            phone.get_by_text(name).first.wait_for()

    # Every one of fourteen plates can be tapped and is judged where it is typed.
    phone.goto("about:blank")
    phone.goto(f"{crowded.address}/#{paths[crowd.LONG_NAME]}/plates")
    phone.get_by_role("button", name="B7 2.500 mm, separator plate").click()
    for number, point in enumerate(("2,49", "2.49", "2,48"), 1):
        phone.get_by_label(f"B7 point {number}", exact=True).fill(point)
    expect(phone.get_by_role("region", name="Plate B7")).to_contain_text("go")
    expect(phone.get_by_text("13 of 14 not measured yet")).to_be_visible()

    # Two years of checks: the newest first, the rest a tap away.
    phone.goto(f"{crowded.address}/#{paths['Bramble 1']}")
    rows = phone.locator("section[aria-labelledby=history] li")
    expect(rows.first).to_contain_text("Nov 13, 2026")
    few = rows.count()
    phone.get_by_role("button", name="Show all", exact=False).click()
    expect(rows).not_to_have_count(few)
    assert rows.count() > 104
