"""Enter goes on: a gauge that types a figure and Enter fills one reading after the other."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from .conftest import RunningServer, becomes
from .hands import CHECK_TORQUE
from .screens import go, opened, unit_path
from .test_story import UNIT, delivered, ids_on_disk, new_on_disk, ready

pytestmark = pytest.mark.in_reach


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of one demo for all forms: each writes what no other reads."""
    with RunningServer(tmp_path_factory.mktemp("forms") / "log", "demo") as server:
        yield server.address


@pytest.fixture(scope="module")
def forms(running: str, chromium: Browser) -> Iterator[tuple[Page, list[str]]]:
    """A phone for all forms, whose user is known, and the errors in its page."""
    errors: list[str] = []
    with opened(chromium, running, in_reach=True) as page:
        page.on("pageerror", lambda error: errors.append(str(error)))
        ready(page)
        remember_name(page)
        yield page, errors


def remember_name(page: Page) -> None:
    """Whoever writes is known."""
    page.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Joss Tarn'))")


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


# What is asked of the engine from now on arrives late, in its order.
SLOW_ENGINE = """(() => {
    const { postMessage } = Worker.prototype;
    Worker.prototype.postMessage = function (...all) {
        if (globalThis.late) setTimeout(() => postMessage.apply(this, all), globalThis.late);
        else postMessage.apply(this, all);
    };
})()"""
LATE_MS = 1500


def test_what_is_pressed_before_the_first_answer_counts(demo: RunningServer, phone: Page) -> None:
    phone.add_init_script(SLOW_ENGINE)
    phone.goto(demo.address)
    ready(phone)
    remember_name(phone)
    unit = unit_path(demo.address)
    phone.evaluate("late => { globalThis.late = late; }", LATE_MS)
    phone.evaluate("path => { location.hash = path; }", f"{unit}/outing")
    expect(phone.get_by_role("heading", name="Log an outing")).to_be_visible()
    save = phone.get_by_role("button", name="Save the outing")
    # Nothing is answered yet, and the key has the focus all the same.
    save.focus()
    expect(save).to_be_focused()
    expect(save).to_have_attribute("aria-disabled", "true")
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("button", name="Undo")).to_be_visible()


def test_the_enter_after_the_last_field_is_not_lost_while_the_engine_thinks(demo: RunningServer, phone: Page) -> None:
    phone.add_init_script(SLOW_ENGINE)
    phone.goto(demo.address)
    ready(phone)
    remember_name(phone)
    before = ids_on_disk(demo)
    unit = unit_path(demo.address)
    for path, first in (("springs", "S1 point 1"), ("outing", "Where")):
        phone.evaluate("globalThis.late = 0")
        phone.evaluate("path => { location.hash = path; }", f"{unit}/{path}")
        field = phone.get_by_label(first, exact=True)
        field.focus()
        phone.evaluate("late => { globalThis.late = late; }", LATE_MS)
        main = phone.locator("main button.main")
        for number in range(12):
            if field.evaluate("() => document.activeElement.matches('button.main')"):
                break
            # A place that is left empty ends a row of readings.
            if number < 3:
                phone.keyboard.type("5.95" if path == "springs" else "30")
            phone.keyboard.press("Enter")
        expect(main.last).to_be_focused()
        phone.keyboard.press("Enter")
        expect(phone.get_by_role("button", name="Undo")).to_be_visible()
    phone.evaluate("globalThis.late = 0")
    delivered(phone)
    assert {entry["kind"] for entry in new_on_disk(demo, before)} == {"spring_check", "outing"}


# A form with nothing typed, its key, and where that leads; {unit} is the demonstration's.
LEADS = {
    "{unit}/service": ("Save the service", "Anything else that was done"),
    "{unit}/springs": ("Save", "S1 point 1"),
    "{unit}/rings": ("Save", "R1 point 1"),
    "{unit}/refit": ("Save the refit", "Crown-wheel screws, screw 1"),
    "{unit}/another": ("Add the unit", "Name of the unit"),
    "{unit}/pattern": ("Make the pattern", "Name of the pattern"),
    "/unit/new": ("Add the unit", "Name of the unit"),
    "/unit/start": ("Go on to the check", "Name of the unit"),
    "/car": ("Save the car", "Name of the car"),
    "/kit": ("Save the tool", "Name"),
    "/letterhead": ("Save the letterhead", "The workshop's name"),
}


def test_a_key_that_cannot_act_yet_keeps_the_focus_and_leads_to_what_is_missing(
    demo: RunningServer, chromium: Browser
) -> None:
    with opened(chromium, demo.address, in_reach=True) as page:
        ready(page)
        remember_name(page)
        unit = unit_path(demo.address)
        for path, (key, field) in LEADS.items():
            go(page, path.format(unit=unit))
            save = page.get_by_role("button", name=key, exact=True)
            save.focus()
            expect(save).to_be_focused()
            page.keyboard.press("Enter")
            expect(page.get_by_label(field, exact=True).first, path).to_be_focused()


# What the field that has the focus is called, and whether Enter begins a line in it.
HERE = """() => {
    const at = document.activeElement;
    const name = at.getAttribute("aria-label") ?? at.labels?.[0]?.innerText ?? at.textContent;
    return [name.trim(), at.localName];
}"""
MOST_FIELDS = 300

# A form by its address: where it begins, what is typed at which field, its key, and what says that it is saved.
FORMS: dict[str, tuple[str, dict[str, str], str, str]] = {
    "/kit": ("Name", {"Name": "Short click", "Scale ends at": "60", "One division": "0.5"}, "Save the tool", "saved"),
    "/shelf": ("Name", {}, "Save the count", "The count is saved."),
    "/customers": ("Name of the customer", {"Name of the customer": "Odo Fenn"}, "Save the customer", "is saved."),
    "/letterhead": (
        "The workshop's name",
        {"The workshop's name": "Fenn Drivelines", "Address and telephone, a line each": "4 Mill Lane"},
        "Save the letterhead",
        "It is saved.",
    ),
    "/car": ("Name of the car", {"Name of the car": "Fenland special"}, "Save the car", "is saved."),
    "{unit}/outing": ("Where", {"Where": "Hill road"}, "Save the outing", "Undo"),
    "{unit}/service": (
        "Anything else that was done",
        {"Anything else that was done": "Seal"},
        "Save the service",
        "Undo",
    ),
    "{unit}/springs": (
        "S1 point 1",
        {f"S1 point {number}": figure for number, figure in enumerate(("5.95", "5.96", "5.94"), 1)},
        "Save",
        "Undo",
    ),
    "{unit}/rings": (
        "R1 point 1",
        {f"R1 point {number}": figure for number, figure in enumerate(("0.01", "0.02", "0.01"), 1)},
        "Save",
        "Undo",
    ),
    "{unit}/refit": (
        "Lengths in",
        {
            **{f"Crown-wheel screws, screw {number}": "95" for number in range(1, 5)},
            **{f"Turning torque of the bearings, reading {number}": "2.1" for number in range(1, 3)},
            **{f"Backlash, tooth {number}": figure for number, figure in enumerate(("0.15", "0.16", "0.14"), 1)},
            "At least, mm": "0.1",
            "At most, mm": "0.2",
        },
        "Save the refit",
        "Undo",
    ),
    "{unit}/plan": (
        "Breakaway torque",
        {"Breakaway torque": "95"},
        "Rebuild it like this",
        "Add a part that was fitted",
    ),
    "{unit}/rebuild": (
        "Oil filled",
        {"Oil filled": "75W-90", "What was done and why": "Washed and looked at"},
        "Save, and close it up",
        "Done: step 1",
    ),
}


def go_through(page: Page, first: str, figures: dict[str, str], key: str) -> list[list[str]]:
    """From the first field to the key that saves with Enter alone; the fields on the way."""
    page.get_by_label(first, exact=True).last.focus()
    passed: list[list[str]] = []
    for _ in range(MOST_FIELDS):
        name, kind = page.evaluate(HERE)
        if kind == "button":
            assert name == key, f"Enter leads to {name}, after {passed}"
            return passed
        assert [name, kind] not in passed[-2:], f"Enter stays at {name}"
        passed.append([name, kind])
        if name in figures:
            page.keyboard.press("Control+A")
            page.keyboard.type(figures[name])
        page.keyboard.press("Enter")
        # In a long text it begins a line first.
        if kind == "textarea" and page.evaluate(HERE) == [name, kind]:
            page.keyboard.press("Enter")
    raise AssertionError(f"Enter never leads to {key}: {passed[-10:]}")


@pytest.mark.parametrize("path", FORMS)
def test_enter_alone_leads_from_the_first_field_of_a_form_to_its_receipt(
    path: str, running: str, forms: tuple[Page, list[str]]
) -> None:
    first, figures, key, receipt = FORMS[path]
    page, errors = forms
    go(page, path.format(unit=unit_path(running)))
    go_through(page, first, figures, key)
    said = page.get_by_text(receipt).or_(page.get_by_role("button", name=receipt, exact=True))
    # Nothing is left of the form before.
    expect(said).to_have_count(0)
    page.keyboard.press("Enter")
    expect(said.first).to_be_visible()
    assert errors == []


@pytest.mark.parametrize("size", [(360, 640), (1280, 800)])
def test_a_note_is_written_and_corrected_with_enter_alone(
    demo: RunningServer, phone: Page, size: tuple[int, int]
) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    ready(phone)
    unit = unit_path(demo.address)
    phone.goto(f"{demo.address}/#{unit}")
    before = ids_on_disk(demo)
    phone.get_by_label("Note", exact=True).focus()
    # In a text the first Enter begins a line, the second goes on.
    phone.keyboard.type("The oil was clear.\n\n")
    expect(phone.get_by_label("Written by")).to_be_focused()
    phone.keyboard.type("Joss Tarn\n")
    expect(phone.get_by_role("button", name="Save the note")).to_be_focused()
    phone.keyboard.press("Enter")
    assert becomes(phone, lambda: len(new_on_disk(demo, before)) == 1)
    [note] = new_on_disk(demo, before)
    assert note["body"] == {"text": "The oil was clear."}
    phone.goto(f"{demo.address}/#{unit}/note/{note['id']}")
    expect(phone.get_by_label("Note", exact=True)).to_have_value("The oil was clear.")
    phone.get_by_label("Note", exact=True).press("ControlOrMeta+End")
    phone.keyboard.type(" And thin.\n\n")
    expect(phone.get_by_role("button", name="Save the note")).to_be_focused()
    phone.keyboard.press("Enter")
    before.add(note["id"])
    assert becomes(phone, lambda: len(new_on_disk(demo, before)) == 1)
    [corrected] = new_on_disk(demo, before)
    assert corrected["body"] == {"text": "The oil was clear. And thin."}


def test_sheets_service_labels_and_backups_need_no_mouse(running: str, chromium: Browser) -> None:
    with opened(chromium, running, in_reach=True) as page:
        ready(page)
        remember_name(page)
        unit = unit_path(running)
        go(page, f"{unit}/sheet")
        page.locator("summary", has_text="Sent to").focus()
        page.keyboard.press("Enter")
        # What was sent before is listed first.
        for _ in range(5):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.type") == "radio":
                break
        # Enter takes the choice that has the focus, and goes on.
        page.keyboard.press("Enter")
        expect(page.get_by_label("When, year-month-day")).to_be_focused()
        page.keyboard.press("Enter")
        page.keyboard.press("Enter")
        expect(page.get_by_role("button", name="Log that it was sent")).to_be_focused()
        page.keyboard.press("Enter")
        expect(page.get_by_text("It is in the log.")).to_be_visible()
        go(page, f"{unit}/service")
        page.get_by_role("button", name="Oil changed").focus()
        page.keyboard.press("Enter")
        page.keyboard.press("Tab")
        expect(page.get_by_label("Which oil")).to_be_focused()
        go_through(page, "Which oil", {"Which oil": "75W-140", "How much, litres": "1.2"}, "Save the service")
        page.keyboard.press("Enter")
        expect(page.get_by_role("button", name="Undo")).to_be_visible()
        go(page, "/labels")
        page.get_by_role("button", name="All units").focus()
        page.keyboard.press("Enter")
        go_through(page, "Start at label", {"Start at label": "2"}, "Make the labels")
        with page.expect_download():
            page.keyboard.press("Enter")
        expect(page.get_by_role("button", name="Make the labels")).to_be_focused()
        go(page, "/backup")
        page.get_by_role("button", name="Save a backup").focus()
        with page.expect_download():
            page.keyboard.press("Enter")
        expect(page.get_by_role("button", name="Save a backup")).to_be_focused()
