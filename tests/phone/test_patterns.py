"""A unit is made a pattern, a second one is taken in with two fields, and the pattern changes: each takes or keeps."""

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from .conftest import NEVER_KEPT, RunningServer, open_phone
from .hands import BENCH, Hands
from .screens import put
from .test_story import UNIT, delivered, entries_on_disk
from .test_unit_file import other as other

PATTERN = "Hillclimb axle"
SECOND = "Bramble 2"


def definition(server: RunningServer, name: str) -> dict[str, Any]:
    """The newest definition of a unit on the workshop's disk, as it was typed."""
    found = [entry for entry in entries_on_disk(server) if entry["kind"] == "unit" and entry["body"]["name"] == name]
    body: dict[str, Any] = max(found, key=lambda entry: entry["seq"])["body"]
    return body


def open_pattern_of(hands: Hands, name: str) -> None:
    """From the list of units to the pattern of one."""
    hands.page.evaluate("location.hash = '#/'")
    expect(hands.page.get_by_role("heading", name="Units")).to_be_visible()
    hands.link(name)
    hands.link(f"Pattern {PATTERN}")
    expect(hands.page.get_by_role("heading", name=f"Pattern: {PATTERN}")).to_be_visible()


@pytest.mark.in_reach
def test_a_pattern_is_made_used_changed_and_taken_or_left(demo: RunningServer, hands: Hands) -> None:
    page = hands.page
    page.goto(demo.address)
    hands.link(UNIT)
    hands.unfold("At the bench")
    hands.link("Pattern, and another like it")
    hands.type("Name of the pattern", PATTERN)
    hands.type("Entered by", "Joss Tarn")
    hands.button("Make the pattern")
    expect(page.get_by_text("this unit is built to it")).to_be_visible()
    # The key is gone: whoever pressed it goes on from the heading, and not from the top of the page.
    expect(page.get_by_role("heading", name=f"Pattern: {PATTERN}")).to_be_focused()

    # A second unit of it: two fields.
    hands.link("All patterns")
    hands.link("Add a unit of it")
    expect(page.locator("main input")).to_have_count(2)
    hands.type("Name of the unit", SECOND)
    hands.type("Owner", "Wren Aldous")
    hands.button("Add the unit")
    expect(page.get_by_role("heading", name=SECOND)).to_be_visible()
    # Both are on their way to the disk.
    delivered(page)
    first = definition(demo, UNIT)
    second = definition(demo, SECOND)
    own = {"name": SECOND, "owner": "Wren Aldous"}
    # Whose the first one is, and which marked parts it was added with, is its own as well.
    del first["customer_id"], first["marked_parts"]
    assert second == first | own

    # The pattern changes in two figures.
    page.evaluate("location.hash = '#/patterns'")
    hands.link("Change it")
    hands.type("Lowest torque it may run with", "65")
    hands.type("Breakaway ordered", "95")
    hands.button("Save the change")
    expect(page.get_by_text("2 changes to decide on")).to_have_count(2)

    # The second takes the limit and keeps its order, the first keeps both.
    open_pattern_of(hands, SECOND)
    hands.button("Save what was decided")
    expect(page.get_by_role("alert")).to_have_text("2 changes are left to decide on.")
    hands.choose("take 65.0 N·m")
    hands.choose("keep 100.0 N·m")
    hands.button("Save what was decided")
    expect(page.get_by_text("Nothing of it has changed since")).to_be_visible()
    open_pattern_of(hands, UNIT)
    hands.button("Keep all as it is")
    expect(page.get_by_role("button", name="Save what was decided")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_text("Nothing of it has changed since")).to_be_visible()
    hands.link(UNIT)
    expect(page.get_by_role("heading", name=UNIT)).to_be_visible()
    expect(page.get_by_text("to decide on")).to_have_count(0)
    delivered(page)
    taken, kept = definition(demo, SECOND), definition(demo, UNIT)
    assert taken["pattern"] == kept["pattern"] != first["pattern"]
    assert taken["service"] == first["service"] | {"low_nm": taken["service"]["low_nm"]}
    assert float(str(taken["service"]["low_nm"])) == 65
    its = ("pattern", "customer_id", "marked_parts")
    assert kept == first | {name: kept[name] for name in its}
    assert (taken["order"], taken["owner"]) == (first["order"], "Wren Aldous")


@pytest.mark.in_reach
def test_two_changes_at_once_a_unit_that_joins_and_a_pattern_that_is_withdrawn(
    demo: RunningServer, phone: Page
) -> None:
    from tests.server.sample_logs import entry

    first = entry("pattern", "", body={"name": PATTERN, "service": {"low_nm": 70, "high_nm": 130}})
    known = {"knows": [first["id"]], "clock": {"fell_s": 0}}
    put(demo.address, [first])
    for who, low, high in (("Tove Lind", 65, 130), ("Ann Moss", 70, 125)):
        body = {"name": PATTERN, "id": first["id"], "service": {"low_nm": low, "high_nm": high}}
        put(demo.address, [entry("pattern", "", body=body, who=who) | known])
    phone.goto(f"{demo.address}/#/patterns")
    card = phone.get_by_role("region", name=PATTERN)
    expect(card).to_contain_text("Tove Lind changed it on another device")
    expect(card).to_contain_text("65.0 N·m, instead of 70.0 N·m")
    phone.get_by_label("Your name").fill("Joss Tarn")
    card.get_by_role("button", name="Let both count").tap()
    expect(phone.get_by_text("Both changes count now.")).to_be_visible()
    expect(card.get_by_text("on another device")).to_have_count(0)
    card.get_by_text("by Joss Tarn").tap()
    expect(card.get_by_role("listitem")).to_have_count(4)
    card.get_by_role("link", name="Joss Tarn").tap()
    expect(phone.get_by_role("heading", name="pattern made or changed")).to_be_visible()
    expect(phone.get_by_text("It may run from 65.0 N·m to 125.0 N·m.")).to_be_visible()

    # A unit that joins is offered what differs, keeps what it wants, and can leave again.
    phone.evaluate("location.hash = '#/'")
    phone.get_by_role("link", name=UNIT).tap()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    before = definition(demo, UNIT)
    phone.evaluate("location.hash += '/pattern'")
    phone.get_by_label("Pattern", exact=True).select_option(label=PATTERN)
    phone.get_by_role("button", name="Keep all as it is").tap()
    phone.get_by_role("button", name=f"Build it to {PATTERN}").tap()
    expect(phone.get_by_text(f"This unit is built to {PATTERN} now.")).to_be_visible()
    delivered(phone)
    joined = definition(demo, UNIT)
    assert (joined.pop("pattern")["id"], joined) == (first["id"], before)

    # Withdrawn, it leaves its units what they have.
    phone.get_by_role("link", name="All patterns").tap()
    card.get_by_role("button", name="Withdraw it").press("Enter")
    expect(card.get_by_role("button", name="Use it again")).to_be_focused()
    expect(card.get_by_role("link", name=UNIT)).to_be_visible()
    expect(card.get_by_role("link", name="Add a unit of it")).to_have_count(0)
    card.get_by_role("link", name=UNIT).tap()
    phone.get_by_role("link", name=f"Pattern {PATTERN}").tap()
    expect(phone.get_by_text("This pattern is withdrawn")).to_be_visible()
    phone.get_by_role("button", name="Take this unit out of the pattern").tap()
    expect(phone.get_by_text("it keeps all that it has")).to_be_visible()
    delivered(phone)
    assert definition(demo, UNIT) == before


def units_of(pattern: str, count: int) -> list[dict[str, Any]]:
    """Entries of so many bare units that are built to a pattern."""
    from tests.server.sample_logs import entry, new_id

    link = {"id": pattern, "name": PATTERN, "seen": pattern}
    return [
        entry("unit", new_id(), body={"name": f"Larch {number}", "pattern": link, "service": {"low_nm": 45}})
        for number in range(count)
    ]


def test_a_pattern_with_enter_alone_and_away_in_a_file(tmp_path: Path, other: RunningServer, chromium: Browser) -> None:
    from tests.server.sample_logs import entry

    first = entry("pattern", "", body={"name": PATTERN, "service": {"low_nm": 45}})
    changed = entry("pattern", "", body={"name": "Hill axle", "id": first["id"], "service": {"low_nm": 50}})
    units = units_of(first["id"], 62)
    with RunningServer(tmp_path / "log") as server:
        put(server.address, [first])
        put(server.address, units)
        put(server.address, [changed | {"knows": [first["id"]], "clock": {"fell_s": 0}}])
        context = chromium.new_context(viewport=BENCH)  # type: ignore[arg-type]
        context.add_init_script(NEVER_KEPT)
        page = context.new_page()
        page.goto(server.address)
        # Renamed, it is found by its new name, and its units with it.
        page.get_by_label("Find").fill("hillclimb")
        expect(page.get_by_text("0 of 62 units")).to_be_visible()
        page.get_by_label("Find").fill("hill axle")
        expect(page.get_by_role("link", name="Larch 0", exact=True)).to_be_visible()
        page.goto(f"{server.address}/#/patterns/{first['id']}/unit")
        page.get_by_label("Name of the unit").fill("Larch 70")
        page.keyboard.press("Enter")
        page.keyboard.press("Enter")
        expect(page.get_by_label("Entered by")).to_be_focused()
        page.keyboard.type("Joss Tarn")
        page.keyboard.press("Enter")
        page.keyboard.press("Enter")
        expect(page.get_by_role("heading", name="Larch 70")).to_be_visible()
        page.goto(f"{server.address}/#/unit/{units[0]['unit']}/pattern")
        page.get_by_label("take 50.0 N·m").check()
        page.get_by_role("button", name="Save what was decided").press("Enter")
        expect(page.get_by_text("Nothing of it has changed since")).to_be_visible()

        # No calculation takes more of the others than its form does.
        script = """async ([id]) => {
            const { othersOfPattern } = await slipbook.part("log/pattern.js");
            const { standing } = await slipbook.part("log/stands.js");
            const { unit } = await standing(id);
            const others = await othersOfPattern(id, unit);
            const { calc } = await slipbook.part("engine/door.js");
            const { entriesOf } = await slipbook.part("log/store.js");
            await calc("outlook", { entries: await entriesOf(id), others });
            const { unitDraft, unitRequest } = await slipbook.part("screens/unit/define-draft.js");
            return [others.length, unitRequest(unitDraft(unit)).pattern, unit.pattern];
        }"""
        count, through_the_form, link = page.evaluate(script, [units[0]["unit"]])
        assert count == 60
        assert through_the_form == link == {"id": first["id"], "name": "Hill axle", "seen": changed["id"]}

        saved = page.evaluate(
            "async (id) => (await (await slipbook.part('log/unit-file.js')).unitFile(id, 'Larch 0')).text",
            units[0]["unit"],
        )
        context.close()
    kinds = [sorted(entry["kind"] for entry in unit["entries"]) for unit in json.loads(saved)["units"]]
    assert kinds == [["unit", "unit"], ["pattern", "pattern"]]
    file = tmp_path / "larch.json"
    file.write_text(saved, "utf-8")
    context = open_phone(chromium)
    page = context.new_page()
    page.goto(f"{other.address}/#/import")
    page.locator("input[type=file]").set_input_files(file)
    expect(page.get_by_role("region", name="Patterns")).to_contain_text("2 entries new here")
    page.get_by_role("button", name="Import 4 entries").click()
    page.get_by_role("link", name="Open Patterns").click()
    expect(page.get_by_role("region", name="Hill axle").get_by_role("link", name="Larch 0")).to_be_visible()
    delivered(page)
    assert sorted(entry["kind"] for entry in entries_on_disk(other)) == ["pattern", "pattern", "unit", "unit"]
    context.close()
