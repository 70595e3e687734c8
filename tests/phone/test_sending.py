"""An outbox on its way home: what leaves it, what stays, and what is sent once more."""

from typing import Any

import pytest
from playwright.sync_api import Page, Route

from .conftest import RunningServer
from .screens import unit_path
from .test_story import entries_on_disk, ready

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

# More than the log takes at once.
MANY = 130

# Notes straight into the phone's store, with rows in the outbox like this one.
QUEUE = """async ([units, count, row]) => {
    const { database, newId, now, deviceId } = await slipbook.part("log/store.js");
    const { version, kinds } = await slipbook.part("engine/door.js").then(({ engine }) => engine());
    const device = await deviceId();
    const entries = [];
    for (let number = 0; number < count; number += 1)
        entries.push({
            id: await newId(), at: now(), who: "Ada", device, unit: units[number % units.length], kind: "note",
            version: kinds.note.version, engine: version, body: { text: `Note ${number}` }, shown: { verdict: null },
        });
    const change = (await database()).transaction(["entries", "outbox"], "readwrite");
    for (const entry of entries) {
        change.objectStore("entries").add(entry);
        change.objectStore("outbox").add({ id: entry.id, tries: 0, ...(row === "new" ? { unit: entry.unit } : {}) });
    }
    await change.done;
    return entries.map(({ id }) => id);
}"""

DELIVER = """() => slipbook.part("log/delivery.js").then(({ deliver }) => deliver())"""
WAITING = (
    """() => slipbook.part("log/store.js").then(({ outbox }) => outbox()).then((all) => all.map(({ id }) => id))"""
)
LEAVE = """async (home) => {
    const { leaveOutbox } = await slipbook.part("log/sending.js");
    await leaveOutbox(new Set(home));
}"""
NUMBERS = """async (ids) => {
    const { entry } = await slipbook.part("log/store.js");
    return (await Promise.all(ids.map(entry))).map(({ seq }) => seq ?? 0);
}"""


def open_book(page: Page, server: RunningServer) -> list[str]:
    """A phone that has read the log; returns the ids of a unit and of another."""
    page.goto(server.address)
    ready(page)
    one = unit_path(server.address).rpartition("/")[2]
    return [one, next(entry["unit"] for entry in entries_on_disk(server) if entry["unit"] not in ("", one))]


def stored(server: RunningServer, ids: list[str]) -> list[str]:
    """Those of some ids that the log has, oldest first, as often as it has them."""
    return sorted(entry["id"] for entry in entries_on_disk(server) if entry["id"] in ids)


def queued(page: Page, units: list[str], count: int, row: str = "new") -> list[str]:
    """The ids of entries that wait, oldest first."""
    ids: list[str] = page.evaluate(QUEUE, [units, count, row])
    return ids


@pytest.mark.parametrize("row", ["new", "of an older version"])
def test_all_that_waits_goes_home_each_units_entries_together_and_in_their_order(
    demo: RunningServer, phone: Page, row: str
) -> None:
    ids = queued(phone, open_book(phone, demo), MANY, row)
    sent: list[list[str]] = []

    def look(route: Route) -> None:
        if route.request.method == "POST":
            content: Any = route.request.post_data_json
            sent.append([entry["id"] for entry in content["entries"]])
        route.continue_()

    phone.context.route("**/api/log", look)
    assert phone.evaluate(DELIVER)
    assert phone.evaluate(WAITING) == []
    # They were written for one unit and the other in turns.
    assert sorted(sent) == sorted([ids[::2], ids[1::2]])
    assert stored(demo, ids) == ids
    assert all(phone.evaluate(NUMBERS, ids))


def test_what_is_not_home_stays_in_the_outbox(demo: RunningServer, phone: Page) -> None:
    units = open_book(phone, demo)
    phone.context.set_offline(True)
    ids = queued(phone, units, 6)
    # Others came between them, or were refused.
    phone.evaluate(LEAVE, [ids[0], ids[2], ids[3], ids[5]])
    assert phone.evaluate(WAITING) == [ids[1], ids[4]]
    phone.evaluate(LEAVE, [])
    assert phone.evaluate(WAITING) == [ids[1], ids[4]]


def test_where_the_connection_breaks_off_what_came_home_has_left_the_outbox(demo: RunningServer, phone: Page) -> None:
    ids = queued(phone, open_book(phone, demo), MANY)
    asked: list[Any] = []

    def only_the_first(route: Route) -> None:
        if route.request.method == "POST":
            asked.append(route.request.post_data_json)
        if route.request.method == "POST" and len(asked) > 1:
            route.abort()
        else:
            route.continue_()

    phone.context.route("**/api/log", only_the_first)
    assert not phone.evaluate(DELIVER)
    home = {entry["id"] for entry in asked[0]["entries"]}
    assert 0 < len(home) < MANY
    assert phone.evaluate(WAITING) == [name for name in ids if name not in home]
    phone.context.unroute("**/api/log")
    assert phone.evaluate(DELIVER)
    assert phone.evaluate(WAITING) == []
    assert stored(demo, ids) == ids


def test_a_phone_that_dies_before_they_leave_sends_them_once_more_and_they_are_there_once(
    demo: RunningServer, phone: Page
) -> None:
    ids = queued(phone, open_book(phone, demo), 5)
    # As if it had died in between: the rows are still there.
    phone.evaluate(
        """async () => {
            const { database } = await slipbook.part("log/store.js");
            const rows = await (await database()).getAll("outbox");
            await slipbook.part("log/delivery.js").then(({ deliver }) => deliver());
            const change = (await database()).transaction("outbox", "readwrite");
            for (const row of rows) change.store.put(row);
            await change.done;
        }"""
    )
    numbers = phone.evaluate(NUMBERS, ids)
    assert phone.evaluate(WAITING) == ids
    assert phone.evaluate(DELIVER)
    assert phone.evaluate(WAITING) == []
    assert phone.evaluate(NUMBERS, ids) == numbers
    assert stored(demo, ids) == ids
