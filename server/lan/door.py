"""All that one running Slipbook needs to let devices in."""

import logging
from collections.abc import Callable
from logging.handlers import RotatingFileHandler
from pathlib import Path
from urllib.parse import urlsplit

from .addresses import Addresses, find_addresses
from .authority import Credentials
from .devices import Devices
from .pairing import Pairing

FOLDER = "lan"
ACCESS = "access.log"
ACCESS_BYTES = 1_000_000


class Door:
    """The certificate, the devices and the pairing of a data folder.

    Parameters
    ----------
    data_folder : Path
        The data folder; everything is in its `lan`.
    look : callable
        Finds the names and addresses that this PC has now.

    Attributes
    ----------
    port, welcome_port : int
        Where phones come to, and where the welcome page is; known once both listen.
    hosts : list of str
        Every host that a request may name, kept up to date in place.

    Raises
    ------
    LogFault
        What is in the folder cannot be used.
    """

    def __init__(self, data_folder: Path, look: Callable[[], Addresses] = find_addresses) -> None:
        folder = data_folder / FOLDER
        self.credentials = Credentials(folder, look)
        self.devices = Devices(folder)
        self.pairing = Pairing()
        self.port = 0
        self.welcome_port = 0
        self.hosts = self.credentials.addresses.hosts
        self.credentials.watchers.append(self.moved)
        self.access = logging.getLogger("slipbook.access")
        self.access.propagate = False
        self.access.setLevel(logging.INFO)
        self.writer = RotatingFileHandler(
            folder / ACCESS, maxBytes=ACCESS_BYTES, backupCount=3, encoding="utf-8", delay=True
        )
        self.writer.setFormatter(logging.Formatter("%(asctime)s %(message)s"))
        self.access.addHandler(self.writer)

    def moved(self, addresses: Addresses) -> None:
        """Answer under the addresses of now."""
        self.hosts[:] = addresses.hosts

    def urls(self) -> list[str]:
        """The https addresses for phones."""
        return self.credentials.addresses.urls(self.port)

    def welcome(self) -> str:
        """The address of the welcome page."""
        host = urlsplit(self.urls()[0]).hostname
        return f"http://{host}:{self.welcome_port}/"

    def close(self) -> None:
        """Let the access log go."""
        self.access.removeHandler(self.writer)
        self.writer.close()
