"""Names that were typed become customers, a unit's form finds them, a sheet that was sent is logged."""

import json
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.engine.checks import UNIT
from tests.server.sample_logs import entry

from .conftest import RunningServer, until
from .hands import Hands
from .mended_pc import DELIVER
from .screens import opened, put
from .test_story import entries_on_disk

OWNER = "Wren Aldous"
SORREL = "Sorrel"


def newest(server: RunningServer, kind: str, name: str = "") -> dict[str, Any]:
    """The newest entry of a kind on the workshop's disk, of a unit or customer of this name."""
    found = [row for row in entries_on_disk(server) if row["kind"] == kind and name in row["body"].get("name", "")]
    return max(found, key=lambda row: row["seq"])


@pytest.mark.in_reach
def test_typed_names_become_a_customer_whom_forms_and_sheets_know(demo: RunningServer, hands: Hands) -> None:
    page = hands.page
    units = []
    for number, owner in ((1, OWNER), (2, f" {OWNER.upper()} ")):
        body = {"name": f"Finch {number}", "owner": owner, "service": {"low_nm": 45}}
        units.append(entry("unit", f"0190c5de-0000-7000-8000-0000000000d{number}", body=body))
    put(demo.address, units)
    page.goto(demo.address)
    hands.link("Customers")
    card = page.locator(".texts > li").filter(has_text=OWNER)
    expect(card).to_contain_text(f"Typed as {OWNER}; {OWNER.upper()}")
    hands.press(card.get_by_role("button", name="Make a customer of these 2 units"))
    expect(card).to_contain_text("Finch 1, owner so far: Wren Aldous")
    hands.type("Entered by", "Joss Tarn")
    hands.button("Make the customer, link 2 units")
    expect(page.locator("main [role=status]")).to_have_text(f"2 units of {OWNER} say so now.")
    expect(page.get_by_role("link", name="up to date")).to_be_visible()
    customer = newest(demo, "customer")
    linked = newest(demo, "unit", "Finch 1")
    assert linked["body"]["customer_id"] == customer["id"]
    assert [row["body"]["owner"] for row in entries_on_disk(demo) if row["id"] == units[1]["id"]] == [
        units[1]["body"]["owner"]
    ]

    # The customer is renamed: units, the sheet and its line in the log go by the record.
    hands.link(OWNER)
    expect(page.get_by_role("link", name="Finch 2 not checked yet")).to_be_visible()
    hands.button("Change")
    hands.type("Name of the customer", "Wren Aldous-Pike")
    hands.type("Telephone", "+44 1632 960042")
    hands.button("Save the customer")
    expect(page.get_by_role("heading", name="Wren Aldous-Pike")).to_be_visible()
    expect(page.get_by_text("Rebuilds: 0")).to_be_visible()

    # A third unit's owner is found by typing.
    page.evaluate("location.hash = '#/'")
    hands.link(SORREL)
    expect(page.get_by_role("heading", name=SORREL)).to_be_visible()
    page.evaluate("location.hash += '/change'")
    hands.type("Owner", "pike")
    hands.press(page.get_by_role("group", name="Customers").get_by_role("button", name="Wren Aldous-Pike", exact=True))
    expect(page.get_by_label("Owner")).to_have_value("Wren Aldous-Pike")
    hands.button("Save")
    expect(page.get_by_role("heading", name=SORREL)).to_be_visible()
    page.evaluate("location.hash += '/sheet'")
    hands.unfold("Sent to Wren Aldous-Pike?")
    hands.choose("on paper")
    hands.button("Log that it was sent")
    expect(page.get_by_role("status").filter(has_text="It is in the log.")).to_be_visible()
    expect(page.get_by_role("link", name="up to date")).to_be_visible()
    assert newest(demo, "unit", SORREL)["body"]["customer_id"] == customer["id"]
    assert newest(demo, "sheet_sent")["body"]["customer_id"] == customer["id"]


NOBODY = """async (name) => {
    const { database } = await slipbook.part("log/store.js");
    const db = await database();
    const all = await Promise.all([...db.objectStoreNames].map((store) => db.getAll(store)));
    return !JSON.stringify(all).toLowerCase().includes(name.toLowerCase());
}"""


@pytest.mark.both_stores
@pytest.mark.in_reach
def test_an_erased_customer_goes_from_every_phone_and_comes_back_from_none(
    demo: RunningServer, phone: Page, chromium: Browser
) -> None:
    name = "Odette Farrow"
    with opened(chromium, demo.address, in_reach=True) as other:
        # It has read all, and changes the customer's number where there is no network.
        other.evaluate("location.hash = '#/customers'")
        other.get_by_role("link", name=name).tap()
        other.get_by_role("button", name="Change").tap()
        other.context.set_offline(True)
        other.get_by_label("Telephone").fill("+44 1632 960099")
        other.get_by_label("Entered by").fill("Joss Tarn")
        other.get_by_role("button", name="Save the customer").tap()
        expect(other.get_by_text(f"{name} is saved.")).to_be_visible()

        phone.goto(f"{demo.address}/#/customers")
        phone.get_by_role("link", name=name).tap()
        phone.get_by_role("link", name="Hand out or erase the data").tap()
        expect(phone.get_by_text("Nowhere else in the log.")).to_be_visible()
        with phone.expect_download() as saved:
            phone.get_by_role("button", name="Save as a file").tap()
        assert name in saved.value.path().read_text("utf-8")
        phone.get_by_label("Erased by").fill("Mara Lind")
        phone.get_by_role("button", name=f"Erase {name}").tap()
        phone.get_by_role("button", name="Erase for good").tap()
        expect(phone.get_by_role("heading", name="Customers")).to_be_visible()
        until(phone, NOBODY, name)
        assert not [row for row in entries_on_disk(demo) if name in json.dumps(row)]

        other.context.set_offline(False)
        until(other, NOBODY, name)
        until(other, NOBODY, "960099")
        other.evaluate("location.hash = '#/'")
        expect(other.get_by_role("link", name="Bramble 1")).to_contain_text("[erased]")
    assert not [row for row in entries_on_disk(demo) if "960099" in json.dumps(row)]


@pytest.mark.in_reach
def test_what_is_due_is_asked_for_again_as_the_log_grows(demo: RunningServer, phone: Page) -> None:
    customer = entry("customer", "", body={"name": OWNER})
    put(demo.address, [customer])
    phone.goto(f"{demo.address}/#/customers")
    phone.get_by_role("link", name=OWNER).click()
    expect(phone.get_by_text("Nothing is due.")).to_be_visible()
    finch = {**UNIT, "name": "Finch 1", "owner": OWNER, "customer_id": customer["id"]}
    put(demo.address, [entry("unit", "0190c5de-0000-7000-8000-0000000000d3", body=finch)])
    phone.evaluate(DELIVER)
    expect(phone.get_by_text("Finch 1: check the torque")).to_be_visible()
    expect(phone.get_by_role("button", name="Save these dates for a calendar")).to_be_visible()
