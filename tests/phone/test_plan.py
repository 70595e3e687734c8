"""A plan's choices on the phone: read, looked at, and taken with one tap; limits go along with the pieces."""

import re

from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .hands import Thumbs
from .test_bench import UNIT, at_the_bench
from .test_story import ids_on_disk, new_on_disk


def planned(demo: RunningServer, phone: Page) -> Thumbs:
    """The plan of the demonstration's unit, open."""
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click(timeout=20000)
    thumbs = Thumbs(phone)
    at_the_bench(thumbs, "Plan the rebuild")
    expect(phone.get_by_role("heading", name="Choices")).to_be_visible(timeout=20000)
    return thumbs


def test_each_choice_says_how_sure_it_is_and_one_tap_takes_it(demo: RunningServer, phone: Page) -> None:
    thumbs = planned(demo, phone)
    rows = phone.locator(".planned .one")
    expect(rows).to_have_count(2)
    for row, words in ((0, "Most certain"), (1, "Fewest plates")):
        expect(rows.nth(row)).to_contain_text(words)
        expect(rows.nth(row)).to_contain_text(re.compile(r"\d+ of 100 come out within the order"))
        expect(rows.nth(row)).to_contain_text(re.compile(r"\d plates changed; .* expected, .* apart"))
    plates = phone.locator("section table tbody tr")
    expect(plates).to_have_count(3)
    # A look at the other one, which has its own plates, pictures and proof.
    rows.nth(1).locator("label").tap()
    expect(plates).to_have_count(2)
    expect(phone.get_by_text("no choice that changes fewer plates is expected within the order")).to_be_visible()
    rows.nth(0).locator("label").tap()
    expect(plates).to_have_count(3)
    thumbs.button(re.compile("Take it: Fewest plates"))
    expect(phone.get_by_role("heading", name="Rebuild", exact=True)).to_be_visible()
    expect(phone.get_by_label("Thickness", exact=True)).to_have_count(2)


def test_the_builders_own_bounds_are_asked_for_and_kept(demo: RunningServer, phone: Page) -> None:
    thumbs = planned(demo, phone)
    thumbs.press(phone.get_by_text("How even, and how much a place may change"))
    thumbs.type("A place may change by", "0.05")
    expect(phone.get_by_role("heading", name="Not possible from this shelf")).to_be_visible(timeout=20000)
    expect(phone.get_by_text("It is possible with a place changing by up to 0.100 mm").first).to_be_visible()
    thumbs.type("A place may change by", "0,6")
    expect(phone.get_by_text("no place changed by more than 0.600 mm").first).to_be_visible(timeout=20000)
    thumbs.type("Packs may differ by", "wide")
    expect(phone.get_by_text("Type a number, for example 72.5; got 'wide'.").first).to_be_visible()


def test_a_limit_goes_from_the_shelf_or_the_hand_into_the_rebuild(demo: RunningServer, phone: Page) -> None:
    before = ids_on_disk(demo)
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).wait_for(timeout=20000)
    phone.goto(f"{demo.address}/#/shelf")
    shelf = Thumbs(phone)
    card = phone.locator(".list > li").filter(has=phone.locator("input")).nth(11)
    expect(card.get_by_label("Name")).to_have_value("S 1.65")
    card.get_by_label("Limit", exact=True).fill("1,7")
    expect(phone.get_by_text("S 1.65 is not above this limit")).to_be_visible()
    card.get_by_label("Limit", exact=True).fill("1,55")
    shelf.type("Counted by", "Ilse Marrow")
    shelf.button("Save the count")
    expect(phone.get_by_text("The count is saved.")).to_be_visible()
    phone.goto(demo.address)
    thumbs = planned(demo, phone)
    thumbs.button(re.compile("Take it: Fewest plates"))
    limits = phone.get_by_label("Limit of this piece", exact=True)
    expect(limits).to_have_count(2)
    # Both are of the class whose limit the shelf knows; one is known better by hand.
    expect(phone.get_by_text("1.550 mm by the shelf, if empty")).to_have_count(2)
    limits.nth(1).fill("1,58")
    thumbs.button("Save, and close it up")
    expect(phone.get_by_role("heading", name="Close it up")).to_be_visible()
    expect(phone.get_by_role("link", name="up to date")).to_be_visible(timeout=30000)
    [rebuilt] = new_on_disk(demo, before, "rebuild")
    assert [part["minimum_mm"] for part in rebuilt["shown"]["fitted"]] == [1.55, 1.58]
    assert rebuilt["agrees"]
