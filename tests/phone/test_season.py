"""A season of one unit in one story: from an empty folder to the customer's sheet, through the browser alone."""

import json
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from ..reference.shelf_stories import shelf_of
from .conftest import RunningServer, becomes, open_phone
from .hands import CHECK_TORQUE, Thumbs
from .test_story import SPRING_SECTIONS, WHOLE_UNIT, entries_on_disk

UNIT = "Thistle 7"
BUILDER = "Maud Ferrin"
MECHANIC = "Tobin Ash"


@pytest.fixture
def workshop(tmp_path: Path) -> Iterator[RunningServer]:
    """A workshop on its first day: nothing in its folder."""
    with RunningServer(tmp_path / "log") as server:
        yield server


def opened(server: RunningServer, page: Page) -> Thumbs:
    """The app, cold, on somebody's screen."""
    page.goto("about:blank")
    page.goto(server.address)
    return Thumbs(page)


def at_the_bench(hands: Thumbs, work: str) -> None:
    """Open a piece of bench work from the unit's page."""
    expect(hands.page.get_by_role("heading", name=UNIT, exact=True)).to_be_visible()
    fold = hands.page.locator("details", has_text="At the bench")
    if fold.get_attribute("open") is None:
        fold.locator("summary").tap()
    hands.link(work, exact=True, within=fold)


def home(page: Page, server: RunningServer, many: int) -> None:
    """Wait until all of it is delivered, and the log holds so many entries."""
    assert becomes(page, lambda: len(entries_on_disk(server)) >= many)
    assert len(entries_on_disk(server)) == many
    expect(page.get_by_role("link", name="Outbox", exact=True)).to_be_visible()
    expect(page.get_by_role("link", name="up to date")).to_be_visible()


def fill_the_kit(hands: Thumbs) -> None:
    """A beam wrench, a dial for the bench, a micrometer."""
    hands.link("Kit")
    for name, end, division, kind in (("Long beam", "140", "2", "beam"), ("Bench dial", "200", "0,5", "dial")):
        hands.pick("Kind", kind)
        hands.type("Name", name)
        hands.type("Scale ends at", end)
        hands.type("One division", division)
        if kind == "dial":
            hands.type("From its certificate, U in %", "1")
        name_yourself(hands, "Your name")
        hands.button("Save the tool")
        expect(hands.page.get_by_text(f"{name} is in the kit.")).to_be_visible()
    hands.choose("micrometer")
    hands.type("Name", "Mic 0-25")
    hands.button("Save the tool")
    expect(hands.page.get_by_text("Mic 0-25 is in the kit.")).to_be_visible()
    expect(hands.page.get_by_text("dial, to 200 N·m, division 0,5 N·m")).to_be_visible()


def name_yourself(hands: Thumbs, label: str) -> None:
    """Type the builder's name where the phone does not know it yet."""
    if hands.page.get_by_label(label, exact=True).count():
        hands.type(label, BUILDER)


def fill_the_shelf(hands: Thumbs) -> None:
    """A few classes of plates, and shims."""
    hands.link("Plates on the shelf")
    page = hands.page
    for number, (name, part, thickness, count) in enumerate(
        (("F 2.50", "friction", "2.50", "4"), ("F 2.55", "friction", "2.55", "4"), ("S 2.10", "separator", "2.10", "4"))
    ):
        hands.button("Add a class or a piece")
        row = page.locator(".list > li").nth(number)
        row.get_by_label("Name", exact=True).fill(name)
        row.get_by_label("Part").select_option(label=part)
        row.get_by_label("Thickness", exact=True).fill(thickness)
        row.get_by_label("How many").fill(count)
    hands.button("Save the count")
    expect(page.get_by_text("The count is saved.")).to_be_visible()


def take_it_in(hands: Thumbs) -> None:
    """Every value by hand."""
    hands.link("Units")
    hands.link("Add a whole unit")
    hands.section("Plates and rings", *SPRING_SECTIONS, "Depth", "Cover screws")
    for label, value in {
        "Name of the unit": UNIT,
        **WHOLE_UNIT,
        "Gap at first thread": "4",
    }.items():
        hands.type(label, value)
    expect(hands.page.locator("[data-figure=torque]")).to_contain_text("N·m")
    hands.button("Add the unit")


def sign(hands: Thumbs, steps: int) -> None:
    """Do every step of a guided procedure and sign."""
    for number in range(1, steps + 1):
        hands.button(f"Done: step {number}", exact=True)
    hands.type("Done and signed by", BUILDER)
    hands.button("Sign it off")
    found = hands.page.get_by_role("heading", name="What the strip found")
    page = hands.page.get_by_role("heading", name=UNIT, exact=True)
    expect(found.or_(page)).to_be_visible()
    if found.is_visible():
        hands.link(UNIT)
    expect(page).to_be_visible()


def measure_plates(hands: Thumbs, friction: str, separator: str) -> None:
    """All of them, three points each."""
    hands.link("Measure plates")
    # The unit's page has the same parts, and is there until then.
    expect(hands.page.get_by_role("heading", name="Measure plates")).to_be_visible()
    for slot in [f"{side}{number}" for side in "AB" for number in range(1, 6)]:
        hands.page.get_by_role("button", name=re.compile(f"^{slot} ")).focus()
        hands.page.keyboard.press("Enter")
        for number in (1, 2, 3):
            hands.page.get_by_label(f"{slot} point {number}", exact=True).fill(
                friction if int(slot[1]) % 2 == 0 else separator
            )
    hands.button("Save the plates")
    expect(hands.page.get_by_role("heading", name=UNIT, exact=True)).to_be_visible()


def check(
    hands: Thumbs, held: str, tool: str, forward: list[str], reverse: list[str], outings: str, *, order: bool = False
) -> None:
    """Type a torque check, up to its verdict."""
    hands.link(CHECK_TORQUE)
    hands.choose(held)
    hands.pick("With what?", tool)
    hands.readings(forward, reverse)
    hands.unfold("Warmth, outings, oil, limits")
    hands.type("Outings since rebuild", outings)
    if order:
        hands.choose("the torque ordered")


def saved(hands: Thumbs, verdict: str) -> None:
    """Save it; the unit says how it stands."""
    hands.button("Save the check")
    expect(hands.page.get_by_role("heading", name=UNIT, exact=True)).to_be_visible()
    expect(hands.page.locator(".card.judged").first).to_contain_text(verdict)


def test_a_season_from_an_empty_folder_to_the_customers_sheet(workshop: RunningServer, chromium: Browser) -> None:
    bench, paddock, other = (open_phone(chromium, accept_downloads=True).new_page() for _ in range(3))
    errors: list[str] = []
    for page in (bench, paddock, other):
        page.on("pageerror", lambda error: errors.append(str(error)))

    builder = opened(workshop, bench)
    fill_the_kit(builder)
    fill_the_shelf(builder)
    take_it_in(builder)

    at_the_bench(builder, "Strip it")
    expect(bench.get_by_text(re.compile(r"^\s*7812 N"))).to_be_visible()
    sign(builder, 10)
    measure_plates(builder, "2.44", "1.98")
    stands = bench.locator(".card.judged").first
    # Good parts in a tray are no unit that may run.
    expect(stands).to_contain_text("not judged")
    expect(stands).to_contain_text("It is in parts")
    at_the_bench(builder, "Measure the spring")
    builder_points = ("6,25", "6.25", "6.26")
    for number, value in enumerate(builder_points, 1):
        builder.type(f"S1 point {number}", value)
    builder.button("Save", exact=True)
    at_the_bench(builder, "Measure the rings")
    for ring in ("R1", "R2"):
        builder.type(f"{ring} point 1", "0")
    builder.button("Save", exact=True)
    at_the_bench(builder, "What changed")
    expect(bench.get_by_text("It takes two torque checks to compare.")).to_be_visible()
    builder.link(UNIT)

    at_the_bench(builder, "Plan the rebuild")
    expect(bench.get_by_role("heading", name="Choices")).to_be_visible()
    builder.button("Rebuild it like this")
    expect(bench.get_by_text(re.compile(r"^\s*take \d off, put \d on\s*$"))).to_be_visible()
    builder.button("Save, and close it up")
    expect(bench.get_by_role("heading", name="Close it up")).to_be_visible()
    # The vice has to be ready for what was fitted, not for the parts that it came with.
    expect(bench.get_by_text(re.compile(r"^\s*7812 N"))).to_have_count(0)
    sign(builder, 12)
    expect(stands).to_contain_text("not judged")
    expect(stands).to_contain_text("not read since the rebuild")
    check(builder, "Bench: one output held", "Bench dial", ["90", "91", "90"], ["89", "90", "90"], "0", order=True)
    saved(builder, "go")
    expect(stands).to_contain_text("check again after the first outing")
    home(bench, workshop, 12)

    mechanic = opened(workshop, paddock)
    expect(paddock.get_by_role("link", name=UNIT)).to_be_visible()
    paddock.wait_for_function("() => navigator.serviceWorker.controller !== null")
    home(paddock, workshop, 12)
    workshop.stop()
    verdict = paddock.get_by_role("region", name="Verdict")
    car = "Car: one wheel down, neutral"

    mechanic = opened(workshop, paddock)
    mechanic.link(UNIT)
    check(mechanic, car, "Long beam", ["70", "80", "62"], ["66", "79", "60"], "1")
    mechanic.type("Checked by", MECHANIC)
    expect(verdict).to_contain_text("measure again")
    expect(verdict).to_contain_text("What would help most")
    saved(mechanic, "measure again")

    # Both wheels were up; nobody said so.
    check(mechanic, car, "Long beam", ["138", "140", "138"], ["138", "138", "140"], "2")
    expect(verdict).to_contain_text("rework")
    expect(verdict).to_contain_text("Held the other way, this would be 69.3 N·m and inside the limits.")
    saved(mechanic, "rework")
    mechanic.link("breakaway torque checked 138.7")
    mechanic.link("Correct this entry")
    mechanic.choose("Car: both wheels up, in gear")
    saved(mechanic, "go")
    expect(paddock.get_by_text("corrected later")).to_be_visible()

    check(mechanic, car, "Long beam", ["66", "68", "66"], ["66", "66", "68"], "4")
    saved(mechanic, "go")
    check(mechanic, car, "Long beam", ["62", "64", "62"], ["62", "62", "64"], "6")
    saved(mechanic, "measure again")

    # The phone is nearly dead: its outbox travels on another one.
    mechanic.link(re.compile("^Outbox"))
    expect(paddock.locator(".list > li", has_text="a correction")).to_have_count(1)
    with paddock.expect_download() as download:
        mechanic.button("Save the outbox to a file")
    expect(paddock.get_by_text("was handed to the browser")).to_be_visible()
    brought = json.loads(download.value.path().read_text(encoding="utf-8"))["entries"]
    assert len(brought) == 5
    # Or it would find the workshop before the file does.
    paddock.context.set_offline(True)
    workshop.start()
    courier = opened(workshop, other)
    courier.link("Outbox")
    other.locator("input[type=file]").set_input_files(download.value.path())
    expect(other.get_by_text("5 entries were in the file, 5 of them new here.")).to_be_visible()
    home(other, workshop, 17)
    assert Counter(entry["id"] for entry in brought) <= Counter(entry["id"] for entry in entries_on_disk(workshop))
    # The dead phone was charged after all: what is home already is not there twice.
    paddock.context.set_offline(False)
    opened(workshop, paddock)
    home(paddock, workshop, 17)

    builder = opened(workshop, bench)
    builder.link(UNIT)
    at_the_bench(builder, "What changed")
    expect(bench.get_by_text("Neither the plates nor the spring were measured between these two")).to_be_visible()
    expect(bench.get_by_text("A reading past the limit is possible now")).to_be_visible()
    builder.link(UNIT)
    measure_plates(builder, "2.47", "1.99")
    at_the_bench(builder, "What changed")
    expect(bench.get_by_text("gone from the plates").first).to_be_visible()
    expect(bench.get_by_text("The spring was not measured between these two")).to_be_visible()
    builder.link(UNIT)
    at_the_bench(builder, "Plan the rebuild")
    expect(bench.get_by_text("Worked out from the last check, 62.7 N·m")).to_be_visible()
    expect(bench.get_by_role("heading", name="Choices")).to_be_visible()
    home(bench, workshop, 18)

    # The customer follows the code on the sheet.
    unit = next(entry["unit"] for entry in entries_on_disk(workshop) if entry["kind"] == "unit")
    other.goto(f"{workshop.address}/#/unit/{unit}")
    customer = Thumbs(other)
    at_the_bench(customer, "Build sheet")
    sheet = other.get_by_role("article")
    for words in (UNIT, "Orrin Vale", "62.7 N·m", f"by {MECHANIC}", f"signed {BUILDER}", "with these plates"):
        expect(sheet).to_contain_text(words)
    other.emulate_media(media="print")
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", other.pdf(format="A4", print_background=True))) == 1

    stored = entries_on_disk(workshop)
    assert Counter(entry["kind"] for entry in stored) == {
        "kit": 3,
        "shelf": 1,
        "unit": 1,
        "strip": 1,
        "plate_check": 2,
        "spring_check": 1,
        "ring_check": 1,
        "rebuild": 1,
        "close": 1,
        "torque_check": 6,
    }
    assert len({entry["id"] for entry in stored}) == len(stored)
    assert all(entry["agrees"] for entry in stored)
    assert {entry["who"] for entry in stored} == {BUILDER, MECHANIC}
    checks = sorted((entry for entry in stored if entry["kind"] == "torque_check"), key=lambda entry: entry["at"])
    assert [entry["shown"]["verdict"] for entry in checks] == [
        "go",
        "measure_again",
        "rework",
        "go",
        "go",
        "measure_again",
    ]
    wrong, mended = checks[2], checks[3]
    assert mended["replaces"] == wrong["id"]
    assert [entry["body"]["held"] for entry in (wrong, mended)] == ["car_one_wheel_down", "car_both_wheels_up"]
    assert wrong["body"]["steady_nm"] == mended["body"]["steady_nm"]
    assert "Too high" in wrong["shown"]["reason"]
    assert "Good to run" in mended["shown"]["reason"]
    assert "measure again" in checks[1]["shown"]["reason"]
    # The rebuild took its plates off the shelf, and put those that came out and are good onto it.
    [rebuilt] = [entry for entry in stored if entry["kind"] == "rebuild"]
    fitted, out = rebuilt["shown"]["fitted"], rebuilt["shown"]["came_out"]
    kept = [plate for plate in out if plate["where"] == "keep"]
    [count] = [entry for entry in stored if entry["kind"] == "shelf"]
    counted = sum(piece["count"] for piece in count["shown"]["pieces"])
    assert len(out) == len(fitted) > 0
    assert kept
    assert shelf_of(stored)["count"] == counted - len(fitted) + len(kept)
    assert errors == []
    for page in (bench, paddock, other):
        page.context.close()


def test_an_app_that_stays_open_hears_what_was_saved_elsewhere(demo: RunningServer, chromium: Browser) -> None:
    bench, paddock = (open_phone(chromium).new_page() for _ in range(2))
    paddock.clock.install()
    for page in (bench, paddock):
        page.goto(demo.address)
        page.get_by_role("link", name="Bramble 1").tap()
    before = len(entries_on_disk(demo))
    home(paddock, demo, before)
    hands = Thumbs(bench)
    hands.type("Note", "A ring looks blue")
    name = bench.get_by_label("Written by", exact=True)
    if name.count():
        name.fill(BUILDER)
    hands.button("Save the note")
    home(bench, demo, before + 1)
    expect(paddock.get_by_text("A ring looks blue")).to_have_count(0)
    paddock.clock.fast_forward(60_000)
    expect(paddock.get_by_text("A ring looks blue").first).to_be_visible()
    for page in (bench, paddock):
        page.context.close()
