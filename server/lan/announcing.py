"""Lets phones find this PC without an IP address: a name and two services by multicast DNS (RFC 6762, RFC 6763).

The name is Slipbook's own, because this PC's system may answer for the PC's name already, and of two programs that
answer differently for a name each makes the other give it up. It is kept in the data folder, because a phone keeps its
outbox under the address that it knows; it changes only when another machine on the network has it.
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
from .addresses import HOST_LABEL, find_ips, find_pc_label

NAME_FILE = "name"
DEFAULT_LABEL = "slipbook"
DOMAIN = "local"
HTTPS_SERVICE, HTTP_SERVICE = "_https._tcp.local.", "_http._tcp.local."
# The codes for a query, an IPv4 address and the internet (RFC 1035, 4.1.1, 3.2.2 and 3.2.4), and an IPv6 address (RFC
# 3596, 2.1).
QUERY, IPV4_ADDRESS, INTERNET, IPV6_ADDRESS = 0, 1, 1, 28
# How long others may remember an address, in seconds (RFC 6762, 10).
HOST_TTL_S = 120
# How long to wait for answers after each probe, in seconds. Three probes are a quarter of a second apart (RFC 6762,
# 8.1). The last is for a machine that sent its address just before this PC listened: it may repeat it only a second
# later (RFC 6762, 6).
PROBE_WAITS_S = (0.25, 0.25, 0.75, 0.5)
# A PC that has the name has listened all the time, so one probe is enough.
HELD_WAITS_S = (1.0,)
# How often to check whether this PC has moved to another network, in seconds.
CHECK_EVERY_S = 30.0
# Announcing takes two seconds, and somewhat longer if a title is taken.
REGISTER_WITHIN_S = 30.0
# How long withdrawing the name may delay the stop, in seconds.
WITHDRAW_WITHIN_S = 5.0


class HostName:
    """Slipbook's own name on the network; its label, before `.local`, is kept in a file.

    Parameters
    ----------
    folder : Path
        The data folder's `lan`, which exists.
    default_label : str
        The label while there is no file.
    """

    def __init__(self, folder: Path, default_label: str = DEFAULT_LABEL) -> None:
        self.path = folder / NAME_FILE
        self.label = default_label
        with suppress(OSError, UnicodeError):
            label = self.path.read_text().strip()
            if HOST_LABEL.fullmatch(label):
                self.label = label

    @property
    def host(self) -> str:
        """The whole name."""
        return f"{self.label}.{DOMAIN}"

    def take_next_label(self) -> None:
        """Take another label, because another machine has this one."""
        self.label = number_label(self.label)
        # If it cannot be kept, the next start finds it again in the same way.
        with suppress(LogFault):
            private.write(self.path, self.label.encode())


def number_label(label: str) -> str:
    """The label to try after one that is taken.

    >>> number_label("slipbook"), number_label("slipbook-9")
    ('slipbook-2', 'slipbook-10')
    """
    numbered = re.fullmatch(r"(.+)-(\d+)", label)
    return f"{numbered[1]}-{int(numbered[2]) + 1}" if numbered else f"{label}-2"


class Announcer:
    """Announces where Slipbook is for as long as it runs, in a thread of its own.

    Parameters
    ----------
    name : HostName
        The name to announce.
    find_own_ips : callable
        Finds the IP addresses to announce, as they are now.
    ports : tuple of int
        The ports of the application and of the welcome page.
    on_rename : callable
        Called when the name had to change, before the new name is announced, so that it comes onto the certificate.
    tell : callable
        Takes a sentence for the person who started Slipbook.

    Attributes
    ----------
    announced_host : str
        The name that phones can look up now; empty while there is none.
    """

    def __init__(
        self,
        name: HostName,
        find_own_ips: Callable[[], tuple[str, ...]],
        ports: tuple[int, int],
        on_rename: Callable[[], None],
        tell: Callable[[str], None],
    ) -> None:
        self.name = name
        self.find_own_ips = find_own_ips
        self.ports = ports
        self.on_rename = on_rename
        self.tell = tell
        self.announced_host = ""
        self.last_sentence = ""
        self.ips: tuple[str, ...] = ()
        # The kind of addresses by which this PC speaks and which it compares with those of others.
        self.version = IPVersion.V4Only
        self.network: Zeroconf | None = None
        self.stopping = threading.Event()
        self.thread = threading.Thread(target=self.run, name="announcing", daemon=True)

    def start(self) -> None:
        """Begin to announce; returns at once."""
        self.thread.start()

    def stop(self) -> None:
        """Withdraw the name and the services."""
        self.stopping.set()
        if self.thread.ident is not None:
            self.thread.join(WITHDRAW_WITHIN_S)

    def run(self) -> None:
        """Announce, and again whenever this PC has moved, until `stop`."""
        while True:
            try:
                self.update()
            except Exception as failure:
                # Whatever it is, everything but the name goes on working.
                self.withdraw()
                reason = getattr(failure, "strerror", None) or str(failure) or type(failure).__name__
                self.tell_once(
                    f"Phones cannot find this PC by name here ({reason}): use its addresses, or the QR code."
                )
            if self.stopping.wait(CHECK_EVERY_S):
                break
        self.withdraw()

    def update(self) -> None:
        """Announce the name and the services, unless they are announced as they are now."""
        ips = self.find_own_ips()
        if self.network is not None and ips == self.ips and not self.must_give_way(self.network):
            return
        self.withdraw()
        if not ips:
            self.tell_once("This PC is not on a local network yet, so phones cannot find it by name.")
            return
        self.ips = ips
        # Phones that ask over IPv6 alone ask over IPv4 too, which carries the addresses of both kinds.
        self.version = IPVersion.V6Only if ":" in ips[0] else IPVersion.V4Only
        self.network = Zeroconf(interfaces=self.find_probe_ips(), ip_version=self.version)
        while self.find_rivals(self.network, PROBE_WAITS_S):
            taken = self.name.host
            self.name.take_next_label()
            self.on_rename()
            self.tell(f"Another machine here is called {taken}, so this PC is now {self.name.host}.")
        if self.stopping.is_set():
            return
        if self.network.loop is None:
            raise OSError("no answer")
        asyncio.run_coroutine_threadsafe(self.register(self.network), self.network.loop).result(REGISTER_WITHIN_S)
        self.announced_host = self.name.host
        app_port, welcome_port = self.ports
        self.tell_once(
            f"Found by name: https://{self.announced_host}:{app_port}/, "
            f"for a first visit http://{self.announced_host}:{welcome_port}/"
        )

    def find_probe_ips(self) -> list[str]:
        """The addresses of the kind by which this PC speaks: IPv4, unless it has IPv6 alone."""
        return [ip for ip in self.ips if (":" in ip) == (self.version == IPVersion.V6Only)]

    async def register(self, network: Zeroconf) -> None:
        """Announce both services at the same time, each under a title that no other machine has."""
        probing = (network.async_register_service(service, allow_name_change=True) for service in self.services())
        await asyncio.gather(*await asyncio.gather(*probing))

    def services(self) -> list[ServiceInfo]:
        """The services to announce: the application and the welcome page."""
        label = find_pc_label()
        app_title = f"Slipbook of {label}" if label else "Slipbook"
        return [
            ServiceInfo(
                kind,
                f"{title}.{kind}",
                port=port,
                server=f"{self.name.host}.",
                parsed_addresses=list(self.ips),
                properties={"path": "/"},
            )
            for kind, title, port in (
                (HTTPS_SERVICE, app_title, self.ports[0]),
                (HTTP_SERVICE, f"{app_title}, first visit", self.ports[1]),
            )
        ]

    def find_rivals(self, network: Zeroconf, waits_s: tuple[float, ...]) -> list[str]:
        """Find the IP addresses of other machines that answer to the name.

        Parameters
        ----------
        network : Zeroconf
            The connection to ask over.
        waits_s : tuple of float
            How long to wait for answers to each probe, in seconds; no probe follows one that was answered.

        Returns
        -------
        list of str
            Sorted; empty if no machine answered, or if Slipbook stops.
        """
        own_ips = {*self.ips, *find_ips(outside_only=False)}
        for wait_s in waits_s:
            network.send(self.make_probe())
            if self.stopping.wait(wait_s):
                break
            resolver = AddressResolver(f"{self.name.host}.")
            resolver.load_from_cache(network)
            if rivals := sorted(set(resolver.parsed_addresses(self.version)) - own_ips):
                return rivals
        return []

    def make_probe(self) -> DNSOutgoing:
        """The question who has the name, with the addresses that this PC would give it (RFC 6762, 8.1 and 8.2)."""
        host = f"{self.name.host}."
        probe = DNSOutgoing(QUERY)
        # It asks for addresses only, because another Slipbook's zeroconf gives none when it is asked for any record. It
        # goes by multicast, because an answer to this PC alone can end at another program that listens here (RFC 6762,
        # 15.1).
        kind = IPV4_ADDRESS if self.version == IPVersion.V4Only else IPV6_ADDRESS
        probe.add_question(DNSQuestion(host, kind, INTERNET))
        for ip in self.find_probe_ips():
            record = DNSAddress(host, kind, INTERNET, HOST_TTL_S, ipaddress.ip_address(ip).packed)
            # Zeroconf probes for services only, so its own way of adding records takes no addresses.
            probe.authorities.append(record)  # type: ignore[arg-type]
        return probe

    def must_give_way(self, network: Zeroconf) -> bool:
        """Whether another machine took the same name at the same time, and this PC must take another."""
        rivals = self.find_rivals(network, HELD_WAITS_S)
        # The greater address keeps the name, as when both probe at once (RFC 6762, 8.2).
        return bool(rivals) and max(rivals) > max(self.find_probe_ips())

    def withdraw(self) -> None:
        """Stop announcing, and say goodbye (RFC 6762, 10.1)."""
        self.announced_host = ""
        network, self.network, self.ips = self.network, None, ()
        if network is not None:
            # If the network is gone, nobody is left to say goodbye to.
            with suppress(OSError, Error):
                network.unregister_all_services()
            with suppress(OSError, Error):
                network.close()

    def tell_once(self, sentence: str) -> None:
        """Tell a sentence, unless it was the last one told."""
        if sentence != self.last_sentence:
            self.last_sentence = sentence
            self.tell(sentence)
