"""A first visit: what needs no engine is there before it, and a screen that waits for it says so."""

import json
import re

import pytest
from playwright.sync_api import Page, Route, expect

from .conftest import RunningServer, until
from .screens import unit_path

pytestmark = pytest.mark.in_reach


class Gate:
    """Holds up what a page asks for until it is opened, and nothing from then on."""

    def __init__(self) -> None:
        self.held: list[Route] | None = []

    def __call__(self, route: Route) -> None:
        """Hold up a request, or let it through."""
        if self.held is None:
            route.continue_()
        else:
            self.held.append(route)

    def open(self) -> None:
        """Let everything through."""
        held, self.held = self.held or [], None
        for route in held:
            route.continue_()


SAYS_THAT_IT_WAITS = """() => {
    const { content, visibility } = getComputedStyle(document.querySelector("#main > .screen"), "::before");
    return visibility === "visible" && content === '"Working it out…"';
}"""


def test_what_needs_no_engine_is_there_before_it(phone: Page, demo: RunningServer) -> None:
    gate = Gate()
    unit = unit_path(demo.address)
    phone.route("**/engine/files.bin", gate)

    phone.goto(f"{demo.address}/#/help/verdict")
    expect(phone.get_by_text("A reading is never exact")).to_be_visible()
    expect(phone.get_by_role("heading", name="When not to trust it")).to_have_count(0)

    phone.goto(f"{demo.address}/#{unit}/plates")
    expect(phone.get_by_text("Hold it closed in a vice before you touch the cover screws")).to_be_visible()
    expect(phone.locator(".readings input")).to_have_count(0)

    phone.goto(f"{demo.address}/#{unit}")
    until(phone, SAYS_THAT_IT_WAITS)

    gate.open()
    expect(phone.get_by_role("heading", name="Bramble 1", exact=True)).to_be_visible()
    expect(phone.get_by_role("heading", name="History", exact=True)).to_be_visible()
    assert not phone.evaluate(SAYS_THAT_IT_WAITS)
    phone.goto(f"{demo.address}/#/help/verdict")
    expect(phone.get_by_role("heading", name="When not to trust it")).to_be_visible()
    phone.goto(f"{demo.address}/#{unit}/plates")
    expect(phone.locator(".readings input").first).to_be_visible()


def test_the_caution_of_plates_stays_as_it_is_when_the_form_comes(phone: Page, demo: RunningServer) -> None:
    gate = Gate()
    phone.route("**/engine/files.bin", gate)
    phone.goto(f"{demo.address}/#{unit_path(demo.address)}/plates")
    caution = phone.locator(".typing > .caution")
    expect(caution).to_be_visible()
    before = caution.bounding_box()
    caution.evaluate("one => { window.caution = one; }")
    gate.open()
    # The stack is drawn last, and the hand goes to the first point once all is there.
    expect(phone.get_by_role("heading", name="Tap a plate")).to_be_visible()
    expect(phone.locator(".readings input").first).to_be_focused()
    assert caution.evaluate("one => window.caution === one")
    assert caution.bounding_box() == before


IN_TURNS = """(parts) => {
    const seen = (window.seen = []);
    new MutationObserver(() => {
        const now = parts.map((one) => Boolean(document.querySelector(`#main ${one}`)));
        if (`${now}` !== `${seen.at(-1)}`) seen.push(now);
    }).observe(document, { childList: true, subtree: true });
}"""


@pytest.mark.parametrize(
    ("screen", "parts", "last"),
    [
        ("plates", ["input", ".how", ".verdict-bar"], "Tap a plate"),
        ("check", [".readings input", ".verdict-bar", "summary small"], "Warmth, outings, oil, limits"),
        ("", [".verdict", "trend-chart", ".history"], "History"),
    ],
)
def test_a_screen_is_drawn_in_turns(phone: Page, demo: RunningServer, screen: str, parts: list[str], last: str) -> None:
    """Between what is wanted first and what is drawn last, the browser has its turn."""
    phone.add_init_script(f"({IN_TURNS})({json.dumps(parts)})")
    phone.goto(f"{demo.address}/#{unit_path(demo.address)}/{screen}".rstrip("/"))
    expect(phone.get_by_text(last).first).to_be_visible()
    steps = phone.evaluate("seen")
    assert [True, False, False] in steps
    assert [True, True, False] in steps
    assert steps[-1] == [True, True, True]


# Each frame comes late, as on a slow phone.
LATE_FRAMES = """() => {
    const soon = window.requestAnimationFrame.bind(window);
    window.requestAnimationFrame = (act) => setTimeout(() => soon(act), 300);
}"""


@pytest.mark.parametrize(("screen", "field"), [("plates", "A1 point 2"), ("check", "forward reading 2")])
def test_whoever_types_before_all_is_drawn_stays_there(
    phone: Page, demo: RunningServer, screen: str, field: str
) -> None:
    phone.goto(f"{demo.address}/#{unit_path(demo.address)}")
    expect(phone.get_by_role("heading", name="History", exact=True)).to_be_visible()
    phone.evaluate(LATE_FRAMES)
    phone.evaluate("path => { location.hash += path; }", f"/{screen}")
    typed = phone.get_by_label(field, exact=True)
    typed.focus()
    phone.keyboard.type("2")
    expect(phone.locator(".verdict-bar")).to_be_visible()
    # It is measured last of all, after the turn in which a hand would be led to the first field.
    until(phone, "() => document.documentElement.style.getPropertyValue('--bar') !== ''")
    expect(typed).to_be_focused()
    expect(typed).to_have_value("2")


def test_the_log_is_on_its_way_before_it_is_known_which_log_it_is(phone: Page, demo: RunningServer) -> None:
    gate = Gate()
    phone.route("**/api/health?*", gate)
    with phone.expect_response("**/api/log?after=0*") as answered:
        phone.goto(f"{demo.address}/#{unit_path(demo.address)}")
    assert answered.value.ok
    expect(phone.get_by_role("heading", name="This unit is not on this phone yet")).to_be_visible()
    asked: list[str] = []
    phone.on("request", lambda request: asked.append(request.url))
    gate.open()
    expect(phone.get_by_role("heading", name="History", exact=True)).to_be_visible()
    assert not [url for url in asked if "/api/log?after=0" in url]
    # Whoever has met the log asks for nothing before it is known to be the same.
    phone.reload()
    with phone.expect_response("**/api/log?*") as later:
        expect(phone.get_by_text("up to date")).to_be_visible()
    assert "after=0" not in later.value.url


def test_a_page_of_another_log_is_not_taken_for_the_first_one(phone: Page, demo: RunningServer) -> None:
    """Another program may take the address between two answers."""
    swapped: list[str] = []

    def answer(route: Route) -> None:
        response = route.fetch()
        page = response.json()
        if not swapped:
            swapped.append(page["log_id"])
            page |= {"log_id": "01890a5d-0000-7000-8000-000000000000", "entries": [], "more": False}
        route.fulfill(response=response, json=page)

    phone.route("**/api/log?*", answer)
    phone.goto(demo.address)
    expect(phone.get_by_role("link", name="Bramble 1")).to_be_visible()
    assert swapped


# Notes what is made that writes days or puts names in order.
NOTES_WHAT_IS_MADE = """
    self.made = [];
    for (const name of ["DateTimeFormat", "Collator"])
        Intl[name] = new Proxy(Intl[name], {
            construct(target, given) { self.made.push(name); return Reflect.construct(target, given); },
        });
"""


def test_what_it_takes_to_write_days_and_order_names_is_read_beside_the_page(phone: Page, demo: RunningServer) -> None:
    gate = Gate()
    phone.add_init_script(NOTES_WHAT_IS_MADE)
    phone.route("**/api/log?*", gate)
    worker = phone.request.get(f"{demo.address}/engine/worker.js").text()
    phone.route(
        "**/engine/worker.js",
        lambda route: route.fulfill(body=NOTES_WHAT_IS_MADE + worker, content_type="text/javascript"),
    )
    with phone.expect_worker() as started:
        phone.goto(demo.address)
    expect(phone.get_by_text("Opening the book…")).to_have_count(0)
    assert started.value.evaluate("made") == ["DateTimeFormat", "Collator"]
    assert phone.evaluate("made") == []
    gate.open()
    expect(phone.get_by_role("link", name="Bramble 1")).to_be_visible()
    assert phone.evaluate("made.filter((name) => name === 'Collator')") == ["Collator"]
    # The page pays for neither where nothing is listed or dated.
    phone.goto(f"{demo.address}/#/help/verdict")
    phone.reload()
    expect(phone.get_by_role("heading", name="When not to trust it")).to_be_visible()
    expect(phone.get_by_text("up to date")).to_be_visible()
    assert phone.evaluate("made") == []


def test_a_chart_is_fetched_once_it_is_in_sight(phone: Page, demo: RunningServer) -> None:
    asked: list[str] = []
    fails = [True]

    def answer(route: Route) -> None:
        asked.append(route.request.url)
        if fails:
            route.abort()
        else:
            route.continue_()

    phone.route("**/uPlot.iife.min.js", answer)
    phone.goto(f"{demo.address}/#{unit_path(demo.address)}")
    chart = phone.locator("trend-chart")
    # What it looks ahead to is told below it, so all of the page is there by then.
    expect(phone.get_by_text("Across: outings since the rebuild")).to_be_visible()
    expect(phone.get_by_role("heading", name="History", exact=True)).to_be_visible()
    assert not asked
    # Whoever hears a page instead of seeing it has it all.
    expect(phone.get_by_role("img", name=re.compile("^Breakaway torque over outings"))).to_have_count(1)
    room = chart.bounding_box()

    with phone.expect_event("console", lambda told: "chart" in told.text):
        chart.scroll_into_view_if_needed()
    assert len(asked) == 1
    # Whoever comes back to it finds it, if it can be had by then.
    fails.clear()
    phone.evaluate("scrollTo(0, document.body.scrollHeight)")
    expect(chart).not_to_be_in_viewport()
    chart.scroll_into_view_if_needed()
    expect(chart.locator("canvas")).to_be_visible()
    drawn = chart.bounding_box()
    assert room
    assert drawn
    assert drawn["height"] == room["height"]
