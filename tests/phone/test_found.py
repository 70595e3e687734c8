"""A strip is an inspection: its page leads through every part, says what to order, and the closing asks for answers."""

import pytest
from playwright.sync_api import Page, expect

from server.engine import calc

from .conftest import RunningServer
from .hands import Hands
from .test_story import UNIT, delivered, ids_on_disk, new_on_disk, ready_offline

STRIPPED = [step["name"] for step in calc("steps", {})["strip"]]

# A strip that is signed, and the first friction plate far below its limit.
BEGUN = """async ([unit, done]) => {
    const { write } = await slipbook.part("log/outbox.js");
    const { remember, entriesOf } = await slipbook.part("log/store.js");
    const { calc } = await slipbook.part("engine/door.js");
    await remember("who", "Ilse Marrow");
    const put = async (kind, calculation, body) =>
        write({ unit, kind, body, shown: await calc(calculation, body) });
    await put("strip", "strip", { done, guide: 2, signed: "Ilse Marrow" });
    const chain = (await entriesOf(unit)).filter(({ kind }) => kind === "unit").at(-1).body.chain;
    const { slot, minimum_mm, new_mm } = chain.find(({ part }) => part === "friction");
    const plates = [{ slot, part: "friction", minimum_mm, new_mm, points_mm: ["1.5", "1.5", "1.5"] }];
    await put("plate_check", "plates", { micrometer: { name: "Plate micrometer", division_mm: 0.001 }, plates });
    return slot;
}"""


def begun(page: Page, demo: RunningServer) -> str:
    """The unit lies in parts and one plate is worn; its name."""
    page.goto(demo.address)
    ready_offline(page)
    page.get_by_role("link", name=UNIT).first.click()
    expect(page.get_by_role("heading", name=UNIT)).to_be_visible()
    unit = page.url.rpartition("/")[2]
    slot: str = page.evaluate(BEGUN, [unit, STRIPPED])
    return slot


def test_what_was_found_is_listed_ordered_and_answered_before_it_is_closed(demo: RunningServer, hands: Hands) -> None:
    page = hands.page
    before = ids_on_disk(demo)
    slot = begun(page, demo)
    demo.stop()
    unit = page.url
    page.goto(f"{unit}/found")
    expect(page.get_by_text("2 of").or_(page.get_by_text("1 of")).first).to_be_visible()
    row = page.get_by_role("listitem").filter(has_text=f"{slot}, friction plate").first
    expect(row.locator(".verdict")).to_have_text("replace")
    expect(page.get_by_role("region", name="To order")).to_contain_text(slot)
    expect(page.get_by_role("link", name="Measure the plates").first).to_be_visible()
    expect(page.get_by_role("link", name="Inspect the other parts").first).to_be_visible()
    # Closing it asks what becomes of the plate, and is not signed before that is said.
    page.goto(f"{unit}/close")
    answers = page.get_by_role("region", name="The strip found these bad")
    expect(answers).to_contain_text(f"{slot}, friction plate")
    for number in range(1, len(calc("steps", {})["close"]) + 1):
        hands.button(f"Done: step {number}", exact=True)
    sign = page.get_by_role("button", name="Sign it off")
    expect(sign).to_have_attribute("aria-disabled", "true")
    sign.press("Enter")
    expect(page).to_have_url(f"{unit}/close")
    expect(answers.get_by_role("radio").first).to_be_focused()
    hands.choose("left as it is")
    expect(answers.get_by_text(f"Say why {slot} stays as it is.")).to_be_visible()
    hands.type(f"{slot}: what was done, or why it stays", "one club day, then it is exchanged")
    expect(sign).to_have_attribute("aria-disabled", "false")
    hands.button("Sign it off")
    expect(page.get_by_role("heading", name=UNIT)).to_be_visible()
    page.goto(f"{unit}/found")
    expect(page.get_by_text("left as it is: one club day, then it is exchanged")).to_be_visible()
    expect(page.get_by_role("region", name="To order")).to_have_count(0)
    demo.start()
    delivered(page)
    [closed] = [entry for entry in new_on_disk(demo, before) if entry["kind"] == "close"]
    assert closed["body"]["answers"] == [{"name": slot, "answer": "left", "why": "one club day, then it is exchanged"}]


@pytest.mark.in_reach
def test_a_strip_that_is_signed_leads_on_to_what_there_is_to_look_at(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    phone.get_by_role("link", name=UNIT).first.click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    phone.goto(f"{phone.url}/strip")
    for number in range(1, len(STRIPPED) + 1):
        phone.get_by_role("button", name=f"Done: step {number}", exact=True).click()
    phone.get_by_label("Done and signed by").fill("Mara Quill")
    phone.get_by_role("button", name="Sign it off").click()
    expect(phone.get_by_role("heading", name="What the strip found")).to_be_visible()
    expect(phone.get_by_text("0 of")).to_be_visible()


def test_a_closing_with_an_answer_is_corrected(demo: RunningServer, phone: Page) -> None:
    before = ids_on_disk(demo)
    slot = begun(phone, demo)
    unit = phone.url
    closed = """async ([unit, slot, done]) => {
        const { write } = await slipbook.part("log/outbox.js");
        const { calc } = await slipbook.part("engine/door.js");
        const body = { done, guide: 2, signed: "Ilse", answers: [{ name: slot, answer: "put_right" }] };
        await write({ unit, kind: "close", body, shown: await calc("close", body) });
        const { entriesOf } = await slipbook.part("log/store.js");
        return (await entriesOf(unit)).find((entry) => entry.body.answers).id;
    }"""
    done = [step["name"] for step in calc("steps", {})["close"]]
    name = phone.evaluate(closed, [unit.rpartition("/")[2], slot, done])
    phone.goto(f"{unit}/close/{name}")
    phone.get_by_label("Anything you noticed").fill("Edges dressed.")
    phone.get_by_role("button", name="Sign it off").click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    delivered(phone)
    corrected = [entry for entry in new_on_disk(demo, before, "close") if entry.get("replaces")]
    assert corrected[0]["body"]["answers"] == [{"name": slot, "answer": "put_right"}]
    assert corrected[0]["body"]["note"] == "Edges dressed."
