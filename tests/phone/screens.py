"""Every screen by the app's own list, in every state that a phone can be in; each state is a walk along the links."""

import contextlib
import json
import re
import urllib.request
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from playwright.sync_api import Browser, Page, expect

from server.engine import calc

from .conftest import NEVER_KEPT, RunningServer
from .hands import IN_PAGE, PHONE
from .test_pairing import Workshop, pair, write_note
from .test_story import UNIT, ready, ready_offline

APP = Path(__file__).resolve().parents[2] / "webui" / "app.js"
# Numbers of units and entries, the words of a page of words, and the field to which a definition opens.
MANY = re.compile(r"[0-9a-f]{8}-[0-9a-f-]{27}|(?<=^/help/words/).+|(?<=/change/at/).+")
# Alike in every state of the phone.
LESSONS = re.compile(r"^/help/.")
# Where a unit begins, to which the list of units leads.
NEW_UNIT = ("/unit/new", "/unit/start")
# What only the server knows of an entry.
OF_THE_SERVER = ("seq", "received", "judged", "agrees", "clock_off_s")


@dataclass(frozen=True)
class Stop:
    """A screen that is open and at rest."""

    state: str
    path: str
    page: Page


def routes() -> list[re.Pattern[str]]:
    """The addresses of the app's own list."""
    [table] = re.findall(r"const ROUTES = \[(.*?)^\];", APP.read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE)
    written = re.findall(r"^\s*\[/(\^.*?\$)/,", table, re.MULTILINE)
    assert len(written) == table.count("import("), "a route is written otherwise than this reads it"
    return [re.compile(address.replace(r"\/", "/")) for address in written]


def form(path: str) -> str:
    """What is alike of the many addresses of one screen."""
    return MANY.sub("*", path)


@contextlib.contextmanager
def opened(browser: Browser, address: str, in_reach: bool = False, **more: Any) -> Iterator[Page]:
    """A phone that brings the measures along; an error in the page fails whoever uses it."""
    context = browser.new_context(
        viewport=PHONE,  # type: ignore[arg-type]
        has_touch=True,
        is_mobile=True,
        bypass_csp=True,  # the app's own policy would keep the measures out
        reduced_motion="reduce",
        **more,
    )
    context.add_init_script(path=IN_PAGE)
    if in_reach:
        context.add_init_script(NEVER_KEPT)
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(address)
    yield page
    context.close()
    assert errors == []


def go(page: Page, path: str) -> None:
    """Open a screen within the app and wait until nothing changes on it any more."""
    page.evaluate("path => inPage.go(path)", path)


def walk(page: Page, state: str, seeds: list[str], lessons: bool = False, within: str = "") -> Iterator[Stop]:
    """Every screen that links lead to from here, without leaving `within`; of the many addresses of one the first."""
    waiting = list(dict.fromkeys(seeds))
    known = {form(path) for path in waiting}
    while waiting:
        path = waiting.pop(0)
        go(page, path)
        yield Stop(state, path, page)
        for link in page.evaluate("[...document.querySelectorAll('a[href^=\"#/\"]')].map((one) => one.hash.slice(1))"):
            if form(link) not in known and link.startswith(within) and (lessons or not LESSONS.match(link)):
                known.add(form(link))
                waiting.append(link)


def of_log(address: str) -> list[dict[str, Any]]:
    """Every entry of a server's log, oldest first: what came at once may be numbered in any order."""
    with urllib.request.urlopen(f"{address}/api/log?most=500") as answer:
        entries: list[dict[str, Any]] = json.load(answer)["entries"]
    return sorted(entries, key=lambda entry: (datetime.fromisoformat(entry["at"]), entry["id"]))


def put(address: str, entries: list[dict[str, Any]]) -> None:
    """Put entries into a server's log."""
    body = json.dumps({"entries": entries}).encode()
    order = urllib.request.Request(f"{address}/api/log", body, {"Content-Type": "application/json"})
    with urllib.request.urlopen(order) as answer:
        assert [row["answer"] for row in json.load(answer)["answers"]] == ["stored"] * len(entries)


def unit_path(address: str) -> str:
    [unit] = {entry["unit"] for entry in of_log(address) if entry["kind"] == "unit" and entry["body"]["name"] == UNIT}
    return f"/unit/{unit}"


def pattern_in(address: str) -> str:
    """The id of a pattern in a server's log, put there where it has none."""
    known: list[str] = [entry["id"] for entry in of_log(address) if entry["kind"] == "pattern"]
    if known:
        return known[0]
    fresh = "0190c5de-0000-7000-8000-0000000000a1"
    body: dict[str, Any] = {"name": "Hillclimb axle", "service": {"low_nm": 45}}
    written: dict[str, Any] = {"id": fresh, "kind": "pattern", "unit": "", "body": body, "shown": calc("pattern", body)}
    written |= {"at": "2026-03-01T09:00:00Z", "who": "Jo", "device": str(UUID(int=7)), "version": 1, "engine": "1.28"}
    put(address, [written])
    return fresh


def in_use(browser: Browser, demo: str, folder: Path, lessons: bool = True, more: Sequence[str] = ()) -> Iterator[Stop]:
    """A season of the demo, and one entry of each kind; without all lessons perhaps, and with more addresses."""
    unit = unit_path(demo)
    entries = {entry["kind"]: f"/unit/{entry['unit']}/entry/{entry['id']}" for entry in of_log(demo) if entry["unit"]}
    pattern = pattern_in(demo)
    with opened(browser, demo) as page:
        ready_offline(page)
        # The last are opened from the phone's home screen and by other apps, by labels, and a pattern from the outbox.
        labels = ["/shelf/bag/F%202.50", "/kit/tool/gone"]
        seeds = [
            "/",
            unit,
            *labels,
            *entries.values(),
            "/pair/ABCD-EFGH",
            "/check",
            "/shared",
            f"/pattern/{pattern}",
            *more,
        ]
        yield from walk(page, "in use", seeds, lessons)


def empty(browser: Browser, demo: str, folder: Path) -> Iterator[Stop]:
    """Nothing in the book, then one unit that is defined and no more, then one that is defined in part."""
    [unit] = [entry for entry in of_log(demo) if entry["kind"] == "unit" and entry["body"]["name"] == UNIT]
    with RunningServer(folder / "empty") as server:
        with opened(browser, server.address) as page:
            expect(page.get_by_role("link", name="up to date")).to_be_visible()
            yield from walk(page, "empty", ["/", f"/unit/{unit['unit']}"])
        put(server.address, [{name: value for name, value in unit.items() if name not in OF_THE_SERVER}])
        with opened(browser, server.address, in_reach=True) as page:
            ready(page)
            yield from walk(page, "only taken in", [f"/unit/{unit['unit']}", *NEW_UNIT], within="/unit/")
    # The same unit where a name and a torque are all that is known of it.
    known: dict[str, Any] = {"name": UNIT, "service": {"low_nm": 45}}
    with RunningServer(folder / "in part") as server:
        kept = {name: value for name, value in unit.items() if name not in OF_THE_SERVER}
        put(server.address, [kept | {"body": known, "shown": calc("unit", known)}])
        with opened(browser, server.address, in_reach=True) as page:
            ready(page)
            yield from walk(page, "known in part", [f"/unit/{unit['unit']}", *NEW_UNIT], within="/unit/")


def wrong(browser: Browser, demo: str, folder: Path) -> Iterator[Stop]:
    """Nonsense in every field for a number, wherever there is one."""
    unit = unit_path(demo)
    with opened(browser, demo, in_reach=True) as page:
        ready(page)
        for stop in walk(page, "wrong", [unit]):
            if page.evaluate("inPage.spoil()"):
                yield stop


def refused(browser: Browser, demo: str, folder: Path) -> Iterator[Stop]:
    """The workshop refused what was sent."""
    unit = unit_path(demo)
    with opened(browser, demo) as page:
        ready_offline(page)
        page.evaluate(
            """async (unit) => {
                const { write } = await slipbook.part("log/outbox.js");
                const { remember } = await slipbook.part("log/store.js");
                await remember("who", "Jo");
                await write({ unit, kind: "note", body: { text: "" }, shown: { verdict: null } });
                const body = { held: "bench_output_held", steady_nm: { forward: ["a", "2"] }, day: "2026-11-25" };
                await write({ unit, kind: "torque_check", body, shown: { verdict: "go", reason: "", value_nm: 1 } });
            }""",
            unit.removeprefix("/unit/"),
        )
        go(page, "/outbox")
        expect(page.get_by_text("The workshop refused this entry")).to_have_count(2)
        for path in ("/outbox", unit, "/"):
            go(page, path)
            yield Stop("refused", path, page)


def offline(browser: Browser, demo: str, folder: Path) -> Iterator[Stop]:
    """No network, with an entry that waits."""
    unit = unit_path(demo)
    photos = [f"/unit/{entry['unit']}/entry/{entry['id']}" for entry in of_log(demo) if entry["kind"] == "photo"]
    with opened(browser, demo) as page:
        ready_offline(page)
        page.context.set_offline(True)
        write_note(page, "without a network")
        expect(page.get_by_role("link", name="offline, still works")).to_be_visible()
        for path in ("/", unit, f"{unit}/check", f"{unit}/sheet", *photos, "/outbox", "/kit", "/devices", "/pair"):
            go(page, path)
            if path == "/pair":
                page.get_by_label("Code").fill("ABCD-EFGH")
                page.get_by_role("button", name="Pair", exact=True).tap()
                expect(page.get_by_role("alert")).to_be_visible()
            yield Stop("offline", path, page)


def shut_out(browser: Browser, demo: str, folder: Path) -> Iterator[Stop]:
    """Never let in, and let in no more with an entry that waits."""
    from server import demo as invented
    from tests.server.stores import open_log

    with open_log(folder / "lan") as log:
        invented.load(log)
    workshop = Workshop(folder / "lan")
    try:
        with opened(browser, workshop.address, ignore_https_errors=True) as page:
            # Asked from its own PC without a token the workshop lets everybody in.
            page.evaluate(
                """async () => {
                    const { remember } = await slipbook.part("log/store.js");
                    const { deliver } = await slipbook.part("log/delivery.js");
                    await remember("token", "0".repeat(43));
                    await deliver();
                }"""
            )
            expect(page.locator("#bar .state")).to_have_text("not paired")
            for path in ("/", "/outbox", "/devices", "/settings", "/pair"):
                go(page, path)
                yield Stop("not let in", path, page)
            pair(page, workshop, "Jo's phone")
            go(page, "/")
            link = page.get_by_role("link", name=UNIT)
            expect(link).to_be_visible()
            unit = (link.get_attribute("href") or "").removeprefix("#")
            for path in (unit, f"{unit}/rebuild", f"{unit}/close", "/kit"):
                go(page, path)
                yield Stop("trackside", path, page)
            workshop.ask("DELETE", f"/api/devices/{workshop.ask('GET', '/api/devices')['devices'][0]['id']}")
            write_note(page, "while shut out")
            expect(page.locator("#bar .state")).to_have_text("not paired")
            for path in ("/", "/outbox", "/devices", "/settings", "/pair"):
                go(page, path)
                yield Stop("shut out", path, page)
    finally:
        workshop.stop()


State = Callable[[Browser, str, Path], Iterator[Stop]]

STATES: dict[str, State] = {
    "in use": in_use,
    "empty": empty,
    "wrong": wrong,
    "refused": refused,
    "offline": offline,
    "shut out": shut_out,
}
