"""The list of units: what is in hand first, place and search kept, found by parts of words, read at arm's length."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, Route, expect

from tests.built import WEBUI, run_node

from . import crowd
from .conftest import RunningServer, becomes, until
from .hands import BENCH, PHONE

UNITS = 24
# As list.js has it.
AT_ONCE = 12
KEEP = """([key, content]) => slipbook.part("log/drafts.js").then(({ keepDraft }) => keepDraft(key, content))"""


# The rows between a heading and the next one.
UNDER = """(list, heading) => {
    const rows = [];
    let under = false;
    for (const row of list.children)
        if (row.matches(".group")) under = row.textContent.trim() === heading;
        else if (under) rows.push(row.querySelector("strong").textContent);
    return rows;
}"""
MARK = """() => {
    const rows = [...document.querySelectorAll(".units li:has(a)")];
    for (const row of rows) row.marked = row.querySelector("a").getAttribute("href");
    return rows.length;
}"""
# Rows that are there, how many of them were before, and whether each still shows its unit.
SAME = """() => {
    const rows = [...document.querySelectorAll(".units li:has(a)")];
    const same = rows.filter((row) => row.marked);
    return [rows.length, same.length, same.every((row) => row.marked === row.querySelector("a").getAttribute("href"))];
}"""
NOTE = """async ([unit, text]) => {
    const paths = ["log/outbox.js", "log/store.js"];
    const [{ write }, { remember }] = await Promise.all(paths.map((path) => slipbook.part(path)));
    await remember("who", "Ilse Marrow");
    await write({ unit, kind: "note", body: { text }, shown: { verdict: null } });
}"""

READ_AND_DRAWN = """() => slipbook.part("screens/unit/units-table.js").then(() => new Promise((go) =>
    requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(go, 100)))))"""


@pytest.fixture
def shelf_full(tmp_path: Path) -> Iterator[RunningServer]:
    """A workshop with more units than a screen shows."""
    with RunningServer(tmp_path / "log") as server:
        crowd.send(server.address, crowd.crowd(UNITS))
        yield server


def open_list(page: Page, server: RunningServer) -> None:
    """The list, once everything is worked out."""
    page.goto(server.address)
    expect(page.get_by_label("Show", exact=True).locator("option").first).to_have_text(
        f"all, {UNITS + len(crowd.SPECIAL)}", timeout=120000
    )
    expect(page.get_by_text("more to come")).to_have_count(0)


def names(page: Page) -> list[str]:
    """The names of the list, from its top, once all of them are drawn."""
    expect(page.locator(".units[aria-busy=true]")).to_have_count(0)
    return page.locator(".units strong").all_inner_texts()


def group(page: Page, heading: str) -> list[str]:
    """The names under a heading."""
    rows: list[str] = page.locator(".units").evaluate(UNDER, heading)
    return rows


@pytest.mark.in_reach
def test_what_is_in_hand_comes_first(shelf_full: RunningServer, phone: Page) -> None:
    open_list(phone, shelf_full)
    by_name = names(phone)
    begun, opened = by_name[-1], by_name[-2]
    path = phone.get_by_role("link", name=begun).first.get_attribute("href") or ""
    phone.evaluate(KEEP, [f"check/{path.rpartition('/')[2]}", {"held": "bench_output_held"}])
    phone.evaluate("scrollTo(0, 0)")
    phone.get_by_role("link", name=opened).first.click()
    expect(phone.get_by_role("heading", level=1, name=opened)).to_be_visible()
    phone.reload()
    expect(phone.get_by_role("heading", level=1, name=opened)).to_be_visible()
    phone.get_by_role("link", name="Units", exact=True).last.click()
    expect(phone.locator(".units strong").first).to_have_text(begun)
    assert group(phone, "Half typed") == [begun]
    assert group(phone, "Last used on this phone") == [opened]
    expect(phone.get_by_text("Half typed: torque check")).to_be_visible()
    assert sorted(names(phone)) == sorted(by_name)
    # What is due comes before the rest, and nothing else does.
    due = phone.locator(".units li:has(a)", has_text="Due: ").locator("strong").all_inner_texts()
    assert group(phone, "Due") == [name for name in due if name not in (begun, opened)] != []
    assert not set(group(phone, "Other units")) & set(due)


@pytest.mark.in_reach
def test_rows_stay_the_same_rows_when_headings_come_and_go(shelf_full: RunningServer, phone: Page) -> None:
    open_list(phone, shelf_full)
    by_name = names(phone)
    assert group(phone, "Due")
    all_rows = phone.evaluate(MARK)
    # Of one group alone nobody needs the heading.
    phone.get_by_label("Show", exact=True).select_option("due")
    expect(phone.locator(".units .group")).to_have_count(0)
    names(phone)
    # So many rows come with the first frame, the others with the next ones.
    due, *same = phone.evaluate(SAME)
    assert AT_ONCE < due < all_rows
    assert same == [AT_ONCE, True]

    phone.get_by_label("Show", exact=True).select_option("")
    expect(phone.locator(".units .group")).not_to_have_count(0)
    assert names(phone) == by_name
    assert phone.evaluate(SAME) == [all_rows, AT_ONCE, True]

    # A row that goes into another group takes the focus along.
    row = phone.locator(".units a").last
    path = row.get_attribute("href") or ""
    unit = path.rpartition("/")[2]
    row.focus()
    phone.evaluate(MARK)
    phone.evaluate(KEEP, [f"check/{unit}", {"held": "bench_output_held"}])
    phone.evaluate(NOTE, [unit, "Washed."])
    expect(phone.get_by_text("Half typed: torque check")).to_be_visible()
    assert phone.evaluate(SAME) == [all_rows, all_rows, True]
    assert phone.evaluate("document.activeElement.getAttribute('href')") == path


@pytest.mark.in_reach
@pytest.mark.parametrize("way", ["back", "link"])
def test_place_and_search_are_kept_on_going_back(shelf_full: RunningServer, phone: Page, way: str) -> None:
    open_list(phone, shelf_full)

    def go_back() -> None:
        expect(phone.locator("main h1")).not_to_have_text("Units")
        if way == "back":
            phone.go_back()
        else:
            phone.get_by_role("link", name="Units", exact=True).last.click()
        expect(phone.locator("main h1")).to_have_text("Units")
        expect(phone.locator(".units strong").first).to_be_visible()

    order = names(phone)
    row = phone.locator(".units li:has(a)").nth(15)
    row.scroll_into_view_if_needed()
    phone.evaluate("scrollBy(0, 60)")
    place = row.bounding_box()
    row.locator("a").click()
    go_back()
    assert names(phone) == order
    assert place
    assert place["y"] > 0
    at = "top => Math.abs(document.querySelectorAll('.units li:has(a)')[15].getBoundingClientRect().top - top) <= 2"
    until(phone, at, place["y"])

    sought = " ".join(word[:4] for word in reversed(order[5].lower().split()))
    phone.get_by_label("Find").fill(sought)
    found = names(phone)
    assert 0 < len(found) < len(order)
    phone.locator(".units a").first.click()
    go_back()
    expect(phone.get_by_label("Find")).to_have_value(sought)
    assert names(phone) == found


ON_A_LINE = """() => {
    const keys = [...document.querySelectorAll(".atop a")];
    const [one, other] = keys.map((key) => key.getBoundingClientRect());
    return one.y === other.y && one.height >= 48 && keys.every((key) => key.scrollWidth <= key.clientWidth);
}"""
FOUND = """const [file, asked] = process.argv.slice(1);
import(file).then(({ finder }) =>
    console.log(JSON.stringify(JSON.parse(asked).map(([sought, text]) => finder(sought)(text)))));"""


def test_parts_of_words_find_in_any_order() -> None:
    searches = [
        ("fa bra", "Bramble 1 Odette Farrow", True),
        ("  FARROW   1 ", "Bramble 1 Odette Farrow", True),
        ("jose", "Thistle José Ørn", True),
        ("orn josé", "Thistle José Ørn", True),
        ("", "Thistle", True),
        ("bra fa 2", "Bramble 1 Odette Farrow", False),
        ("thistel", "Thistle 4", False),
    ]
    queries = json.dumps([search[:2] for search in searches])
    assert run_node(FOUND, str(WEBUI / "log" / "find.js"), queries) == [search[2] for search in searches]


@pytest.mark.in_reach
def test_verdicts_are_as_large_as_a_thumb_and_two_keys_share_a_line(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    marks = phone.locator(".units .verdict")
    expect(marks.nth(1)).to_be_visible()
    for mark in marks.all():
        box = mark.bounding_box()
        assert box
        assert min(box["width"], box["height"]) >= 64
    expect(phone.locator(".atop a")).to_have_text(["Just check torque", "Add a unit"])
    until(phone, ON_A_LINE)
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360


@pytest.mark.in_reach
def test_text_of_twice_the_size_stays_on_the_page(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    expect(phone.get_by_role("link", name="Bramble 1")).to_be_visible()
    expect(phone.locator("#bar .state")).to_have_text("up to date")
    phone.evaluate("document.documentElement.style.fontSize = '200%'")
    wide = """[...document.querySelectorAll("#bar *, #tabs *, main *")]
        .filter((part) => part.getBoundingClientRect().right > innerWidth || part.scrollWidth > part.clientWidth + 1
            && getComputedStyle(part).display !== "inline" && part.closest("#bar, #tabs"))
        .map((part) => part.outerHTML.slice(0, 120))"""
    until(phone, f"() => !{wide}.length")
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360


@pytest.mark.in_reach
def test_an_empty_book_is_a_welcome(tmp_path: Path, phone: Page) -> None:
    with RunningServer(tmp_path / "log") as server:
        phone.goto(server.address)
        expect(phone.get_by_role("img", name="differential cut open")).to_be_visible()
        expect(phone.get_by_text("Slipbook keeps the book of your")).to_be_visible()
        for key in ("Check a torque now", "Add a whole unit"):
            expect(phone.get_by_role("link", name=key)).to_be_visible()
        # Once, and not in the head of the list besides.
        expect(phone.locator("main a[href='#/unit/new']")).to_have_count(1)
        expect(phone.get_by_role("button", name="Look at sample units")).to_be_visible()
        expect(phone.get_by_text("in a book of their own")).to_be_visible()
        usual = phone.get_by_role("link", name="Check a torque now").bounding_box()
        phone.get_by_role("radio", name="lbf·ft").check()
        phone.get_by_role("radio", name="big, for gloves").check()
        assert usual
        until(
            phone,
            "usual => document.querySelector('main a.main').getBoundingClientRect().height > usual",
            usual["height"],
        )
        # What was answered counts on every screen, and is not forgotten.
        until(
            phone,
            """async () => (await (await slipbook.part("log/store.js")).fact("torqueUnit")) === "lbf_ft\"""",
        )
        phone.reload()
        phone.get_by_role("link", name="Settings").click()
        expect(phone.get_by_role("radio", name="lbf·ft")).to_be_checked()
        expect(phone.get_by_role("radio", name="big, for gloves")).to_be_checked()
        assert phone.evaluate("document.documentElement.scrollWidth") <= 360


def test_a_welcome_that_does_not_come_is_told_of_and_asked_for_again(tmp_path: Path, phone: Page) -> None:
    with RunningServer(tmp_path / "log") as server:
        phone.route("**/app-more.js", lambda route: route.abort())
        phone.goto(server.address)
        expect(phone.get_by_text("This part of the app could not be loaded.")).to_be_visible()
        # One can go on without it.
        expect(phone.locator("main a[href='#/unit/new']")).to_be_visible()
        phone.unroute("**/app-more.js")
        phone.get_by_role("button", name="Fetch new entries now").click()
        expect(phone.get_by_role("link", name="Check a torque now")).to_be_visible()
        expect(phone.get_by_text("This part of the app could not be loaded.")).to_have_count(0)


# What the version before had on a phone: no rows of a list, and what stood was worked out from the entries.
OLDER = """async () => {
    const { entries } = await (await fetch("/api/log?after=0&most=500")).json();
    await new Promise((resolve, reject) => {
        const asked = indexedDB.open("slipbook", 2);
        asked.onupgradeneeded = () => {
            const db = asked.result;
            for (const name of ["outbox", "standings"]) db.createObjectStore(name, { keyPath: "id" });
            db.createObjectStore("drafts", { keyPath: "key" });
            db.createObjectStore("facts");
            db.createObjectStore("photos", { keyPath: "sha256" });
            const kept = db.createObjectStore("entries", { keyPath: "id" });
            kept.createIndex("unit", "unit");
            for (const entry of entries) kept.put(entry);
        };
        asked.onerror = () => reject(asked.error);
        asked.onsuccess = () => { asked.result.close(); resolve(); };
    });
}"""


@pytest.mark.in_reach
def test_the_units_of_an_older_version_are_listed_where_no_workshop_answers(demo: RunningServer, phone: Page) -> None:
    phone.goto(f"{demo.address}/style/icon.svg")
    phone.evaluate(OLDER)
    phone.route("**/api/**", lambda route: route.abort())
    phone.goto(demo.address)
    expect(phone.locator(".units strong")).to_have_count(3)
    expect(phone.get_by_role("link", name="Bramble 1")).to_contain_text("Odette Farrow")


# Everything that the page says while it looks for units.
SAID = """
window.said = "";
new MutationObserver(() => (window.said += document.getElementById("main")?.textContent ?? ""))
    .observe(document, { subtree: true, childList: true, characterData: true });
"""


@pytest.mark.in_reach
def test_a_first_visit_reads_the_log_while_the_engine_is_on_its_way(demo: RunningServer, phone: Page) -> None:
    held: list[Route] = []
    phone.route("**/engine/files.bin", lambda route: held.append(route))
    phone.add_init_script(SAID)
    with phone.expect_request("**/engine/files.bin"), phone.expect_response("**/api/log?after=0*"):
        phone.goto(demo.address)
    assert "Looking for units" in phone.evaluate("window.said")
    held.pop().continue_()
    phone.unroute("**/engine/files.bin")
    expect(phone.get_by_role("link", name="Bramble 1")).to_be_visible()
    # The log came with units: nobody is told meanwhile that there are none.
    assert "There are no units yet" not in phone.evaluate("window.said")


@pytest.mark.in_reach
def test_a_window_made_wide_and_narrow_again_at_once_shows_the_list(shelf_full: RunningServer, phone: Page) -> None:
    held: list[Route] = []
    # The table is in what is read later.
    phone.route("**/app-more.js", lambda route: held.append(route))
    open_list(phone, shelf_full)
    phone.set_viewport_size(BENCH)  # type: ignore[arg-type]
    assert becomes(phone, lambda: bool(held))
    phone.set_viewport_size(PHONE)  # type: ignore[arg-type]
    until(phone, "() => innerWidth < 800")
    held[0].continue_()
    phone.evaluate(READ_AND_DRAWN)
    expect(phone.locator("table.ledger")).to_have_count(0)
    assert len(names(phone)) >= UNITS
