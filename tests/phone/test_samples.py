"""The sample book: units to look at and to try on, in a store of their own from which nothing reaches a log."""

import json
from datetime import datetime
from pathlib import Path
from typing import Any
from urllib.request import urlopen

import pytest
from playwright.sync_api import Page, expect

from server import demo as invented

from .conftest import RunningServer
from .hands import CHECK_TORQUE, IN_PAGE
from .screens import go, of_log
from .test_story import UNIT, entries_on_disk

MARK = "nothing here reaches your log"
BACK = "Back to your log"

KEPT = """async () => {
    const { database } = await slipbook.part("log/store.js");
    const db = await database();
    const [entries, outbox, photos] = await Promise.all(["entries", "outbox", "photos"].map((name) => db.getAll(name)));
    return { name: db.name, entries: entries.map(({ id }) => id), waiting: outbox.length, photos: photos.length };
}"""


def kept(page: Page) -> dict[str, Any]:
    """What the store of this page holds."""
    held: dict[str, Any] = page.evaluate(KEPT)
    return held


def test_the_file_of_samples_is_the_demonstration_without_its_days(tmp_path: Path) -> None:
    book = json.loads(invented.sample_book())
    with RunningServer(tmp_path / "log", "demo") as server:
        log = sorted(of_log(server.address), key=lambda entry: entry["at"])
        with urlopen(f"{server.address}/samples.json") as answer:
            assert json.load(answer) == book
        # A phone keeps it with the app.
        with urlopen(f"{server.address}/precache.js") as answer:
            assert b'"/samples.json"' in answer.read()
    assert len(book["rows"]) == len(log)
    today = datetime.now().astimezone()
    for row, entry in zip(book["rows"], log, strict=True):
        assert (row["unit"], row["kind"], row["who"]) == (entry["unit"], entry["kind"], entry["who"])
        assert invented.with_days(row["body"], today) == entry["body"]
        if "replaces" in row:
            assert log[row["replaces"]]["id"] == entry["replaces"]
    assert sum("replaces" in row for row in book["rows"]) >= 1
    photos = {row["body"]["sha256"] for row in book["rows"] if row["kind"] == "photo"}
    assert set(book["photos"]) == photos
    assert len(photos) == 3
    assert invented.sample_book() == invented.sample_book()


def test_sample_units_are_tried_without_a_network_and_nothing_reaches_the_log(tmp_path: Path, phone: Page) -> None:
    with RunningServer(tmp_path / "log") as server:
        phone.goto(server.address)
        expect(phone.locator("#bar .state")).to_have_text("up to date")
        phone.evaluate("() => navigator.serviceWorker.ready.then(() => null)")
        phone.wait_for_function("() => navigator.serviceWorker.controller !== null")
        own = kept(phone)
        samples = len(json.loads(invented.sample_book())["rows"])
        phone.context.set_offline(True)

        phone.get_by_role("button", name="Look at sample units").click()
        for unit, verdict in (("Thistle 4", "replace"), (UNIT, "go"), ("Sorrel", "measure again")):
            row = phone.get_by_role("link", name=unit)
            expect(row).to_contain_text(verdict)
        expect(phone.locator("#bar")).to_contain_text(MARK)
        book = kept(phone)
        assert book["name"] != own["name"]
        assert (len(book["entries"]), book["photos"]) == (samples, 3)

        # A check is saved there, and nothing waits for anybody.
        phone.get_by_role("link", name=UNIT).click()
        phone.get_by_role("link", name=CHECK_TORQUE).click()
        for number in (1, 2, 3):
            phone.get_by_label(f"forward reading {number}", exact=True).fill("84")
            phone.get_by_label(f"reverse reading {number}", exact=True).fill("86")
        phone.get_by_label("Checked by").fill("Jo")
        phone.get_by_role("button", name="Save the check").click()
        expect(phone.get_by_text("Saved in the sample book, on this phone alone.")).to_be_visible()
        phone.get_by_role("link", name="Outbox").click()
        expect(phone.get_by_text("nothing waits here, and nothing is sent")).to_be_visible()
        phone.context.set_offline(False)
        phone.evaluate("slipbook.part('log/delivery.js').then(({ deliver }) => deliver())")
        after = kept(phone)
        assert (len(after["entries"]), after["waiting"]) == (samples + 1, 0)
        for path in ("settings", "kit", "help", "devices"):
            phone.goto(f"{server.address}#/{path}")
            expect(phone.locator("h1")).to_be_visible()
            expect(phone.locator("#bar")).to_contain_text(MARK)
        phone.reload()
        expect(phone.locator("#bar")).to_contain_text(MARK)

        # One tap back, to an empty book as it was before.
        phone.get_by_role("button", name=BACK).click()
        expect(phone.locator("#bar .state")).to_have_text("up to date")
        expect(phone.get_by_text("Slipbook keeps the book of your")).to_be_visible()
        assert kept(phone) == own
        phone.get_by_role("link", name="Outbox").click()
        expect(phone.get_by_text("All is delivered.")).to_be_visible()
        expect(phone.get_by_text("another log")).to_have_count(0)
        assert entries_on_disk(server) == [] == of_log(server.address)

        # It is laid out anew each time.
        phone.get_by_role("link", name="Help").click()
        phone.get_by_role("button", name="Look at sample units").click()
        expect(phone.get_by_role("link", name=UNIT)).to_be_visible()
        assert len(kept(phone)["entries"]) == samples


def as_it_stands(page: Page, bar: str) -> list[str]:
    """What the unit's page says in this book, once it is at rest."""
    expect(page.locator("#bar")).to_contain_text(bar)
    link = page.get_by_role("link", name=UNIT)
    expect(link).to_be_visible()
    go(page, (link.get_attribute("href") or "").removeprefix("#"))
    expect(page.locator("#stack")).to_be_visible()
    return page.locator("main h2, main .figure, main .verdict").all_inner_texts()


@pytest.mark.in_reach
def test_a_unit_in_the_sample_book_stands_as_in_the_demonstration(demo: RunningServer, phone: Page) -> None:
    phone.add_init_script(path=IN_PAGE)
    phone.goto(demo.address)
    seen = [as_it_stands(phone, "up to date")]
    go(phone, "/help")
    phone.get_by_role("button", name="Look at sample units").click()
    seen.append(as_it_stands(phone, MARK))
    assert len(seen[0]) > 5
    assert seen[0] == seen[1]
