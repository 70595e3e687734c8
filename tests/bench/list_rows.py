"""A long list of units on the phone: how soon it is there, and whether scrolling and searching in it stutter."""

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from .figures import Figure, median, ms
from .phone import SLOWED, browsing, serving, slow, visit
from .sizes import Sizes
from .workshop import Workshop

FEW, MANY = 40, 500
MOST_TIMES = 1.5
ENTRIES_EACH = 25
# From here on somebody feels that a phone is slow to answer (a good interaction to next paint is 200 ms at most).
FELT_MS = 100
SEARCH = "bra 1"
PAUSE_MS = 350
WATCHED_TURNS = 2

# When the first rows are painted with every unit counted; said by the page itself, since a bench that asks takes time.
LISTED = """units => {
    const wanted = () =>
        document.querySelector(".units a") &&
        document.querySelector("#main option")?.textContent.trim().endsWith(`, ${units}`);
    const observer = new MutationObserver(() => {
        if (!wanted()) return;
        observer.disconnect();
        requestAnimationFrame(() => requestAnimationFrame(() => { window.listed ??= performance.now(); }));
    });
    observer.observe(document, { subtree: true, childList: true, characterData: true });
}"""
# Tasks of more than 50 ms as the browser counts them, and the longest wait from one frame to the next.
WATCH = """() => {
    window.tasks = [];
    window.watcher?.disconnect();
    const note = (list) => tasks.push(...list.getEntries().map(({ duration }) => duration));
    window.watcher = new PerformanceObserver(note);
    watcher.observe({ type: "longtask" });
    window.frames = { last: performance.now(), longest: 0 };
    const mine = window.frames;
    const next = (at) => {
        if (window.frames !== mine) return;
        mine.longest = Math.max(mine.longest, at - mine.last);
        mine.last = at;
        requestAnimationFrame(next);
    };
    requestAnimationFrame(next);
}"""
SEEN = "() => { watcher.takeRecords(); return [Math.max(0, ...tasks), frames.longest]; }"


def shown_after(page: Page, address: str, units: int) -> float:
    """Seconds from navigation to the list, with every unit in it."""
    page.goto("about:blank")
    page.add_init_script(f"({LISTED})({units})")
    slow(page)
    page.goto(address)
    page.wait_for_function("() => window.listed !== undefined", polling=250, timeout=60000)
    return float(page.evaluate("window.listed")) / 1000


def watched(page: Page, act: Callable[[], None]) -> tuple[float, float]:
    """The longest task and the longest wait for a frame, in seconds, while something is done."""
    # What the list does by itself after it opened is over then.
    page.wait_for_timeout(2000)
    page.evaluate(WATCH)
    act()
    task, frame = page.evaluate(SEEN)
    return task / 1000, frame / 1000


def scroll(page: Page) -> None:
    """A thumb that goes down all that is drawn, asks for more, and goes on."""
    client = page.context.new_cdp_session(page)
    gesture = {"x": 180, "y": 400, "yDistance": -2500, "speed": 1800, "gestureSourceType": "touch"}
    for _ in range(4):
        client.send("Input.synthesizeScrollGesture", gesture)
    page.get_by_role("button", name="Show ").tap()
    for _ in range(4):
        client.send("Input.synthesizeScrollGesture", gesture)


def search(page: Page) -> None:
    """A name, key by key, and taken back again."""
    for key in (*SEARCH, *["Backspace"] * len(SEARCH)):
        page.keyboard.press(key)
        page.wait_for_timeout(PAUSE_MS)


def measured(sizes: Sizes, units: int) -> dict[str, list[Any]]:
    """Times of a list of so many units."""
    workshop = Workshop(units, 4)
    profile: Path = sizes.folder / f"list profile {units}"
    with (
        serving(sizes, f"list {units}", workshop, ENTRIES_EACH * units) as server,
        browsing(profile) as context,
    ):
        page = visit(context, server.address, min(units, 60))
        page.wait_for_function(
            f"() => document.querySelector('#main option')?.textContent.trim().endsWith(', {units}')", timeout=300000
        )
        page.wait_for_timeout(2000)
        context.set_offline(True)
        found: dict[str, list[Any]] = {"listed": [], "scroll": [], "search": []}
        # The first turn fills the browser's own caches, as the first day of use does.
        for turn in range(1 + sizes.rounds // 2):
            seconds = shown_after(page, server.address, units)
            if not turn:
                continue
            found["listed"].append(seconds)
            if units > FEW and turn <= WATCHED_TURNS:
                found["scroll"].append(watched(page, partial(scroll, page)))
                page.evaluate("scrollTo(0, 0)")
                page.get_by_label("Find").focus()
                found["search"].append(watched(page, partial(search, page)))
    return found


def longest(turns: list[tuple[float, float]]) -> tuple[float, float]:
    """Of several turns the middle of their longest tasks, and of their longest waits for a frame."""
    return median(task for task, _ in turns), median(frame for _, frame in turns)


def long_list(sizes: Sizes) -> Iterator[Figure]:
    """The list of 500 units beside one of 40, and how evenly it scrolls and finds."""
    few, many = measured(sizes, FEW), measured(sizes, MANY)
    ratio = median(many["listed"]) / median(few["listed"])
    yield Figure(
        f"{MANY} units listed, offline, CPU slowed {SLOWED}x",
        ms(median(many["listed"])),
        f"{FEW} units: {ms(median(few['listed']))}",
        f"{ratio:.2f}x",
        f"<= {MOST_TIMES}x",
        ratio <= MOST_TIMES,
        f"from the navigation to painted rows, every unit counted; medians of {len(many['listed'])}; "
        f"{ENTRIES_EACH} entries a unit",
    )
    for name, words in (("scroll", "scrolled, and more asked for"), ("search", f"searched for “{SEARCH}”, key by key")):
        task, frame = longest(many[name])
        yield Figure(
            f"list of {MANY} units {words}, CPU slowed {SLOWED}x: longest task",
            ms(task),
            f"longest wait from frame to frame: {ms(frame)}",
            "",
            f"<= {FELT_MS} ms",
            task <= FELT_MS / 1000,
            f"medians of {len(many[name])} turns; a task below 50 ms is not counted by the browser, and shown as 0",
        )
