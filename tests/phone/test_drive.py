"""The drive on the phone: lock as a range from the unit as it is built, and what the definition asks more about it."""

from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from server.engine import calc

from .conftest import RunningServer, draft_is_kept
from .screens import of_log
from .test_typed_units import go, open_unit

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

GEARS = {
    "Pressure angle of the teeth, degrees": "22,5",
    "Side gear, radius at mid tooth": "30",
    "Teeth of a side gear": "16",
    "Teeth of a pinion": "10",
}


def built_now(address: str, unit: str) -> Any:
    """The unit as the engine has it from the server's log."""
    entries = [entry for entry in of_log(address) if entry["unit"] == unit.removeprefix("/unit/")]
    return calc("standing", {"entries": entries})["built"]


def lock_table(page: Page) -> Locator:
    """The table of lock on drive and on coast."""
    return page.locator("section", has_text="As fitted").locator("table").first


def test_a_wheel_in_the_air_is_driven_by_the_preload_of_this_build(demo: RunningServer, phone: Page) -> None:
    unit = open_unit(phone, demo.address)
    build = built_now(demo.address, unit)
    assert build["measured"]
    go(phone, demo.address, f"{unit}/ramps")
    for label, value in {
        "Left wheel load, kg": "200",
        "Right wheel load, kg": "240",
        "Left grip": "0",
        "Right grip": "1",
        "Tyre radius, mm": "300",
    }.items():
        phone.get_by_label(label).fill(value)
    lock = calc("ramps", {"built": build})
    row = phone.locator("tr", has_text="this unit")
    expect(row).to_contain_text(f"{lock['preload_lock_nm']:.1f} N·m")
    assert lock["breakaway_nm"] == build["measured"]["torque_nm"]
    side = lock["fittings"][0]["drive"]
    for words in (side["locking"], side["locking_range"], side["bias_range"], side["takes_over"]):
        expect(lock_table(phone)).to_contain_text(words)


def test_gears_that_bear_on_the_rings_are_typed_once_and_counted(demo: RunningServer, phone: Page) -> None:
    unit = open_unit(phone, demo.address)
    go(phone, demo.address, f"{unit}/ramps")
    phone.get_by_text("What the range is made of").first.click()
    expect(lock_table(phone)).to_contain_text("N·m")
    before = lock_table(phone).inner_text()
    expect(phone.get_by_text("thrust of the bevel gears")).to_have_count(0)
    go(phone, demo.address, f"{unit}/change")
    phone.get_by_text("More about the drive").click()
    phone.get_by_label("rings or packs", exact=True).check()
    expect(phone.get_by_role("alert").filter(has_text="Fill this in").first).to_be_visible()
    for label, typed in GEARS.items():
        phone.get_by_label(label, exact=True).fill(typed)
    draft_is_kept(phone, '"pinion_teeth":"10"')
    phone.reload()
    # What was given is in sight.
    expect(phone.get_by_label("Teeth of a pinion", exact=True)).to_be_visible()
    phone.get_by_label("Entered by").fill("Ilse Marrow")
    phone.get_by_role("button", name="Save the change").click()
    expect(phone.get_by_role("heading", name="Change the unit")).to_have_count(0)
    go(phone, demo.address, f"{unit}/ramps")
    expect(phone.get_by_text("bevel gears").first).to_be_visible()
    expect(lock_table(phone)).not_to_have_text(before, use_inner_text=True)
    phone.get_by_text("What the range is made of").first.click()
    expect(phone.get_by_text("thrust of the bevel gears, 10 % either way").first).to_be_visible()


OLD_DRAFT = """async (key) => {
    const { newUnit } = await slipbook.part("screens/unit/define-draft.js");
    const { keepDraft } = await slipbook.part("log/drafts.js");
    const { warming, ...draft } = newUnit();
    const { pin_radius_mm, drive_deg, coast_deg, mu } = draft.ramps;
    await keepDraft(key, { ...draft, name: "Begun before", ramps: { pin_radius_mm, drive_deg, coast_deg, mu } });
}"""


def test_a_draft_of_an_older_version_goes_on_with_the_new_fields(demo: RunningServer, phone: Page) -> None:
    open_unit(phone, demo.address)
    phone.evaluate(OLD_DRAFT, "unit/new")
    go(phone, demo.address, "/unit/new")
    expect(phone.get_by_label("Name of the unit")).to_have_value("Begun before")
    phone.get_by_text("More about the drive").click()
    phone.get_by_label("Ears bear at radius", exact=True).fill("60")
    phone.get_by_label("Runs warmer than it was built by, K").fill("70")
    draft_is_kept(phone, '"warmer_k":"70"')
    draft_is_kept(phone, '"radius_mm"')
