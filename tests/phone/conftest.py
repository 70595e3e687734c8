"""A real server and a real browser for the phone tests."""

import os
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Self

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, expect, sync_playwright

from tests import browsers

from .hands import PHONE as PHONE
from .hands import Hands, hands_in

# What comes in a tenth of a second here may take seconds on a busy machine; waiting costs nothing where it comes.
PATIENCE_MS = 30000
expect.set_options(timeout=PATIENCE_MS)


def free_port() -> int:
    """A port that nothing listens on.

    The server could choose one itself, but a port that it chose cannot be had again at once after a stop.
    """
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


class RunningServer:
    """`slipbook serve` in a process of its own, which can be stopped and started again on the same port."""

    def __init__(
        self, folder: Path, command: str = "serve", tree: Path | None = None, program: Path | None = None
    ) -> None:
        self.folder = folder
        self.command = command
        # `slipbook` where it is installed; without it, the one of this tree.
        self.program = [str(program)] if program else [sys.executable, "-m", "server.cli"]
        # Where the program itself is, if not here.
        self.tree = tree
        self.port = free_port()
        self.process: subprocess.Popen[str] | None = None

    def start(self) -> None:
        """Start it and wait until it has said its address."""
        order = [
            *self.program,
            self.command,
            "--folder",
            str(self.folder),
            "--port",
            str(self.port),
        ]
        self.process = subprocess.Popen(
            order,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            cwd=self.tree,
            env={**os.environ, "PYTHONUNBUFFERED": "1", **({"PYTHONPATH": str(self.tree)} if self.tree else {})},
        )
        assert self.process.stdout is not None
        said = []
        for line in self.process.stdout:
            said.append(line)
            if self.address in line:
                return
        raise AssertionError(f"the server did not start: {''.join(said)}")

    def stop(self) -> None:
        """Stop it for good; nothing listens on its port afterwards."""
        if self.process is not None:
            self.process.send_signal(signal.SIGTERM)
            self.process.wait(timeout=20)
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


@pytest.fixture
def demo(tmp_path: Path) -> Iterator[RunningServer]:
    """The demo, running over a fresh copy."""
    with RunningServer(tmp_path / "log", "demo") as server:
        # Started again it has to serve what is there, not a fresh copy.
        server.command = "serve"
        yield server


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """The one Playwright of all tests: a second one in the same thread would be refused."""
    with sync_playwright() as found:
        yield found


@pytest.fixture(scope="session")
def chromium(playwright: Playwright) -> Iterator[Browser]:
    """One Chromium for all tests."""
    browser = playwright.chromium.launch(executable_path=browsers.find(), args=browsers.ARGUMENTS)
    yield browser
    browser.close()


def open_phone(browser: Browser, **more: object) -> BrowserContext:
    """A phone: small, touched, with storage of its own."""
    return browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True, **more)  # type: ignore[arg-type]


@pytest.fixture
def phone(chromium: Browser) -> Iterator[Page]:
    """A page on a phone; an error in the page fails the test."""
    context = open_phone(chromium)
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    yield page
    context.close()
    assert errors == []


@pytest.fixture(params=["thumbs", "keyboard"])
def hands(request: pytest.FixtureRequest, chromium: Browser) -> Iterator[Hands]:
    """Thumbs on a phone, then a keyboard at the bench; an error in the page fails the test."""
    context, found = hands_in(chromium, request.param)
    errors: list[str] = []
    found.page.on("pageerror", lambda error: errors.append(str(error)))
    yield found
    context.close()
    assert errors == []


DRAFTS = """text => new Promise((resolve) => {
    const open = indexedDB.open("slipbook");
    open.onsuccess = () => {
        const all = open.result.transaction("drafts").objectStore("drafts").getAll();
        all.onsuccess = () => { open.result.close(); resolve(JSON.stringify(all.result).includes(text)); };
    };
})"""


def until(page: Page, asked: str, argument: object = None) -> None:
    """Wait until the page answers yes, where it has to wait for the answer itself.

    Playwright's own `wait_for_function` takes the promise of an answer for a yes.
    """
    for _ in range(PATIENCE_MS // 50):
        if page.evaluate(asked, argument):
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"never true, with {argument!r}: {asked}")


def draft_is_kept(page: Page, text: str) -> None:
    """Wait until a draft on the phone holds what was typed: a keystroke counts once it is stored."""
    until(page, DRAFTS, text)
