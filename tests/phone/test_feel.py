"""What the phone itself does: stays awake, counts on the app's icon, shares files, delivers where a list is pulled.

The browser's own functions are put in its place at its boundary, since no browser of the tests has a screen that goes
dark, an icon, or a sheet to share by: what is tested is what Slipbook asks of them, and when.
"""

import json
import re
from typing import Any

from playwright.sync_api import Page, expect

from .conftest import RunningServer, until
from .hands import CHECK_TORQUE, Thumbs
from .test_story import UNIT, ready

STAND_INS = """() => {
    const put = (name, value) => Object.defineProperty(Navigator.prototype, name, { configurable: true, value });
    globalThis.awake = 0;
    put("wakeLock", { request: async () => { awake += 1; return { release: async () => { awake -= 1; } }; } });
    globalThis.onIcon = undefined;
    put("setAppBadge", async (count) => { onIcon = count; });
    put("clearAppBadge", async () => { onIcon = 0; });
    globalThis.shared = [];
    globalThis.takes = ["text/plain", "text/html", "application/pdf"];
    put("canShare", ({ files }) => files.every(({ type }) => takes.includes(type)));
    put("share", async ({ title, files: [file] }) => {
        if (globalThis.dismissed) throw new DOMException("closed", "AbortError");
        shared.push({ title, name: file.name, type: file.type, text: await file.text() });
    });
}"""


def begun(page: Page, server: RunningServer) -> Thumbs:
    """The list of units, on a phone that can do all of it; the workshop is out of reach from here on."""
    page.add_init_script(f"({STAND_INS})()")
    page.goto(server.address)
    ready(page)
    page.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Joss Tarn'))")
    return Thumbs(page)


def shared(page: Page) -> list[dict[str, Any]]:
    """What was handed to the phone's sheet."""
    files: list[dict[str, Any]] = page.evaluate("shared")
    return files


class Thumb:
    """A thumb on the list, from its top downwards."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.client = page.context.new_cdp_session(page)

    def pull(self, *way: int) -> None:
        """Touch, and go down by so many pixels; a list that comes back as it was left is scrolled to its top first."""
        self.page.evaluate("scrollTo(0, 0)")
        self.touch("touchStart", 0)
        for far in way:
            self.touch("touchMove", far)

    def touch(self, kind: str, far: int | None = None) -> None:
        points = [] if far is None else [{"x": 180, "y": 200 + far}]
        self.client.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def test_the_screen_stays_on_while_hands_are_busy(demo: RunningServer, phone: Page) -> None:
    hands = begun(phone, demo)
    hands.link(UNIT)
    for screen in (CHECK_TORQUE, "Measure plates"):
        assert phone.evaluate("awake") == 0
        hands.link(screen)
        until(phone, "() => awake === 1")
        # Back again, it may go dark.
        phone.locator("#main .back").first.tap()
        until(phone, "() => awake === 0")


def test_what_waits_is_on_the_icon_and_goes_by_share_or_by_a_pulled_list(demo: RunningServer, phone: Page) -> None:
    hands = begun(phone, demo)
    until(phone, "() => onIcon === 0")
    phone.route("**/api/**", lambda route: route.abort())
    hands.link(UNIT)
    hands.type("Note", "Chatters when cold.")
    hands.button("Save the note")
    until(phone, "() => onIcon === 1")

    # Text is what this phone shares; a sheet that was closed again is no fault.
    hands.link(re.compile("^Outbox"))
    hands.button("Share the outbox")
    expect(phone.get_by_text("The outbox was handed to the other app.")).to_be_visible()
    [file] = shared(phone)
    assert re.fullmatch(r"slipbook-outbox-\d{4}-\d\d-\d\d\.txt", file["name"])
    assert [entry["body"]["text"] for entry in json.loads(file["text"])["entries"]] == ["Chatters when cold."]
    phone.evaluate("dismissed = true")
    hands.button("Share the outbox")
    expect(phone.get_by_text("Nothing was shared; the entries wait here.")).to_be_visible()
    # What a phone does not share at all is saved, as before.
    phone.evaluate("takes = []")
    hands.link("Units")
    expect(phone.get_by_text("1 entry waits")).to_be_visible()
    hands.button("Deliver now")
    expect(phone.get_by_role("status").filter(has_text="No connection to the workshop")).to_be_visible()

    phone.unroute("**/api/**")
    # A little is a slip of the thumb.
    thumb = Thumb(phone)
    thumb.pull(10, 40)
    expect(phone.get_by_role("status").filter(has_text="Pull down to deliver")).to_be_visible()
    thumb.touch("touchEnd")
    expect(phone.get_by_text("Pull down to deliver")).to_have_count(0)
    thumb.pull(10, 40, 90)
    expect(phone.get_by_role("status").filter(has_text="Let go to deliver")).to_be_visible()
    thumb.touch("touchEnd")
    expect(phone.get_by_role("status").filter(has_text="All is delivered")).to_be_visible()
    until(phone, "() => onIcon === 0")
    expect(phone.get_by_role("button", name="Fetch new entries now")).to_be_visible()


def test_the_customers_sheet_is_shared_as_one_file(demo: RunningServer, phone: Page) -> None:
    begun(phone, demo)
    path = phone.get_by_role("link", name=UNIT).first.get_attribute("href")
    phone.evaluate("path => { location.hash = `${path}/sheet`; }", path)
    key = phone.get_by_role("button", name="Share the sheet")
    key.tap()
    until(phone, "() => shared.length === 1")
    # As the workshop's PC draws it, where that answers.
    [drawn] = shared(phone)
    assert drawn["name"].endswith(".pdf")
    assert drawn["text"].startswith("%PDF")
    phone.route("**/api/**", lambda route: route.abort())
    key.tap()
    until(phone, "() => shared.length === 2")
    _, file = shared(phone)
    assert file["type"] == "text/html"
    assert file["name"].startswith("Bramble-1-")
    # It opens where there is no Slipbook and no network, and looks as it does here.
    elsewhere = phone.context.new_page()
    elsewhere.route("**/*", lambda route: route.abort())
    elsewhere.set_content(file["text"])
    sheet = elsewhere.get_by_role("article")
    expect(sheet).to_contain_text("Odette Farrow")
    expect(sheet.locator("svg.stack")).to_be_visible()
    assert sheet.evaluate("one => getComputedStyle(one.querySelector('.stack .friction')).fill") != "rgb(0, 0, 0)"
    assert "Share the sheet" not in file["text"]
    assert not re.search(r"(src|href)=\"(?!#)", file["text"])
