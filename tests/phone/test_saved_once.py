"""What is tapped while a slow phone still saves: nothing is saved twice, and whoever went on is not fetched back."""

import pytest
from playwright.sync_api import Page, expect

from tests.server.sample_logs import entry

from .conftest import RunningServer, until
from .screens import put, unit_path
from .test_story import delivered, fill_readings, ids_on_disk, new_on_disk, ready
from .test_typed_units import go

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

# The tap comes to the key that was there, and then so much time goes by as any save takes.
TAP_LATE = """(key) => new Promise((resolve) => {
    key.click();
    let frames = 40;
    const next = () => (frames-- ? requestAnimationFrame(next) : resolve());
    next();
})"""


def open_form(page: Page, server: RunningServer, form: str) -> None:
    page.goto(server.address)
    ready(page)
    page.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Ilse Marrow'))")
    go(page, server.address, f"{unit_path(server.address)}/{form}")


def open_check(page: Page, server: RunningServer) -> None:
    """A check with all that it takes to save it."""
    open_form(page, server, "check")
    page.get_by_label("With what?").select_option(label="Bench dial")
    fill_readings(page, ["84", "84"], ["84", "84"])


def tap_twice(page: Page, server: RunningServer, key: str, kind: str) -> None:
    before = ids_on_disk(server)
    save = page.get_by_role("button", name=key).element_handle()
    save.click()
    expect(page.get_by_role("heading", name="The stack")).to_be_visible()
    delivered(page)
    page.evaluate(TAP_LATE, save)
    delivered(page)
    assert len(new_on_disk(server, before, kind)) == 1


def test_an_outing_that_is_saved_and_still_shown_is_not_saved_again(demo: RunningServer, phone: Page) -> None:
    open_form(phone, demo, "outing")
    tap_twice(phone, demo, "Save the outing", "outing")


def test_a_check_that_is_saved_and_still_shown_is_not_saved_again(demo: RunningServer, phone: Page) -> None:
    open_check(phone, demo)
    tap_twice(phone, demo, "Save the check", "torque_check")


# How many entries of a kind the phone has.
COUNTED = """(kind) => slipbook.part("log/store.js").then(({ database }) => database())
    .then((db) => db.getAll("entries")).then((all) => all.filter((one) => one.kind === kind).length)"""
LEAVE_MEANWHILE = """(key) => {
    key.click();
    location.hash = "#/help";
}"""


def leave_while_it_is_saved(page: Page, server: RunningServer, key: str, kind: str) -> None:
    before, had = ids_on_disk(server), page.evaluate(COUNTED, kind)
    page.get_by_role("button", name=key).evaluate(LEAVE_MEANWHILE)
    expect(page.get_by_role("heading", name="Help", exact=True)).to_be_visible()
    # All may be said to be home before it is even written: what is saved is judged first.
    until(page, f"([kind, had]) => ({COUNTED})(kind).then((now) => now > had)", [kind, had])
    delivered(page)
    assert len(new_on_disk(server, before, kind)) == 1
    expect(page.get_by_role("heading", name="Help", exact=True)).to_be_visible()
    assert page.evaluate("location.hash") == "#/help"


def test_whoever_goes_on_while_an_outing_is_saved_is_not_fetched_back(demo: RunningServer, phone: Page) -> None:
    open_form(phone, demo, "outing")
    leave_while_it_is_saved(phone, demo, "Save the outing", "outing")


def test_whoever_goes_on_while_a_check_is_saved_is_not_fetched_back(demo: RunningServer, phone: Page) -> None:
    open_check(phone, demo)
    leave_while_it_is_saved(phone, demo, "Save the check", "torque_check")


def test_whoever_goes_on_while_a_note_is_corrected_is_not_fetched_back(demo: RunningServer, phone: Page) -> None:
    path = unit_path(demo.address)
    note = entry("note", path.removeprefix("/unit/"))
    put(demo.address, [note])
    open_form(phone, demo, f"note/{note['id']}")
    phone.get_by_label("Note", exact=True).fill("Oil changed, and the seal.")
    leave_while_it_is_saved(phone, demo, "Save the note", "note")
