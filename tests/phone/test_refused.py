"""What the workshop refused can be put right on the phone; and what is wrong with its log is told to the bench."""

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer, draft_is_kept
from .test_pairing import Workshop, visitors, workshop  # noqa: F401
from .test_story import UNIT, delivered, entries_on_disk, ids_on_disk, new_on_disk, ready, ready_offline

WRITE = """async (told) => {
    const { write } = await slipbook.part("log/outbox.js");
    const { remember } = await slipbook.part("log/store.js");
    await remember("who", "Ilse Marrow");
    return write(told);
}"""


def outbox(page: Page) -> None:
    """Open the outbox by its tab."""
    page.locator("#tabs a[href='#/outbox']").click()
    expect(page.get_by_role("heading", name="Outbox")).to_be_visible()


@pytest.mark.in_reach
@pytest.mark.knows_the_demo
def test_a_refused_tool_and_a_refused_count_are_corrected(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready(phone)
    # The workshop knows better what a tool needs than the phone that wrote these.
    tool = {"name": "New beam", "kind": "beam", "high_nm": {"typed": "200", "unit": "nm"}}
    wrench: dict[str, Any] = {"tool": "wrench", "wrench": tool}
    phone.evaluate(WRITE, {"unit": "", "kind": "kit", "body": wrench, "shown": {"verdict": None}})
    pieces = [{"name": "F25", "part": "friction", "mm": "2,5", "count": "-2"}]
    shown: dict[str, Any] = {"verdict": None, "pieces": []}
    phone.evaluate(WRITE, {"unit": "", "kind": "shelf", "body": {"pieces": pieces}, "shown": shown})
    outbox(phone)
    refused = phone.get_by_role("listitem").filter(has_text="wrench or gauge")
    expect(refused).to_contain_text("division")
    # All was delivered, and two entries were not taken: that is not up to date.
    expect(phone.locator("#bar .state")).to_have_text("2 entries not taken")
    refused.get_by_role("link", name="Correct it").click()
    expect(phone.get_by_role("heading", name="Correct a tool")).to_be_visible()
    expect(phone.get_by_label("Name", exact=True)).to_have_value("New beam")
    expect(phone.get_by_label("Scale ends at", exact=True)).to_have_value("200")
    phone.get_by_label("One division", exact=True).fill("2,5")
    draft_is_kept(phone, '"2,5"')
    phone.reload()
    expect(phone.get_by_label("One division", exact=True)).to_have_value("2,5")
    phone.get_by_role("button", name="Save the tool").click()

    expect(phone.get_by_role("heading", name="Outbox")).to_be_visible()
    count = phone.get_by_role("listitem").filter(has_text="shelf counted").first
    count.get_by_role("link", name="Correct it").click()
    expect(phone.get_by_label("How many")).to_have_value("-2")
    phone.get_by_label("How many").fill("2")
    phone.get_by_role("button", name="Save the count").click()
    expect(phone.get_by_text("0 entries wait")).to_be_visible()
    expect(phone.get_by_text("A later entry corrects it.")).to_have_count(2)
    delivered(phone)
    phone.get_by_role("link", name="Kit", exact=True).click()
    expect(phone.get_by_role("button", name="Change New beam")).to_have_count(1)
    fresh = [entry for entry in entries_on_disk(demo) if entry["who"] == "Ilse Marrow" and entry["unit"] == ""]
    kit = [entry for entry in fresh if entry["kind"] == "kit" and entry.get("replaces")]
    assert kit[0]["body"]["wrench"]["division_nm"] == {"typed": "2,5", "unit": "nm"}
    assert [
        entry["body"]["pieces"][0]["count"] for entry in fresh if entry.get("replaces") and entry["kind"] == "shelf"
    ] == ["2"]


@pytest.mark.in_reach
@pytest.mark.knows_the_demo
def test_a_refused_strip_is_corrected_step_by_step(demo: RunningServer, phone: Page) -> None:
    before = ids_on_disk(demo)
    phone.goto(demo.address)
    ready(phone)
    unit = (phone.get_by_role("link", name=UNIT).get_attribute("href") or "").removeprefix("#/unit/")
    done = ["drained", "out", "marked", "screws", "screws"]
    body: dict[str, Any] = {"done": done, "signed": "Ilse Marrow", "note": "Grey oil"}
    phone.evaluate(WRITE, {"unit": unit, "kind": "strip", "body": body, "shown": {"verdict": None, "left": []}})
    outbox(phone)
    refused = phone.get_by_role("listitem").filter(has_text="unit stripped").first
    expect(refused).to_contain_text("Hold the spring closed in a vice")
    refused.get_by_role("link", name="Correct it").click()
    expect(phone.get_by_role("heading", name="Correct a strip")).to_be_visible()
    expect(phone.get_by_label("Anything you noticed")).to_have_value("Grey oil")
    expect(phone.get_by_role("alert")).to_contain_text("Hold the spring closed in a vice")
    expect(phone.get_by_text("A step was noted twice, or is none of these")).to_be_visible()
    expect(phone.get_by_role("button", name="Sign what is done so far")).to_be_disabled()
    phone.get_by_role("button", name="Undo").click()
    for step in (2, 3, 6, 7):
        phone.get_by_role("button", name=f"Done: step {step}", exact=True).click()
    draft_is_kept(phone, '"held","screws"')
    phone.reload()
    expect(phone.get_by_role("alert")).to_have_count(0)
    phone.get_by_role("button", name="Sign what is done so far").click()
    expect(phone.get_by_text("corrected later")).to_be_visible()
    delivered(phone)
    [strip] = new_on_disk(demo, before, "strip")
    assert strip["body"]["done"] == ["drained", "out", "marked", "lifted", "caps", "held", "screws"]
    assert strip["replaces"]
    outbox(phone)
    expect(phone.get_by_text("0 entries wait")).to_be_visible()


@pytest.mark.in_reach
@pytest.mark.knows_the_demo
def test_a_check_that_was_refused_marks_every_verdict_that_counts_it(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready(phone)
    link = phone.get_by_role("link", name=UNIT)
    unit = (link.get_attribute("href") or "").removeprefix("#/unit/")
    expect(link).not_to_contain_text("refused")
    body: dict[str, Any] = {"held": "by its whiskers"}
    shown: dict[str, Any] = {"verdict": "go", "reason": "Judged by a phone that knows less.", "value_nm": 99.0}
    entry = phone.evaluate(WRITE, {"unit": unit, "kind": "torque_check", "body": body, "shown": shown})
    expect(link).to_contain_text("Includes an entry that the workshop did not take")
    link.click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    expect(phone.get_by_role("alert")).to_contain_text("This verdict includes an entry that the workshop did not take.")
    phone.goto(f"{demo.address}/#/unit/{unit}/entry/{entry}")
    expect(phone.get_by_role("heading", name="The record")).to_be_visible()
    expect(phone.get_by_text("The workshop did not take it.")).to_be_visible()
    expect(phone.get_by_text("Waiting in the outbox.")).to_have_count(0)
    phone.get_by_role("link", name="See what to do").click()
    expect(phone.get_by_role("heading", name="Outbox")).to_be_visible()
    expect(phone.get_by_role("listitem").filter(has_text="The workshop refused this entry")).to_have_count(1)


def pair(page: Page, shop: Workshop, role: str) -> None:
    """Let a phone in, in a role."""
    code = shop.ask("POST", "/api/pairing", {"role": role})["code"]
    page.goto(f"{shop.address}/#/pair/{code}")
    expect(page.get_by_label("Code")).to_have_value(code)
    page.get_by_label("What the workshop calls this phone").fill("Ilse's phone")
    page.get_by_role("button", name="Pair", exact=True).click()
    expect(page.get_by_role("heading", name="Paired")).to_be_visible()


@pytest.mark.both_stores
def test_what_only_the_bench_may_write_is_told_apart_and_goes_home_once_it_may(
    workshop: Workshop,  # noqa: F811
    visitors: Callable[[], Page],  # noqa: F811
) -> None:
    page = visitors()
    pair(page, workshop, "trackside")
    page.get_by_role("link", name="To the units").click()
    page.get_by_role("link", name=UNIT).wait_for()
    # Written at the bench, before the phone became a trackside one.
    page.evaluate(
        """async () => {
            const { write } = await slipbook.part("log/outbox.js");
            const { calc } = await slipbook.part("engine/door.js");
            const { database, remember } = await slipbook.part("log/store.js");
            await remember("who", "Ilse Marrow");
            const all = await (await database()).getAll("entries");
            const one = all.find((entry) => entry.kind === "unit");
            const body = { ...one.body, name: "Bramble 1b" };
            await write({ unit: one.unit, kind: "unit", body, shown: await calc("unit", body) });
        }"""
    )
    page.locator("#tabs a[href='#/outbox']").click()
    card = page.get_by_role("region", name="For the bench")
    expect(card).to_contain_text("1 entry waits for the bench")
    expect(card).to_contain_text("This phone is paired for trackside now")
    expect(card).to_contain_text("Save the outbox to a file")
    expect(page.get_by_role("link", name="Correct it")).to_have_count(0)
    expect(page.get_by_text("Waits for the bench: see above.")).to_be_visible()
    card.get_by_role("link", name="paired for the bench").click()
    expect(page.get_by_role("heading", name="Pair this phone")).to_be_visible()
    pair(page, workshop, "bench")
    page.locator("#tabs a[href='#/outbox']").click()
    expect(card).to_contain_text("It no longer is: send them again")
    card.get_by_role("button", name="Send it again").click()
    expect(page.get_by_text("0 entries wait")).to_be_visible()
    names = [
        entry["body"].get("name")
        for entry in workshop.ask("GET", "/api/log?most=500")["entries"]
        if entry["kind"] == "unit"
    ]
    assert "Bramble 1b" in names


@pytest.mark.about_files("damages a unit's file")
def test_damage_in_the_workshops_log_is_told_to_the_bench_alone(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    expect(phone.get_by_role("region", name="The workshop's log")).to_have_count(0)
    demo.stop()
    file = min((demo.folder / "units").glob("*.json"))
    file.write_bytes(file.read_bytes()[:-300])
    demo.start()
    phone.evaluate("dispatchEvent(new Event('online'))")
    banner = phone.get_by_role("region", name="The workshop's log")
    expect(banner).to_contain_text("needs attention")
    banner.get_by_text("What was found").click()
    expect(banner).to_contain_text("of its entries were brought back from copies")
    banner.get_by_text("What to do").click()
    expect(banner).to_contain_text("slipbook check")
    for path in ("/outbox", "/settings"):
        phone.goto(f"{demo.address}/#{path}")
        expect(banner).to_be_visible()
    # It is there without a connection as well, and not on a trackside phone.
    demo.stop()
    phone.reload()
    expect(banner).to_be_visible()
    phone.evaluate(
        """async () => (await slipbook.part("log/store.js")).remember("paired", { name: "P", role: "trackside" })"""
    )
    phone.reload()
    expect(phone.get_by_role("heading", name="Settings")).to_be_visible()
    expect(banner).to_have_count(0)


def test_what_an_older_version_kept_of_the_kinds_of_entry_is_not_gone_by(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    demo.stop()
    phone.evaluate(WRITE, {"unit": "", "kind": "kit", "body": {"tool": "wrench"}, "shown": {"verdict": None}})
    phone.evaluate(
        """async () => {
            const { remember } = await slipbook.part("log/store.js");
            const kit = { version: 1, meaning: "wrench or gauge added or changed", calculation: "kit" };
            await remember("engine about", { version: "1.1", kinds: { kit }, permitted_percent: {} });
        }"""
    )
    phone.goto(f"{demo.address}/#/outbox")
    phone.reload()
    expect(phone.get_by_role("listitem").filter(has_text="wrench or gauge added or changed")).to_be_visible()
