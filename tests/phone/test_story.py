"""The main job, end to end: checked in the paddock with the server stopped, judged, and home in the log."""

import re
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.server import stores

from .conftest import PATIENCE_MS, RunningServer, draft_is_kept, open_phone
from .hands import CHECK_TORQUE, Hands

UNIT = "Bramble 1"

# What is typed for the disc spring of a new unit, by the fields' labels; the sections in which they stand.
SPRING_SECTIONS = ("Disc spring", "Rubbing ring")
DISC_SPRING = {
    "Outside diameter De": "100",
    "Inside diameter Di": "51",
    "Thickness t": "3,5",
    "Free height l0": "6.3",
    "Rubbing ring, inside": "72",
    "Rubbing ring, outside": "104",
}
# All of a unit but its name, as seasons type it.
WHOLE_UNIT = {
    "Owner": "Orrin Vale",
    "Breakaway ordered": "90",
    "Give or take": "10",
    "Lowest torque it may run with": "60",
    "Highest torque it may run with": "120",
    **DISC_SPRING,
    "How many": "8",
    "Thread": "8",
    "Screw torque": "25",
    "Depth, cover face to floor": "63.6",
    "Separator thickness": "2",
    "Separator limit": "1.8",
    "Friction plate thickness": "2.5",
    "Friction plate limit": "2.2",
    "Ramp ring thickness": "18",
}


def entries_on_disk(server: RunningServer) -> list[dict[str, Any]]:
    """Every entry that the server's log holds on disk; it may hold none."""
    return stores.entries_kept(server.folder)


def ids_on_disk(server: RunningServer) -> set[str]:
    """The ids of all entries in the data folder."""
    return {entry["id"] for entry in entries_on_disk(server)}


def new_on_disk(server: RunningServer, before: set[str], kind: str | None = None) -> list[dict[str, Any]]:
    """The entries, or those of one kind, that were not there before."""
    fresh = [entry for entry in entries_on_disk(server) if entry["id"] not in before]
    return [entry for entry in fresh if kind in (None, entry["kind"])]


def ready(page: Page) -> None:
    """Wait until the log is on the phone."""
    expect(page.get_by_role("link", name=UNIT)).to_be_visible(timeout=2 * PATIENCE_MS)
    expect(page.get_by_role("link", name="up to date")).to_be_visible(timeout=2 * PATIENCE_MS)


def ready_offline(page: Page) -> None:
    """Wait until the service worker holds the app and the log is on the phone: the most that any test waits for."""
    expect(page.get_by_role("link", name=UNIT)).to_be_visible(timeout=2 * PATIENCE_MS)
    page.evaluate("() => navigator.serviceWorker.ready.then(() => null)")
    page.wait_for_function("() => navigator.serviceWorker.controller !== null", timeout=2 * PATIENCE_MS)
    ready(page)


def delivered(page: Page) -> None:
    """Wait until what was saved is in the log: from the moment that it is saved until then the bar says otherwise.

    The outbox's count is no sign of it: it is drawn a little later, and is not there before either.
    """
    expect(page.locator("#bar .state")).to_have_text("up to date")


def begin_check(page: Page) -> None:
    """From the units to a torque check on the bench, with one output held."""
    page.get_by_role("link", name=UNIT).click()
    page.get_by_role("link", name=CHECK_TORQUE).click()
    page.get_by_label("Bench: one output held").check()


def fill_readings(page: Page, forward: list[str], reverse: list[str]) -> None:
    """Type readings both ways."""
    for direction, values in (("forward", forward), ("reverse", reverse)):
        for number, value in enumerate(values, 1):
            page.get_by_label(f"{direction} reading {number}", exact=True).fill(value)


@pytest.mark.both_stores
def test_a_unit_is_checked_offline_judged_and_home_in_the_log(
    demo: RunningServer, hands: Hands, chromium: Browser
) -> None:
    phone = hands.page
    before = len(entries_on_disk(demo))
    phone.goto(demo.address)
    ready_offline(phone)

    # In the paddock: no server, no network, the app opened cold.
    demo.stop()
    phone.context.set_offline(True)
    phone.goto("about:blank")
    phone.goto(demo.address)
    hands.link(UNIT)
    hands.link(CHECK_TORQUE)
    hands.choose("Car: one wheel down, neutral")
    expect(phone.get_by_role("note", name="Caution")).to_contain_text("chocks on both sides")
    hands.pick("With what?", "Long beam")
    hands.readings(["84", "86"], [])

    # A dead battery in the middle of it loses nothing.
    draft_is_kept(phone, '"84","86"')
    phone.goto("about:blank")
    phone.goto(f"{demo.address}/#/")
    hands.link(UNIT)
    hands.link("Go on with the check")
    expect(phone.get_by_label("forward reading 2", exact=True)).to_have_value("86")

    hands.readings(["84", "86", "85,5"], ["83", "85", "84"])
    verdict = phone.get_by_role("region", name="Verdict")
    expect(verdict).to_contain_text("go")
    expect(verdict).to_contain_text("Good to run")
    expect(verdict.get_by_role("img")).to_have_count(1)
    hands.type("Checked by", "Joss Tarn")
    hands.button("Save the check")

    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    hands.link("Measure plates")
    for slot, points in (("A2", ["2,28", "2.27", "2.28"]), ("A3", ["1.49", "1.49", "1.48"])):
        hands.button(re.compile(f"^{slot} "))
        for number, point in enumerate(points, 1):
            hands.type(f"{slot} point {number}", point)
    expect(phone.get_by_role("region", name="Verdict")).to_contain_text("replace")
    expect(phone.get_by_role("button", name="A2 2.270 mm, friction plate, replace")).to_be_visible()
    expect(phone.get_by_role("button", name="A3 1.480 mm, separator plate, go")).to_be_visible()
    hands.button("Save the plates")
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    expect(phone.locator(".card.judged").first).to_contain_text("replace")
    expect(phone.get_by_role("link", name="Outbox, 2 waiting")).to_be_visible()

    # Home again: the outbox empties by itself.
    demo.start()
    phone.context.set_offline(False)
    delivered(phone)
    expect(phone.get_by_role("link", name="Outbox", exact=True)).to_be_visible()

    stored = entries_on_disk(demo)
    assert len(stored) == before + 2
    fresh = sorted(stored, key=lambda entry: entry["seq"])[-2:]
    assert {entry["kind"] for entry in fresh} == {"torque_check", "plate_check"}
    for entry in fresh:
        assert entry["who"] == "Joss Tarn"
        assert entry["agrees"] is True
        # The log keeps the server's own result only where it differs from what was shown.
        assert "judged" not in entry
    check = next(entry for entry in fresh if entry["kind"] == "torque_check")
    assert check["body"]["steady_nm"]["forward"][2] == {"typed": "85,5", "unit": "nm"}
    assert check["shown"]["directions"]["forward"]["readings_nm"][2] == 85.5

    # A second browser sees both.
    context = open_phone(chromium)
    other = context.new_page()
    other.goto(demo.address)
    other.get_by_role("link", name=UNIT).click()
    expect(other.locator(".card.judged").first).to_contain_text("replace")
    expect(other.get_by_text("Joss Tarn").first).to_be_visible()
    context.close()


@pytest.mark.in_reach
@pytest.mark.knows_the_demo
def test_what_is_wrong_is_said_at_its_field_and_nothing_is_lost(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    begin_check(phone)
    phone.get_by_label("With what?").select_option(label="Long beam")
    fill_readings(phone, ["100", "101", "102"], ["100", "101"])
    expect(phone.get_by_role("region", name="Verdict")).to_contain_text("go")
    field = phone.get_by_label("forward reading 2", exact=True)
    for typed, sentence in (
        ("abc", "Type a number"),
        ("-5", "at least 0"),
        ("1e9", "Type a number"),
        ("1000000000", "at most 5000"),
        ("1.234,5", "one decimal sign"),
        ("201", "The tool ends at 200"),
    ):
        field.fill(typed)
        expect(phone.get_by_role("alert").filter(has_text=sentence).first).to_be_visible()
        expect(field).to_have_attribute("aria-invalid", "true")
        expect(field).to_have_value(typed)
        expect(phone.get_by_role("button", name="Save the check")).to_be_disabled()
    field.fill("")
    expect(phone.get_by_role("region", name="Verdict")).to_contain_text("go")
    phone.get_by_label("forward reading 3", exact=True).fill("")
    phone.get_by_label("reverse reading 1", exact=True).fill("")
    expect(phone.get_by_text("Type two readings or more")).to_be_visible()
    phone.get_by_label("forward reading 2", exact=True).fill("101")
    expect(phone.get_by_role("alert").filter(has_text="at least 2 readings").first).to_be_visible()
    expect(phone.get_by_label("reverse reading 2", exact=True)).to_have_value("101")


@pytest.mark.in_reach
@pytest.mark.knows_the_demo
def test_a_correction_stands_and_both_entries_stay(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_role("link", name="breakaway torque checked 84.3").click()
    phone.get_by_role("link", name="Correct this entry").click()
    expect(phone.get_by_label("forward reading 1", exact=True)).not_to_have_value("")
    fill_readings(phone, ["60", "61", "60"], ["60", "61", "60"])
    expect(phone.get_by_role("region", name="Verdict")).to_contain_text("rework")
    phone.get_by_label("Checked by").fill("Ilse Marrow")
    phone.get_by_role("button", name="Save the check").click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    expect(phone.locator(".card.judged").first).to_contain_text("rework")
    expect(phone.get_by_text("corrected later")).to_be_visible()
    expect(phone.get_by_text("a correction").first).to_be_visible()


@pytest.mark.in_reach
@pytest.mark.knows_the_demo
def test_a_unit_is_taken_in_from_nothing(demo: RunningServer, hands: Hands) -> None:
    phone = hands.page
    phone.goto(demo.address)
    expect(phone.get_by_role("link", name=UNIT)).to_be_visible()
    hands.link("Add a unit")
    hands.type("Name of the unit", "Clover 9")
    hands.section("Plates and rings", *SPRING_SECTIONS, "Depth")
    for label, value in {
        "Breakaway ordered": "100",
        "Give or take": "10",
        "Lowest torque it may run with": "70",
        **DISC_SPRING,
        "Depth, cover face to floor": "62.9",
        "Separator thickness": "2",
        "Friction plate thickness": "2.5",
        "Friction plate limit": "2.6",
        "Ramp ring thickness": "18",
    }.items():
        hands.type(label, value)
    expect(phone.get_by_role("alert").filter(has_text="The limit must be below").first).to_be_visible()
    hands.type("Friction plate limit", "2.3")
    expect(phone.locator("[data-figure=torque]")).to_contain_text("N·m")
    hands.type("Entered by", "Ilse Marrow")
    hands.button("Add the unit")
    expect(phone.get_by_role("heading", name="Clover 9")).to_be_visible()
    expect(phone.get_by_text("Never torque-checked")).to_be_visible()
    delivered(phone)
    assert any(entry["body"].get("name") == "Clover 9" for entry in entries_on_disk(demo))
