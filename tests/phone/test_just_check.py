"""From an empty book to a saved first verdict: a name, a lowest torque, how it is held, a wrench, readings."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Locator, expect
from selenium import webdriver
from selenium.webdriver.common.by import By

from .conftest import RunningServer
from .hands import Hands
from .test_story import delivered, entries_on_disk
from .test_webkit import patience, tap, type_into
from .test_webkit import screen as screen
from .test_webkit import webkit as webkit

UNIT = "Larch 2"
# What is typed from the empty book to the first verdict, the readings besides: three fields of the unit (its name, the
# figure, its unit as it stands), three of a wrench that nobody has typed before, and who writes.
FIELDS = 6
# Keys: check a torque now, go on, way of holding, save the tool, save the check.
TAPS = 5


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[RunningServer]:
    """A log with nothing in it."""
    with RunningServer(tmp_path / "log") as server:
        yield server


class Counted:
    """The same hands, counting what they fill in and what they tap."""

    def __init__(self, hands: Hands) -> None:
        self.fields, self.taps = 0, 0
        fill, press, choose = hands.fill, hands.press, hands.choose

        def filling(what: Locator, text: str) -> None:
            self.fields += 1
            fill(what, text)

        def pressing(what: Locator) -> None:
            self.taps += 1
            press(what)

        def choosing(label: str) -> None:
            self.taps += 1
            choose(label)

        hands.fill, hands.press, hands.choose = filling, pressing, choosing  # type: ignore[method-assign]


def to_the_verdict(hands: Hands) -> None:
    """From the empty book to the verdict, readings typed, nothing saved yet but unit and wrench."""
    hands.link("Check a torque now")
    hands.type("Name of the unit", UNIT)
    hands.type("Lowest torque it may run with", "45")
    hands.type("Your name", "Ilse Marrow")
    hands.button("Go on to the check")
    hands.choose("Bench: one output held")
    hands.type("Name", "Long beam")
    hands.type("Scale ends at", "150")
    hands.type("One division", "2")
    hands.button("Save the tool")
    expect(hands.page.get_by_label("forward reading 1", exact=True)).to_be_focused()


@pytest.mark.in_reach
def test_three_fields_take_a_unit_in_and_a_few_more_come_to_a_verdict(empty: RunningServer, hands: Hands) -> None:
    page = hands.page
    page.goto(empty.address)
    expect(page.get_by_text("To check a torque takes a name")).to_be_visible()
    count = Counted(hands)
    to_the_verdict(hands)
    unit_and_tool = (count.fields, count.taps)
    hands.readings(["64", "66", "65"], ["63", "65", "64"])
    expect(page.get_by_role("region", name="Verdict")).to_contain_text("go")
    hands.button("Save the check")
    expect(page.get_by_role("heading", name=UNIT)).to_be_visible()
    delivered(page)
    assert unit_and_tool[0] <= FIELDS
    assert count.taps <= TAPS
    hands.link("Units")
    expect(page.get_by_role("link", name=UNIT)).to_be_visible()
    expect(page.get_by_text("1 units")).to_have_count(0)
    [unit] = [entry for entry in entries_on_disk(empty) if entry["kind"] == "unit"]
    assert sorted(unit["body"]) == ["hub_ratio", "judged_on", "limits", "name", "service", "stated_for"]
    assert unit["body"]["service"] == {"low_nm": "45"}


@pytest.mark.in_reach
def test_a_unit_that_is_a_name_and_a_torque_has_every_screen_and_each_says_what_it_lacks(
    empty: RunningServer, hands: Hands
) -> None:
    page = hands.page
    page.goto(empty.address)
    to_the_verdict(hands)
    hands.readings(["64", "66", "65"], ["63", "65", "64"])
    hands.button("Save the check")
    expect(page.get_by_role("heading", name="What more figures would give")).to_be_visible()
    address = page.url
    for screen_name, words in (
        ("strip", "treat it as more than an ordinary vice can hold"),
        ("plates", "The stack needs the plates and rings"),
        ("springs", "The spring's curve needs the disc spring's sizes"),
        ("plan", "needs the plates and rings"),
        ("ramps", "The lock needs the plates and rings"),
        ("changed", "It takes two torque checks to compare"),
        ("sheet", "It may run from 45.0 N·m"),
        ("rings", "Measured by"),
        ("rebuild", UNIT),
    ):
        page.goto(f"{address}/{screen_name}")
        expect(page.get_by_role("main")).to_contain_text(words)
    # The way on leads to the field itself.
    page.goto(f"{address}/springs")
    hands.link("Fill it in")
    expect(page.get_by_label("Outside diameter De", exact=True)).to_be_focused()
    hands.type("Outside diameter De", "100")
    expect(page.get_by_role("alert").filter(has_text="Fill this in").first).to_be_visible()
    for label, value in (("Inside diameter Di", "51"), ("Thickness t", "3.5"), ("Free height l0", "6.3")):
        hands.type(label, value)
    hands.button("Save the change")
    expect(page.get_by_role("heading", name=UNIT)).to_be_visible()
    page.goto(f"{address}/springs")
    expect(page.get_by_label("S1 point 1", exact=True)).to_be_visible()


@pytest.mark.in_reach
def test_with_the_case_held_it_asks_where_the_spring_sits_and_leads_there(empty: RunningServer, hands: Hands) -> None:
    page = hands.page
    page.goto(empty.address)
    to_the_verdict(hands)
    hands.choose("Bench: case in the vice")
    hands.readings(["128", "130", "129"], ["127", "129", "128"])
    hands.link("Say where it sits")
    hands.choose("one spring in line")
    hands.button("Save the change")
    hands.link(re.compile("Go on with the check"))
    expect(page.get_by_role("region", name="Verdict")).to_contain_text("64.")
    expect(page.get_by_role("button", name="Save the check")).to_be_enabled()


@pytest.mark.parametrize("size", [(360, 640), (1280, 800)])
def test_the_first_verdict_in_webkit(empty: RunningServer, webkit: webdriver.WebKitGTK, size: tuple[int, int]) -> None:
    webkit.set_window_size(*size)
    wait = patience(webkit)

    def press(path: str) -> None:
        tap(webkit, path)

    def labelled(label: str) -> str:
        return f"//input[@id=//label[normalize-space(.)='{label}']/@for]"

    def fill(path: str, text: str) -> None:
        type_into(webkit, path, text)

    webkit.get(empty.address)
    press("//a[contains(., 'Check a torque now')]")
    fill(labelled("Name of the unit"), UNIT)
    fill(labelled("Lowest torque it may run with"), "45")
    fill(labelled("Your name"), "Ilse Marrow")
    press("//button[contains(., 'Go on to the check')][not(@disabled)]")
    press("//input[@value='bench_output_held']")
    fill(labelled("Name"), "Long beam")
    fill(labelled("Scale ends at"), "150")
    fill(labelled("One division"), "2")
    press("//button[contains(., 'Save the tool')][not(@disabled)]")
    focused = "return document.activeElement.getAttribute('aria-label')"
    wait.until(lambda driver: driver.execute_script(focused) == "forward reading 1")
    for direction, values in (("forward", ("64", "66", "65")), ("reverse", ("63", "65", "64"))):
        for number, value in enumerate(values, 1):
            fill(f"//input[@aria-label='{direction} reading {number}']", value)
    press("//button[contains(., 'Save the check')][not(@disabled)]")
    wait.until(lambda driver: driver.find_elements(By.ID, "opens"))
    wait.until(lambda _: {entry["kind"] for entry in entries_on_disk(empty)} == {"unit", "kit", "torque_check"})


# A draft as the first form of a definition kept it: every group is there, and a layout that nobody chose.
FIRST_FORM = {
    "name": "Begun long ago",
    "owner": "Odette Farrow",
    "note": "",
    "order": {"torque_nm": "100", "tolerance_nm": "10"},
    "judged_on": "steady",
    "stated_for": "one_output_held",
    "service": {"low_nm": "70", "high_nm": ""},
    "hub_ratio": "1",
    "layout": "in_line",
    "spring": {"de_mm": "", "di_mm": "", "t_mm": "", "l0_mm": "", "parallel": "1", "series": "1"},
    "cavity_mm": "",
    "chain": [{"slot": "S1", "part": "spring", "new_mm": "", "minimum_mm": ""}],
    "friction": {"inner_mm": "", "outer_mm": "", "mu": "0.1", "run_in": True},
    "ramps": {"pin_radius_mm": "", "drive_deg": "", "coast_deg": "", "mu": "0.1"},
    "cover": {"screws": "", "screw_mm": "", "torque_nm": "", "start_mm": "2"},
    "limits": {"taper_mm": "0.03", "flatness_mm": "0.10"},
}
KEEP = 'draft => slipbook.part("log/drafts.js").then(({ keepDraft }) => keepDraft("unit/new", draft))'


@pytest.mark.in_reach
def test_a_draft_of_the_first_form_opens_and_saves_what_was_typed_alone(empty: RunningServer, hands: Hands) -> None:
    page = hands.page
    page.goto(empty.address)
    expect(page.get_by_text("To check a torque takes a name")).to_be_visible()
    page.evaluate(KEEP, FIRST_FORM)
    hands.link("Add a whole unit")
    expect(page.get_by_label("Name of the unit", exact=True)).to_have_value("Begun long ago")
    expect(page.get_by_label("Breakaway ordered", exact=True)).to_have_value("100")
    hands.type("Entered by", "Ilse Marrow")
    hands.button("Add the unit")
    expect(page.get_by_role("heading", name="Begun long ago")).to_be_visible()
    delivered(page)
    [unit] = [entry for entry in entries_on_disk(empty) if entry["kind"] == "unit"]
    groups = {"chain", "layout", "spring", "friction", "ramps", "cover", "cavity_mm"} & set(unit["body"])
    assert groups == set()
