"""Where the phone's storage does not answer, Slipbook says so, with a way out, and goes on as soon as it answers."""

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer, draft_is_kept
from .test_story import UNIT, ready_offline

# What another page may do to the database: change something in it, or bring it up to date, and never come to an end.
HOLDS = {
    "a change without an end": """() => new Promise((resolve) => {
        const open = indexedDB.open("slipbook");
        open.onsuccess = () => {
            const all = [...open.result.objectStoreNames];
            const store = open.result.transaction(all, "readwrite").objectStore("facts");
            const again = () => { resolve(); store.get("who").onsuccess = again; };
            again();
        };
    })""",
    "an upgrade without an end": """() => new Promise((resolve) => {
        const open = indexedDB.open("slipbook", 4);
        open.onupgradeneeded = () => {
            const store = open.transaction.objectStore("facts");
            const again = () => { resolve(); store.get("who").onsuccess = again; };
            again();
        };
    })""",
}
SILENT = "does not answer"


@pytest.fixture
def other(demo: RunningServer, phone: Page) -> Page:
    """Another page of the same browser, at the same address, that is not Slipbook's."""
    page = phone.context.new_page()
    phone.goto(demo.address)
    ready_offline(phone)
    page.goto(f"{demo.address}/style/icon.svg")
    phone.bring_to_front()
    return page


@pytest.mark.parametrize("how", HOLDS)
def test_a_storage_that_does_not_answer_is_told_of(phone: Page, other: Page, how: str) -> None:
    notice = phone.locator("#notice")
    other.evaluate(HOLDS[how])
    phone.reload()
    expect(notice).to_contain_text(SILENT)
    expect(notice).to_contain_text("What was stored before stays.")
    expect(notice).to_contain_text("Close other tabs of Slipbook, then load it again.")
    expect(notice).not_to_contain_text("write it down")
    notice.get_by_role("button", name="Load again").click()
    expect(notice).not_to_contain_text(SILENT)
    expect(notice).to_contain_text(SILENT)
    other.close()
    expect(phone.get_by_role("link", name=UNIT)).to_be_visible()
    expect(notice).to_be_empty()


def test_what_is_not_stored_yet_is_to_be_written_down(phone: Page, other: Page) -> None:
    notice = phone.locator("#notice")
    phone.get_by_role("link", name=UNIT).click()
    note = phone.get_by_label("Note", exact=True)
    note.fill("begun")
    draft_is_kept(phone, "begun")
    other.evaluate(HOLDS["a change without an end"])
    note.fill("begun, and gone on with")
    expect(notice).to_contain_text("What you typed last is not stored yet: write it down first.")
    # In sight, wherever on the page somebody types.
    expect(notice.get_by_role("button", name="Load again")).to_be_in_viewport()
    expect(note).to_be_in_viewport()
    other.close()
    expect(notice).to_be_empty()
    expect(note).to_have_value("begun, and gone on with")
