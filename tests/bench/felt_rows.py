"""How soon the phone answers each tap and key of a season's story: from there to the next paint, as browsers count."""

from collections.abc import Iterator

from playwright.sync_api import Page

from .figures import Figure, median, ms
from .phone import SLOWED, browsing, serving, slow, visit
from .phone_rows import ready_to_read
from .sizes import Sizes
from .workshop import PEOPLE, Workshop

UNITS, ENTRIES = 40, 1000
MOST_MS = 100
PAUSE_MS = 350
STORIES = 2

# The longest event of each interaction, by its number; the browser rounds to 8 ms and tells of none below 16.
WATCH = """
window.interactions = new Map();
new PerformanceObserver((list) => {
    for (const { interactionId, duration, name, target } of list.getEntries()) {
        if (!interactionId || duration <= (interactions.get(interactionId)?.[0] ?? 0)) continue;
        const element = target?.closest("a, button, label, input, select, textarea, summary") ?? target;
        const words = element?.ariaLabel || element?.textContent?.trim() || element?.id || "";
        interactions.set(interactionId, [duration, `${name} on ${words.replace(/\\\\s+/g, " ").slice(0, 30)}`]);
    }
}).observe({ type: "event", durationThreshold: 16, buffered: true });
"""


def tapped(page: Page, role: str, name: str) -> None:
    """Tap what is called so, and give it time."""
    page.get_by_role(role, name=name).first.tap()  # type: ignore[arg-type]
    page.wait_for_timeout(PAUSE_MS)


def typed(page: Page, label: str, keys: str) -> None:
    """Tap a field and press keys as a person does."""
    page.get_by_label(label, exact=True).first.tap()
    for key in keys:
        page.keyboard.press(key)
        page.wait_for_timeout(PAUSE_MS)


def story(page: Page, address: str, unit: str) -> None:
    """A unit is looked for, checked and saved, its history opened, a note written, its plates begun, the list seen."""
    page.goto(address)
    typed(page, "Find", "bra")
    page.goto(f"{address}/#/unit/{unit}")
    page.locator(f'main a[href="#/unit/{unit}/check"]').first.tap()
    page.wait_for_timeout(PAUSE_MS)
    ready_to_read(page, f"{address}/#/unit/{unit}/check")
    for label in ("forward reading 2", "reverse reading 3"):
        page.get_by_label(label, exact=True).fill("")
        typed(page, label, "103")
    page.get_by_role("button", name="Save the check").tap()
    page.get_by_role("region", name="History").wait_for(timeout=60000)
    page.wait_for_timeout(2 * PAUSE_MS)
    typed(page, "Note", "Oil is clear.")
    tapped(page, "button", "Save the note")
    page.goto(f"{address}/#/unit/{unit}/plates")
    page.locator(".readings input").first.wait_for(timeout=60000)
    page.locator(".readings input").first.tap()
    for key in "2.51":
        page.keyboard.press(key)
        page.wait_for_timeout(PAUSE_MS)


def felt(sizes: Sizes) -> Iterator[Figure]:
    """The longest interaction of each of some stories."""
    workshop = Workshop(UNITS, 4)
    worst: list[float] = []
    which = ""
    counted = 0
    with (
        serving(sizes, "felt", workshop, ENTRIES) as server,
        browsing(sizes.folder / "felt profile") as context,
    ):
        page = visit(context, server.address, UNITS)
        page.evaluate(
            """(who) => slipbook.part("log/store.js").then(({ remember }) => remember("who", who))""", PEOPLE[0]
        )
        page.add_init_script(WATCH)
        page.goto("about:blank")
        slow(page)
        for turn in range(1 if sizes.quick else STORIES):
            # Addresses with another # keep the page, and what it counted.
            page.goto("about:blank")
            story(page, server.address, workshop.units[7 + turn])
            interactions = page.evaluate("[...interactions.values()]")
            counted += len(interactions)
            longest = max(interactions)
            if not worst or longest[0] / 1000 > max(worst):
                which = str(longest[1])
            worst.append(float(longest[0]) / 1000)
    middle = median(worst)
    yield Figure(
        f"longest interaction of a season's story, CPU slowed {SLOWED}x",
        ms(middle),
        "",
        "",
        f"<= {MOST_MS} ms",
        middle <= MOST_MS / 1000,
        f"by the browser's event timing, in steps of 8 ms; median of {len(worst)} stories with {counted} taps and keys "
        f"of 16 ms or more; the longest of all was {which}, {ms(max(worst))}",
    )
