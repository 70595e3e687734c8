"""A page that the browser puts away in the middle of writing: what was saved or typed is stored all the same.

That it keeps no other page from the book is tried in WebKit, which puts pages away as they are.
"""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from .conftest import RunningServer, draft_is_kept, open_phone, until
from .mended_pc import WRITE
from .test_story import UNIT, ready_offline

# The page is put away as soon as something was asked of a store, before that is answered.
PUT_AWAY = """([store, method]) => {
    const own = IDBObjectStore.prototype[method];
    IDBObjectStore.prototype[method] = function (...given) {
        const request = own.apply(this, given);
        const away = new PageTransitionEvent("pagehide", { persisted: true });
        if (this.name === store) queueMicrotask(() => { window.isAway = dispatchEvent(away); });
        return request;
    };
}"""


@pytest.fixture
def phone(chromium: Browser) -> Iterator[Page]:
    """A page on a phone; what it reads while it is put away breaks off, and nobody is there to be told."""
    with open_phone(chromium) as context:
        yield context.new_page()


def test_what_was_saved_is_stored(phone: Page, demo: RunningServer) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    demo.stop()
    phone.evaluate(PUT_AWAY, ["outbox", "add"])
    saved = phone.evaluate(WRITE, ["Oil is ordered", None])
    assert phone.evaluate("isAway")
    until(
        phone,
        "async (saved) => (await (await slipbook.part('log/store.js')).outbox()).some(({ id }) => id === saved)",
        saved,
    )


def test_what_was_typed_is_stored(phone: Page, demo: RunningServer) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_label("Note", exact=True)).to_be_visible()
    phone.evaluate(PUT_AWAY, ["drafts", "put"])
    phone.get_by_label("Note", exact=True).fill("Oil is ordered")
    draft_is_kept(phone, "Oil is ordered")
    assert phone.evaluate("isAway")
