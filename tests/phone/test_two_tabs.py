"""Two tabs with one form: neither overwrites what the other has typed, each is told, and both are kept."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from .conftest import RunningServer, draft_is_kept, open_phone
from .hands import CHECK_TORQUE
from .test_story import UNIT, delivered, entries_on_disk, fill_readings, ids_on_disk, ready_offline

FIRST = "forward reading 1"


@pytest.fixture
def tabs(demo: RunningServer, chromium: Browser) -> Iterator[tuple[Page, Page]]:
    """The same check, opened in two tabs of one browser before anything was typed."""
    errors: list[str] = []
    with open_phone(chromium) as context:
        opened = []
        for _ in range(2):
            page = context.new_page()
            page.on("pageerror", lambda error: errors.append(str(error)))
            page.goto(demo.address)
            ready_offline(page)
            page.get_by_role("link", name=UNIT).click()
            page.get_by_role("link", name=CHECK_TORQUE).first.click()
            page.get_by_label("Bench: one output held").wait_for()
            opened.append(page)
        yield opened[0], opened[1]
    assert errors == []


def two_tabs_alert(page: Page) -> Locator:
    return page.get_by_role("alert", name="Two tabs")


def begin(page: Page, reading: str) -> None:
    """Choose how it is held and with what, and type one reading; wait until it is stored."""
    page.bring_to_front()
    page.get_by_label("Bench: one output held").check()
    page.get_by_label("With what?").select_option(label="Bench dial")
    page.get_by_label(FIRST, exact=True).fill(reading)
    draft_is_kept(page, f'"{reading}"')


def first_reading(page: Page, value: str) -> None:
    expect(page.get_by_label(FIRST, exact=True)).to_have_value(value)


def kept(page: Page) -> str:
    """All that the phone keeps of what is being typed."""
    drafts: Any = page.evaluate(
        """async () => JSON.stringify(
            await (await (await slipbook.part("log/store.js")).database()).getAll("drafts"))"""
    )
    return str(drafts)


def test_the_second_tab_is_told_and_both_are_kept(tabs: tuple[Page, Page]) -> None:
    first, second = tabs
    begin(first, "91.5")
    expect(two_tabs_alert(second)).to_contain_text("Another tab has typed into this form since it was opened here")
    # Told at the first thing that is done, and in sight, wherever the page was scrolled to.
    second.bring_to_front()
    second.evaluate("scrollTo(0, document.body.scrollHeight)")
    second.get_by_label("Bench: one output held").dispatch_event("click")
    expect(two_tabs_alert(second)).to_contain_text("Both are kept")
    expect(two_tabs_alert(second)).to_be_in_viewport()
    begin(second, "97.5")
    assert '"91.5"' in kept(first)
    assert '"97.5"' in kept(first)
    # Whoever came first types on, and nothing changes for it.
    first.get_by_label("forward reading 2", exact=True).fill("92.5")
    draft_is_kept(first, '"92.5"')
    expect(two_tabs_alert(first)).to_have_count(0)
    first_reading(second, "97.5")


def test_after_a_reload_both_are_to_be_had(tabs: tuple[Page, Page]) -> None:
    first, second = tabs
    begin(first, "91.5")
    begin(second, "97.5")
    expect(two_tabs_alert(second)).to_contain_text("Both are kept")
    for page in tabs:
        page.reload()
        first_reading(page, "91.5")
        expect(two_tabs_alert(page)).to_contain_text("Something else was typed into this form in another tab, on")
    two_tabs_alert(first).get_by_role("button", name="Show that instead").click()
    first_reading(first, "97.5")
    expect(two_tabs_alert(first)).to_contain_text("Something else was typed into this form")
    two_tabs_alert(first).get_by_role("button", name="Show that instead").click()
    first_reading(first, "91.5")
    two_tabs_alert(first).get_by_role("button", name="Throw it away").click()
    expect(two_tabs_alert(first)).to_have_count(0)
    first.reload()
    first_reading(first, "91.5")
    expect(two_tabs_alert(first)).to_have_count(0)
    assert '"97.5"' not in kept(first)


def test_going_on_with_the_second_puts_the_first_aside_and_tells_it(tabs: tuple[Page, Page]) -> None:
    first, second = tabs
    begin(first, "91.5")
    begin(second, "97.5")
    second.clock.install()
    two_tabs_alert(second).get_by_role("button", name="Go on with what is here").click()
    expect(two_tabs_alert(second)).to_have_count(0)
    # Past the pause after which what was typed last is written once more.
    second.clock.run_for(3000)
    assert kept(second).count('"97.5"') == 1
    expect(two_tabs_alert(first)).to_contain_text("Another tab has typed into this form")
    first.bring_to_front()
    first.get_by_label("forward reading 2", exact=True).fill("92.5")
    expect(two_tabs_alert(first)).to_contain_text("Both are kept")
    two_tabs_alert(first).get_by_role("button", name="Show the other").click()
    first_reading(first, "97.5")
    two_tabs_alert(first).get_by_role("button", name="Show that instead").click()
    first_reading(first, "91.5")
    expect(first.get_by_label("forward reading 2", exact=True)).to_have_value("92.5")


@pytest.mark.both_stores
def test_both_tabs_save_and_both_entries_are_there(demo: RunningServer, tabs: tuple[Page, Page]) -> None:
    before = ids_on_disk(demo)
    for page, reading in zip(tabs, ("91.5", "97.5"), strict=True):
        begin(page, reading)
        fill_readings(page, [reading, "95", "96"], ["95", "94", "96"])
        page.get_by_label("Checked by").fill("Joss Tarn")
    for page in tabs:
        page.bring_to_front()
        page.get_by_role("button", name="Save the check").click()
        expect(page.get_by_role("heading", name=UNIT)).to_be_visible()
        delivered(page)
    fresh = [entry for entry in entries_on_disk(demo) if entry["id"] not in before]
    readings = sorted(entry["body"]["steady_nm"]["forward"][0]["typed"] for entry in fresh)
    assert readings == ["91.5", "97.5"]
    assert kept(tabs[0]) == "[]", "nothing is left of either"


def test_a_tab_is_told_that_the_other_has_saved(tabs: tuple[Page, Page]) -> None:
    first, second = tabs
    begin(first, "91.5")
    fill_readings(first, ["91.5", "95", "96"], ["95", "94", "96"])
    first.get_by_label("Checked by").fill("Joss Tarn")
    second.bring_to_front()
    two_tabs_alert(second).get_by_role("button", name="Show what stands there").click()
    first_reading(second, "91.5")
    first.bring_to_front()
    first.get_by_role("button", name="Save the check").click()
    expect(first.get_by_role("heading", name=UNIT)).to_be_visible()
    expect(two_tabs_alert(second)).to_contain_text("In another tab this was saved or cleared")
    first_reading(second, "91.5")


def test_one_tab_alone_is_told_nothing(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_role("link", name=CHECK_TORQUE).first.click()
    begin(phone, "91.5")
    phone.reload()
    first_reading(phone, "91.5")
    phone.get_by_label(FIRST, exact=True).fill("92.5")
    draft_is_kept(phone, '"92.5"')
    phone.goto(f"{demo.address}/#/")
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_role("link", name="Go on with the check").first.click()
    first_reading(phone, "92.5")
    phone.get_by_label(FIRST, exact=True).fill("93.5")
    draft_is_kept(phone, '"93.5"')
    expect(two_tabs_alert(phone)).to_have_count(0)


# A tab that the browser put to sleep in the middle of a delivery: it holds the lock, and nothing comes of it.
ASLEEP = """() => new Promise((held) => {
    navigator.locks.request("slipbook-delivery", () => { held(); return new Promise(() => {}); });
})"""

SAID_AT_ONCE = """async () => {
    const { write } = await slipbook.part("log/outbox.js");
    const { remember } = await slipbook.part("log/store.js");
    await remember("who", "Joss Tarn");
    const wrench = { name: "Long bar", kind: "beam", division_nm: "1", high_nm: "200" };
    await write({ unit: "", kind: "kit", body: { tool: "wrench", wrench }, shown: { verdict: null } });
    return document.querySelector("#bar .state").textContent.trim();
}"""


@pytest.mark.in_reach
def test_a_tab_that_sleeps_in_the_middle_of_a_delivery_keeps_no_other_from_it(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    expect(phone.locator("#bar .state")).to_have_text("up to date")
    phone.evaluate(ASLEEP)
    # What is saved waits for its turn, and from that moment nothing is up to date.
    assert phone.evaluate(SAID_AT_ONCE) == "delivering…"
    other = phone.context.new_page()
    other.clock.install()
    other.goto(demo.address)
    expect(other.get_by_role("link", name=UNIT)).to_be_visible()
    expect(other.locator("#bar .state")).to_have_text("connecting…")
    other.clock.fast_forward(16000)
    expect(other.locator("#bar .state")).to_have_text("up to date")
