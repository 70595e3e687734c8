"""How long a save waits where its unit has a long history: what stands is worked out anew, for what the entry knows."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any

from .figures import Figure, median, ms
from .phone import browsing, serving, visit
from .sizes import Sizes
from .workshop import Workshop

# Entries of one unit, and the longest median wait, in seconds: no save of a season's unit is felt as a wait, and one of
# a unit with ten seasons lasts no longer than a second.
LENGTHS = ((150, 0.3), (500, 1.0))
# Each note makes what stood out of date, so the next one waits for it again.
MEASURE = """async (count) => {
    const { write } = await slipbook.part("log/outbox.js");
    const { database, remember } = await slipbook.part("log/store.js");
    await remember("who", "Jo");
    const [{ unit }] = (await (await database()).getAll("entries")).filter((one) => one.kind === "unit");
    const times = [];
    for (let turn = 0; turn < count; turn += 1) {
        await new Promise((resolve) => setTimeout(resolve, 20));
        const start = performance.now();
        await write({ unit, kind: "note", body: { text: `Note ${turn}` }, shown: { verdict: null } });
        times.push(performance.now() - start);
    }
    // What was kept from before may still have held for the first one.
    return times.slice(1);
}"""


class Knowing(Workshop):
    """A workshop whose phones note what an entry knew, and when they last met the workshop's PC, as they do today."""

    def __init__(self, units: int, seed: int = 1) -> None:
        super().__init__(units, seed)
        self.newest: dict[str, str] = {}

    def entry(self, number: int, unit: str, content: dict[str, Any], at: datetime) -> dict[str, Any]:
        """An entry as a device makes it."""
        entry = super().entry(number, unit, content, at)
        known = [self.newest[unit]] if unit in self.newest else []
        self.newest[unit] = entry["id"]
        met = (at - timedelta(hours=2)).isoformat(timespec="milliseconds")
        return {**entry, "knows": known, "clock": {"met": met, "off_s": 0.5, "met_fell_s": 0, "fell_s": 0}}


def long_history(sizes: Sizes) -> Iterator[Figure]:
    """Saves of notes one after the other, for one unit with many entries."""
    count = 4 if sizes.quick else 16
    for entries, most in LENGTHS:
        workshop = Knowing(1, 4)
        name = f"history {entries}"
        with (
            serving(sizes, name, workshop, entries + len(workshop.kit)) as server,
            browsing(sizes.folder / f"{name} profile") as context,
        ):
            page = visit(context, server.address, 1)
            # Nothing is delivered meanwhile.
            server.stop()
            times = [each / 1000 for each in page.evaluate(MEASURE, count)]
        middle = median(times)
        yield Figure(
            f"an entry saved for a unit with {entries} entries",
            ms(middle),
            "",
            "",
            f"<= {1000 * most:.0f} ms",
            middle <= most,
            f"median of {len(times)} notes, one after the other, so that what stands is worked out anew before each; "
            f"longest {ms(max(times))}",
        )
