"""What the trade knows stands on the screen where it is needed."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from .conftest import RunningServer
from .screens import go, opened, unit_path
from .test_story import ready

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


@pytest.fixture(scope="module")
def at_the_unit(tmp_path_factory: pytest.TempPathFactory, chromium: Browser) -> Iterator[tuple[Page, str]]:
    """A phone for all of these, which only read, and the path of its unit."""
    with (
        RunningServer(tmp_path_factory.mktemp("trade") / "log", "demo") as server,
        opened(chromium, server.address, in_reach=True) as phone,
    ):
        ready(phone)
        yield phone, unit_path(server.address)


@pytest.mark.parametrize("size", SIZES)
def test_what_the_trade_knows_stands_where_it_is_needed(at_the_unit: tuple[Page, str], size: tuple[int, int]) -> None:
    phone, unit = at_the_unit
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    for screen, words in SAID.items():
        go(phone, f"{unit}/{screen}")
        for sentence in words:
            expect(phone.locator("main")).to_contain_text(sentence)
        assert phone.evaluate("document.documentElement.scrollWidth") <= size[0], screen


def test_a_refit_asks_in_the_order_of_the_work(at_the_unit: tuple[Page, str]) -> None:
    phone, unit = at_the_unit
    go(phone, f"{unit}/refit")
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
def test_help_says_it_as_well(at_the_unit: tuple[Page, str], topic: str, words: tuple[str, ...]) -> None:
    phone, _ = at_the_unit
    go(phone, f"/help/{topic}")
    for sentence in words:
        expect(phone.locator("main")).to_contain_text(sentence)
