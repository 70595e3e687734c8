"""What is to know of a unit itself stands in the list, on its page and on its sheet."""

import re
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.engine.checks import PLATES, UNIT, changed

from .conftest import EACH_IS_JUDGED, RunningServer, until

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

SIZES = [(360, 640), (1280, 800)]
ID = "11111111-2222-4333-8444-555555555555"

WRITE = """async ([unit, entries]) => {
  const { write } = await slipbook.part("log/outbox.js");
  const { calc } = await slipbook.part("engine/door.js");
  for (const { kind, calculation, body } of entries)
    await write({ unit, kind, body, shown: await calc(calculation, body) });
}"""


def written(page: Page, *entries: tuple[str, str, dict[str, Any]]) -> None:
    """Entries of a unit of its own, written on the phone."""
    page.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Ilse Marrow'))")
    rows = [{"kind": kind, "calculation": calculation, "body": body} for kind, calculation, body in entries]
    page.evaluate(WRITE, [ID, rows])


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("way", ["drive", "coast"])
def test_ramps_that_lock_solid_are_said_in_the_list_on_the_page_and_on_the_sheet(
    demo: RunningServer, phone: Page, size: tuple[int, int], way: str
) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    ramps = {"pin_radius_mm": 20, "drive_deg": 80, "coast_deg": 80} | {f"{way}_deg": 10}
    written(phone, ("unit", "unit", changed(UNIT, name="Solid Sam", ramps=ramps)))
    opens = phone.get_by_role("link", name="Solid Sam")
    row = phone.locator(".units li, table tr").filter(has=opens)
    expect(row).to_contain_text(f"Ramps lock solid on {way}")
    opens.click()
    warning = phone.get_by_text(f"On {way} its ramps lock it solid")
    expect(warning).to_have_count(1)
    verdict = "rework" if way == "drive" else "not judged"
    expect(phone.locator(".judged .verdict").first).to_have_text(verdict)
    phone.goto(f"{demo.address}/#/unit/{ID}/sheet")
    expect(phone.locator(".sheet")).to_contain_text(f"On {way} its ramps lock it solid")
    expect(warning).to_have_count(1)


@pytest.mark.parametrize("size", SIZES)
def test_which_way_round_the_spring_sits_is_on_the_sheet_and_at_its_step(
    demo: RunningServer, phone: Page, size: tuple[int, int]
) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    cover = {"screws": 8, "screw_mm": 8, "torque_nm": 25}
    written(phone, ("unit", "unit", changed(UNIT, name="Coned", chain__0__cone_to="cover", cover=cover)))
    phone.goto(f"{demo.address}/#/unit/{ID}/sheet")
    expect(phone.locator(".sheet")).to_contain_text("S1: its point faces the cover")
    phone.goto(f"{demo.address}/#/unit/{ID}/close")
    cone = phone.locator(".guided > li", has_text="disc spring the right way round")
    cone.get_by_text("How, and what to heed").click()
    expect(cone).to_contain_text("S1: the point of its cone faces the cover.")


def long_ago(page: Page) -> None:
    """A unit with plates that were measured two years ago, by the phone's clock."""
    written(page, ("unit", "unit", changed(UNIT, name="Stale Stan")), ("plate_check", "plates", changed(PLATES)))
    # What is being worked out just then counts its days by the clock as it was.
    until(page, EACH_IS_JUDGED)
    page.clock.set_fixed_time(datetime.now(UTC) + timedelta(days=730))


@pytest.mark.parametrize("size", SIZES)
def test_plates_measured_long_ago_are_said_at_the_stack_and_at_the_plan(
    demo: RunningServer, phone: Page, size: tuple[int, int]
) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    long_ago(phone)
    phone.goto(f"{demo.address}/#/unit/{ID}")
    stack = phone.get_by_role("region", name="The stack")
    expect(stack).to_contain_text("days ago, and 365 days are allowed: measure them before you go by this stack")
    phone.goto(f"{demo.address}/#/unit/{ID}/plan")
    expect(phone.locator("section", has_text="Wanted").first).to_contain_text("and 365 days are allowed")
    phone.goto(f"{demo.address}/#/unit/{ID}/sheet")
    expect(phone.locator(".sheet")).to_contain_text("days ago, 365 days are allowed")


@pytest.mark.parametrize("size", SIZES)
def test_a_plate_family_and_an_interval_are_asked_for(demo: RunningServer, phone: Page, size: tuple[int, int]) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    written(phone, ("unit", "unit", changed(UNIT, name="Fay")))
    phone.goto(f"{demo.address}/#/unit/{ID}/change")
    phone.get_by_text("Plate family, and a note").click()
    phone.get_by_label("Plate family, if you keep several").fill("71/98 lugs, bronze")
    phone.locator("[data-section=limits] > summary").click()
    phone.get_by_label("Measure the plates every, days").fill("3")
    expect(phone.get_by_text("This must be at least 7").first).to_be_visible()
    phone.get_by_label("Measure the plates every, days").fill("90")
    expect(phone.get_by_text("This must be at least 7")).to_have_count(0)
    phone.goto(f"{demo.address}/#/shelf")
    # The definition's field, whose name begins alike, stays until the shelf comes.
    expect(phone.get_by_role("heading", name="Shelf")).to_be_visible()
    # A grid has a column for it.
    if size[0] < 1000:
        phone.get_by_text("Lowest stock, how exact, plate family").first.click()
    field = phone.get_by_label("Plate family").first
    field.fill("splines")
    expect(field).to_have_value("splines")
    assert phone.evaluate("document.documentElement.scrollWidth") <= size[0]


@pytest.mark.parametrize("size", SIZES)
def test_the_check_fresh_from_a_rebuild_is_marked_and_left_out_of_the_line_until_asked_for(
    demo: RunningServer, phone: Page, size: tuple[int, int]
) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    phone.get_by_role("link", name="Bramble 1").click()
    chart = phone.get_by_role("img", name="Breakaway torque over outings")
    expect(chart).to_have_attribute("aria-label", re.compile("7 checks, 1 of them fresh from a rebuild"))
    expect(phone.get_by_text("fresh from a rebuild, not bedded in")).to_have_count(1)
    before = chart.get_attribute("aria-label")
    with_first = phone.get_by_role("button", name="With the first check after a rebuild")
    expect(with_first).to_have_attribute("aria-pressed", "false")
    with_first.click()
    expect(with_first).to_have_attribute("aria-pressed", "true")
    expect(chart).not_to_have_attribute("aria-label", str(before))
    assert phone.evaluate("document.documentElement.scrollWidth") <= size[0]
