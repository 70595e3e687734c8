"""What it costs a phone to wait for its disk: an entry that is saved, and a key that is kept."""

from collections.abc import Iterator
from typing import Any

from playwright.sync_api import Page

from .figures import Figure, median, ms, percentile
from .phone import browsing, serving, visit
from .sizes import Sizes
from .workshop import Workshop

UNITS, ENTRIES = 40, 1000
# In turns, so that both are measured while the machine is alike busy; what is asked for in the app's own code is
# replaced by what is measured.
MEASURE = """async (count) => {
    const { write } = await slipbook.part("log/outbox.js");
    const { keepDraft } = await slipbook.part("log/drafts.js");
    const { database, remember } = await slipbook.part("log/store.js");
    const { standing } = await slipbook.part("log/stands.js");
    await remember("who", "Jo");
    const units = (await (await database()).getAll("entries")).filter((one) => one.kind === "unit");
    let saved = 0;
    const next = () => units[saved % units.length].unit;
    let durability = "strict";
    const begin = IDBDatabase.prototype.transaction;
    IDBDatabase.prototype.transaction = function (stores, mode) {
        return begin.call(this, stores, mode, { durability });
    };
    const content = { held: "bench_output_held", forward: ["98", "101", "100"], reverse: ["99", "102", "100"] };
    const acts = {
        save: (turn) => write({ unit: next(), kind: "note", body: { text: `Note ${turn}` }, shown: { verdict: null } }),
        key: (turn) => keepDraft(`check/${units[0].unit}`, { ...content, day: String(turn) }),
    };
    const times = {};
    for (let turn = 0; turn < count; turn += 1)
        for (durability of ["strict", "relaxed"])
            for (const [name, act] of Object.entries(acts)) {
                // As far apart as people act: nothing of the last one is still under way, and what stands for the unit
                // was worked out for the screen on which somebody saves.
                saved += 1;
                await standing(next());
                await new Promise((resolve) => setTimeout(resolve, 20));
                const start = performance.now();
                await act(turn);
                (times[`${name} ${durability}`] ??= []).push(performance.now() - start);
            }
    return times;
}"""


def measured(page: Page, count: int) -> dict[str, list[float]]:
    """Seconds of each save and key, by name and durability."""
    found: dict[str, list[float]] = page.evaluate(MEASURE, count)
    return {name: [each / 1000 for each in times] for name, times in found.items()}


def shown(times: list[float]) -> str:
    """Median and 95th percentile."""
    return f"{ms(median(times))}, 95th percentile {ms(percentile(times, 95))}"


def power(sizes: Sizes) -> Iterator[Figure]:
    """Saves and keys with strict and with relaxed durability, in turns."""
    workshop = Workshop(UNITS, 4)
    count = 20 if sizes.quick else 200
    with serving(sizes, "power", workshop, ENTRIES) as server, browsing(sizes.folder / "power profile") as context:
        page = visit(context, server.address, UNITS)
        # Nothing is delivered meanwhile.
        server.stop()
        times = measured(page, count)
    names: dict[str, Any] = {"save": "an entry saved, on the phone's disk", "key": "a key kept, were each on the disk"}
    for act, name in names.items():
        strict, relaxed = times[f"{act} strict"], times[f"{act} relaxed"]
        bar = percentile(strict, 95) <= 0.1
        yield Figure(
            name,
            shown(strict),
            f"in memory: {shown(relaxed)}",
            f"{median(strict) / median(relaxed):.2f}x",
            "95th percentile <= 100 ms",
            bar,
            f"{count} of each, in turns; Chromium on the disk of the temporary folder; a key is kept in memory at once "
            "and on the disk at the next pause",
        )
