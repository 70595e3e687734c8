"""What the trade knows stands on the screen where it is needed."""

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .test_story import UNIT

pytestmark = pytest.mark.in_reach

SIZES = [(360, 640), (1280, 800)]

SAID = {
    "plates": ("hollow side up", "turned over: the larger counts", "dished on purpose"),
    "ramps": (
        "Coast ramps press on the way into a corner",
        "drive ramps on the way out",
        "With rear-wheel drive",
        "With front-wheel drive it is otherwise",
    ),
    "refit": (
        "crown-wheel screws, carrier bearings, backlash, tooth contact",
        "once more",
        "compound that has cured",
        "not clicked again",
    ),
    "sheet": ("(into a corner)", "(out of it)", "carrier bearings, backlash, tooth contact; then recheck", "cured"),
}


@pytest.mark.parametrize("size", SIZES)
def test_what_the_trade_knows_stands_where_it_is_needed(
    demo: RunningServer, phone: Page, size: tuple[int, int]
) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    unit = phone.url
    for screen, words in SAID.items():
        phone.goto(f"{unit}/{screen}")
        for sentence in words:
            expect(phone.locator("main")).to_contain_text(sentence)
        assert phone.evaluate("document.documentElement.scrollWidth") <= size[0], screen


def test_a_refit_asks_in_the_order_of_the_work(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    phone.goto(f"{phone.url}/refit")
    expect(phone.get_by_role("region").get_by_role("heading")).to_have_text(
        [
            "Crown-wheel screws",
            "Turning torque of the bearings",
            "Backlash",
            "Contact pattern",
            "Shims",
            "What was tried",
            "What to move",
            "Verdict",
        ]
    )


@pytest.mark.parametrize(
    ("topic", "words"),
    [
        ("plates", ("hollow side up", "the larger counts", "dished on purpose")),
        ("ramps", ("Coast ramps press on the way into a corner", "With front-wheel drive it is otherwise")),
        ("traction", ("each slips by half of it", "each wheel of a solid axle slips by 4.3 %")),
        (
            "refit",
            ("In this order: crown-wheel screws, carrier bearings, backlash, tooth contact", "not clicked again"),
        ),
        ("friction", ("Which plates turn with the output and which with the case is the unit's own",)),
    ],
)
def test_help_says_it_as_well(demo: RunningServer, phone: Page, topic: str, words: tuple[str, ...]) -> None:
    phone.goto(f"{demo.address}/#/help/{topic}")
    for sentence in words:
        expect(phone.locator("main")).to_contain_text(sentence)
