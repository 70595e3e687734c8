"""Tables at the bench: units sorted, chosen and grouped by mouse or keyboard, all of it in the address."""

import re
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from . import crowd
from .conftest import RunningServer, until
from .hands import BENCH, IN_PAGE
from .screens import of_log
from .test_access import BARRIERS, PALE, USUAL, with_axe

pytestmark = pytest.mark.in_reach

UNITS = 8
SIZES = ((1280, 800), (1920, 1080), (820, 1180), (1000, 700))
HOSTILE = "q=%3Cimg+src%3Dx%3E&owner=__proto__&by=constructor&sort=-toString"


@pytest.fixture
def workshop(tmp_path: Path) -> Iterator[RunningServer]:
    """A workshop with a few more units than are found by eye."""
    with RunningServer(tmp_path / "log") as server:
        crowd.send(server.address, crowd.crowd(UNITS))
        yield server


def column(page: Page, number: int) -> list[str]:
    """What stands in one column of the rows, from the top."""
    return page.locator(f"table tbody tr:not(.group) > :nth-child({number})").all_inner_texts()


def figures(page: Page, number: int) -> list[float]:
    """The figures of a column, without the rows that have none."""
    return [float(text) for text in column(page, number) if text != "–"]


def faults(page: Page) -> list[str]:
    """What is hard on people who see, hear or touch otherwise than most, in the light and in the dark."""
    with_axe(page)
    page.add_script_tag(path=IN_PAGE)
    found: list[str] = page.evaluate(BARRIERS) + page.evaluate(PALE, USUAL)
    page.emulate_media(color_scheme="dark")
    found += page.evaluate(PALE, USUAL)
    page.emulate_media(color_scheme="light")
    return found


def fits(page: Page) -> None:
    """The page is no wider than any screen of a bench."""
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        until(page, "() => document.documentElement.scrollWidth <= innerWidth")
    page.set_viewport_size(BENCH)  # type: ignore[arg-type]


def test_units_are_sorted_chosen_and_grouped_and_the_address_says_how(workshop: RunningServer, bench: Page) -> None:
    all_units = UNITS + len(crowd.SPECIAL)
    bench.goto(workshop.address)
    expect(bench.get_by_text(f"{all_units} units", exact=True)).to_be_visible(timeout=60000)
    expect(bench.get_by_text("more to come")).to_have_count(0)

    torque = bench.get_by_role("columnheader", name="Torque, N·m")
    torque.get_by_role("button").click()
    expect(torque).to_have_attribute("aria-sort", "ascending")
    expect(bench).to_have_url(re.compile(r"#/\?by=none&sort=torque$"))
    up = figures(bench, 3)
    assert len(up) > UNITS // 2
    assert up == sorted(up)
    torque.get_by_role("button").click()
    expect(torque).to_have_attribute("aria-sort", "descending")
    assert figures(bench, 3) == up[::-1]

    bench.get_by_label("Group by").select_option("verdict")
    expect(bench).to_have_url(re.compile(r"#/\?by=verdict&sort=-torque$"))
    heads = [text.split("\n")[0].rpartition(" ")[0] for text in bench.locator("tr.group").all_inner_texts()]
    worst_first = ["replace", "rework", "measure again", "go", "Not judged"]
    assert heads == [name for name in worst_first if name in heads]
    assert len(heads) > 1

    owner = bench.get_by_label("Owner", exact=True)
    name = owner.locator("option").nth(1).inner_text().rpartition(",")[0]
    owner.select_option(index=1)
    expect(bench.get_by_text(re.compile(rf"^\d+ of {all_units} units$"))).to_be_visible()
    shown = column(bench, 1)
    assert set(column(bench, 8)) == {name}
    # The address alone says it, to whoever opens it and after Back.
    bench.reload()
    expect(bench.locator("tr.group").first).to_be_visible(timeout=20000)
    expect(bench.get_by_label("Group by")).to_have_value("verdict")
    assert column(bench, 1) == shown
    bench.locator("a.open").nth(1).click()
    expect(bench.get_by_role("heading", level=1, name=shown[1].split("\n")[0])).to_be_visible()
    bench.go_back()
    expect(bench.get_by_role("heading", level=1, name="Units")).to_be_visible()
    expect(bench.get_by_label("Owner", exact=True)).to_have_value(f"={name}")
    assert column(bench, 1) == shown
    bench.get_by_role("button", name="Show all units").click()
    expect(bench.get_by_text(f"{all_units} units", exact=True)).to_be_visible()
    assert faults(bench) == []
    fits(bench)

    # Whatever an address asks for, something is shown; a phone has its list.
    bench.goto(f"{workshop.address}/#/?{HOSTILE}")
    expect(bench.get_by_text("No unit is among these.")).to_be_visible()
    expect(bench.get_by_label("Find")).to_have_value("<img src=x>")
    bench.set_viewport_size({"width": 360, "height": 640})
    expect(bench.locator(".units a").first).to_be_visible()
    expect(bench.locator("table")).to_have_count(0)


def test_arrows_go_over_the_units_and_enter_opens_one(workshop: RunningServer, bench: Page) -> None:
    bench.goto(workshop.address)
    expect(bench.get_by_text(f"{UNITS + len(crowd.SPECIAL)} units", exact=True)).to_be_visible(timeout=60000)
    expect(bench.get_by_text("more to come")).to_have_count(0)
    bench.get_by_label("Find").focus()
    bench.keyboard.type("one")
    expect(bench.locator("a.open")).to_have_count(1)
    expect(bench).to_have_url(re.compile(r"\?q=one$"))
    bench.keyboard.press("ControlOrMeta+A")
    bench.keyboard.press("Delete")
    expect(bench.get_by_text(f"{UNITS + len(crowd.SPECIAL)} units", exact=True)).to_be_visible()
    for key, number in (("ArrowDown", 0), ("ArrowDown", 1), ("End", UNITS + len(crowd.SPECIAL) - 1), ("ArrowUp", -2)):
        bench.keyboard.press(key)
        expect(bench.locator("a.open").nth(number)).to_be_focused()
    bench.keyboard.press("Home")
    bench.keyboard.press("ArrowUp")
    expect(bench.get_by_role("button", name="Unit", exact=True)).to_be_focused()
    bench.keyboard.press("Enter")
    expect(bench.get_by_role("columnheader", name="Unit", exact=True)).to_have_attribute("aria-sort", "ascending")
    bench.keyboard.press("ArrowDown")
    name = bench.locator("a.open").first.inner_text()
    bench.keyboard.press("Enter")
    expect(bench.get_by_role("heading", level=1, name=name)).to_be_visible()
    bench.go_back()
    expect(bench.locator("a.open").first).to_be_focused()


def test_the_history_of_all_units_is_chosen_from_and_leads_to_its_entries(demo: RunningServer, bench: Page) -> None:
    log = of_log(demo.address)
    bench.goto(f"{demo.address}/#/history")
    count = bench.locator(".counted [role=status]")
    expect(count).to_have_text(f"{len(log)} entries", timeout=60000)
    rows = bench.locator("tbody tr")
    expect(rows).to_have_count(len(log))
    newest = max(log, key=lambda entry: datetime.fromisoformat(entry["at"]))
    expect(rows.first.locator("a.open")).to_have_attribute("href", re.compile(newest["id"]))
    # What counts no more is struck out and says so.
    [gone] = [entry["replaces"] for entry in log if entry.get("replaces") and entry["kind"] == "torque_check"]
    struck = rows.filter(has=bench.locator(f"a.replaced[href$='{gone}']"))
    expect(struck).to_contain_text("corrected later", timeout=60000)

    checks = [entry for entry in log if entry["kind"] == "torque_check" and entry["at"][:7] == "2026-07"]
    bench.get_by_label("What").select_option("=torque_check")
    bench.get_by_label("From").fill("2026-07-01")
    bench.get_by_label("To", exact=True).fill("2026-07-31")
    expect(count).to_have_text(f"{len(checks)} of {len(log)} entries")
    expect(bench).to_have_url(re.compile(r"#/history\?kind=torque_check&from=2026-07-01&to=2026-07-31$"))
    bench.reload()
    expect(count).to_have_text(f"{len(checks)} of {len(log)} entries")
    assert faults(bench) == []
    fits(bench)
    bench.get_by_label("Find").focus()
    bench.keyboard.press("ArrowDown")
    bench.keyboard.press("Enter")
    expect(bench.get_by_role("heading", name="The record")).to_be_visible()
    bench.go_back()
    expect(count).to_have_text(f"{len(checks)} of {len(log)} entries")

    bench.get_by_role("button", name="Show all entries").click()
    bench.get_by_label("Find").fill("magnet")
    expected = [entry for entry in log if "magnet" in str(entry["body"].get("text", "")).lower()]
    expect(count).to_have_text(f"{len(expected)} of {len(log)} entries")
    bench.goto(f"{demo.address}/#/history?{HOSTILE}&from=x&kind=%3Cb%3E")
    expect(bench.get_by_text("No entry is among these.")).to_be_visible()


# Rows as they arrive at a slow machine: first those with nothing due, then all.
ARRIVING = """async () => {
    const paths = ["screens/unit/units-table.js", "log/stands.js", "vendor/lit-html/lit-html.js"];
    const [{ openTable }, { listing }, { html, render }] = await Promise.all(paths.map((path) => slipbook.part(path)));
    const units = await listing(() => {});
    const place = document.body.appendChild(document.createElement("main"));
    const table = await openTable("");
    const list = { place, patterns: [], hand: { typed: new Map(), used: [] }, stay: new Map(), room: 40, refused: [],
        inVice: new Map(), draw: () => render(table.draw(list, () => html``), place) };
    const titles = () => [...place.querySelectorAll("tr.group")].map((row) => row.textContent.trim().split(/\\s/)[0]);
    list.units = units.filter(({ due }) => !due.length);
    list.draw();
    const before = titles();
    const link = place.querySelector("a.open");
    link.focus();
    list.units = units;
    list.draw();
    return { before, after: titles(), focused: document.activeElement === link };
}"""


def test_a_row_keeps_the_focus_when_a_group_arrives(demo: RunningServer, bench: Page) -> None:
    bench.goto(demo.address)
    expect(bench.get_by_role("link", name="Bramble 1")).to_be_visible()
    assert bench.evaluate(ARRIVING) == {"before": [], "after": ["Due", "Other"], "focused": True}
