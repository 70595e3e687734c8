"""A torque check on the phone: what the way of holding asks for, what is marked, and one unit throughout."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.engine.history.test_judged_again import HELD, INSIDE
from tests.server.sample_logs import UNIT_ID, entry

from .conftest import RunningServer
from .screens import put
from .test_story import UNIT, fill_readings, ready
from .test_typed_units import go

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]


def begin(page: Page, server: RunningServer, unit: str, tool: str = "Bench dial") -> None:
    """Open the check of a unit of the demonstration, with a tool chosen."""
    page.goto(server.address)
    ready(page)
    path = (page.get_by_role("link", name=unit).get_attribute("href") or "").removeprefix("#")
    go(page, server.address, f"{path}/check")
    page.get_by_label("With what?").select_option(label=tool)


def test_both_wheels_up_asks_for_the_drag_of_both(demo: RunningServer, phone: Page) -> None:
    begin(phone, demo, UNIT)
    verdict = phone.get_by_role("region", name="Verdict")
    phone.get_by_label("Car: one wheel down").check()
    phone.get_by_text("Drag of other parts").click()
    expect(phone.get_by_label("On the turned wheel, N·m")).to_be_visible()
    expect(phone.get_by_label("On the other wheel, N·m")).to_have_count(0)
    phone.get_by_label("Car: both wheels up").check()
    fill_readings(phone, ["212", "212"], ["212", "212"])
    phone.get_by_label("On the turned wheel, N·m").fill("6")
    expect(verdict).to_contain_text("the drag of one was given: it counts for each, 12.0 N·m together")
    expect(verdict).to_contain_text("100.0 N·m")
    phone.get_by_label("On the other wheel, N·m").fill("10")
    expect(verdict).to_contain_text("98.0 N·m")
    expect(verdict).not_to_contain_text("it counts for each")
    # What was typed for a wheel that does not turn now is neither sent nor lost.
    phone.get_by_label("Car: one wheel down").check()
    expect(verdict).to_contain_text("206.0 N·m")
    phone.get_by_label("Car: both wheels up").check()
    expect(phone.get_by_label("On the other wheel, N·m")).to_have_value("10")


def test_a_flank_that_locks_is_refused_at_its_readings(demo: RunningServer, phone: Page) -> None:
    begin(phone, demo, "Thistle 4")
    phone.get_by_label("Bench: case in the vice").check()
    expect(phone.get_by_role("note", name="Caution")).to_contain_text(
        "the ramps press too: the wrench feels more than twice"
    )
    fill_readings(phone, ["160", "162"], [])
    verdict = phone.get_by_role("region", name="Verdict")
    expect(verdict).to_contain_text("turned forward, they make each pack")
    fill_readings(phone, [], ["180", "181"])
    refusal = phone.get_by_role("group", name=re.compile("^Turning steadily, reverse$")).get_by_role("alert")
    expect(refusal).to_contain_text("That flank cannot be turned")
    expect(refusal).to_contain_text("Hold one output instead")
    expect(phone.get_by_role("button", name="Save the check")).to_be_disabled()
    phone.get_by_label("Bench: one output held").check()
    expect(refusal).to_have_count(0)


def test_two_readings_a_third_apart_are_both_marked(demo: RunningServer, phone: Page) -> None:
    begin(phone, demo, UNIT)
    phone.get_by_label("Bench: one output held").check()
    fill_readings(phone, ["84,5", "184,5"], [])
    verdict = phone.get_by_role("region", name="Verdict")
    expect(verdict).to_contain_text("84.5 N·m and 184.5 N·m, differ by more than a third")
    expect(verdict).not_to_contain_text("What would help most")
    for number in (1, 2):
        marked = phone.get_by_label(f"forward reading {number}", exact=True)
        expect(marked).to_have_attribute("aria-invalid", "true")
    phone.get_by_label("forward reading 2", exact=True).fill("85")
    expect(marked).to_have_attribute("aria-invalid", "false")


def test_readings_verdict_drawing_and_limits_stand_in_the_unit_that_is_read(demo: RunningServer, phone: Page) -> None:
    begin(phone, demo, UNIT, "Foot-pound beam")
    phone.get_by_label("Bench: one output held").check()
    phone.get_by_text("Drag of other parts").click()
    # In the unit of the wrench as well: 67.3 less 5.
    phone.get_by_label("On the turned wheel, lbf·ft").fill("5")
    fill_readings(phone, ["67", "68"], ["67", "67"])
    verdict = phone.get_by_role("region", name="Verdict")
    expect(verdict).to_contain_text("62.3 lbf·ft")
    phone.get_by_text("Where the doubt comes from").click()
    drawn = verdict.locator("svg.guard text").all_text_contents()
    assert [text for text in drawn if text.startswith("from ")] == ["from 51.6 lbf·ft"]
    assert all(re.fullmatch(r"(from |to )?[\d.]+ lbf·ft( ± [\d.]+ lbf·ft)?", text) for text in drawn), drawn
    expect(phone.locator(".verdict-bar")).to_contain_text(re.compile(r"62\.3\s+lbf·ft\s*± [\d.]+"))
    assert "N·m" not in verdict.inner_text()


def test_a_check_that_an_older_engine_judged_says_what_is_found_now(tmp_path: Path, phone: Page) -> None:
    server = RunningServer(tmp_path / "log")
    server.start()
    try:
        at = "2026-05-02T10:00:00+02:00"
        check = entry("torque_check", unit=UNIT_ID, body=HELD, engine="1.3")
        put(server.address, [entry("unit", unit=UNIT_ID, body=INSIDE, at=at), check])
        phone.goto(server.address)
        phone.get_by_role("link", name="Test unit").click()
        judged_again = phone.get_by_text("Judged go by Slipbook's engine 1.3; today's engine says")
        expect(judged_again).to_be_visible()
        expect(phone.locator(".card.judged").first).not_to_contain_text("Good to run")
        phone.get_by_role("link", name="The last torque check").click()
        expect(phone.get_by_role("heading", name="breakaway torque checked")).to_be_visible()
        expect(judged_again).to_be_visible()
    finally:
        server.stop()


def test_a_fold_is_filled_as_it_opens_and_keeps_what_is_typed_in_it(demo: RunningServer, phone: Page) -> None:
    begin(phone, demo, UNIT)
    expect(phone.get_by_text("Drag of other parts")).to_be_visible()
    # A browser looks through all fields of a page at each key: those that nobody has opened are not there.
    expect(phone.locator("main details:not([open]) :is(input, select)")).to_have_count(0)
    shown = phone.get_by_text("Warmth, outings, oil, limits").evaluate(
        "(words) => { words.click(); return words.closest('details').querySelectorAll('input').length }"
    )
    assert shown > 3, "it opens before it is filled"
    phone.get_by_label("Oil").fill("SAE 90")
    phone.get_by_text("Warmth, outings, oil, limits").click()
    expect(phone.get_by_label("Oil")).to_be_hidden()
    phone.get_by_text("Warmth, outings, oil, limits").click()
    expect(phone.get_by_label("Oil")).to_have_value("SAE 90")
    # What looks for words on the page opens folds too, without a tap.
    phone.get_by_text("Peak at the first move").evaluate("(words) => { words.closest('details').open = true }")
    expect(phone.get_by_label("First move, forward reading 1")).to_be_visible()
