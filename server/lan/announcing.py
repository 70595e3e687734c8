"""Lets phones find this PC without typing a number: a name and two services by multicast DNS (RFC 6762, RFC 6763).

The name is Slipbook's own: this PC's system may answer for the PC's own name already, and two that answer differently
for one name drive each other from it. It is kept in the data folder, since a phone keeps its outbox by the address that
it knows, and changes only when another machine on the network has it.
"""

import asyncio
import ipaddress
import re
import threading
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from zeroconf import (  # type: ignore[attr-defined]
    AddressResolver,
    DNSAddress,
    DNSOutgoing,
    DNSQuestion,
    Error,
    IPVersion,
    ServiceInfo,
    Zeroconf,
)

from ..log import LogFault
from . import private
from .addresses import LABEL, every_number, host_label

FILE = "name"
FIRST = "slipbook"
DOMAIN = "local"
APP, WELCOME = "_https._tcp.local.", "_http._tcp.local."
# What a question is, an IPv4 address, and the internet (RFC 1035, 4.1.1, 3.2.2 and 3.2.4).
QUERY, IPV4_ADDRESS, INTERNET = 0, 1, 1
# How long an address may be kept, in seconds (RFC 6762, 10).
HOST_TTL_S = 120
# How long answers are waited for after each probe, in seconds. Three probes are a quarter of a second apart (RFC 6762,
# 8.1). The last is for a machine that sent its address just before this PC listened: it may repeat it only a second
# later (RFC 6762, 6).
PROBE_WAITS_S = (0.25, 0.25, 0.75, 0.5)
# With the name its own, this PC has listened all the time: one probe is enough.
HELD_WAITS_S = (1.0,)
# How often it is looked whether this PC has moved to another network, in seconds.
LOOK_S = 30.0
# Announcing takes two seconds; a title that is taken costs some more.
REGISTER_WITHIN_S = 30.0
# How long taking the name back may hold up the stop, in seconds.
PATIENCE_S = 5.0


class OwnName:
    """The label before `.local`, kept in a file.

    Parameters
    ----------
    folder : Path
        The data folder's `lan`, which exists.
    first : str
        The label while there is no file.
    """

    def __init__(self, folder: Path, first: str = FIRST) -> None:
        self.path = folder / FILE
        self.label = first
        with suppress(OSError, UnicodeError):
            kept = self.path.read_text().strip()
            if LABEL.fullmatch(kept):
                self.label = kept

    @property
    def host(self) -> str:
        """The whole name."""
        return f"{self.label}.{DOMAIN}"

    def next(self) -> None:
        """Take another label, since this one is somebody else's."""
        self.label = following(self.label)
        # Without a place to keep it the next start only has to find it again.
        with suppress(LogFault):
            private.write(self.path, self.label.encode())


def following(label: str) -> str:
    """The label to try after one that is taken.

    >>> following("slipbook"), following("slipbook-9")
    ('slipbook-2', 'slipbook-10')
    """
    found = re.fullmatch(r"(.+)-(\d+)", label)
    return f"{found[1]}-{int(found[2]) + 1}" if found else f"{label}-2"


class Announcer:
    """Says where Slipbook is for as long as it runs, in a thread of its own.

    Parameters
    ----------
    name : OwnName
        The name to be found by.
    numbers : callable
        The addresses to be found at, as they are now.
    ports : tuple of int
        Of the application and of the welcome page.
    renamed : callable
        Called when the name had to change, before it is announced: the certificate has to have it.
    tell : callable
        Takes a sentence for whoever started Slipbook.

    Attributes
    ----------
    found_as : str
        The name that phones can look up now; empty while there is none.
    """

    def __init__(
        self,
        name: OwnName,
        numbers: Callable[[], tuple[str, ...]],
        ports: tuple[int, int],
        renamed: Callable[[], None],
        tell: Callable[[str], None],
    ) -> None:
        self.name = name
        self.numbers = numbers
        self.ports = ports
        self.renamed = renamed
        self.tell = tell
        self.found_as = ""
        self.told = ""
        self.at: tuple[str, ...] = ()
        self.network: Zeroconf | None = None
        self.stops = threading.Event()
        self.thread = threading.Thread(target=self.run, name="announcing", daemon=True)

    def start(self) -> None:
        """Begin, keeping nobody waiting."""
        self.thread.start()

    def stop(self) -> None:
        """Take the name and the services back."""
        self.stops.set()
        if self.thread.ident is not None:
            self.thread.join(PATIENCE_S)

    def run(self) -> None:
        """Announce, and again whenever this PC has moved, until told to stop."""
        while True:
            try:
                self.look()
            except Exception as failure:
                # Whatever it is, everything but the name works on.
                self.withdraw()
                reason = getattr(failure, "strerror", None) or str(failure) or type(failure).__name__
                self.say(f"Phones cannot find this PC by name here ({reason}): use its addresses, or the QR code.")
            if self.stops.wait(LOOK_S):
                break
        self.withdraw()

    def look(self) -> None:
        """Announce what is not announced yet, or no longer true."""
        numbers = self.numbers()
        if self.network is not None and numbers == self.at and not self.must_yield(self.network):
            return
        self.withdraw()
        if not numbers:
            self.say("This PC is on no local network yet, where phones could find it by name.")
            return
        self.at = numbers
        self.network = Zeroconf(interfaces=list(numbers), ip_version=IPVersion.V4Only)
        while self.others(self.network, PROBE_WAITS_S):
            taken = self.name.host
            self.name.next()
            self.renamed()
            self.tell(f"Another machine here is {taken}, so that this PC is {self.name.host} now.")
        if self.stops.is_set():
            return
        if self.network.loop is None:
            raise OSError("no answer")
        asyncio.run_coroutine_threadsafe(self.register(self.network), self.network.loop).result(REGISTER_WITHIN_S)
        self.found_as = self.name.host
        app, welcome = self.ports
        self.say(f"Found by name: https://{self.found_as}:{app}/, for a first visit http://{self.found_as}:{welcome}/")

    async def register(self, network: Zeroconf) -> None:
        """Announce both services side by side, each under a title that nobody else has."""
        asked = (network.async_register_service(one, allow_name_change=True) for one in self.services())
        await asyncio.gather(*await asyncio.gather(*asked))

    def services(self) -> list[ServiceInfo]:
        """What is announced: the application and the welcome page."""
        label = host_label()
        called = f"Slipbook of {label}" if label else "Slipbook"
        return [
            ServiceInfo(
                kind,
                f"{title}.{kind}",
                port=port,
                server=f"{self.name.host}.",
                parsed_addresses=list(self.at),
                properties={"path": "/"},
            )
            for kind, title, port in (
                (APP, called, self.ports[0]),
                (WELCOME, f"{called}, first visit", self.ports[1]),
            )
        ]

    def others(self, network: Zeroconf, waits_s: tuple[float, ...]) -> list[str]:
        """Addresses of other machines that answer to the name.

        Parameters
        ----------
        network : Zeroconf
            The connection to ask over.
        waits_s : tuple of float
            How long answers to each probe are waited for, in seconds; a probe that was answered is the last.

        Returns
        -------
        list of str
            Sorted; empty if nobody answered, or if Slipbook stops.
        """
        own = {*self.at, *every_number(outside_only=False)}
        for wait_s in waits_s:
            network.send(self.probe())
            if self.stops.wait(wait_s):
                break
            heard = AddressResolver(f"{self.name.host}.")
            heard.load_from_cache(network)
            if found := sorted(set(heard.parsed_addresses(IPVersion.V4Only)) - own):
                return found
        return []

    def probe(self) -> DNSOutgoing:
        """The question who has the name, with the addresses that this PC would give it (RFC 6762, 8.1 and 8.2)."""
        host = f"{self.name.host}."
        asked = DNSOutgoing(QUERY)
        # For addresses only: zeroconf, by which another Slipbook answers, gives none when it is asked for any record.
        # By multicast: an answer to this PC alone can end at another program that listens here (RFC 6762, 15.1).
        asked.add_question(DNSQuestion(host, IPV4_ADDRESS, INTERNET))
        for number in self.at:
            offered = DNSAddress(host, IPV4_ADDRESS, INTERNET, HOST_TTL_S, ipaddress.ip_address(number).packed)
            # Zeroconf's own probes are for services: what it has to add to them takes no addresses.
            asked.authorities.append(offered)  # type: ignore[arg-type]
        return asked

    def must_yield(self, network: Zeroconf) -> bool:
        """Whether another machine took the same name at the same moment, and it is for this one to take another."""
        others = self.others(network, HELD_WAITS_S)
        # Of two the greater keeps it, as when both ask at once (RFC 6762, 8.2).
        return bool(others) and max(others) > max(self.at)

    def withdraw(self) -> None:
        """Announce nothing, and say goodbye (RFC 6762, 10.1)."""
        self.found_as = ""
        network, self.network, self.at = self.network, None, ()
        if network is not None:
            # Where the network is gone there is nobody to take leave of.
            with suppress(OSError, Error):
                network.unregister_all_services()
            with suppress(OSError, Error):
                network.close()

    def say(self, sentence: str) -> None:
        """Tell something once, until there is something else to tell."""
        if sentence != self.told:
            self.told = sentence
            self.tell(sentence)
