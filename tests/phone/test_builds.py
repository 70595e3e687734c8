"""A plan goes by builds so far where somebody asks for it, and says so on the phone."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.engine.checks import UNIT, changed
from tests.engine.history.entries import check_near

from .conftest import RunningServer
from .hands import Thumbs
from .test_unit_findings import ID, written

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]


def test_the_plan_goes_by_builds_so_far(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name="Bramble 1").wait_for()
    builds = []
    for mm, torque in ((2.5, 96.0), (2.6, 108.0), (2.55, 101.0)):
        builds.append(("rebuild", "rebuild", {"fitted": [{"slot": "A2", "mm": mm}], "note": "Set up."}))
        builds.append(("torque_check", "breakaway", check_near(torque, outings=1)))
    written(phone, ("unit", "unit", changed(UNIT, name="Built Thrice")), *builds)
    phone.goto(f"{demo.address}/#/unit/{ID}/plan")
    card = phone.locator("section", has=phone.get_by_role("heading", name="Builds so far"))
    expect(card).to_contain_text(re.compile(r"From 3 builds: 0\.100 mm more gives 1\d\.\d N·m"))
    expect(card.locator("svg .dot")).to_have_count(3)
    thumbs = Thumbs(phone)
    phone.get_by_label("Plan by").select_option("builds")
    choice = phone.locator(".planned .one").first
    expect(choice).to_contain_text("From 3 builds.")
    thumbs.press(card.get_by_text("Which builds count"))
    expect(card.get_by_text(re.compile(r"Rebuilt on .*: 58\.\d{3} mm, 96\.\d N·m in the check of"))).to_be_visible()
    # Outside what was built nothing is planned.
    thumbs.type("Breakaway torque", "160")
    expect(phone.get_by_text("lies outside. Go towards it in one thicker build").first).to_be_visible()
    phone.get_by_label("Plan by").select_option("spring")
    expect(phone.get_by_text("lies outside. Go towards it")).to_have_count(0)


def test_without_the_spring_the_plan_goes_by_builds_and_the_page_says_what_an_outing_takes(
    demo: RunningServer, phone: Page
) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name="Bramble 1").wait_for()
    unknown = changed(UNIT, name="Springless", spring=None, cavity_mm=None, friction=None)
    first = {"fitted": [{"slot": "A2", "mm": 2.5}], "note": "Set up."}
    checks = [
        ("torque_check", "breakaway", check_near(torque, outings=use)) for torque, use in ((96, 1), (93, 4), (90, 8))
    ]
    second = {"fitted": [{"slot": "A2", "mm": 2.6}], "note": "Set up."}
    last = ("torque_check", "breakaway", check_near(108.0, outings=1))
    written(
        phone, ("unit", "unit", unknown), ("rebuild", "rebuild", first), *checks, ("rebuild", "rebuild", second), last
    )
    phone.goto(f"{demo.address}/#/unit/{ID}/plan")
    expect(phone.locator(".planned .one").first).to_contain_text("From 2 builds.")
    expect(phone.get_by_label("Plan by")).to_have_count(0)
    phone.goto(f"{demo.address}/#/unit/{ID}")
    expect(phone.get_by_role("heading", name="By builds before this one")).to_be_visible()
    words = re.compile(
        r"From 1 check since the rebuild and 1 earlier build: it loses 0\.\d N·m an outing.* once a season"
    )
    expect(phone.get_by_text(words)).to_be_visible()
