"""Finds the browser for the phone tests, or fails if there is none."""

import contextlib
import os
import shutil
import subprocess
import tempfile
from pathlib import Path

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
VARIABLE = "SLIPBOOK_CHROMIUM"

# The same browser without its windows, menus and profiles: it shows the same pages for three quarters of the work.
LIGHT_NAMES = ("chromium-headless-shell", "chrome-headless-shell", "headless_shell")
LIGHT_VARIABLE = "SLIPBOOK_HEADLESS"

# The first two let a browser run as root in a container; the others keep it from asking its maker's hosts.
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


class NoBrowserError(RuntimeError):
    """This machine has no browser, and none can be installed."""


def find_installed() -> Path | None:
    """An installed Chromium: the one named in the environment, one on PATH, or Playwright's."""
    named_browser = os.environ.get(VARIABLE)
    if named_browser:
        if not Path(named_browser).is_file():
            raise NoBrowserError(f"{VARIABLE} names {named_browser}, and there is no such file.")
        return Path(named_browser)
    for name in NAMES:
        program = shutil.which(name)
        if program:
            return Path(program)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = Path(playwright.chromium.executable_path)
    return browser if browser.is_file() else None


def apt_install(*packages: str) -> None:
    """Install Debian packages, as root; other processes of ours wait for their turn."""
    import fcntl  # This system has it if it has apt.

    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    install = ["apt-get", "install", "-y", "-qq", *packages]
    with open(Path(tempfile.gettempdir(), "slipbook-tests-apt.lock"), "w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        subprocess.run(["apt-get", "update", "-qq"], check=True, env=environment)
        subprocess.run(install, check=True, env=environment, stdout=subprocess.DEVNULL)


def may_install() -> bool:
    """Whether this system has Debian's packages, and we are root."""
    return shutil.which("apt-get") is not None and os.geteuid() == 0


def find() -> Path:
    """A Chromium, which is installed if necessary.

    Raises
    ------
    NoBrowserError
        There is none, and none can be installed.
    """
    browser = find_installed()
    if browser is None and may_install():
        apt_install("chromium")
        browser = find_installed()
    if browser is None:
        raise NoBrowserError(
            "The phone tests need a Chromium: install one, name it in "
            f"{VARIABLE}, or run 'playwright install chromium'. Without it nothing is tested."
        )
    return browser


def find_light(install: bool = False) -> Path:
    """A Chromium that has no windows, or else the one that `find` finds; a browser that is named is taken for both.

    Parameters
    ----------
    install : bool
        Whether to install one where that can be done.

    Raises
    ------
    NoBrowserError
        There is none of either kind, and none can be installed.
    """
    for variable in (LIGHT_VARIABLE, VARIABLE):
        if browser := os.environ.get(variable):
            if not Path(browser).is_file():
                raise NoBrowserError(f"{variable} names {browser}, and there is no such file.")
            return Path(browser)
    program = next(filter(None, map(shutil.which, LIGHT_NAMES)), None)
    if program is None and install and may_install():
        # Not every system has a package of this name, and tests do without.
        with contextlib.suppress(subprocess.CalledProcessError):
            apt_install(LIGHT_NAMES[0])
            program = shutil.which(LIGHT_NAMES[0])
    return Path(program) if program else find()
