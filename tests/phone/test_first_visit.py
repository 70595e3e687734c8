"""A first visit: what needs no engine is there before it, and a screen that waits for it says so."""

import pytest
from playwright.sync_api import Page, Route, expect

from .conftest import RunningServer, until
from .screens import unit_path

pytestmark = pytest.mark.in_reach

SAYS_THAT_IT_WAITS = """() => {
    const { content, visibility } = getComputedStyle(document.querySelector("#main > .screen"), "::before");
    return visibility === "visible" && content === '"Working it out…"';
}"""


def test_what_needs_no_engine_is_there_before_it(phone: Page, demo: RunningServer) -> None:
    held: list[Route] = []
    unit = unit_path(demo.address)
    phone.route("**/engine/files.bin", lambda route: held.append(route))

    phone.goto(f"{demo.address}/#/help/verdict")
    expect(phone.get_by_text("A reading is never exact")).to_be_visible()
    expect(phone.get_by_role("heading", name="When not to trust it")).to_have_count(0)

    phone.goto(f"{demo.address}/#{unit}/plates")
    expect(phone.get_by_text("Hold it closed in a vice before you touch the cover screws")).to_be_visible()
    expect(phone.locator(".readings input")).to_have_count(0)

    phone.goto(f"{demo.address}/#{unit}")
    until(phone, SAYS_THAT_IT_WAITS)

    for route in held:
        route.continue_()
    expect(phone.get_by_role("heading", name="Bramble 1", exact=True)).to_be_visible()
    expect(phone.get_by_role("heading", name="History", exact=True)).to_be_visible()
    assert not phone.evaluate(SAYS_THAT_IT_WAITS)
    phone.goto(f"{demo.address}/#/help/verdict")
    expect(phone.get_by_role("heading", name="When not to trust it")).to_be_visible()
    phone.goto(f"{demo.address}/#{unit}/plates")
    expect(phone.locator(".readings input").first).to_be_visible()
