"""A unit in a corner: a car is kept, its unit is drawn with it, something is tried, and the dot goes by keys."""

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer

pytestmark = pytest.mark.knows_the_demo


@pytest.mark.in_reach
def test_ramps_are_chosen_for_a_car(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name="Kit").click()
    phone.get_by_role("link", name="Cars").click()
    phone.get_by_label("Name of the car").fill("Hillclimb saloon")
    phone.get_by_text("Weight", exact=True).click()
    for name, weight in (("Front left", "262"), ("Front right", "258"), ("Rear left", "247"), ("Rear right", "243")):
        phone.get_by_label(name, exact=True).fill(weight)
    row = phone.get_by_role("row", name="mass with driver")
    expect(row).to_contain_text("1010 kg")
    phone.get_by_label("Your name").fill("Mara")
    phone.get_by_role("button", name="Save the car").click()
    expect(phone.get_by_text("Hillclimb saloon is saved.")).to_be_visible()

    phone.get_by_role("link", name="Units").click()
    phone.get_by_role("link", name=re.compile("Bramble 1")).first.click()
    unit = phone.url
    phone.goto(f"{unit}/change")
    fitted = phone.get_by_label("Car that it is fitted to")
    expect(fitted).to_be_attached()
    if not fitted.is_visible():
        phone.get_by_text("Plate family, and a note").click()
    fitted.select_option(label="Hillclimb saloon")
    phone.get_by_role("button", name="Save the change").click()
    expect(phone).to_have_url(unit)
    phone.get_by_text("At the bench: measure").click()
    phone.get_by_role("link", name="In a corner").click()
    # The unit says which car it is fitted to.
    expect(phone.get_by_label("Car", exact=True).locator("option:checked")).to_have_text("Hillclimb saloon")
    drawn = phone.locator("svg.corner")
    expect(drawn).to_have_count(4)
    # The fine picture tells how far the limits may be off.
    expect(phone.locator("svg.corner .doubt.most")).to_have_count(4)

    table = phone.get_by_role("table", name="At the dot")
    expect(table.get_by_role("row", name="as it is built")).to_contain_text("wheel")
    throttle = phone.get_by_role("slider", name="Torque at the axle")
    throttle.focus()
    phone.keyboard.press("Home")
    # At full engine braking nothing ever helps the tail round.
    expect(table.get_by_role("row", name="as it is built")).to_contain_text("pushes the nose out")
    expect(table.get_by_role("row", name="solid axle")).not_to_contain_text("helps the tail")

    phone.get_by_label("Drive ramp, °").fill("35")
    phone.get_by_role("button", name="Add it").click()
    expect(drawn).to_have_count(5)
    expect(phone.get_by_role("heading", name="ramps 35/60°")).to_be_visible()
    # What is tried and where the dot is are still there after another screen.
    phone.get_by_role("link", name="Ramps", exact=True).click()
    phone.get_by_role("link", name="In a corner").click()
    expect(drawn).to_have_count(5)
    expect(throttle).to_have_value("0")

    # At the PC the key that is down and the radius beside it stand on one line.
    phone.set_viewport_size({"width": 1280, "height": 800})
    key = phone.get_by_role("group", name="Corner").locator("label").first
    field = phone.get_by_label("Its radius, m")
    tops: list[Any] = [place.bounding_box() for place in (key, field)]
    assert abs(tops[0]["y"] - tops[1]["y"]) <= 3, tops
