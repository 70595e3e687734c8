"""Enter goes on: a gauge that types a figure and Enter fills one reading after the other."""

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .hands import CHECK_TORQUE
from .test_story import UNIT

pytestmark = pytest.mark.in_reach


@pytest.mark.parametrize("size", [(360, 640), (1280, 800)])
def test_a_gauge_that_types_enter_fills_one_reading_after_the_other(
    demo: RunningServer, phone: Page, size: tuple[int, int]
) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_role("link", name=CHECK_TORQUE).first.click()
    phone.get_by_label("Bench: one output held").check()
    phone.get_by_label("With what?").select_option(label="Long beam")
    phone.get_by_label("forward reading 1", exact=True).focus()
    for figure in ("84", "86", "85.5"):
        phone.keyboard.type(figure)
        phone.keyboard.press("Enter")
    # Three are a turn: the fourth figure is the first one of the other direction.
    for figure in ("83", "85", "84"):
        phone.keyboard.type(figure)
        phone.keyboard.press("Enter")
    # A name that is not known yet is asked for before the check is saved.
    expect(phone.get_by_label("Checked by")).to_be_focused()
    phone.keyboard.type("Joss Tarn")
    phone.keyboard.press("Enter")
    save = phone.get_by_role("button", name="Save the check")
    expect(save).to_be_focused()
    for direction, figures in (("forward", ("84", "86", "85.5")), ("reverse", ("83", "85", "84"))):
        for number, figure in enumerate(figures, 1):
            expect(phone.get_by_label(f"{direction} reading {number}", exact=True)).to_have_value(figure)
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    expect(phone.get_by_role("button", name="Undo")).to_be_visible()
