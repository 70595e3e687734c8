"""Two logs at one address: each has a book of its own on the phone, and nothing crosses without a person's yes."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer, becomes, until
from .hands import Hands, Thumbs
from .test_story import UNIT, entries_on_disk, ready_offline

# A tool needs no unit, so that it can be written into any log.
WRITE_TOOL = """async (name) => {
    const { write } = await slipbook.part("log/outbox.js");
    const { remember } = await slipbook.part("log/store.js");
    await remember("who", "Alda Quern");
    const wrench = { name, kind: "beam", division_nm: "1", high_nm: "200" };
    return write({ unit: "", kind: "kit", body: { tool: "wrench", wrench }, shown: { verdict: null } });
}"""

# What the version before this one had on a phone: one database, whatever answered.
OLDER = """() => new Promise((resolve, reject) => {
    const asked = indexedDB.open("slipbook", 2);
    asked.onupgradeneeded = () => {
        const db = asked.result;
        db.createObjectStore("entries", { keyPath: "id" }).createIndex("unit", "unit");
        for (const name of ["outbox", "standings"]) db.createObjectStore(name, { keyPath: "id" });
        db.createObjectStore("drafts", { keyPath: "key" });
        db.createObjectStore("facts");
        db.createObjectStore("photos", { keyPath: "sha256" });
    };
    asked.onerror = () => reject(asked.error);
    asked.onsuccess = () => {
        const db = asked.result;
        const all = db.transaction(["entries", "outbox", "drafts", "facts"], "readwrite");
        const id = "019b0000-0000-7000-8000-00000000abcd";
        const body = { tool: "wrench", wrench: { name: "Old beam", kind: "beam", division_nm: "1", high_nm: "200" } };
        all.objectStore("entries").put({ id, at: "2026-05-09T10:30:00+02:00", who: "Alda Quern", unit: "",
            device: "6f1c3f0e-5a4b-4c1d-8e2f-3a4b5c6d7e8f", kind: "kit", version: 1, engine: "1.3", body,
            shown: { verdict: null } });
        all.objectStore("outbox").put({ id, tries: 0 });
        all.objectStore("drafts").put({ key: "kept", content: "typed long ago" });
        all.objectStore("facts").put("Alda Quern", "who");
        all.oncomplete = () => { db.close(); resolve(true); };
    };
})"""


@pytest.fixture
def real(tmp_path: Path, demo: RunningServer) -> Iterator[RunningServer]:
    """A workshop's own log, to be started at the demo's address once that has stopped."""
    server = RunningServer(tmp_path / "Moorfield")
    server.port = demo.port
    yield server
    server.stop()


def tools(server: RunningServer) -> list[Any]:
    """Names of the tools that Alda entered, in the log's files."""
    return [entry["body"]["wrench"]["name"] for entry in entries_on_disk(server) if entry["who"] == "Alda Quern"]


def arrive(page: Page, server: RunningServer, names: list[str]) -> None:
    """Wait until the log's files have these tools of Alda's and no other."""
    assert becomes(page, lambda: tools(server) == names), tools(server)


def up_to_date(page: Page) -> None:
    expect(page.locator("#bar .state")).to_have_text("up to date")


def test_the_demo_never_flows_into_the_real_log_nor_the_other_way(
    demo: RunningServer, real: RunningServer, hands: Hands
) -> None:
    page = hands.page
    page.goto(demo.address)
    ready_offline(page)
    demo.stop()

    real.start()
    page.goto("about:blank")
    page.goto(demo.address)
    expect(page.get_by_text("There are no units yet")).to_be_visible()
    up_to_date(page)
    expect(page.get_by_role("link", name=UNIT)).to_have_count(0)
    assert entries_on_disk(real) == []
    # The demonstration is forgotten: nothing waited for it.
    until(page, "async () => !(await indexedDB.databases()).some(({ name }) => name === 'slipbook')")

    # What waits for the real log stays with it while a demonstration answers, and is shown under its name.
    real.stop()
    page.evaluate(WRITE_TOOL, "Private beam")
    demo.start()
    page.goto("about:blank")
    page.goto(f"{demo.address}/#/outbox")
    expect(page.get_by_role("region", name="For Moorfield")).to_contain_text("1 entry waits for another log, Moorfield")
    expect(page.get_by_text("0 entries wait")).to_be_visible()
    up_to_date(page)
    assert tools(demo) == []
    demo.stop()

    real.start()
    page.goto("about:blank")
    page.goto(f"{demo.address}/#/outbox")
    expect(page.get_by_role("region", name="For Moorfield")).to_have_count(0)
    until(page, "() => document.querySelector('#bar .state')?.textContent.trim() === 'up to date'")
    expect(page.get_by_text("All is delivered.")).to_be_visible()
    arrive(page, real, ["Private beam"])


def test_what_waits_for_another_log_crosses_when_a_person_says_so(
    demo: RunningServer, real: RunningServer, hands: Hands
) -> None:
    page = hands.page
    page.goto(demo.address)
    ready_offline(page)
    demo.stop()
    page.evaluate(WRITE_TOOL, "Tried beam")
    real.start()
    page.goto("about:blank")
    page.goto(f"{demo.address}/#/outbox")
    waits = page.get_by_role("region", name="For Demonstration")
    expect(waits).to_contain_text("It was a demonstration, which has ended.")
    up_to_date(page)
    assert tools(real) == []
    hands.button("Send this entry to Moorfield")
    expect(waits).to_have_count(0)
    expect(page.get_by_text("All is delivered.")).to_be_visible()
    # That all is delivered is what the page said before as well.
    arrive(page, real, ["Tried beam"])


@pytest.mark.in_reach
def test_a_log_that_is_forgotten_while_it_is_looked_at_fails_nobody(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    expect(phone.get_by_role("link", name=UNIT)).to_be_visible()
    lacking = """async () => {
        const { forget, heldElsewhere } = await slipbook.part("log/other-logs.js");
        const { meet, otherLogs } = await slipbook.part("log/logs.js");
        const { open } = await slipbook.part("log/store.js");
        const faults = [];
        for (let round = 0; round < 20; round += 1) {
            const met = await meet({ id: "019b0000-0000-7000-8000-00000000abcd", name: "Fernhill", demo: true });
            (await open(met.database)).close();
            const looks = [...Array(20)].map(() => heldElsewhere());
            const [log] = await otherLogs();
            const all = await Promise.allSettled([...looks, forget(log)]);
            faults.push(...all.flatMap(({ reason }) => (reason ? [String(reason)] : [])));
        }
        return faults;
    }"""
    assert phone.evaluate(lacking) == []


def test_what_a_phone_has_of_a_log_that_is_lost_goes_into_the_next_one(
    tmp_path: Path, demo: RunningServer, real: RunningServer, hands: Hands
) -> None:
    page = hands.page
    demo.stop()
    real.start()
    page.goto(f"{real.address}/#/outbox")
    page.evaluate(WRITE_TOOL, "Old beam")
    expect(page.get_by_text("up to entry 1.")).to_be_visible()
    real.stop()
    real.folder = tmp_path / "Fernhill"
    real.start()
    page.goto("about:blank")
    page.goto(f"{real.address}/#/outbox")
    held = page.get_by_role("region", name="Of Moorfield")
    # Who has a mouse or a keyboard alone sits at a PC.
    device = "phone" if isinstance(hands, Thumbs) else "PC"
    expect(held).to_contain_text(f"This {device} has 1 entry of it.")
    up_to_date(page)
    assert tools(real) == []
    hands.press(held.locator("summary"))
    hands.button("Put 1 entry of Moorfield into Fernhill")
    expect(held).to_have_count(0)
    expect(page.get_by_text("up to entry 1.")).to_be_visible()
    arrive(page, real, ["Old beam"])


def test_what_is_being_typed_stays_with_its_log_until_the_other_is_wanted(
    demo: RunningServer, real: RunningServer, phone: Page
) -> None:
    phone.goto(demo.address)
    ready_offline(phone)
    phone.get_by_role("link", name=UNIT).click()
    demo.stop()
    phone.get_by_label("Note", exact=True).fill("Half a note")
    real.start()
    phone.evaluate("dispatchEvent(new Event('online'))")
    expect(phone.get_by_text("What you type here stays with Demonstration.")).to_be_visible()
    expect(phone.get_by_label("Note", exact=True)).to_have_value("Half a note")
    phone.get_by_label("Written by").fill("Alda Quern")
    phone.get_by_role("button", name="Save the note").click()
    expect(phone.get_by_role("link", name="Outbox, 1 waiting")).to_be_visible()
    phone.get_by_role("button", name="Show the other log").click()
    expect(phone.get_by_text("There are no units yet")).to_be_visible()
    up_to_date(phone)
    assert entries_on_disk(real) == []


def test_what_an_older_version_kept_becomes_the_first_logs(
    real: RunningServer, demo: RunningServer, phone: Page
) -> None:
    demo.stop()
    real.start()
    phone.goto(f"{real.address}/manifest.webmanifest")
    phone.evaluate(OLDER)
    phone.goto(f"{real.address}/#/outbox")
    expect(phone.get_by_text("All is delivered.")).to_be_visible()
    arrive(phone, real, ["Old beam"])
    kept = """async () => { const { draftText } = await slipbook.part("log/drafts.js"); return draftText("kept"); }"""
    assert phone.evaluate(kept) == "typed long ago"
    here = "names => indexedDB.databases().then((all) => all.map(({ name }) => name).sort().join() === names)"
    until(phone, here, "slipbook,slipbook-logs,slipbook-shared")
