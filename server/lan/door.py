"""All that one running Slipbook needs to let devices in."""

import logging
from collections.abc import Callable
from logging.handlers import RotatingFileHandler
from pathlib import Path
from urllib.parse import urlsplit

from .addresses import Addresses, find_addresses
from .announcing import Announcer, OwnName
from .authority import Credentials
from .devices import Devices
from .pacing import Pacing
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
    announce : bool
        Whether phones shall find it by a name of its own.

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

    def __init__(
        self, data_folder: Path, look: Callable[[], Addresses] = find_addresses, announce: bool = False
    ) -> None:
        folder = data_folder / FOLDER
        self.own = OwnName(folder) if announce else None
        self.announcer: Announcer | None = None
        self.look = look
        self.credentials = Credentials(folder, self.addresses)
        self.devices = Devices(folder)
        self.pairing = Pairing()
        self.pacing = Pacing()
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

    def addresses(self) -> Addresses:
        """The names and addresses that this PC has now, its own name for phones among them."""
        found = self.look()
        if self.own is None:
            return found
        return found._replace(names=tuple(dict.fromkeys((self.own.host, *found.names))))

    def announce(self, tell: Callable[[str], None], address: str | None = None) -> None:
        """Begin to tell the network where Slipbook is, once both ports are known; returns at once.

        Parameters
        ----------
        tell : callable
            Takes a sentence for whoever started Slipbook.
        address : str, optional
            The one address that is listened at; by default all are.
        """
        if self.own is None:
            return

        def numbers() -> tuple[str, ...]:
            self.credentials.current()
            return (address,) if address else self.credentials.addresses.numbers

        ports = (self.port, self.welcome_port)
        self.announcer = Announcer(self.own, numbers, ports, self.credentials.renew, tell)
        self.announcer.start()

    def moved(self, addresses: Addresses) -> None:
        """Answer under the addresses of now."""
        self.hosts[:] = addresses.hosts

    def urls(self) -> list[str]:
        """The https addresses for phones; the own name only while it can be looked up."""
        addresses = self.credentials.addresses
        hidden = self.own.host if self.own and not (self.announcer and self.announcer.found_as) else ""
        return addresses._replace(names=tuple(one for one in addresses.names if one != hidden)).urls(self.port)

    def welcome(self) -> str:
        """The address of the welcome page."""
        host = urlsplit(self.urls()[0]).hostname
        return f"http://{host}:{self.welcome_port}/"

    def welcome_by_name(self) -> str:
        """The address of the welcome page by name; empty while phones cannot look the name up."""
        found = self.announcer.found_as if self.announcer else ""
        return f"http://{found}:{self.welcome_port}/" if found else ""

    def close(self) -> None:
        """Take the name back and let the access log go."""
        if self.announcer is not None:
            self.announcer.stop()
        self.access.removeHandler(self.writer)
        self.writer.close()
