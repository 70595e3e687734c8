"""Where a unit sits in the car: said once, and the words of each screen fit; old units say nothing of it and stay."""

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from server.engine import calc
from tests.server.sample_logs import new_id

from .conftest import RunningServer
from .screens import OF_THE_SERVER, of_log, put
from .test_story import UNIT, delivered, new_on_disk

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]


def new_unit(address: str, name: str, **changes: Any) -> str:
    """A unit like the demonstration's, put into the log; its id."""
    [unit] = [entry for entry in of_log(address) if entry["kind"] == "unit" and entry["body"]["name"] == UNIT]
    body = {**unit["body"], "name": name, **changes}
    own = {field: value for field, value in unit.items() if field not in OF_THE_SERVER}
    found = new_id()
    put(address, [{**own, "id": new_id(), "unit": found, "body": body, "shown": calc("unit", body)}])
    return found


def go(page: Page, address: str, path: str) -> None:
    """Open a screen by its address."""
    page.goto(f"{address}/#{path}")
    expect(page.locator("main h1").first).to_be_visible()


def test_a_centre_unit_has_no_wheels(demo: RunningServer, phone: Page) -> None:
    unit = new_unit(demo.address, "Transfer 3", sits="centre")
    go(phone, demo.address, f"/unit/{unit}")
    expect(phone.get_by_role("heading", name="Transfer 3")).to_be_visible()
    expect(phone.locator("main")).to_contain_text("centre, between the axles")
    expect(phone.locator("main")).to_contain_text("Back into its housing")
    go(phone, demo.address, f"/unit/{unit}/check")
    expect(phone.locator("input[name=held]")).to_have_count(2)
    expect(phone.locator("main")).to_contain_text("on the car only if the maker says how")
    for screen in ("corner", "complaint", "ramps"):
        go(phone, demo.address, f"/unit/{unit}/{screen}")
        expect(phone.locator("main")).to_contain_text("its outputs are the shafts to the front and to the rear")
        expect(phone.locator("main")).not_to_contain_text("Left wheel load")
        expect(phone.locator("main").get_by_role("alert")).to_have_count(0)
    expect(phone.locator("main")).not_to_contain_text("rear-wheel drive")
    go(phone, demo.address, f"/unit/{unit}/refit")
    expect(phone.get_by_role("heading", name="Back into its housing")).to_be_visible()
    expect(phone.locator("main")).to_contain_text("has no crown wheel")


def test_words_fit_the_axle(demo: RunningServer, phone: Page) -> None:
    front, rear = (new_unit(demo.address, f"Fenn {where}", sits=where) for where in ("front", "rear"))
    for unit, words, other in (
        (front, "At the front axle under power the lock pulls the nose in", "At the rear axle"),
        (rear, "At the rear axle coast lock pushes the nose wide", "At the front axle"),
    ):
        go(phone, demo.address, f"/unit/{unit}/ramps")
        expect(phone.locator("main")).to_contain_text(words)
        expect(phone.locator("main")).not_to_contain_text(other)
    go(phone, demo.address, f"/unit/{front}/check")
    expect(phone.locator("input[name=held]")).to_have_count(4)
    phone.locator("input[value=car_one_wheel_down]").check(force=True)
    expect(phone.locator("main")).to_contain_text("steering straight ahead and free")
    phone.locator("input[value=bench_case_held]").check(force=True)
    expect(phone.locator("main")).not_to_contain_text("steering straight ahead")


def test_it_is_said_in_the_definition_and_kept(demo: RunningServer, phone: Page) -> None:
    unit = new_unit(demo.address, "Fenn old")
    before = {entry["id"] for entry in of_log(demo.address)}
    go(phone, demo.address, f"/unit/{unit}/change")
    expect(phone.locator("input[name=sits]:checked")).to_have_value("")
    phone.locator("input[name=sits][value=centre]").check(force=True)
    phone.get_by_label("Entered by").fill("Ilse Marrow")
    phone.locator("button.main").last.click()
    # The choice has the same words, so that the address has to say that it was saved.
    expect(phone).to_have_url(f"{demo.address}/#/unit/{unit}")
    expect(phone.locator("main")).to_contain_text("centre, between the axles")
    delivered(phone)
    [saved] = new_on_disk(demo, before, "unit")
    assert saved["body"]["sits"] == "centre"


def test_an_old_check_on_the_car_stays_readable(demo: RunningServer, phone: Page) -> None:
    unit = new_unit(demo.address, "Transfer 4", sits="centre")
    [check] = [
        entry
        for entry in of_log(demo.address)
        if entry["kind"] == "torque_check" and entry["body"]["held"].startswith("car")
    ][:1]
    own = {field: value for field, value in check.items() if field not in OF_THE_SERVER}
    found = new_id()
    put(demo.address, [{**own, "id": found, "unit": unit}])
    go(phone, demo.address, f"/unit/{unit}/check/{found}")
    expect(phone.locator("input[name=held]")).to_have_count(4)
    expect(phone.locator("input[name=held]:checked")).to_have_value(check["body"]["held"])
    # A new one begins on the bench.
    go(phone, demo.address, f"/unit/{unit}/check")
    expect(phone.locator("input[name=held]")).to_have_count(2)


def test_the_usual_car_of_a_front_unit_is_driven_in_front(demo: RunningServer, phone: Page) -> None:
    unit = new_unit(demo.address, "Fenn front", sits="front")
    car = {"name": "Hill saloon", "axle": "rear"}
    entries = of_log(demo.address)
    own = {field: value for field, value in entries[0].items() if field not in (*OF_THE_SERVER, "unit", "replaces")}
    found = {**own, "id": new_id(), "kind": "car", "body": car, "shown": calc("car", car)}
    put(demo.address, [found])
    go(phone, demo.address, f"/unit/{unit}/complaint")
    phone.get_by_label("Car", exact=True).select_option(label="Hill saloon")
    expect(phone.locator("main")).to_contain_text("this car is entered as driven at the rear axle")
    phone.get_by_label("Car", exact=True).select_option("")
    expect(phone.locator("main")).not_to_contain_text("driven at the rear axle")
    shown = phone.evaluate(
        """async () => {
            const { carWith } = await slipbook.part("screens/unit/sits.js");
            return ["front", "rear", null].map((where) => carWith(undefined, { where })?.axle ?? "");
        }"""
    )
    assert shown == ["front", "", ""]
