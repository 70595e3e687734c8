"""Outings and service, logged in the paddock without a network: two taps for another like the last."""

from playwright.sync_api import Page, expect

from .conftest import RunningServer, draft_is_kept
from .test_story import UNIT, ids_on_disk, new_on_disk, ready_offline


def use(page: Page, words: str) -> None:
    """Wait until the unit's page says this of its use."""
    expect(page.get_by_role("region", name="Use and service")).to_contain_text(words)


def log(page: Page, what: str) -> None:
    page.get_by_role("link", name=what, exact=True).click()


def test_an_outing_takes_two_taps_and_counts_at_once_offline(demo: RunningServer, phone: Page) -> None:
    before = ids_on_disk(demo)
    phone.goto(demo.address)
    ready_offline(phone)
    phone.evaluate("slipbook.part('log/store.js').then(({ remember }) => remember('who', 'Joss Tarn'))")
    demo.stop()
    phone.get_by_role("link", name=UNIT).first.click()
    use(phone, "11 outings since the rebuild")
    use(phone, "Change the oil in 3 outings")

    # Two taps: the next outing begins like the last.
    log(phone, "Log an outing")
    phone.get_by_role("button", name="Save the outing").click()
    use(phone, "12 outings since the rebuild")
    use(phone, "Change the oil in 2 outings")
    phone.get_by_role("button", name="Undo").click()
    use(phone, "11 outings since the rebuild")

    # With what was felt; a dead battery loses nothing of it.
    log(phone, "Log an outing")
    expect(phone.get_by_label("Where", exact=True)).to_have_value("Old airfield")
    phone.get_by_label("Minutes").fill("0")
    expect(phone.get_by_role("alert").filter(has_text="This must be at least 0.5")).to_be_visible()
    phone.get_by_label("Minutes").fill("18,5")
    phone.get_by_role("button", name="Rear steps out").click()
    phone.get_by_role("group", name="Rear steps out: when").get_by_role("radio", name="on lift-off").check()
    phone.get_by_role("group", name="Rear steps out: where").get_by_role("radio", name="fast corners").check()
    draft_is_kept(phone, '"fast"')
    phone.reload()
    expect(phone.get_by_role("button", name="Rear steps out")).to_have_attribute("aria-pressed", "true")
    phone.get_by_role("button", name="Save the outing").click()
    use(phone, "12 outings since the rebuild")
    history = phone.get_by_role("region", name="History")
    expect(history).to_contain_text("Rear steps out, on lift-off, fast corners")

    # The next check knows how many there were.
    phone.get_by_role("link", name="Check torque").click()
    phone.get_by_text("Warmth, outings, oil").click()
    expect(phone.get_by_label("Outings since rebuild")).to_have_value("12")
    phone.go_back()

    log(phone, "Log service")
    expect(phone.get_by_role("button", name="Save the service")).to_be_disabled()
    phone.get_by_role("button", name="Oil changed").click()
    phone.get_by_label("Which oil").fill("75W-140")
    phone.get_by_label("How much, litres").fill("1,3")
    phone.get_by_role("button", name="Save the service").click()
    use(phone, "Change the oil in 8 outings")
    expect(history).to_contain_text("Oil changed: 75W-140 1.3 l")

    # What was logged can be corrected.
    history.get_by_role("link", name="outing").first.click()
    phone.get_by_role("link", name="Correct this entry").click()
    expect(phone.get_by_label("Minutes")).to_have_value("18,5")
    phone.get_by_role("button", name="Nothing wrong").click()
    phone.get_by_role("button", name="Save the correction").click()
    expect(history).to_contain_text("Nothing wrong felt")

    demo.start()
    phone.evaluate("dispatchEvent(new Event('online'))")
    expect(phone.get_by_role("link", name="up to date")).to_be_visible(timeout=30000)
    first, felt, corrected = new_on_disk(demo, before, "outing")
    assert first["body"]["where"] == "Old airfield"
    assert felt["body"]["felt"] == [{"what": "loose", "when": "lift", "corners": "fast"}]
    assert (felt["body"]["minutes"], felt["shown"]["hours"]) == ("18,5", 18.5 / 60)
    assert (corrected["replaces"], corrected["body"]["nothing_felt"]) == (felt["id"], True)
    [oil] = new_on_disk(demo, before, "service")
    assert (oil["body"]["oil"], oil["who"]) == ("75W-140", "Joss Tarn")
