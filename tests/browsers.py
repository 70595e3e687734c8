"""Finds the browser that the phone tests drive, or says loudly that there is none."""

import os
import shutil
import subprocess
from pathlib import Path

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
VARIABLE = "SLIPBOOK_CHROMIUM"

# What a browser in a container, run as root, has to be told; the rest keeps it from looking for its maker's hosts.
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
    """No browser can be had on this machine."""


def installed() -> Path | None:
    """A Chromium that is here already: the one named in the environment, on PATH, or Playwright's own."""
    named = os.environ.get(VARIABLE)
    if named:
        if not Path(named).is_file():
            raise NoBrowserError(f"{VARIABLE} names {named}, and there is no such file.")
        return Path(named)
    for name in NAMES:
        found = shutil.which(name)
        if found:
            return Path(found)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        own = Path(playwright.chromium.executable_path)
    return own if own.is_file() else None


def apt_install(*packages: str) -> None:
    """Install packages of Debian's, as root."""
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    subprocess.run(["apt-get", "update", "-qq"], check=True, env=quiet)
    subprocess.run(["apt-get", "install", "-y", "-qq", *packages], check=True, env=quiet, stdout=subprocess.DEVNULL)


def may_install() -> bool:
    """Whether this is Debian or one of its children, and we are root."""
    return shutil.which("apt-get") is not None and os.geteuid() == 0


def find() -> Path:
    """A Chromium, installed if need be.

    Raises
    ------
    NoBrowserError
        None is here and none can be installed.
    """
    found = installed()
    if found is None and may_install():
        apt_install("chromium")
        found = installed()
    if found is None:
        raise NoBrowserError(
            "The phone tests need a Chromium: install one, name it in "
            f"{VARIABLE}, or run 'playwright install chromium'. Without it nothing is tested."
        )
    return found
