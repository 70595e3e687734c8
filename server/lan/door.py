"""Everything that a running Slipbook needs to let devices in."""

import logging
from collections.abc import Callable
from logging.handlers import RotatingFileHandler
from pathlib import Path
from typing import Protocol
from urllib.parse import urlsplit

from .addresses import Addresses, find_addresses, host_in_url
from .announcing import Announcer, HostName
from .authority import Credentials
from .files import FolderRegisters
from .pacing import Pacing
from .register import Registers

FOLDER = "lan"
ACCESS_LOG_FILE = "access.log"
ACCESS_LOG_BYTES = 1_000_000


class Doorway(Protocol):
    """What the interface asks of the way in, whoever stands before it."""

    @property
    def registers(self) -> Registers:
        """Who may come in."""

    @property
    def pacing(self) -> Pacing:
        """Delays the answers to guesses."""

    @property
    def hosts(self) -> list[str]:
        """Every host that a request may name."""

    @property
    def lets_this_pc_in(self) -> bool:
        """Whether whoever sits at this machine may do all without a token."""

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the certificate that a phone has to trust first; empty if it trusts it already."""

    def urls(self) -> list[str]:
        """The addresses for phones as far as they are known; the best first."""

    def welcome_url(self) -> str:
        """Where a phone gets the certificate; empty if it needs none."""


class Door:
    """The certificate of a data folder, and who may come in by it over the workshop's network.

    Parameters
    ----------
    data_folder : Path
        The data folder; everything is in its `lan`.
    find : callable
        Finds the names and addresses that this PC has now.
    announce : bool
        Whether phones can find Slipbook by a name of its own.
    registers : Registers, optional
        Who may come in; by default the folder says so.

    Attributes
    ----------
    port, welcome_port : int
        The ports of the application and of the welcome page; set once both listen.
    hosts : list of str
        Every host that a request may name, kept up to date in place.

    Raises
    ------
    LogFault
        What is in the folder cannot be used.
    """

    def __init__(
        self,
        data_folder: Path,
        find: Callable[[], Addresses] = find_addresses,
        announce: bool = False,
        registers: Registers | None = None,
    ) -> None:
        folder = data_folder / FOLDER
        self.host_name = HostName(folder) if announce else None
        self.announcer: Announcer | None = None
        self.find = find
        self.credentials = Credentials(folder, self.find_names_and_ips)
        self.registers = registers or FolderRegisters(folder)
        self.pacing = Pacing(self.registers.guesses)
        self.lets_this_pc_in = registers is None
        self.port = 0
        self.welcome_port = 0
        self.hosts = self.credentials.addresses.hosts
        self.credentials.address_watchers.append(self.update_hosts)
        self.access_log = logging.getLogger("slipbook.access")
        self.access_log.propagate = False
        self.access_log.setLevel(logging.INFO)
        self.access_log_handler = RotatingFileHandler(
            folder / ACCESS_LOG_FILE, maxBytes=ACCESS_LOG_BYTES, backupCount=3, encoding="utf-8", delay=True
        )
        self.access_log_handler.setFormatter(logging.Formatter("%(asctime)s %(message)s"))
        self.access_log.addHandler(self.access_log_handler)

    def find_names_and_ips(self) -> Addresses:
        """The names and addresses that this PC has now, with Slipbook's own name first."""
        addresses = self.find()
        if self.host_name is None:
            return addresses
        return addresses._replace(names=tuple(dict.fromkeys((self.host_name.host, *addresses.names))))

    def announce(self, tell: Callable[[str], None], address: str | None = None) -> None:
        """Begin to announce on the network where Slipbook is, once both ports are known; returns at once.

        Parameters
        ----------
        tell : callable
            Takes a sentence for the person who started Slipbook.
        address : str, optional
            The only address at which Slipbook listens; by default it listens at all.
        """
        if self.host_name is None:
            return

        def find_own_ips() -> tuple[str, ...]:
            # Updates the addresses if this PC has moved.
            self.credentials.current_context()
            return (address,) if address else self.credentials.addresses.ips

        ports = (self.port, self.welcome_port)
        self.announcer = Announcer(self.host_name, find_own_ips, ports, self.credentials.renew, tell)
        self.announcer.start()

    def update_hosts(self, addresses: Addresses) -> None:
        """Answer under these addresses from now on."""
        self.hosts[:] = addresses.hosts

    def urls(self) -> list[str]:
        """The https addresses for phones; Slipbook's own name is among them only while it can be looked up."""
        addresses = self.credentials.addresses
        is_announced = self.announcer is not None and self.announcer.announced_host
        hidden_host = self.host_name.host if self.host_name and not is_announced else ""
        return addresses._replace(names=tuple(name for name in addresses.names if name != hidden_host)).urls(self.port)

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the authority's certificate."""
        return self.credentials.authority.fingerprint

    def welcome_url(self) -> str:
        """The address of the welcome page."""
        host = urlsplit(self.urls()[0]).hostname or ""
        return f"http://{host_in_url(host)}:{self.welcome_port}/"

    def welcome_url_by_name(self) -> str:
        """The address of the welcome page by name; empty while phones cannot look the name up."""
        host = self.announcer.announced_host if self.announcer else ""
        return f"http://{host}:{self.welcome_port}/" if host else ""

    def close(self) -> None:
        """Withdraw the name and close the access log."""
        if self.announcer is not None:
            self.announcer.stop()
        self.access_log.removeHandler(self.access_log_handler)
        self.access_log_handler.close()
