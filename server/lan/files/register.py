"""The register of a data folder."""

import hmac
import threading
import time
from collections.abc import Callable
from functools import cached_property
from pathlib import Path

from ..pacing import GUESSES_WITHIN_S
from ..register import Device, Feed, hash_token
from .amounts import FolderSentAmounts
from .devices import FolderDevices
from .feeds import FolderFeeds
from .pairing import FolderPairing


class FolderGuesses:
    """Wrong guesses, counted in memory; `clock` tells seconds that never run backwards."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self.clock = clock
        self.lock = threading.Lock()
        self.counting_since = clock()
        self.guesses = 0

    def count(self) -> int:
        """Count a wrong guess; returns how many there were lately."""
        with self.lock:
            now = self.clock()
            if now - self.counting_since >= GUESSES_WITHIN_S:
                self.counting_since, self.guesses = now, 0
            self.guesses += 1
            return self.guesses


class FolderRegister:
    """Who may come into the workshop of a folder; a file is read when it is first asked for."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.pairing = FolderPairing()
        self.amounts = FolderSentAmounts()

    @cached_property
    def devices(self) -> FolderDevices:
        """Its devices."""
        return FolderDevices(self.folder)

    @cached_property
    def feeds(self) -> FolderFeeds:
        """Its calendars."""
        return FolderFeeds(self.folder)


class FolderRegisters:
    """The one register of a data folder.

    Parameters
    ----------
    folder : Path
        The data folder's `lan`.
    """

    def __init__(self, folder: Path) -> None:
        self.register = FolderRegister(folder)
        self.guesses = FolderGuesses()

    def register_of(self, workshop: int | None) -> FolderRegister:
        """The register."""
        assert workshop is None, "A folder holds one workshop."
        return self.register

    def find_device(self, token: str) -> tuple[None, Device] | None:
        """The device with this token, also if it was shut out; None if there is none."""
        token_sha256 = hash_token(token)
        match = None
        # Every device is compared, so that the time taken gives nothing away.
        for device in self.register.devices.by_id.values():
            if hmac.compare_digest(device.token_sha256, token_sha256):
                match = device
        return None if match is None else (None, match)

    def find_feed(self, secret: str) -> tuple[None, Feed] | None:
        """The address with this secret part; None if there is none or it was withdrawn."""
        token_sha256 = hash_token(secret)
        match = None
        # As with devices.
        for feed in self.register.feeds.by_id.values():
            if hmac.compare_digest(feed.token_sha256, token_sha256) and not feed.withdrawn:
                match = feed
        return None if match is None else (None, match)

    def find_workshop(self, code: str) -> None:
        """The one workshop, whatever the code."""
