"""A phone for measuring: a browser with a profile that outlives it, and the workshop's server with one page more.

The web files are those of an installed Slipbook, in their built form.
"""

import json
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Page, sync_playwright

from tests import browsers
from tests.phone.conftest import PHONE, RunningServer
from tests.server.processes import ROOT

from .sizes import Sizes
from .workshop import Workshop

SLOWED = 4
EMPTY = "/empty.html"
# The least that shows what the phone keeps: asks the database, as the app does, then has a field.
BARE = "/bare.html"
BARE_PAGE = '<!doctype html><title>Bare</title><body><script src="/bare.js"></script></body>\n'
BARE_SCRIPT = """
const answer = (asked) => new Promise((resolve, reject) => {
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
});
const read = (book, store, key) => answer(book.transaction(store).objectStore(store).get(key));
(async () => {
    const logs = await answer(indexedDB.open("slipbook-logs"));
    const { database } = await read(logs, "logs", await read(logs, "facts", "current"));
    const book = await answer(indexedDB.open(database));
    const { standing } = await read(book, "standings", location.hash.slice(1));
    document.body.append(Object.assign(document.createElement("h1"), { textContent: standing.unit.name }));
    document.body.append(Object.assign(document.createElement("input"), { ariaLabel: "forward reading 1" }));
})();
"""

# All pages say for themselves when they are there: painted, counted from the start of their navigation.
ARRIVAL = """
(() => {
    const wanted = () => location.pathname === "/empty.html"
        ? document.readyState !== "loading"
        : [...document.querySelectorAll("input")].some((one) => one.ariaLabel === "forward reading 1" && !one.disabled);
    const look = () => {
        if (!wanted()) return false;
        requestAnimationFrame(() => requestAnimationFrame(() => {
            const [painted] = performance.getEntriesByName("first-contentful-paint");
            window.noteArrival(performance.now(), painted?.startTime ?? 0);
        }));
        return true;
    };
    const observer = new MutationObserver(() => look() && observer.disconnect());
    observer.observe(document, { subtree: true, childList: true });
    document.addEventListener("DOMContentLoaded", look);
})();
"""


class ServerOfPages(RunningServer):
    """The workshop's server, which serves some pages more beside its web files.

    Parameters
    ----------
    folder, web : Path
        The log's folder, and that of the web files, which is copied beside it.
    pages : dict of str
        What is served besides, by address.
    """

    def __init__(self, folder: Path, web: Path, pages: dict[str, str]) -> None:
        super().__init__(folder)
        self.web = folder.with_name("web")
        shutil.copytree(web, self.web)
        for address, text in pages.items():
            self.web.joinpath(address[1:]).write_text(text)

    def start(self) -> None:
        """Start it and wait until it has said its address."""
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tests.bench.served", "app", str(self.folder), str(self.web), str(self.port)],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self.process.stdout is not None
        if not self.process.stdout.readline():
            raise RuntimeError("the server did not start")


class ShopServer(ServerOfPages):
    """The workshop's server, which serves an empty page and a bare one as well."""

    def __init__(self, folder: Path, workshop: Workshop, entries: int, web: Path) -> None:
        pages = {EMPTY: "<!doctype html><title>Empty</title>\n", BARE: BARE_PAGE, "/bare.js": BARE_SCRIPT}
        super().__init__(folder / "log", web, pages)
        workshop.write(self.folder, entries)


@contextmanager
def serving(sizes: Sizes, name: str, workshop: Workshop, entries: int) -> Iterator[ShopServer]:
    """The workshop's server, running, in a folder of this name."""
    server = ShopServer(sizes.folder / name, workshop, entries, sizes.installed().package / "webui")
    server.start()
    try:
        yield server
    finally:
        server.stop()


@contextmanager
def browsing(profile: Path) -> Iterator[BrowserContext]:
    """A browser that starts with what it kept in its profile."""
    with sync_playwright() as playwright:
        context = playwright.chromium.launch_persistent_context(
            profile,
            executable_path=browsers.find(),
            args=browsers.ARGUMENTS,
            viewport=PHONE,  # type: ignore[arg-type]
            has_touch=True,
            is_mobile=True,
        )
        try:
            yield context
        finally:
            context.close()


def visit(context: BrowserContext, address: str, units: int) -> Page:
    """Open the app and wait until it works offline, the whole log is here and every unit was looked through."""
    page = context.new_page()
    page.goto(address)
    page.evaluate("() => navigator.serviceWorker.ready.then(() => null)")
    page.wait_for_function("() => navigator.serviceWorker.controller !== null", timeout=60000)
    page.get_by_role("link", name="up to date").wait_for(timeout=120000)
    listed = f"""() => document.querySelectorAll('a[href^="#/unit/0"]').length >= {units}"""
    page.wait_for_function(listed, timeout=60000)
    return page


def slow(page: Page, rate: int = SLOWED) -> None:
    """Slow the page's own thread down; workers cannot be slowed so."""
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": rate})


def engine_times(page: Page, name: str, request: dict[str, Any], count: int) -> tuple[list[float], Any]:
    """How long each of some calls of the engine takes through its door, in seconds; and the last result."""
    answered = page.evaluate(
        """async ([name, request, count]) => {
            const { calc } = await slipbook.part("engine/door.js");
            const times = [];
            let result;
            for (let call = 0; call < count; call += 1) {
                const start = performance.now();
                result = await calc(name, request);
                times.push(performance.now() - start);
            }
            return JSON.stringify({ times, result });
        }""",
        [name, request, count],
    )
    measured = json.loads(answered)
    return [milliseconds / 1000 for milliseconds in measured["times"]], measured["result"]
