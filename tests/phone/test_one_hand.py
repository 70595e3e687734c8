"""A torque check with one hand: taps and scrolling counted on the real screens, and what is saved can be undone."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from .conftest import RunningServer, until
from .hands import CHECK_TORQUE, PHONE, Thumbs
from .screens import opened
from .test_access import faults, too_wide
from .test_story import UNIT, delivered, fill_readings, ids_on_disk, new_on_disk, ready, ready_offline

FORWARD = ["84", "86", "85.5"]
REVERSE = ["83", "85", "84"]
MOST_TAPS = 8
# Height of letters that are read at a metre.
LARGE_PX = 56
SIZES = ((360, 640), (390, 844), (640, 360), (1280, 800))

COUNTING = """() => {
    globalThis.taps = 0;
    addEventListener("pointerdown", () => { globalThis.taps += 1; }, true);
}"""
# What is seen of it is asked until it is so: the bar may be drawn by now, and what it moves one frame later.
SEEN = """name => {
    const key = [...document.querySelectorAll("button")].find((one) => one.textContent.trim() === name);
    const box = key.getBoundingClientRect();
    const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
    return box.top >= 0 && box.bottom <= innerHeight && key.contains(top);
}"""
LARGE = """least => {
    const [word, figure] = [".verdict-bar .verdict", ".verdict-bar .figure"].map((one) => document.querySelector(one));
    const sizes = [word, figure].map((one) => one && parseFloat(getComputedStyle(one).fontSize));
    return sizes.every((size) => size >= least) && getComputedStyle(word).textTransform === "uppercase";
}"""
# A browser that brings a field into sight by itself goes by whole pixels: their edges may meet within one.
ABOVE_THE_BAR = """part => {
    const { bottom } = document.querySelector(part).getBoundingClientRect();
    return bottom <= document.querySelector(".verdict-bar").getBoundingClientRect().top + 1;
}"""


def known(page: Page) -> None:
    """Wait until a phone has the log, and tell it its user."""
    ready(page)
    page.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Joss Tarn'))")
    page.evaluate(COUNTING)


@pytest.fixture
def units(demo: RunningServer, phone: Page) -> Page:
    """The list of units on a phone that has the log, and whose user is known."""
    phone.goto(demo.address)
    known(phone)
    return phone


@pytest.fixture(scope="module")
def checking(tmp_path_factory: pytest.TempPathFactory, chromium: Browser) -> Iterator[Page]:
    """A check in which nothing is saved, for one test after the other."""
    with (
        RunningServer(tmp_path_factory.mktemp("checking") / "log", "demo") as server,
        opened(chromium, server.address, in_reach=True) as page,
    ):
        known(page)
        to_the_check(page, Thumbs(page))
        yield page


def to_the_check(page: Page, hands: Thumbs) -> None:
    """From the list to a check in which the first reading takes what is typed."""
    hands.link(UNIT)
    hands.link(CHECK_TORQUE)
    expect(page.get_by_label("forward reading 1", exact=True)).to_be_focused()
    expect(page.get_by_label("Car: one wheel down")).to_be_checked()
    expect(page.get_by_label("With what?").locator("option:checked")).to_have_text("Long beam")


def assert_it_is_read_at_a_metre(page: Page) -> None:
    """The word and the torque are large, in capitals, and the key that saves is in sight and not covered."""
    until(page, LARGE, LARGE_PX)
    until(page, SEEN, "Save the check")


@pytest.mark.in_reach
def test_a_known_unit_is_checked_with_eight_taps_and_no_scrolling(demo: RunningServer, units: Page) -> None:
    phone, hands = units, Thumbs(units)
    before = ids_on_disk(demo)
    to_the_check(phone, hands)
    for direction, figures in (("forward", FORWARD), ("reverse", REVERSE)):
        for number, figure in enumerate(figures, 1):
            field = phone.get_by_label(f"{direction} reading {number}", exact=True)
            if (direction, number) != ("forward", 1):
                field.tap()
            phone.keyboard.type(figure)
    expect(phone.locator(".verdict-bar.go")).to_contain_text(re.compile(r"go\s+84\.6\s+N·m", re.IGNORECASE))
    # Nothing is scrolled between the last reading and the key.
    assert_it_is_read_at_a_metre(phone)
    scrolled = phone.evaluate("scrollY")
    phone.get_by_role("button", name="Save the check").tap()
    assert phone.evaluate("scrollY") in (scrolled, 0)
    expect(phone.get_by_role("status").filter(has_text="Saved")).to_be_visible()
    taps = phone.evaluate("taps")
    print(f"taps besides the figures: {taps}")
    assert taps <= MOST_TAPS
    delivered(phone)
    [check] = new_on_disk(demo, before, "torque_check")
    assert check["who"] == "Joss Tarn"
    # What nobody typed is as it was last time.
    assert check["body"]["held"] == "car_one_wheel_down"
    assert check["body"]["circumstances"] == {"temperature": "cold", "oil": "Racing 80W-90", "outings": "11"}


@pytest.mark.in_reach
def test_with_enter_three_taps_are_left(units: Page) -> None:
    phone, hands = units, Thumbs(units)
    to_the_check(phone, hands)
    # As fast as a gauge types, without waiting for any verdict.
    for figure in (*FORWARD, *REVERSE):
        phone.keyboard.type(figure)
        phone.keyboard.press("Enter")
    expect(phone.get_by_role("button", name="Save the check")).to_be_focused()
    assert_it_is_read_at_a_metre(phone)
    phone.get_by_role("button", name="Save the check").tap()
    expect(phone.get_by_role("status").filter(has_text="Saved")).to_be_visible()
    taps = phone.evaluate("taps")
    print(f"taps with Enter: {taps}")
    assert taps == 3


@pytest.mark.parametrize(
    ("figures", "word"), [(["60", "61", "60"], "rework"), (["72", "73", "72"], "measure again"), (FORWARD, "go")]
)
def test_the_verdict_is_large_and_its_key_in_sight(checking: Page, figures: list[str], word: str) -> None:
    phone = checking
    for width, height in SIZES:
        phone.set_viewport_size({"width": width, "height": height})
        # Typed again at each size, from the first: the page is moved as it is for whoever types.
        phone.evaluate("scrollTo(0, 0)")
        fill_readings(phone, ["1", "1", "1"], ["1", "1", "1"])
        expect(phone.locator(".verdict-bar")).not_to_contain_text(figures[0])
        fill_readings(phone, figures, figures)
        expect(phone.locator(".verdict-bar")).to_contain_text(word)
        assert_it_is_read_at_a_metre(phone)
        until(phone, ABOVE_THE_BAR, "[aria-label='reverse reading 3']")


def test_what_was_saved_by_mistake_is_undone_and_back_in_its_form(demo: RunningServer, phone: Page) -> None:
    hands = Thumbs(phone)
    phone.goto(demo.address)
    ready_offline(phone)
    known(phone)
    demo.stop()
    stood = phone.get_by_role("link", name=UNIT).inner_text()
    to_the_check(phone, hands)
    fill_readings(phone, ["60", "61", "60"], ["60", "61", "60"])
    expect(phone.locator(".verdict-bar.rework")).to_be_visible()
    hands.button("Save the check")
    receipt = phone.get_by_role("status").filter(has_text="Saved on this phone")
    expect(receipt).to_contain_text("1 waits for the workshop")
    expect(phone.locator(".card.judged").first).to_contain_text("rework")
    expect(phone.get_by_role("link", name="Rework: plan the rebuild")).to_be_visible()
    hands.button("Undo")
    expect(phone.get_by_text("Undone. What was typed is back in its form.")).to_be_visible()
    expect(phone.locator(".card.judged").first).to_contain_text("Good to run")
    expect(phone.get_by_text("Undone: breakaway torque checked, saved by mistake.").first).to_be_visible()
    hands.link("Go on with the check")
    expect(phone.get_by_label("forward reading 2", exact=True)).to_have_value("61")
    phone.evaluate("location.hash = '#/'")
    # The verdict is what it was; the check is half typed again.
    row = phone.locator(".list").get_by_role("link", name=UNIT)
    name, *rest = stood.splitlines()
    expect(row).to_have_text("\n".join([name, "Half typed: torque check", *rest]), use_inner_text=True)


@pytest.mark.in_reach
def test_a_correction_that_is_undone_brings_back_what_it_corrected(units: Page) -> None:
    phone, hands = units, Thumbs(units)
    hands.link(UNIT)
    hands.link("breakaway torque checked 84.3")
    hands.link("Correct this entry")
    fill_readings(phone, ["60", "61", "60"], ["60", "61", "60"])
    expect(phone.locator(".verdict-bar.rework")).to_be_visible()
    hands.button("Save the check")
    expect(phone.locator(".card.judged").first).to_contain_text("60.3")
    hands.button("Undo")
    expect(phone.locator(".card.judged").first).to_contain_text("84.3 N·m. Limits: 70.0 N·m to 130.0 N·m. Good to run.")


@pytest.mark.in_reach
def test_pound_feet_typed_as_newton_metres_are_asked_about(units: Page) -> None:
    phone, hands = units, Thumbs(units)
    to_the_check(phone, hands)
    fill_readings(phone, ["62", "62.5", "62"], ["62", "62", "62.5"])
    question = phone.get_by_role("group", name="Unit that was read")
    expect(question).to_contain_text("Were these figures read in lbf·ft? Then it is 84.3 N·m")
    expect(question.get_by_role("button").last).to_be_in_viewport(ratio=1)
    until(phone, ABOVE_THE_BAR, "[role=group][aria-label='Unit that was read']")
    hands.button("It was lbf·ft")
    expect(question).to_have_count(0)
    expect(phone.get_by_label("Unit", exact=True)).to_have_value("lbf_ft")
    expect(phone.locator(".verdict-bar.go")).to_contain_text(re.compile(r"62\.2\s+lbf·ft"))
    # Every figure on the screen is in the unit that is read, limits and drawing too.
    until(phone, r"() => !document.querySelector('#main').innerText.replace(/Unit[^]*?kgf·m/g, '').includes('N·m')")


@pytest.mark.in_reach
def test_more_readings_are_one_key_away(units: Page) -> None:
    phone, hands = units, Thumbs(units)
    to_the_check(phone, hands)
    fill_readings(phone, FORWARD, REVERSE)
    hands.button("Three more each way")
    expect(phone.get_by_label("forward reading 4", exact=True)).to_be_focused()
    for figure in ("84", "85", "84", "83", "85", "84"):
        phone.keyboard.type(figure)
        phone.keyboard.press("Enter")
    expect(phone.get_by_label("reverse reading 6", exact=True)).to_have_value("84")
    assert phone.viewport_size == PHONE
    # A reading that was mistyped is led to.
    phone.get_by_label("forward reading 2", exact=True).fill("186")
    hands.button(re.compile("^Correct the marked reading"))
    expect(phone.get_by_label("forward reading 2", exact=True)).to_be_focused()


@pytest.mark.in_reach
def test_it_is_never_up_to_date_before_the_workshop_has_answered(demo: RunningServer, phone: Page) -> None:
    phone.route("**/api/health", lambda route: None)
    phone.goto(demo.address)
    expect(phone.locator("#bar .state")).to_have_text("connecting…")


@pytest.mark.parametrize("figures", [["84", "85", "84"], ["60", "61", "60"], ["72", "73", "72"], []])
def test_the_check_and_what_follows_have_no_fault(demo: RunningServer, chromium: Browser, figures: list[str]) -> None:
    with opened(chromium, demo.address, in_reach=True) as page:
        known(page)
        hands = Thumbs(page)
        to_the_check(page, hands)
        fill_readings(page, figures, figures)
        if figures:
            expect(page.locator(".verdict-bar .figure")).to_be_visible()
        page.evaluate("document.activeElement.blur()")
        found = faults(page)
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        found += too_wide(page, PHONE["width"])
        page.evaluate("document.documentElement.style.fontSize = ''")
        assert found == []
        if figures:
            hands.button("Save the check")
            expect(page.get_by_role("status").filter(has_text="Saved")).to_be_visible()
            assert faults(page) == []


@pytest.mark.in_reach
def test_a_units_page_speaks_in_the_unit_of_settings(units: Page) -> None:
    phone, hands = units, Thumbs(units)
    hands.link("Settings")
    phone.get_by_label("lbf·ft").check()
    until(
        phone,
        "() => slipbook.part('log/store.js').then(({ fact }) => fact('torqueUnit')).then((unit) => unit === 'lbf_ft')",
    )
    hands.link("Units")
    hands.link(UNIT)
    # 84.3 N·m, and 70 to 130.
    expect(phone.locator(".card.judged").first).to_contain_text(
        "62.2 lbf·ft. Limits: 51.6 lbf·ft to 95.9 lbf·ft. Good to run."
    )
    expect(phone.get_by_role("img", name=re.compile("the last 62.2 lbf·ft"))).to_be_visible()
    until(phone, "() => !document.querySelector('#main').innerText.includes('N·m')")


@pytest.mark.in_reach
def test_every_kind_that_is_saved_by_mistake_is_undone_from_its_receipt(demo: RunningServer, phone: Page) -> None:
    hands = Thumbs(phone)
    phone.goto(demo.address)
    hands.link(UNIT)
    stood = phone.locator(".card.judged").first
    expect(stood).to_contain_text("Good to run")
    undone = phone.get_by_text("Undone. What was typed is back in its form.")

    hands.type("Note", "Chatters when cold.")
    hands.type("Written by", "Joss Tarn")
    hands.button("Save the note")
    expect(phone.get_by_label("Note", exact=True)).to_have_value("")
    hands.button("Undo")
    expect(undone).to_be_visible()
    expect(phone.get_by_label("Note", exact=True)).to_have_value("Chatters when cold.")
    expect(phone.get_by_text("Undone: note, saved by mistake.").first).to_be_visible()

    for screen, slot, worn in (("springs", "S1", "5.1"), ("rings", "R1", "0.9")):
        home = phone.evaluate("location.hash")
        phone.evaluate("path => { location.hash = path; }", f"{home}/{screen}")
        for number in (1, 2, 3):
            phone.get_by_label(f"{slot} point {number}", exact=True).fill(worn)
        expect(phone.get_by_role("region", name="Verdict")).to_contain_text("replace")
        hands.button("Save", exact=True)
        expect(stood).to_contain_text("replace")
        hands.button("Undo")
        expect(undone).to_be_visible()
        expect(stood).to_contain_text("Good to run")
        phone.evaluate("path => { location.hash = path; }", f"{home}/{screen}")
        expect(phone.get_by_label(f"{slot} point 2", exact=True)).to_have_value(worn)
        phone.evaluate("path => { location.hash = path; }", home)
        expect(stood).to_contain_text("Good to run")
