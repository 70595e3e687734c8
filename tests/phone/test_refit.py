"""Back into the axle: judged while it is typed, saved offline, seen in the history and as an entry, and corrected."""

from typing import Any

from playwright.sync_api import Page, expect

from server.engine import calc
from tests.server.sample_logs import new_id

from .conftest import RunningServer, draft_is_kept
from .screens import OF_THE_SERVER, of_log, put
from .test_story import UNIT, delivered, ids_on_disk, new_on_disk, ready_offline

# Like the demonstration's unit, and never refitted.
FRESH = "Clover 9"


def take_in(address: str) -> None:
    """Put the unit into the log."""
    [unit] = [entry for entry in of_log(address) if entry["kind"] == "unit" and entry["body"]["name"] == UNIT]
    body = {**unit["body"], "name": FRESH}
    own = {name: value for name, value in unit.items() if name not in OF_THE_SERVER}
    put(address, [{**own, "id": new_id(), "unit": new_id(), "body": body, "shown": calc("unit", body)}])


def at_the_bench(page: Page, work: str) -> None:
    """Open a piece of bench work from the unit's page."""
    expect(page.get_by_role("heading", name=FRESH)).to_be_visible()
    fold = page.locator("details", has_text="At the bench")
    if fold.get_attribute("open") is None:
        fold.locator("summary").click()
    fold.get_by_role("link", name=work, exact=True).click()


def type_part(page: Page, part: str, reading: str, values: list[str], low: str, high: str) -> Any:
    """Type the readings and the band of one part, and return it."""
    card = page.get_by_role("region", name=part)
    for number, value in enumerate(values, 1):
        card.get_by_label(f"{part}, {reading} {number}", exact=True).fill(value)
    card.get_by_label("At least", exact=False).fill(low)
    card.get_by_label("At most,", exact=False).first.fill(high)
    return card


def test_a_refit_is_judged_offline_saved_once_and_can_be_corrected(demo: RunningServer, phone: Page) -> None:
    take_in(demo.address)
    before = ids_on_disk(demo)
    phone.goto(demo.address)
    ready_offline(phone)
    demo.stop()
    phone.get_by_role("link", name=FRESH).click()
    at_the_bench(phone, "Back into the axle")
    backlash = type_part(phone, "Backlash", "tooth", ["0,12", "0.13"], "0,11", "0,20")
    expect(backlash.get_by_text("three teeth or more")).to_be_visible()
    expect(phone.get_by_role("button", name="Save the refit")).to_be_disabled()
    backlash.get_by_label("Backlash, tooth 3", exact=True).fill("0,14")
    expect(backlash.locator(".verdict")).to_have_text("measure again")
    # Lies inside by less than the dial gauge's guard band; wider limits of another maker.
    backlash.get_by_label("At least").fill("0.05")
    expect(backlash.locator(".verdict")).to_have_text("go")
    backlash.get_by_label("Backlash, tooth 4", exact=True).fill("0,19")
    expect(backlash).to_contain_text("differs by 0.070 mm from tooth to tooth")
    expect(backlash.locator(".verdict")).to_have_text("rework")

    # A dead battery loses nothing.
    draft_is_kept(phone, '"0,19"')
    phone.reload()
    backlash = phone.get_by_role("region", name="Backlash")
    expect(backlash.get_by_label("Backlash, tooth 4", exact=True)).to_have_value("0,19")
    backlash.get_by_label("Backlash, tooth 4", exact=True).fill("0,13")
    screws = type_part(phone, "Crown-wheel screws", "screw", ["88", "90"], "75", "105")
    expect(phone.get_by_role("alert").filter(has_text="Crown-wheel screws: Fill this in").first).to_be_visible()
    screws.get_by_label("Read on").select_option(label="Long beam")
    expect(screws.locator(".verdict")).to_have_text("go")
    verdict = phone.get_by_role("region", name="Verdict")
    expect(verdict).to_contain_text("as far as they were checked")

    # The unit of figures that are typed changes only when somebody says that they were read in it.
    phone.get_by_label("Torques in").select_option("lbf_ft")
    expect(phone.get_by_role("alert").filter(has_text="4 figures are typed in N·m")).to_be_visible()
    expect(screws).to_contain_text("75.0 N·m to 105.0 N·m")
    phone.get_by_role("button", name="Stay with N·m").click()
    expect(phone.get_by_label("Torques in")).to_have_value("nm")

    phone.get_by_label("Refitted by").fill("Ilse Marrow")
    save = phone.get_by_role("button", name="Save the refit")
    save.dblclick()
    expect(phone.get_by_role("heading", name=FRESH)).to_be_visible()
    expect(phone.get_by_role("link", name="Outbox, 1 waiting")).to_be_visible()
    phone.get_by_role("link", name="unit put back into its axle").click()
    expect(phone.get_by_text("Backlash", exact=True)).to_be_visible()
    expect(phone.get_by_text("0.120 mm to 0.140 mm", exact=True)).to_be_visible()
    phone.get_by_role("link", name="Correct this entry").click()
    expect(phone.get_by_label("Backlash, tooth 1", exact=True)).to_have_value("0,12")
    phone.get_by_label("Crown-wheel screws, screw 1", exact=True).fill("60")
    expect(phone.get_by_role("region", name="Verdict")).to_contain_text("rework")
    phone.get_by_role("button", name="Save the correction").click()
    expect(phone.get_by_text("corrected later")).to_be_visible()

    # The next refit starts from the limits and tools of this one, with nothing read.
    at_the_bench(phone, "Back into the axle")
    expect(phone.get_by_role("region", name="Backlash").get_by_label("At most,").first).to_have_value("0,20")
    expect(phone.get_by_label("Backlash, tooth 1", exact=True)).to_have_value("")

    demo.start()
    phone.evaluate("dispatchEvent(new Event('online'))")
    delivered(phone)
    first, second = new_on_disk(demo, before, "refit")
    assert (first["who"], first["agrees"], second["replaces"]) == ("Ilse Marrow", True, first["id"])
    assert first["body"]["backlash"]["points_mm"][0] == {"typed": "0,12", "unit": "mm"}
    assert first["body"]["screws"]["tool"]["name"] == "Long beam"
