"""The workshop's verdict on an entry: where it agrees with the one that was shown, a phone has it once."""

from typing import Any

import pytest
from playwright.sync_api import Page

from .conftest import RunningServer
from .screens import unit_path
from .test_story import ready

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

ALL = """() => slipbook.part("log/store.js").then(({ database }) => database()).then((db) => db.getAll("entries"))"""

# Hands entries to the phone as another version of the workshop sends them: each with a verdict of the workshop's.
TAKE = """async (entries) => {
    const { take } = await slipbook.part("log/store.js");
    await take(entries.map((entry) => ({ ...entry, judged: entry.agrees ? entry.shown : { verdict: "rework" } })));
}"""

# As an older version of the app kept them.
KEEP_TWICE = """async (unit) => {
    const { database, entriesOf } = await slipbook.part("log/store.js");
    const db = await database();
    for (const entry of await entriesOf(unit)) await db.put("entries", { ...entry, judged: entry.shown });
    await db.delete("standings", unit);
}"""

# What stands for a unit, and what the engine was asked for it.
ASK = """async (unit) => {
    const { standing } = await slipbook.part("log/stands.js");
    const asked = [];
    const own = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (message) {
        if (message.name === "standing" && message.text) asked.push(message.text);
        return own.call(this, message);
    };
    const stands = await standing(unit);
    Worker.prototype.postMessage = own;
    return { stands, asked };
}"""


def open_book(page: Page, server: RunningServer) -> str:
    """A phone that has read the log; returns the id of a unit."""
    page.goto(server.address)
    ready(page)
    return unit_path(server.address).rpartition("/")[2]


def test_of_what_it_reads_a_phone_keeps_a_verdict_that_agrees_once(demo: RunningServer, phone: Page) -> None:
    open_book(phone, demo)
    entries: list[dict[str, Any]] = phone.evaluate(ALL)
    assert sum(entry["agrees"] for entry in entries) > 50
    assert [entry["id"] for entry in entries if entry["agrees"] and "judged" in entry] == []


def test_a_verdict_that_differs_is_kept_beside_the_one_that_was_shown(demo: RunningServer, phone: Page) -> None:
    unit = open_book(phone, demo)
    checks = [entry for entry in phone.evaluate(ALL) if entry["unit"] == unit and "verdict" in entry["shown"]]
    agreed, other = checks[:2]
    phone.evaluate(TAKE, [agreed, {**other, "agrees": False}])
    kept = {entry["id"]: entry for entry in phone.evaluate(ALL)}
    assert "judged" not in kept[agreed["id"]]
    assert kept[other["id"]]["judged"] == {"verdict": "rework"}
    assert kept[other["id"]]["shown"] == other["shown"]


def test_the_engine_reads_once_what_an_older_version_kept_twice(demo: RunningServer, phone: Page) -> None:
    unit = open_book(phone, demo)
    before = phone.evaluate(ASK, unit)
    phone.evaluate(KEEP_TWICE, unit)
    after = phone.evaluate(ASK, unit)
    assert after["stands"] == before["stands"]
    [text] = after["asked"]
    assert '"shown":' in text
    assert '"judged":' not in text
