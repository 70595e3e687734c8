"""A wrench is read in the unit that stands on its scale."""

from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .test_story import UNIT, ready_offline


def test_the_readings_take_the_unit_of_the_wrench_that_is_chosen(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_role("link", name="Check torque").click()
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
