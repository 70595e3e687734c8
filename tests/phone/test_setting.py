"""A crown wheel is set in two tries, offline: what to move, the first try kept, the second learning from it."""

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer, draft_is_kept
from .test_refit import FRESH, at_the_bench, take_in, type_part
from .test_story import delivered, entries_on_disk, ids_on_disk, new_on_disk, ready_offline

pytestmark = pytest.mark.knows_the_demo

NOW = {"Shims behind the crown wheel": "2,5", "Shims on the tooth side": "2,3", "Shims are at hand in steps of": "0,05"}


def shims(page: Page, values: dict[str, str]) -> None:
    """Type what is in now."""
    card = page.get_by_role("region", name="Shims")
    for label, value in values.items():
        card.get_by_label(f"{label}, mm", exact=True).first.fill(value)


def test_a_crown_wheel_is_set_in_two_tries(demo: RunningServer, phone: Page) -> None:
    take_in(demo.address)
    before = ids_on_disk(demo)
    phone.goto(demo.address)
    ready_offline(phone)
    demo.stop()
    phone.get_by_role("link", name=FRESH).click()
    at_the_bench(phone, "Back into the axle")
    type_part(phone, "Backlash", "tooth", ["0,24", "0.26", "0,25"], "0,10", "0,20")
    moves = phone.get_by_role("region", name="What to move")
    expect(moves).to_contain_text("Move the crown wheel 0.143 mm towards the pinion (between 0.084 mm and 0.248 mm")
    expect(moves).to_contain_text("0.50 to 0.90; common practice, no source")
    expect(moves).to_contain_text("Never run it without backlash")
    shims(phone, NOW)
    expect(moves).to_contain_text("add 0.150 mm behind the crown wheel (from 2.500 mm to 2.650 mm)")
    expect(moves).to_contain_text("take out 0.150 mm on the tooth side (from 2.300 mm to 2.150 mm)")
    expect(moves.get_by_role("img")).to_contain_text("+0.150 mm")

    # A figure in a fold that is wrong opens it, and is told once, where it stands.
    phone.get_by_text("Gears", exact=True).click()
    pressure = phone.get_by_label("Normal pressure angle, degrees", exact=True)
    pressure.fill("x")
    expect(phone.get_by_role("alert").filter(has_text="Type a number").first).to_be_visible()
    pressure.fill("22,5")
    for label, value in (("Spiral angle of the crown wheel", "35"), ("Teeth of the crown wheel", "41")):
        phone.get_by_label(label, exact=False).first.fill(value)
    phone.get_by_label("Teeth of the pinion", exact=True).fill("60")
    expect(phone.get_by_role("alert").filter(has_text="fewer teeth than the crown wheel").first).to_be_visible()
    phone.get_by_label("Teeth of the pinion", exact=True).fill("11")
    expect(moves).to_contain_text("from the gears' angles")

    # The contact pattern comes after backlash, and counts.
    contact = phone.get_by_role("region", name="Contact pattern")
    contact.locator("input[value=heel]").check(force=True)
    expect(contact.locator(".verdict")).to_have_text("rework")
    expect(moves).to_contain_text("Set backlash first, then ink again.")

    # The first try is kept; a slip is undone; a dead battery loses nothing.
    moves.get_by_role("button", name="Keep this try and read again").click()
    expect(moves).to_contain_text("1 try is kept")
    expect(phone.get_by_label("Backlash, tooth 1", exact=True)).to_have_value("")
    phone.get_by_role("button", name="Undo", exact=True).click()
    expect(phone.get_by_label("Backlash, tooth 1", exact=True)).to_have_value("0,24")
    moves.get_by_role("button", name="Keep this try and read again").click()
    draft_is_kept(phone, '"0,24"')
    phone.reload()
    card = phone.get_by_role("region", name="Shims")
    expect(card.get_by_label("Shims behind the crown wheel, mm", exact=True).first).to_have_value("2.600")
    expect(card.get_by_text("Try 1", exact=True)).to_be_visible()

    # The second try: 0.1 mm sideways took 0.09 mm of backlash.
    for number, value in enumerate(["0,155", "0,165", "0,16"], 1):
        phone.get_by_label(f"Backlash, tooth {number}", exact=True).fill(value)
    expect(card.get_by_role("table")).to_contain_text("heel")

    # An earlier try may be typed by hand; its fold stays open while it is typed in.
    card.get_by_role("button", name="Type an earlier try").click()
    other = card.locator("details", has_text="Try 2")
    other.get_by_label("Shims behind the crown wheel, mm", exact=True).fill("2")
    other.get_by_label("Turning torque, N·m", exact=True).fill("-")
    expect(other.get_by_role("alert")).to_be_visible()
    expect(other.get_by_label("Turning torque, N·m", exact=True)).to_have_attribute("aria-invalid", "true")
    other.get_by_role("button", name="Remove try 2").click()

    expect(moves).to_contain_text("nothing to move for it")
    phone.get_by_label("Wanted, mm").fill("0,12")
    expect(moves).to_contain_text("0.90 times")
    expect(moves).to_contain_text("measured, from what was tried")
    phone.get_by_label("Wanted, mm").fill("")
    contact.locator("input[value=good]").check(force=True)
    phone.get_by_label("Refitted by").fill("Ilse Marrow")
    phone.get_by_role("button", name="Save the refit").click()
    expect(phone.get_by_role("heading", name=FRESH)).to_be_visible()
    phone.get_by_role("link", name="unit put back into its axle").click()
    expect(phone.get_by_text("Contact pattern", exact=True)).to_be_visible()
    phone.get_by_role("link", name="Correct this entry").click()
    expect(phone.get_by_text("Try 1", exact=True)).to_be_visible()
    expect(phone.get_by_label("Teeth of the pinion", exact=True)).to_have_value("11")
    phone.go_back()

    # The next refit has shims and gears, and no tries.
    phone.get_by_role("link", name=FRESH).first.click()
    at_the_bench(phone, "Back into the axle")
    expect(phone.get_by_label("Shims behind the crown wheel, mm", exact=True)).to_have_value("2.600")
    expect(phone.get_by_text("Try 1", exact=True)).to_have_count(0)

    demo.start()
    phone.evaluate("dispatchEvent(new Event('online'))")
    delivered(phone)
    [saved] = new_on_disk(demo, before, "refit")
    assert (saved["agrees"], saved["shown"]["verdict"]) == (True, "go")
    [tried] = saved["body"]["tries"]
    assert tried["points_mm"][0] == {"typed": "0,24", "unit": "mm"}
    assert (tried["contact"], saved["body"]["contact"]) == ("heel", {"drive": "good"})
    assert saved["body"]["gears"]["pressure_deg"] == "22,5"


@pytest.mark.in_reach
def test_an_old_refit_and_an_old_draft_are_still_read(demo: RunningServer, phone: Page) -> None:
    [old] = [entry for entry in entries_on_disk(demo) if entry["kind"] == "refit"][:1]
    assert not {"tries", "shims", "contact"} & set(old["body"])
    phone.goto(f"{demo.address}/#/unit/{old['unit']}/refit/{old['id']}")
    first = phone.get_by_label("Crown-wheel screws, screw 1", exact=True)
    expect(first).not_to_have_value("")
    expect(phone.get_by_role("region", name="What to move")).to_contain_text("inside its limits")
    # A draft of an older version knows nothing of shims, gears and tries.
    kept: dict[str, Any] = phone.evaluate(
        """async ([key]) => {
            const { keepDraft } = await slipbook.part("log/drafts.js");
            const part = (readings) => ({ readings, low: "0.1", high: "0.2", uneven: "", toolId: "", tool: null,
                division: "" });
            await keepDraft(key, { torqueUnit: "nm", lengthUnit: "mm", screws: { ...part(["", ""]) },
                bearings: part([""]), backlash: part(["0.05", "0.06", "0.05"]) });
            return {};
        }""",
        [f"refit/{old['unit']}"],
    )
    assert kept == {}
    phone.goto(f"{demo.address}/#/unit/{old['unit']}/refit")
    expect(phone.get_by_label("Backlash, tooth 1", exact=True)).to_have_value("0.05")
    expect(phone.get_by_role("region", name="What to move")).to_contain_text("away from the pinion")


@pytest.mark.in_reach
def test_a_refit_is_done_by_enter_alone(demo: RunningServer, phone: Page) -> None:
    take_in(demo.address)
    phone.goto(demo.address)
    phone.get_by_role("link", name=FRESH).click()
    at_the_bench(phone, "Back into the axle")
    typed = {
        "Backlash, tooth 1": "0.24",
        "Backlash, tooth 2": "0.26",
        "Backlash, tooth 3": "0.25",
        "Shims behind the crown wheel, mm": "2.5",
        "Shims on the tooth side, mm": "2.3",
        "Refitted by": "Ilse Marrow",
    }
    phone.get_by_label("Crown-wheel screws, screw 1", exact=True).focus()
    passed = []
    for _ in range(60):
        name = phone.evaluate(
            """() => { const at = document.activeElement;
                return (at.getAttribute("aria-label") ?? at.labels?.[0]?.innerText ?? at.textContent).trim(); }"""
        )
        passed.append(name)
        if name == "Save the refit":
            break
        if name in typed:
            phone.keyboard.type(typed[name])
        elif name == "At least, mm":
            phone.keyboard.type("0.10")
        elif name == "At most, mm":
            phone.keyboard.type("0.20")
        phone.keyboard.press("Enter")
    assert passed[-1] == "Save the refit", passed
    assert set(typed) <= set(passed)
    expect(phone.get_by_role("region", name="What to move")).to_contain_text("from 2.500 mm to 2.643 mm")
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("heading", name=FRESH)).to_be_visible()
    expect(phone.get_by_role("link", name="unit put back into its axle")).to_be_visible()


@pytest.mark.in_reach
@pytest.mark.parametrize("size", [(360, 640), (1280, 800)])
def test_what_to_move_fits_the_screen(demo: RunningServer, phone: Page, size: tuple[int, int]) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    take_in(demo.address)
    phone.goto(demo.address)
    phone.get_by_role("link", name=FRESH).click()
    at_the_bench(phone, "Back into the axle")
    type_part(phone, "Backlash", "tooth", ["0,24", "0.26", "0,25"], "0,10", "0,20")
    shims(phone, NOW)
    phone.get_by_role("button", name="Keep this try and read again").click()
    type_part(phone, "Backlash", "tooth", ["0,14", "0.16", "0,15"], "0,10", "0,20")
    contact = phone.get_by_role("region", name="Contact pattern")
    contact.locator("input[value=face]").check(force=True)
    expect(phone.get_by_role("table")).to_be_visible()
    assert phone.evaluate("document.documentElement.scrollWidth") <= size[0]
