"""At the bench: strip, plan, rebuild, close, check, hand over; all of it in the log."""

import re

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer, draft_is_kept
from .hands import BENCH, CHECK_TORQUE, Hands, Thumbs
from .test_enter import remember_name
from .test_story import delivered, entries_on_disk, ids_on_disk, new_on_disk

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

UNIT = "Bramble 1"


def at_the_bench(hands: Hands, work: str) -> None:
    """Open a piece of bench work from the unit's page."""
    expect(hands.page.get_by_role("heading", name=UNIT)).to_be_visible()
    fold = hands.page.locator("details", has_text="At the bench")
    if fold.get_attribute("open") is None:
        hands.press(fold.locator("summary"))
    hands.link(work, exact=True, within=fold)


def sign(hands: Hands, steps: int) -> None:
    """Do every step of a guided procedure, one thumb, and sign."""
    for number in range(1, steps + 1):
        hands.button(f"Done: step {number}", exact=True)
    hands.type("Done and signed by", "Ilse Marrow")
    hands.button("Sign it off")


def test_a_unit_is_rebuilt_from_strip_to_sheet(demo: RunningServer, hands: Hands) -> None:
    phone = hands.page
    before = ids_on_disk(demo)
    phone.goto(demo.address)
    expect(phone.get_by_role("link", name=UNIT)).to_be_visible()
    hands.link(UNIT)

    at_the_bench(hands, "Strip it")
    expect(phone.get_by_text(re.compile(r"^\s*6120 N"))).to_be_visible()
    expect(phone.get_by_role("note", name="Caution").first).to_contain_text("Hot oil burns")
    hands.button("Done: step 1", exact=True)
    # Called away in the middle of it: the step is kept.
    draft_is_kept(phone, '"drained"')
    phone.reload()
    expect(phone.get_by_text("done", exact=True)).to_have_count(1)
    hands.button("Undo")
    sign(hands, 10)
    expect(phone.get_by_role("heading", name="What the strip found")).to_be_visible()
    hands.link(UNIT)

    at_the_bench(hands, "Plan the rebuild")
    expect(phone.get_by_role("heading", name="Choices")).to_be_visible()
    expect(phone.get_by_text("Arrangements covered: ")).to_be_visible()
    expect(phone.get_by_role("img", name="Breakaway torque against the thickness")).to_be_visible()
    hands.type("Breakaway torque", "400")
    expect(phone.get_by_role("heading", name="Not possible from this shelf")).to_be_visible()
    expect(phone.get_by_text("What would make it possible")).to_be_visible()
    hands.type("Breakaway torque", "100")
    expect(phone.get_by_role("heading", name="Choices")).to_be_visible()
    hands.button("Work them out")
    expect(phone.get_by_text("Changes preload torque").first).to_be_visible()
    hands.button("Rebuild it like this")

    expect(phone.get_by_role("heading", name="Rebuild")).to_be_visible()
    expect(phone.get_by_label("Thickness", exact=True).first).not_to_have_value("")
    hands.button("Save, and close it up")

    expect(phone.get_by_role("heading", name="Close it up")).to_be_visible()
    sign(hands, 12)
    expect(phone.get_by_text("not torque-checked since")).to_be_visible()

    hands.link(CHECK_TORQUE)
    hands.choose("Bench: one output held")
    hands.pick("With what?", "Bench dial")
    hands.readings(["100", "101", "100"], ["99", "101", "100"])
    # The first check of a rebuild starts with what is known: nothing run yet, and the torque that was ordered.
    hands.unfold("Warmth, outings, oil, limits")
    expect(phone.get_by_label("the torque ordered")).to_be_checked()
    expect(phone.get_by_label("Outings since rebuild")).to_have_value("0")
    expect(phone.get_by_role("region", name="Verdict")).to_contain_text("Fresh from a rebuild")
    hands.button("Save the check")
    expect(phone.locator(".card.judged").first).to_contain_text("go")
    expect(phone.get_by_text("Checked fresh from a rebuild: check again after the first outing")).to_be_visible()

    at_the_bench(hands, "Build sheet")
    sheet = phone.get_by_role("article")
    expect(sheet).to_contain_text("by Ilse Marrow")
    expect(sheet).to_contain_text("signed Ilse Marrow")
    expect(sheet.get_by_role("img", name=f"The way back to {UNIT}")).to_be_visible()

    delivered(phone)
    kinds = [entry["kind"] for entry in new_on_disk(demo, before)]
    for kind in ("strip", "rebuild", "close"):
        assert kinds.count(kind) == 1
    assert all(entry["agrees"] for entry in entries_on_disk(demo))


def test_where_the_preload_went_and_when_to_open_it(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    at_the_bench(Thumbs(phone), "What changed")
    expect(phone.get_by_text("The torque lost 18 %")).to_be_visible()
    expect(phone.get_by_text("more outings at the earliest")).to_be_visible()
    expect(phone.get_by_text("not like with like")).to_be_visible()


def test_a_spent_spring_and_a_worn_ring_are_judged(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    at_the_bench(Thumbs(phone), "Measure the spring")
    for number, value in enumerate(("5,1", "5.1", "5.12"), 1):
        phone.get_by_label(f"S1 point {number}", exact=True).fill(value)
    expect(phone.get_by_role("region", name="Verdict")).to_contain_text("replace")
    phone.get_by_label("Measured by").fill("Ilse Marrow")
    phone.get_by_role("button", name="Save", exact=True).click()
    expect(phone.locator(".card.judged").first).to_contain_text("replace")
    at_the_bench(Thumbs(phone), "Measure the rings")
    phone.get_by_label("R1 point 1", exact=True).fill("0.01")
    expect(phone.get_by_role("region", name="Verdict")).to_contain_text("go")
    phone.get_by_label("R1 point 1", exact=True).fill("deep")
    expect(phone.get_by_role("alert").filter(has_text="Type a number").first).to_be_visible()


def test_ramps_are_drawn_for_both_ways_of_fitting(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    at_the_bench(Thumbs(phone), "Ramps")
    expect(phone.get_by_role("img", name="drive ramp at 45 degrees")).to_be_visible()
    expect(phone.get_by_text("Rings turned over")).to_be_visible()
    for label, value in {
        "Left wheel load, kg": "190",
        "Right wheel load, kg": "240",
        "Left grip": "0,35",
        "Right grip": "1",
        "Tyre radius, mm": "300",
    }.items():
        phone.get_by_label(label).fill(value)
    expect(phone.get_by_text("an open axle 391.3")).to_be_visible()


def test_a_new_row_of_a_rebuild_is_no_fault_before_anything_is_typed(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    at_the_bench(Thumbs(phone), "Rebuild")
    phone.get_by_label("What was done and why").fill("A thicker plate, to the order")
    save = phone.get_by_role("button", name="Save, and close it up")
    expect(save).to_be_enabled()
    phone.get_by_role("button", name="Add a part that was fitted").click()
    # Why it cannot be saved is said beside the key, and no field is called wrong that nobody has come to.
    expect(save).to_be_disabled()
    expect(phone.get_by_text("Type the thickness of each part")).to_be_visible()
    expect(phone.get_by_role("alert")).to_have_count(0)
    expect(phone.get_by_label("Thickness", exact=True)).to_have_attribute("aria-invalid", "false")
    # Whoever began a row and left out its thickness is told at the field.
    phone.get_by_label("Name on the shelf").fill("S 1.65")
    expect(phone.get_by_role("alert")).to_have_text("Fill this in.")
    phone.get_by_label("Thickness", exact=True).fill("2,55")
    expect(save).to_be_enabled()
    expect(phone.get_by_text("Type the thickness of each part")).to_have_count(0)


def test_every_kind_of_entry_can_be_read_again(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).click()
    at_the_bench(Thumbs(phone), "Strip it")
    sign(Thumbs(phone), 10)
    expect(phone.get_by_role("heading", name="What the strip found")).to_be_visible()
    phone.get_by_role("link", name=UNIT).first.click()
    at_the_bench(Thumbs(phone), "Rebuild")
    phone.get_by_role("button", name="Add a part that was fitted").click()
    phone.get_by_label("Thickness", exact=True).fill("2,55")
    phone.get_by_label("What was done and why").fill("A thicker plate, to the order")
    phone.get_by_role("button", name="Save, and close it up").click()
    expect(phone.get_by_role("heading", name="Close it up")).to_be_visible()
    for entry, words in (
        ("unit rebuilt", "2.550 mm"),
        ("unit stripped", "signed Ilse Marrow"),
        ("unit added", "Ordered 100.0 N·m"),
        ("plates measured", "As typed"),
    ):
        phone.get_by_role("link", name=UNIT).first.click()
        phone.get_by_role("link", name=entry).first.click()
        expect(phone.get_by_text(words).first).to_be_visible()
        expect(phone.get_by_text("by this device's clock")).to_be_visible()
    phone.get_by_role("link", name=UNIT).first.click()
    phone.get_by_role("link", name="unit rebuilt").first.click()
    phone.get_by_role("link", name="Correct this entry").click()
    expect(phone.get_by_label("Thickness", exact=True)).to_have_value("2,55")
    phone.get_by_label("Thickness", exact=True).fill("2,60")
    phone.get_by_role("button", name="Save the correction").click()
    expect(phone.get_by_text("corrected later")).to_be_visible()
    phone.get_by_role("link", name="a correction").click()
    expect(phone.get_by_text("2.600 mm").first).to_be_visible()


def test_what_was_saved_stands_above_the_verdict_and_moves_the_stack_from_nothing(
    demo: RunningServer, phone: Page
) -> None:
    phone.set_viewport_size(BENCH)  # type: ignore[arg-type]
    phone.goto(demo.address)
    expect(phone.get_by_role("link", name=UNIT)).to_be_visible()
    remember_name(phone)
    phone.get_by_role("link", name=UNIT).click()
    phone.get_by_role("link", name="Log an outing", exact=True).click()
    phone.get_by_role("button", name="Save the outing").click()
    saved = phone.locator(".receipt")
    expect(saved).to_be_visible()

    def edges(selector: str) -> tuple[float, float]:
        box = phone.locator(selector).first.bounding_box()
        assert box
        return box["y"], box["y"] + box["height"]

    verdict, stack, steps = edges(".judged"), edges(".beside"), edges(".job")
    # One below the other, and nothing between them but the gap.
    assert 0 <= verdict[0] - edges(".receipt")[1] <= 24
    assert 0 <= stack[0] - verdict[1] <= 24
    assert stack[0] == pytest.approx(steps[0], abs=1)
