"""What was ordered and the limits for running, side by side where a unit is defined."""

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .test_bench import UNIT
from .test_story import entries_on_disk

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]


def test_an_order_that_its_limits_turn_down_is_said_at_the_limit(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).wait_for()
    [unit] = [row["unit"] for row in entries_on_disk(demo) if row["kind"] == "unit" and row["body"]["name"] == UNIT]
    phone.goto(f"{demo.address}/#/unit/{unit}/change")
    phone.locator("[data-section=limits] > summary").click()
    highest = phone.get_by_label("Highest torque it may run with", exact=True)
    for typed, words in (("95", "The torque ordered, 100.0 N·m, is above"), ("105", "The order reaches to 110.0 N·m")):
        highest.fill(typed)
        field = phone.locator(".field", has=highest)
        expect(field.get_by_role("alert")).to_contain_text(words)
        expect(phone.get_by_role("button", name="Save the change")).to_be_enabled()
    highest.fill("110")
    expect(phone.locator(".field", has=highest).get_by_role("alert")).to_have_count(0)
