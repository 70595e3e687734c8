"""A real server and a real browser for the phone tests."""

import contextlib
import json
import os
import random
import shutil
import signal
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple, Self
from uuid import uuid4

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, expect, sync_playwright
from playwright.sync_api import Error as PlaywrightError

from tests import browsers, hosted
from tests.server import stores
from tests.warm import WarmProcess

from .hands import BENCH, Hands, hands_in
from .hands import PHONE as PHONE
from .slowed import slow_down

# What comes in a tenth of a second here may take seconds on a busy machine; waiting costs nothing where it comes.
PATIENCE_MS = 30000
expect.set_options(timeout=PATIENCE_MS)


# Below what systems give to whoever connects: while a server is stopped, nobody else is given its port. Above 10080,
# the last of the ports to which browsers do not go (WHATWG, Fetch: port blocking).
OWN_PORTS = range(10081, 32000)


def free_port() -> int:
    """A port that nothing listens on.

    The server could choose one itself, but a port that it chose cannot be had again at once after a stop.
    """
    while True:
        port = random.SystemRandom().choice(OWN_PORTS)
        with socket.socket() as probe, contextlib.suppress(OSError):
            probe.bind(("127.0.0.1", port))
            return port


class RunningServer:
    """`slipbook serve` in a process of its own, which can be stopped and started again on the same port.

    Over a database, as all are with SLIPBOOK_TEST_STORE=postgres, it serves the workshop that has the folder's path for
    a name.
    """

    def __init__(
        self, folder: Path, command: str = "serve", tree: Path | None = None, program: Path | None = None
    ) -> None:
        self.folder = folder
        self.over_database = stores.over_postgres()
        self.command = command
        # `slipbook` where it is installed; without it, the one of this tree.
        self.program = program
        # Where the program itself is, if not here.
        self.tree = tree
        self.port = free_port()
        self.process: subprocess.Popen[str] | WarmProcess | None = None

    def start(self) -> None:
        """Start it and wait until it has said its address."""
        arguments = [self.command, "--folder", str(self.folder), "--port", str(self.port)]
        if self.program or self.tree:
            self.process = subprocess.Popen(
                [*([str(self.program)] if self.program else [sys.executable, "-m", "server.cli"]), *arguments],
                stdout=subprocess.PIPE,
                stderr=subprocess.STDOUT,
                text=True,
                cwd=self.tree,
                env={**os.environ, "PYTHONUNBUFFERED": "1", **({"PYTHONPATH": str(self.tree)} if self.tree else {})},
            )
        elif self.over_database:
            database = stores.shared()
            number = database.workshop(str(self.folder), is_demo=self.command == "demo")
            self.process = WarmProcess([self.command, database.url, str(number), str(self.port)], program=hosted.main)
        else:
            self.process = WarmProcess(arguments)
        assert self.process.stdout is not None
        lines = []
        for line in self.process.stdout:
            lines.append(line)
            if self.address in line:
                return
        raise AssertionError(f"the server did not start: {''.join(lines)}")

    def stop(self) -> None:
        """Stop it for good; nothing listens on its port afterwards."""
        if self.process is not None:
            self.process.send_signal(signal.SIGTERM)
            self.process.wait(timeout=2 * PATIENCE_MS / 1000)
            assert self.process.stdout is not None
            self.process.stdout.close()
            self.process = None

    def __enter__(self) -> Self:
        self.start()
        return self

    def __exit__(self, *_: object) -> None:
        self.stop()

    @property
    def address(self) -> str:
        """Where it is."""
        return f"http://127.0.0.1:{self.port}"


class ReadDemo(NamedTuple):
    """A log with the demo in it, and what a phone keeps that has read it from a server, as its browser writes it."""

    folder: Path
    address: str
    device: str
    kept: str

    def kept_from(self, address: str) -> Any:
        """What another phone would keep that has read it from a server at this address."""
        return json.loads(self.kept.replace(self.address, address).replace(self.device, str(uuid4())))


@pytest.fixture(scope="session")
def read_demo(chromium: Browser, tmp_path_factory: pytest.TempPathFactory) -> Callable[[], ReadDemo]:
    """Gives the demo as a phone has read it: made once, and anew after midnight, since its entries count their days."""
    made: dict[date, ReadDemo] = {}

    def of_today() -> ReadDemo:
        today = date.today()
        if today not in made:
            folder = tmp_path_factory.mktemp("demo") / "log"
            with RunningServer(folder, "demo") as server, open_phone(chromium) as context:
                context.add_init_script(NEVER_KEPT)
                page = context.new_page()
                page.goto(server.address)
                expect(page.get_by_role("link", name="up to date")).to_be_visible()
                until(page, EACH_IS_JUDGED)
                device = page.evaluate("async () => (await slipbook.part('log/store.js')).deviceId()")
                kept = json.dumps(context.storage_state(indexed_db=True))
                made[today] = ReadDemo(folder, server.address, device, kept)
        return made[today]

    return of_today


def knows_the_demo(request: pytest.FixtureRequest) -> bool:
    """Whether a test says that its phone does; over a database each test has a demo of its own."""
    return bool(request.node.get_closest_marker("knows_the_demo")) and not stores.over_postgres()


@pytest.fixture
def demo(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[RunningServer]:
    """The demo, running over a fresh copy."""
    folder, command = tmp_path / "log", "demo"
    if knows_the_demo(request):
        shutil.copytree(request.getfixturevalue("read_demo")().folder, folder)
        command = "serve"
    with RunningServer(folder, command) as server:
        # Started again it has to serve what is there, not a fresh copy.
        server.command = "serve"
        yield server


@pytest.fixture(scope="session")
def playwright(pytestconfig: pytest.Config) -> Iterator[Playwright]:
    """The one Playwright of all tests: a second one in the same thread would be refused."""
    rate = pytestconfig.getoption("--slowed")
    if rate != 1:
        slow_down(rate)
    with sync_playwright() as running:
        yield running


@pytest.fixture(scope="session")
def chromium(playwright: Playwright) -> Iterator[Browser]:
    """One Chromium for all tests but those that need profiles of their own, or trust a certificate."""
    browser = playwright.chromium.launch(executable_path=browsers.find_light(), args=browsers.ARGUMENTS)
    yield browser
    browser.close()


# As long as a browser has not finished with it, nothing is kept on the phone, and nothing else is different.
NEVER_KEPT = "if (navigator.serviceWorker) navigator.serviceWorker.register = () => new Promise(() => {});"


def keep_or_not(context: BrowserContext, request: pytest.FixtureRequest) -> None:
    """Spare tests that say they are `in_reach` of the workshop the keeping of the whole app, half of a phone's work."""
    if request.node.get_closest_marker("in_reach"):
        context.add_init_script(NEVER_KEPT)


def what_is_known(request: pytest.FixtureRequest) -> dict[str, Any]:
    """What a new context is given to begin with: nothing, or the demo as a phone keeps that has read it."""
    if not knows_the_demo(request) or "demo" not in request.fixturenames:
        return {}
    address = request.getfixturevalue("demo").address
    return {"storage_state": request.getfixturevalue("read_demo")().kept_from(address)}


def open_phone(browser: Browser, **more: object) -> BrowserContext:
    """A phone: small, touched, with storage of its own."""
    return browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True, **more)  # type: ignore[arg-type]


def without_errors(context: BrowserContext, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A page for one test; an error in the page fails the test."""
    keep_or_not(context, request)
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    yield page
    context.close()
    assert errors == []


@pytest.fixture
def phone(request: pytest.FixtureRequest, chromium: Browser) -> Iterator[Page]:
    """A page on a phone; an error in the page fails the test."""
    yield from without_errors(open_phone(chromium, **what_is_known(request)), request)


@pytest.fixture
def bench(request: pytest.FixtureRequest, chromium: Browser) -> Iterator[Page]:
    """A page on a PC's screen; an error in the page fails the test."""
    # The app's own policy would keep out what measures.
    context = chromium.new_context(viewport=BENCH, bypass_csp=True, **what_is_known(request))  # type: ignore[arg-type]
    yield from without_errors(context, request)


@pytest.fixture(params=["thumbs", "keyboard"])
def hands(request: pytest.FixtureRequest, chromium: Browser) -> Iterator[Hands]:
    """Thumbs on a phone, then a keyboard at the bench; an error in the page fails the test."""
    context, opened = hands_in(chromium, request.param, **what_is_known(request))
    keep_or_not(context, request)
    errors: list[str] = []
    opened.page.on("pageerror", lambda error: errors.append(str(error)))
    yield opened
    context.close()
    assert errors == []


# What stands is worked out for each unit, and for the kit, once the page has time.
EACH_IS_JUDGED = """() => new Promise((resolve) => {
    const open = indexedDB.open("slipbook");
    open.onsuccess = () => {
        const stores = open.result.transaction(["standings", "listed"]);
        const standings = stores.objectStore("standings").count();
        const units = stores.objectStore("listed").getAll();
        units.onsuccess = () => {
            open.result.close();
            resolve(units.result.every(({ day }) => day) && standings.result === units.result.length + 1);
        };
    };
})"""


DRAFTS = """text => new Promise((resolve) => {
    const open = indexedDB.open("slipbook");
    open.onsuccess = () => {
        const all = open.result.transaction("drafts").objectStore("drafts").getAll();
        all.onsuccess = () => { open.result.close(); resolve(JSON.stringify(all.result).includes(text)); };
    };
})"""


def until(page: Page, condition: str, argument: object = None) -> None:
    """Wait until the page answers yes, where it has to wait for the answer itself.

    Playwright's own `wait_for_function` takes the promise of an answer for a yes.
    """
    for _ in range(PATIENCE_MS // 50):
        try:
            if page.evaluate(condition, argument):
                return
        except PlaywrightError as failure:
            # A page that opens another log's book starts anew, perhaps while it is being asked.
            if "context was destroyed" not in str(failure):
                raise
        page.wait_for_timeout(50)
    raise AssertionError(f"never true, with {argument!r}: {condition}")


def becomes(page: Page, is_so: Callable[[], bool]) -> bool:
    """Whether something outside the page is so in time, as what the log's files hold; meanwhile the page goes on."""
    for _ in range(PATIENCE_MS // 50):
        if is_so():
            return True
        page.wait_for_timeout(50)
    return is_so()


def draft_is_kept(page: Page, text: str) -> None:
    """Wait until a draft on the phone holds what was typed: a keystroke counts once it is stored."""
    until(page, DRAFTS, text)
