"""Enter goes on: a gauge that types a figure and Enter fills one reading after the other."""

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .test_story import UNIT


@pytest.mark.parametrize("size", [(360, 640), (1280, 800)])
def test_a_gauge_that_types_enter_fills_one_reading_after_the_other(
    demo: RunningServer, phone: Page, size: tuple[int, int]
) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_role("link", name="Check torque").click()
    phone.get_by_label("Bench: one output held").check()
    phone.get_by_label("With what?").select_option(label="Long beam")
    phone.get_by_label("forward reading 1", exact=True).focus()
    for figure in ("84", "86", "85.5"):
        phone.keyboard.type(figure)
        phone.keyboard.press("Enter")
    # One more is offered; left empty, it leads on.
    expect(phone.get_by_label("forward reading 4", exact=True)).to_be_focused()
    phone.keyboard.press("Enter")
    for figure in ("83", "85", "84"):
        phone.keyboard.type(figure)
        phone.keyboard.press("Enter")
    save = phone.get_by_role("button", name="Save the check")
    expect(save).to_be_enabled()
    phone.keyboard.press("Enter")
    expect(save).to_be_focused()
    for direction, figures in (("forward", ("84", "86", "85.5")), ("reverse", ("83", "85", "84"))):
        for number, figure in enumerate(figures, 1):
            expect(phone.get_by_label(f"{direction} reading {number}", exact=True)).to_have_value(figure)
