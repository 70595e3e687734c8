"""A depth that no gauge reaches is worked out from the gap under the cover, told apart, and measured at last."""

import urllib.request

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .screens import unit_path
from .test_story import UNIT

pytestmark = pytest.mark.in_reach

MARK = "is worked out, not measured: from the gap under the loose cover"
BASIS = "From a gap of 1.200 mm."


def save(phone: Page) -> None:
    phone.get_by_role("button", name="Save the change").click()
    expect(phone.get_by_role("heading", name="The stack")).to_be_visible()


def test_a_depth_is_worked_out_with_enter_alone_and_measured_later(demo: RunningServer, phone: Page) -> None:
    phone.set_viewport_size({"width": 360, "height": 640})
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_role("link", name="Change the unit").click()
    depth = phone.locator("details.section[data-section=cavity_mm]")
    depth.locator("summary").first.click()
    depth.get_by_role("button", name="Work it out").press("Enter")
    expect(phone.get_by_label("Gap under the loose cover", exact=True)).to_be_focused()
    phone.keyboard.type("1.2")
    expect(depth.locator(".answer")).to_contain_text("in 19 of 20 cases: worked out, not measured.")
    phone.keyboard.press("Enter")
    expect(phone.get_by_label("Give or take (gap)", exact=True)).to_be_focused()
    phone.keyboard.type("0.02")
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("button", name="Use this")).to_be_focused()
    phone.keyboard.press("Enter")
    field = phone.get_by_label("Depth, cover face to floor", exact=True)
    expect(field).to_be_focused()
    expect(field).to_have_value("62.300")
    expect(depth.locator(".worked-out")).to_contain_text(MARK)
    expect(depth.locator(".worked-out")).to_contain_text(BASIS)
    phone.get_by_label("Entered by").fill("Joss Tarn")
    save(phone)

    # Told apart wherever it stands: words and a broken line, not a colour alone.
    expect(phone.locator(".worked-out")).to_contain_text(MARK)
    drawing = phone.get_by_role("img", name="Its depth is worked out, not measured.")
    expect(drawing.get_by_text("depth worked out")).to_be_visible()
    page = phone.evaluate("location.hash")
    phone.evaluate("page => { location.hash = `${page}/sheet`; }", page)
    expect(phone.get_by_role("row", name="Worked out, not measured")).to_contain_text(BASIS)
    phone.evaluate("page => { location.hash = `${page}/ramps`; }", page)
    expect(phone.locator(".worked-out").first).to_contain_text(MARK)
    unit = unit_path(demo.address).split("/")[-1]
    with urllib.request.urlopen(f"{demo.address}/api/table?unit={unit}") as answer:
        table = answer.read().decode()
    assert "depth_from_gap" in table
    assert "a gap of 1.200 mm" in table

    # At the PC somebody measured it: what is typed over it takes the mark away.
    phone.set_viewport_size({"width": 1280, "height": 800})
    phone.evaluate("page => { location.hash = `${page}/change/at/cavity_mm`; }", page)
    expect(field).to_be_focused()
    expect(depth.locator(".worked-out")).to_contain_text(MARK)
    field.fill("62.31")
    expect(depth.locator(".worked-out")).to_have_count(0)
    save(phone)
    expect(phone.locator(".worked-out")).to_have_count(0)


def test_the_log_says_a_depth_that_nobody_gave(demo: RunningServer, phone: Page) -> None:
    phone.set_viewport_size({"width": 1280, "height": 800})
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_role("heading", name="The log can say")).to_have_count(0)
    page = phone.evaluate("location.hash")
    phone.evaluate("page => { location.hash = `${page}/change/at/cavity_mm`; }", page)
    field = phone.get_by_label("Depth, cover face to floor", exact=True)
    expect(field).to_be_focused()
    field.fill("")
    phone.get_by_label("Entered by").fill("Joss Tarn")
    phone.get_by_role("button", name="Save the change").click()
    section = phone.locator("section", has=phone.get_by_role("heading", name="The log can say"))
    expect(section).to_contain_text("Depth 6")
    section.get_by_role("link", name="Use it").first.click()
    expect(field).to_be_focused()
    expect(phone.get_by_text("From the log: ")).to_contain_text("with the plates as they are built")
    use = phone.get_by_role("button", name="Use this")
    expect(use).to_be_enabled()
    for _ in range(10):
        phone.keyboard.press("Enter")
        if use.evaluate("key => key === document.activeElement"):
            break
    expect(use).to_be_focused()
    phone.keyboard.press("Enter")
    expect(field).to_be_focused()
    save(phone)
    expect(phone.locator(".worked-out")).to_contain_text("from a torque, with the friction taken as known")
    expect(phone.get_by_role("heading", name="The log can say")).to_have_count(0)
