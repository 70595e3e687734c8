"""The phone's figures, in a browser: cold start offline, key press to verdict, the engine's calls."""

import json
from collections.abc import Iterator
from pathlib import Path
from time import perf_counter
from typing import Any, NamedTuple

from playwright.sync_api import Page

from server.engine import calc, calc_text
from tests.engine.checks import BREAKAWAY
from tests.engine.samples import sample

from .figures import Figure, median, ms, percentile
from .phone import ARRIVAL, BARE, EMPTY, SLOWED, browsing, engine_times, serving, slow, visit
from .sizes import Sizes
from .workshop import Workshop

UNITS, ENTRIES = 40, 1000
PAUSE_MS = 300
# Up to here an answer is felt to come at once: Nielsen, Usability Engineering (1993), after Miller (1968); from memory.
AT_ONCE_S = 0.1
PATIENCE_S = 60
STACK = "classes, measured plates, measured torque"

WATCH = """() => {
    const verdict = () => document.querySelector('section[aria-label="Verdict"]')?.textContent ?? "";
    window.times = [];
    let pressed = 0, before = "";
    addEventListener("keydown", (event) => { pressed = event.timeStamp; before = verdict(); }, true);
    new MutationObserver(() => {
        const start = pressed;
        if (!start || !verdict() || verdict() === before) return;
        pressed = 0;
        requestAnimationFrame(() => {
            const painted = new MessageChannel();
            painted.port1.onmessage = () => window.times.push(performance.now() - start);
            painted.port2.postMessage(null);
        });
    }).observe(document.body, { subtree: true, childList: true, characterData: true });
}"""


# The least that says a verdict of what is typed: one field, the phone's own engine in its worker, and its reason as
# text. The browser paints the digit first, and the verdict with the frame after the engine's answer.
SAY_VERDICT = """async (request) => {
    const said = Object.assign(document.createElement("section"), { ariaLabel: "Verdict", textContent: "-" });
    document.body.append(said);
    const field = document.querySelector("input");
    const engine = new Worker("/engine/worker.js", { type: "module" });
    let asked = 0;
    field.addEventListener("input", () => {
        asked += 1;
        request.steady_nm.forward[1] = Number(field.value);
        engine.postMessage({ id: asked, name: "breakaway", text: JSON.stringify({ calc: "breakaway", request }) });
    });
    await new Promise((resolve) => {
        engine.onmessage = ({ data }) => {
            if (data.text) said.textContent = `${data.id}: ${JSON.parse(data.text).ok?.reason ?? data.text}`;
            resolve();
        };
    });
}"""


class Start(NamedTuple):
    """Seconds until a screen was there and its first words were, and until a bare page and an empty one were."""

    there: float
    words: float
    bare: float
    empty: float


def arrival(profile: Path, address: str, rate: int) -> tuple[float, float]:
    """Seconds from navigation until a page is there, and until its first words were, in a browser just started offline.

    The page says so by itself: whoever asks it takes a share of its time.
    """
    told: list[tuple[float, float]] = []
    with browsing(profile) as context:
        context.set_offline(True)
        page = context.new_page()
        page.expose_function("noteArrival", lambda there, words: told.append((there / 1000, words / 1000)))
        slow(page, rate)
        page.add_init_script(ARRIVAL)
        page.goto(address)
        for _ in range(PATIENCE_S * 20):
            if told:
                return told[0]
            page.wait_for_timeout(50)
    raise RuntimeError(f"{address} did not come within {PATIENCE_S} s")


def cold_start(sizes: Sizes) -> Iterator[Figure]:
    """The Check screen, an empty page and a bare one, in turns, each in a browser of its own, the server stopped."""
    workshop = Workshop(UNITS, 4)
    profile = sizes.folder / "cold profile"
    check = f"/#/unit/{workshop.units[7]}/check"
    with serving(sizes, "cold", workshop, ENTRIES) as server:
        with browsing(profile) as context:
            page = visit(context, server.address, UNITS)
            page.goto(server.address + check)
            page.get_by_label("forward reading 1", exact=True).wait_for()
        server.stop()
        taken: dict[int, list[Start]] = {1: [], SLOWED: []}
        for turn in range(sizes.rounds):
            for rate, times in taken.items():
                there, words = arrival(profile, server.address + check, rate)
                empty, _ = arrival(profile, server.address + EMPTY, rate)
                bare, _ = arrival(profile, f"{server.address}{BARE}#{workshop.units[7]}", rate)
                # The first turns fill the browser's own caches, as the first day of use does.
                if turn > 1:
                    times.append(Start(there, words, bare, empty))
    for rate, times in taken.items():
        yield started(rate, times)


def started(rate: int, starts: list[Start]) -> Figure:
    """The figure of some cold starts at a speed."""
    screen, words, bare, empty = (median(kinds) for kinds in zip(*starts, strict=True))
    ratios = sorted(start.there / start.empty for start in starts)
    ratio = screen / empty
    return Figure(
        f"cold start offline to a usable Check screen, {f'CPU slowed {rate}x' if rate > 1 else 'full speed'}",
        ms(screen),
        f"empty page from the same service worker: {ms(empty)}",
        f"{ratio:.2f}x",
        "<= 3x",
        ratio <= 3,
        f"{UNITS} units and {ENTRIES} entries on the phone; medians of {len(starts)}, in turns ({ratios[0]:.2f}x to "
        f"{ratios[-1]:.2f}x), each in a browser just started, that nobody asks while it starts; a bare page that reads "
        f"the unit from the phone's database and shows a field takes {ms(bare)} ({bare / empty:.2f}x), below which no "
        f"screen can come, and Check {screen / bare:.2f} times that; its first words, with nothing read, are painted "
        f"after {ms(words)}; the service worker's own thread cannot be slowed, for any of them",
    )


def ready_to_read(page: Page, address: str) -> None:
    """Fill a check until there is a verdict."""
    page.goto(address)
    # A finger, which leaves no pointer behind on the page.
    page.get_by_label("Bench: one output held").tap()
    page.get_by_label("With what?").select_option(label="Long beam")
    for way, values in (("forward", ("98", "101", "100")), ("reverse", ("99", "102", "100"))):
        for number, value in enumerate(values, 1):
            page.get_by_label(f"{way} reading {number}", exact=True).fill(value)
    page.get_by_role("region", name="Verdict").wait_for()


def press_keys(page: Page, presses: int) -> list[float]:
    """Seconds from each key to what it changed, painted; the field that takes them has the focus."""
    page.evaluate(WATCH)
    for press in range(presses):
        page.keyboard.press("Backspace" if press % 2 == 0 else str(press // 2 % 10))
        # A plain wait: whoever asks the page whether it is done takes its time.
        page.wait_for_timeout(PAUSE_MS)
    times = [float(milliseconds) / 1000 for milliseconds in page.evaluate("() => window.times")]
    if len(times) < presses:
        raise RuntimeError(f"only {len(times)} of {presses} presses led to a verdict within {PAUSE_MS} ms")
    return times


def key_press(sizes: Sizes) -> Iterator[Figure]:
    """From the key that changes a reading to the painted verdict that follows from it."""
    workshop = Workshop(UNITS, 4)
    presses = 20 if sizes.quick else 100
    with (
        serving(sizes, "keys", workshop, ENTRIES) as server,
        browsing(sizes.folder / "keys profile") as context,
    ):
        page = visit(context, server.address, UNITS)
        ready_to_read(page, f"{server.address}/#/unit/{workshop.units[7]}/check")
        engine = median(engine_times(page, "breakaway", BREAKAWAY, presses)[0])
        slow(page)
        page.get_by_label("forward reading 2", exact=True).press("End")
        times = press_keys(page, presses)
        page.goto(f"{server.address}{BARE}#{workshop.units[7]}")
        field = page.get_by_label("forward reading 1", exact=True)
        field.fill("101")
        field.press("End")
        page.evaluate(SAY_VERDICT, BREAKAWAY)
        least = press_keys(page, presses)
    worst, bare = percentile(times, 95), percentile(least, 95)
    # The engine's worker keeps its full speed whatever is asked for, so what it would need more is added.
    longer = (SLOWED - 1) * engine
    whole, floor = worst + longer, bare + longer
    yield Figure(
        f"key press to verdict, CPU slowed {SLOWED}x, 95th percentile",
        ms(whole),
        f"a bare page that says the engine's verdict: {ms(floor)}",
        f"{whole / floor:.2f}x",
        "<= 50 ms",
        whole <= 0.050,
        f"of {presses} presses: measured {ms(worst)} (median {ms(median(times))}) with the page slowed, plus "
        f"{SLOWED - 1} times the engine's call of {ms(engine)}, since the browser cannot slow its worker; a bare page "
        f"with one field, which asks the same engine and says its reason, takes {ms(bare)} from key to paint (median "
        f"{ms(median(least))}), two frames as here, and as much more for the engine: below that no verdict can come",
        f"at most {ms(AT_ONCE_S)}, up to which an answer is felt to come at once (Nielsen, Usability Engineering, "
        f"1993, from memory): {'kept' if whole <= AT_ONCE_S else 'missed'}, {whole / floor:.2f} times the bare page",
    )


def here(request: dict[str, Any], count: int) -> list[float]:
    """The same calls in CPython, seconds each."""
    text = json.dumps({"calc": "breakaway", "request": request})
    times = []
    for _ in range(count):
        start = perf_counter()
        calc_text(text)
        times.append(perf_counter() - start)
    return times


def full_shelf() -> dict[str, Any]:
    """The same plan from a shelf with 32 thicknesses, eight plates of each."""
    request = sample("plan", STACK)
    shelf = [
        {"name": f"{part} {mm:.2f}", "part": part, "mm": round(mm, 2), "count": 8}
        for part, middle in (("friction", 2.5), ("separator", 1.5))
        for mm in [middle + 0.02 * step for step in range(-6, 10)]
    ]
    return {**request, "shelf": shelf}


def engine(sizes: Sizes) -> Iterator[Figure]:
    """A verdict and a plan by the phone's engine, and the verdict by the server's."""
    workshop = Workshop(UNITS, 4)
    with (
        serving(sizes, "engine", workshop, ENTRIES) as server,
        browsing(sizes.folder / "engine profile") as context,
    ):
        page = visit(context, server.address, UNITS)
        engine_times(page, "breakaway", BREAKAWAY, 20)
        phone, there = [], []
        for _ in range(sizes.rounds):
            phone.append(median(engine_times(page, "breakaway", BREAKAWAY, 40)[0]))
            there.append(median(here(BREAKAWAY, 40)))
        planned = {
            about: (
                request,
                *engine_times(page, "plan", request, max(3, sizes.rounds // 3)),
                engine_times(page, "plan", {**request, "alternatives": True}, 1)[0][0],
            )
            for about, request in (
                ("11 thicknesses on the shelf", {**sample("plan", STACK), "alternatives": False}),
                ("32 thicknesses on the shelf", {**full_shelf(), "alternatives": False}),
            )
        }
    ratio = median([on_phone / on_server for on_phone, on_server in zip(phone, there, strict=True)])
    middle = median(phone)
    for bar, kept in (("<= 20x", ratio <= 20), ("<= 5 ms", middle <= 0.005)):
        yield Figure(
            "breakaway verdict by the phone's engine",
            ms(middle),
            f"CPython: {ms(median(there))}",
            f"{ratio:.1f}x",
            bar,
            kept,
            f"through the door of the worker, messages included; medians of {len(phone)} turns of 40 calls",
        )
    for about, (request, times, result, further) in planned.items():
        yield plan(about, request, times, result, further)


def plan(about: str, request: dict[str, Any], times: list[float], result: dict[str, Any], further: float) -> Figure:
    """How long the phone planned, and whether its answer is proven and CPython's own."""
    own = calc("plan", request)
    proof, count = result["proof"], int(result["proof"]["arrangements"])
    same = proof == own["proof"] and result["stack"] == own["stack"]
    proven = same and result["possible"] and result["proven"] and count >= 10**9
    return Figure(
        f"plan on the phone, {about}: best of {count:.1e} arrangements",
        ms(median(times)),
        "",
        "",
        "<= 1 s, proven best",
        proven and median(times) <= 1,
        f"median of {len(times)}; {'proven, with' if proven else 'NOT proven, or not'} CPython's own answer; asked as "
        f"the Plan screen asks; with the other ways to the torque, which it works out on demand, {further:.1f} s",
    )
