"""Finds the browser for the phone tests, or fails if there is none."""

import os
import shutil
import subprocess
from pathlib import Path

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
VARIABLE = "SLIPBOOK_CHROMIUM"

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
    named = os.environ.get(VARIABLE)
    if named:
        if not Path(named).is_file():
            raise NoBrowserError(f"{VARIABLE} names {named}, and there is no such file.")
        return Path(named)
    for name in NAMES:
        program = shutil.which(name)
        if program:
            return Path(program)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = Path(playwright.chromium.executable_path)
    return browser if browser.is_file() else None


def apt_install(*packages: str) -> None:
    """Install Debian packages, as root."""
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    install = ["apt-get", "install", "-y", "-qq", *packages]
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
