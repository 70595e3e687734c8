"""A plan's choices on the phone: read, looked at, and taken with one tap; limits go along with the pieces."""

import re

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .hands import Thumbs
from .test_bench import UNIT, at_the_bench
from .test_story import delivered, ids_on_disk, new_on_disk

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]


def planned(demo: RunningServer, phone: Page) -> Thumbs:
    """The plan of the demonstration's unit, open."""
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    thumbs = Thumbs(phone)
    at_the_bench(thumbs, "Plan the rebuild")
    expect(phone.get_by_role("heading", name="Choices")).to_be_visible()
    return thumbs


def test_each_choice_says_how_sure_it_is_and_one_tap_takes_it(demo: RunningServer, phone: Page) -> None:
    thumbs = planned(demo, phone)
    rows = phone.locator(".planned .one")
    expect(rows).to_have_count(4)
    for row, words in ((0, "Most certain"), (1, "In between"), (3, "Fewest plates")):
        expect(rows.nth(row)).to_contain_text(words)
        expect(rows.nth(row)).to_contain_text(re.compile(r"\d+ of 100 meet the order once bedded in"))
        expect(rows.nth(row)).to_contain_text(re.compile(r"\d plates changed; .* expected, .* apart"))
    plates = phone.locator("section table tbody tr")
    expect(plates).to_have_count(5)
    # A look at the other one, which has its own plates, pictures and proof.
    rows.nth(3).locator("label").tap()
    expect(plates).to_have_count(2)
    expect(phone.get_by_text("no choice that changes fewer plates is expected within the order")).to_be_visible()
    rows.nth(0).locator("label").tap()
    expect(plates).to_have_count(5)
    thumbs.button(re.compile("Take it: Fewest plates"))
    expect(phone.get_by_role("heading", name="Rebuild", exact=True)).to_be_visible()
    expect(phone.get_by_label("What was done and why")).to_have_value(
        re.compile(r"Aimed \d\.\d N·m above it for bedding")
    )
    expect(phone.get_by_label("Thickness", exact=True)).to_have_count(2)


def test_the_builders_own_bounds_are_asked_for_and_kept(demo: RunningServer, phone: Page) -> None:
    thumbs = planned(demo, phone)
    thumbs.press(phone.get_by_text("How even, and how much a place may change"))
    thumbs.type("A place may change by", "0.05")
    expect(phone.get_by_role("heading", name="Not possible from this shelf")).to_be_visible()
    expect(phone.get_by_text("It is possible with a place changing by up to 0.100 mm").first).to_be_visible()
    thumbs.type("A place may change by", "0,6")
    expect(phone.get_by_text("no place changed by more than 0.600 mm").first).to_be_visible()
    thumbs.type("Packs may differ by", "wide")
    expect(phone.get_by_text("Type a number, for example 72.5; got 'wide'.").first).to_be_visible()


def test_a_limit_goes_from_the_shelf_or_the_hand_into_the_rebuild(demo: RunningServer, phone: Page) -> None:
    before = ids_on_disk(demo)
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).wait_for()
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
    delivered(phone)
    [rebuilt] = new_on_disk(demo, before, "rebuild")
    assert [part["minimum_mm"] for part in rebuilt["shown"]["fitted"]] == [1.55, 1.58]
    assert rebuilt["agrees"]


def test_it_says_how_far_it_aims_above_for_bedding_in_and_can_be_told_not_to(demo: RunningServer, phone: Page) -> None:
    thumbs = planned(demo, phone)
    sentence = phone.get_by_text(
        re.compile(r"^\s*Aimed \d\.\d N·m above the order: after the last rebuild this unit lost")
    )
    expect(sentence).to_be_visible()
    expect(phone.locator(".planned .one").first).to_contain_text("of 100 meet the order once bedded in")
    key = phone.get_by_role("button", name="Aim above the order for bedding in")
    expect(key).to_have_attribute("aria-pressed", "true")
    thumbs.press(key)
    expect(key).to_have_attribute("aria-pressed", "false")
    expect(phone.get_by_text("Not aimed above the order: after the last rebuild this unit lost")).to_be_visible()
    expect(phone.locator(".planned .one").first).to_contain_text("of 100 come out within the order")
    # It stays so for this unit.
    phone.reload()
    expect(key).to_have_attribute("aria-pressed", "false")
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360


FAMILY = """async () => {
    const { write } = await slipbook.part("log/outbox.js");
    const { calc } = await slipbook.part("engine/door.js");
    const { remember } = await slipbook.part("log/store.js");
    await remember("who", "Ilse Marrow");
    const piece = (name, family) => ({ name, part: "friction", mm: "2,5", count: "2", family });
    const body = { pieces: [piece("F bronze", "71/98 lugs, bronze"), piece("F steel", "71/98 lugs, steel")] };
    return write({ unit: "", kind: "shelf", body, shown: await calc("shelf", body) });
}"""


@pytest.mark.parametrize("size", [(360, 640), (1280, 800)])
def test_a_plate_family_goes_from_the_shelf_or_the_hand_into_the_rebuild(
    demo: RunningServer, phone: Page, size: tuple[int, int]
) -> None:
    before = ids_on_disk(demo)
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).wait_for()
    phone.evaluate(FAMILY)
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    phone.goto(f"{phone.url}/rebuild")
    for name in ("F bronze", "F steel"):
        phone.get_by_role("button", name="Add a part that was fitted").click()
        phone.get_by_label("Name on the shelf").last.fill(name)
        phone.get_by_label("Thickness", exact=True).last.fill("2,5")
    family = phone.get_by_label("Plate family")
    # By the shelf, as soon as it knows the piece; the hand knows better.
    expect(family.nth(0)).to_have_value("71/98 lugs, bronze")
    expect(family.nth(1)).to_have_value("71/98 lugs, steel")
    family.nth(1).fill("74/98 splines, steel")
    phone.get_by_label("What was done and why").fill("Two plates.")
    assert phone.evaluate("document.documentElement.scrollWidth") <= size[0]
    phone.get_by_role("button", name="Save, and close it up").click()
    expect(phone.get_by_role("heading", name="Close it up")).to_be_visible()
    delivered(phone)
    [rebuilt] = new_on_disk(demo, before, "rebuild")
    families = [part["family"] for part in rebuilt["shown"]["fitted"]]
    assert families == ["71/98 lugs, bronze", "74/98 splines, steel"]


TWIN = """async ([unit, name]) => {
    const { entriesOf } = await slipbook.part("log/store.js");
    const { write } = await slipbook.part("log/outbox.js");
    const { calc } = await slipbook.part("engine/door.js");
    const { remember } = await slipbook.part("log/store.js");
    await remember("who", "Ilse Marrow");
    const own = (await entriesOf(unit)).find(({ kind }) => kind === "unit");
    const body = { ...own.body, name };
    await write({ unit: "22222222-2222-4333-8444-555555555555", kind: "unit", body, shown: await calc("unit", body) });
}"""


def test_a_unit_without_a_season_goes_by_those_that_are_built_alike(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    phone.evaluate(TWIN, [phone.url.rpartition("/")[2], "Bramble 2"])
    phone.goto(demo.address)
    expect(phone.get_by_role("link", name="Bramble 2")).to_be_visible()
    phone.goto(f"{demo.address}/#/unit/22222222-2222-4333-8444-555555555555/plan")
    sentence = re.compile(
        rf"above the order: after the last rebuild units built alike \({UNIT}\) lost \d\.\d N·m in their"
    )
    expect(phone.get_by_text(sentence)).to_be_visible()


# Every plate so thin that the spring is loose.
LOOSE = """async (unit) => {
    const { write } = await slipbook.part("log/outbox.js");
    const { remember, entriesOf } = await slipbook.part("log/store.js");
    const { calc } = await slipbook.part("engine/door.js");
    await remember("who", "Ilse Marrow");
    const chain = (await entriesOf(unit)).filter(({ kind }) => kind === "unit").at(-1).body.chain;
    const plates = chain
        .filter(({ part }) => part === "friction" || part === "separator")
        .map(({ slot, part, new_mm, minimum_mm }) => ({
            slot, part, new_mm, minimum_mm, points_mm: Array(3).fill(Number(new_mm) - 0.2),
        }));
    const body = { micrometer: { name: "Plate micrometer", division_mm: 0.001 }, plates };
    await write({ unit, kind: "plate_check", body, shown: await calc("plates", body) });
}"""


@pytest.mark.in_reach
def test_where_no_plan_is_possible_from_what_was_measured_the_way_on_is_there(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    expect(phone.get_by_role("link", name=UNIT)).to_be_visible()
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    phone.evaluate(LOOSE, phone.url.rpartition("/")[2])
    phone.goto(f"{phone.url}/plan")
    expect(phone.get_by_text("short of the cover: check the thicknesses")).to_be_visible()
    phone.get_by_role("link", name="Rebuild without a plan").click()
    expect(phone.get_by_role("heading", name="Rebuild", exact=True)).to_be_visible()
