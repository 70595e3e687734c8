"""The page of an entry says beside what was judged then what today's limits and today's order make of it."""

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.engine.checks import BREAKAWAY, UNIT, changed

from .conftest import RunningServer
from .test_unit_findings import ID, SIZES, written

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

FLOAT = {"name": "Gear float", "part": "bevel_gears", "measure": "end_float", "high_mm": 0.3, "places": 1}
TOOL = {"division_mm": 0.01, "deviation_mm": 0.005}
PLATES = [{**item, "points_mm": [2.41] * 3} for item in UNIT["chain"] if item["slot"] in {"A2", "A4"}]


def defined(a2: float = 2.3, most: float = 0.3, low: float = 70) -> tuple[str, str, dict[str, Any]]:
    """A definition with this limit of plate A2, of the float, and of the torque between rebuilds."""
    chain = [item | ({"minimum_mm": a2} if item["slot"] == "A2" else {}) for item in UNIT["chain"]]
    body = changed(UNIT, name="Changed Chas", service__low_nm=low)
    return "unit", "unit", {**body, "chain": chain, "features": [FLOAT | {"high_mm": most}]}


SEEN = (
    ("torque_check", "breakaway", BREAKAWAY),
    ("plate_check", "plates", {"micrometer": {}, "plates": PLATES}),
    ("inspection", "inspection", {"features": [FLOAT | {"points_mm": [0.2], "tool": TOOL}]}),
)


def open_entry(page: Page, address: str, kind: str, place: int = -1) -> None:
    """Open the page of the last entry of a kind, or of another by its place."""
    ids = page.evaluate(
        """async ([unit, kind]) => {
          const { entriesOf } = await slipbook.part("log/store.js");
          const entries = (await entriesOf(unit)).filter((entry) => entry.kind === kind);
          return entries.sort((a, b) => (a.at < b.at ? -1 : 1)).map(({ id }) => id);
        }""",
        [ID, kind],
    )
    page.goto(f"{address}/#/unit/{ID}/entry/{ids[place]}")
    expect(page.get_by_role("heading", name="The record")).to_be_visible()


@pytest.mark.parametrize("size", SIZES)
def test_a_limit_that_was_changed_stands_beside_what_was_judged_then(
    demo: RunningServer, phone: Page, size: tuple[int, int]
) -> None:
    phone.set_viewport_size({"width": size[0], "height": size[1]})
    phone.goto(demo.address)
    written(phone, defined(), *SEEN, defined(a2=2.45, most=0.15))
    open_entry(phone, demo.address, "plate_check")
    rows = phone.locator(".finding", has_text="as typed")
    expect(rows).to_have_count(2)
    expect(rows.nth(0)).to_contain_text("Today's limit: at least 2.450 mm, so replace.")
    expect(rows.nth(0).locator(".verdict")).to_have_text(["go", "replace"])
    expect(rows.nth(1)).not_to_contain_text("Today")
    expect(rows.nth(1).locator(".verdict")).to_have_text(["go"])
    # What was judged then stays as it was.
    expect(phone.locator(".judged .verdict.big")).to_have_text("go")
    open_entry(phone, demo.address, "inspection")
    row = phone.locator(".finding", has_text="Gear float")
    expect(row).to_contain_text("Today's limit: at most 0.150 mm, so rework.")
    expect(row.locator(".verdict")).to_have_text(["go", "rework"])
    assert phone.evaluate("document.documentElement.scrollWidth") <= size[0]


def test_where_nothing_changed_or_another_look_stands_nothing_is_said(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    written(phone, defined(), *SEEN, defined())
    for kind, _, _ in SEEN:
        open_entry(phone, demo.address, kind)
        expect(phone.get_by_text("Today")).to_have_count(0)
    written(phone, defined(a2=2.45, most=0.15, low=80), *SEEN)
    for kind, _, _ in SEEN:
        open_entry(phone, demo.address, kind, 0)
        expect(phone.get_by_text("Today")).to_have_count(0)


def test_limits_of_torque_that_were_changed_stand_beside_the_check_that_was_judged_by_another(
    demo: RunningServer, phone: Page
) -> None:
    phone.goto(demo.address)
    written(phone, defined(), *SEEN, defined(low=80))
    open_entry(phone, demo.address, "torque_check")
    expect(phone.locator(".finding", has_text="Today")).to_have_text(
        "Today's limits are others. Ordered 100.0 N·m ± 10.0 N·m. It may run from 80.0 N·m to 130.0 N·m. "
        "Check it against them."
    )
    # The same figures for the other reading.
    _, _, body = defined()
    written(phone, ("unit", "unit", body | {"judged_on": "first_move"}))
    open_entry(phone, demo.address, "torque_check")
    expect(phone.locator(".finding", has_text="Today")).to_contain_text("for another reading or way of holding.")
