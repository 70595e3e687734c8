"""What can hurt somebody is said where the hand is: at the way of holding, at the weight, at the step."""

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .hands import CHECK_TORQUE
from .test_story import UNIT

pytestmark = pytest.mark.in_reach

CAR = (
    "handbrake off and brakes free",
    "Chocks first",
    "on both sides",
    "Nobody under the car",
    "never on a hub nut",
    "in reverse they come undone",
    "Handbrake off where it works on the driven axle",
    "no pipe; pull, don't push",
    "load-bearing point",
)
HELD = {
    "Bench: one output held": ("jump out", "never on a cover screw"),
    "Bench: case in the vice": ("by its flange", "never on a cover screw"),
    "Car: one wheel down": (*CAR, "gearbox in neutral", "280 N: the car can creep", "Four-wheel drive"),
    "Car: both wheels up": (*CAR, "gear engaged", "turns backwards"),
}


@pytest.mark.parametrize("size", [(360, 640), (1280, 800)])
def test_each_way_of_holding_has_its_cautions(demo: RunningServer, phone: Page, size: tuple[int, int]) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_role("link", name=CHECK_TORQUE).first.click()
    for label, words in HELD.items():
        phone.get_by_label(label).check()
        note = phone.get_by_role("note", name="Caution").first
        for word in words:
            expect(note).to_contain_text(word)
