"""The picture of a corner: how soon its first frame is there on a slow phone."""

from collections.abc import Iterator

from playwright.sync_api import Page

from tests.engine.samples import sample

from .figures import Figure, median, ms
from .phone import SLOWED, browsing, engine_times, serving, slow, visit
from .sizes import Sizes
from .workshop import Workshop

UNITS, ENTRIES = 12, 300
MOST_MS = 300
# Columns of the first frame; see COARSE in webui/screens/bench/corner.js.
COLUMNS = 9

# From the change of address to the painted picture; said by the page itself, since a bench that asks takes time.
DRAWN = """to => new Promise((resolve) => {
    const start = performance.now();
    const look = () => {
        if (!document.querySelector("svg.corner")) return;
        observer.disconnect();
        requestAnimationFrame(() => {
            const painted = new MessageChannel();
            painted.port1.onmessage = () => resolve(performance.now() - start);
            painted.port2.postMessage(null);
        });
    };
    const observer = new MutationObserver(look);
    observer.observe(document.body, { subtree: true, childList: true });
    location.hash = to;
})"""


def unit_with_ramps(page: Page, address: str, units: list[str]) -> str:
    """The first unit whose corner can be drawn."""
    for unit in units:
        page.goto(f"{address}/#/unit/{unit}/corner")
        # Some of the made-up units cannot be built as they stand, and say so.
        page.locator("svg.corner, .lack, main [role=alert]").first.wait_for(timeout=60000)
        if page.locator("svg.corner").count():
            return unit
    raise RuntimeError("no unit of the workshop has ramps")


def first_frame(sizes: Sizes) -> Iterator[Figure]:
    """From the tap on a unit's page to the first picture, and what the engine takes of it."""
    workshop = Workshop(UNITS, 4)
    request = {**sample("corner_map", "a usual car"), "points": COLUMNS, "blur": False}
    with (
        serving(sizes, "corner", workshop, ENTRIES) as server,
        browsing(sizes.folder / "corner profile") as context,
    ):
        page = visit(context, server.address, UNITS)
        unit = unit_with_ramps(page, server.address, workshop.units)
        engine = median(engine_times(page, "corner_map", request, sizes.rounds)[0])
        slow(page)
        times = []
        for _ in range(sizes.rounds + 1):
            page.goto(f"{server.address}/#/unit/{unit}")
            page.get_by_role("region", name="History").wait_for(timeout=60000)
            # The fine picture of the round before is done.
            page.wait_for_timeout(2000)
            times.append(float(page.evaluate(DRAWN, f"#/unit/{unit}/corner")) / 1000)
    measured = median(times[1:])
    # The browser cannot slow the engine's worker, so what it would need more is added.
    whole = measured + (SLOWED - 1) * engine
    yield Figure(
        f"a corner's first picture from a unit's page, CPU slowed {SLOWED}x",
        ms(whole),
        "",
        "",
        f"<= {MOST_MS} ms",
        whole <= MOST_MS / 1000,
        f"median of {len(times) - 1}: measured {ms(measured)} with the page slowed, plus {SLOWED - 1} times the "
        f"engine's call of {ms(engine)} for {COLUMNS} columns, since the browser cannot slow its worker",
    )
