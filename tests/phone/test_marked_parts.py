"""A marked ring leaves one unit worn and goes into another, which says so: all of it without the workshop's PC."""

from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .hands import Hands
from .test_story import UNIT, delivered, ids_on_disk, new_on_disk, ready_offline

OTHER = "Sorrel"

WORN = """async (unit) => {
    const { calc } = await slipbook.part("engine/door.js");
    const { write } = await slipbook.part("log/outbox.js");
    const { remember } = await slipbook.part("log/store.js");
    await remember("who", "Joss Tarn");
    const body = { gauge: { division_mm: 0.01 }, rings: [{ slot: "R1", steps_mm: ["0.20", "0.21"] }] };
    await write({ unit, kind: "ring_check", body, shown: await calc("ring_check", body) });
}"""


def to_the_rebuild(hands: Hands, name: str, why: str) -> None:
    page = hands.page
    page.evaluate("location.hash = '#/'")
    expect(page.get_by_role("heading", name="Units")).to_be_visible()
    hands.link(name)
    expect(page.get_by_role("heading", name=name)).to_be_visible()
    hands.unfold("At the bench")
    hands.link("Rebuild", exact=True)
    expect(page.get_by_role("heading", name="Rebuild")).to_be_visible()
    hands.type("What was done and why", why)


def save(hands: Hands) -> None:
    hands.button("Save, and close it up")
    expect(hands.page.get_by_role("heading", name="Close it up")).to_be_visible()


def open_unit(page: Page) -> None:
    page.evaluate("location.hash = location.hash.replace('/close', '')")


def test_a_worn_ring_brings_its_verdict_along(demo: RunningServer, hands: Hands) -> None:
    page = hands.page
    before = ids_on_disk(demo)
    page.goto(demo.address)
    ready_offline(page)
    link = page.get_by_role("link", name=UNIT).first.get_attribute("href") or ""
    page.evaluate(WORN, link.rpartition("/")[2])
    demo.stop()

    to_the_rebuild(hands, UNIT, "Ring worn.")
    hands.button("Ramp ring 7A (R1) came out")
    # Neither mark nor place is lost where the other is wrong.
    hands.type("Mark of what went in", " 7a")
    expect(page.get_by_text("came out and went in: correct a mark, or remove this line.")).to_be_visible()
    hands.type("Mark of what went in", "9C")
    expect(page.get_by_text("A new mark: its life begins here.")).to_be_visible()
    save(hands)
    open_unit(page)
    marked = page.get_by_role("region", name="Marked parts")
    expect(marked.get_by_role("link", name="Ramp ring 9C (R1)")).to_be_visible()
    expect(marked.get_by_role("link", name="Ramp ring 7A")).to_have_count(0)
    # What other units say of them comes last.
    expect(marked).to_contain_text("In all:")
    hands.link("All marked parts")
    stock = page.get_by_role("region", name="In stock")
    expect(stock.get_by_text("Ramp ring 7A is in stock.")).to_be_visible()

    to_the_rebuild(hands, OTHER, "Ring from stock.")
    hands.button("Add a marked part")
    expect(page.get_by_text("Type the mark of what went in, or of what came out.")).to_be_visible()
    hands.pick("Kind of part", "Ramp ring")
    hands.type("Its place", "R2")
    hands.type("Mark of what went in", "7b")
    expect(page.get_by_text(f"By the log it is still in {UNIT}.")).to_be_visible()
    hands.button("Take ramp ring 7A: replace")
    expect(page.get_by_text("This comes along, and counts until it is measured here.")).to_be_visible()
    save(hands)
    open_unit(page)
    expect(page.locator(".verdict.big")).to_have_text("replace")
    expect(page.get_by_text(f"Ramp ring 7A was judged replace in {UNIT}").first).to_be_visible()
    hands.link("Ramp ring 7A (R2)")
    expect(page.get_by_role("heading", name="Ramp ring 7A")).to_be_visible()
    expect(page.get_by_text(f"Ramp ring 7A is in {OTHER}, R2, since")).to_be_visible()
    was = page.get_by_role("region", name="Where it was")
    expect(was).to_contain_text(f"{UNIT}, R1: since it was added to")
    # Looked at as it was added, and as it was found worn.
    expect(was.locator(".verdict")).to_have_text(["replace", "go"])

    demo.start()
    page.evaluate("dispatchEvent(new Event('online'))")
    delivered(page)
    first, second = sorted(new_on_disk(demo, before, "rebuild"), key=lambda entry: entry["at"])
    assert (first["agrees"], second["agrees"]) == (True, True)
    [out], [into] = first["body"]["marked_parts"], second["body"]["marked_parts"]
    assert (out["place"], out["out_mark"], out["out_to"], out["mark"]) == ("R1", "7A", "stock", "9C")
    assert (into["place"], into["mark"]) == ("R2", "7A")
    [found] = into["found"]
    assert (found["verdict"], found["unit_name"]) == ("replace", UNIT)
