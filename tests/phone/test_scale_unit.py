"""What a check takes from the tool: the unit of its scale, and the adapter on it."""

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer, draft_is_kept
from .hands import CHECK_TORQUE
from .test_story import UNIT, begin_check, fill_readings, ready

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]


def test_the_readings_take_the_unit_of_the_wrench_that_is_chosen(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready(phone)
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_role("link", name=CHECK_TORQUE).click()
    expect(phone.get_by_role("heading", name="Torque check")).to_be_visible()
    unit = phone.get_by_label("Unit", exact=True)
    tools = phone.locator("select").filter(has_text="Foot-pound beam")
    expect(unit).to_have_value("nm")
    tools.select_option(label="Foot-pound beam")
    expect(unit).to_have_value("lbf_ft")
    phone.get_by_label("forward reading 1", exact=True).fill("62")
    tools.select_option(label="Long beam")
    # What is typed does not come to mean something else by itself.
    question = phone.get_by_role("group", name="Unit of what is typed")
    expect(question).to_contain_text("1 figure is typed in lbf·ft")
    expect(unit).to_have_value("lbf_ft")
    question.get_by_role("button", name="They are N·m").click()
    expect(unit).to_have_value("nm")
    expect(phone.get_by_label("forward reading 1", exact=True)).to_have_value("62")


def test_an_adapters_angle_brings_its_part_of_the_doubt(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready(phone)
    begin_check(phone)
    phone.get_by_label("With what?").select_option(label="Bench dial")
    fill_readings(phone, ["99", "100"], ["100", "101"])
    phone.get_by_text("Adapter on the wrench").click()
    for label, typed in (("Grip to drive, mm", "450"), ("Drive to shaft, mm", "150"), ("Angle, degrees", "90")):
        phone.get_by_label(label, exact=True).fill(typed)
    phone.get_by_text("Where the doubt comes from").click()
    angle = phone.get_by_role("row").filter(has_text="angle of the adapter")
    off = phone.get_by_label("Angle may be off by, degrees", exact=True)
    # 3 degrees where nothing is typed: u = 100 N·m · 150/450 · 3° in radians / sqrt 3 = 1.0 N·m (GUM 4.3.7).
    expect(angle).to_contain_text("1.0")
    off.fill("9")
    expect(angle).to_contain_text("3.0")
    draft_is_kept(phone, '"doubt_deg":"9"')
    off.fill("nine")
    expect(phone.get_by_role("alert").first).to_contain_text("number")
    draft_is_kept(phone, '"doubt_deg":"nine"')
    phone.reload()
    expect(off).to_have_value("nine")
