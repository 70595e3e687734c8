"""The names and addresses under which phones on the workshop's network find this PC."""

import ipaddress
import re
import socket
from contextlib import suppress
from typing import NamedTuple

import ifaddr

LABEL = re.compile(r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?")
LOOPBACK_NAMES = ("localhost",)
LOOPBACK = ("127.0.0.1", "::1")
# Asking the system for the way to these sends nothing; documentation addresses (RFC 5737), so nobody is there.
PROBES = ("192.0.2.1", "198.51.100.1")
# Networks inside this PC, of containers and virtual machines, where no phone is.
INNER = re.compile(r"docker|br-|veth|virbr|vmnet|vboxnet|vEthernet|VirtualBox|VMware", re.IGNORECASE)
# What a local network uses: RFC 1918, RFC 3927, loopback; RFC 4193 and link-local for IPv6.
LOCAL = tuple(
    ipaddress.ip_network(text)
    for text in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8")
) + tuple(ipaddress.ip_network(text) for text in ("fc00::/7", "fe80::/10", "::1/128"))


class Addresses(NamedTuple):
    """Where this PC is found.

    Attributes
    ----------
    names : tuple of str
        Host names in lower case, without the loopback's; the one that phones can look up without a name server first.
    numbers : tuple of str
        Addresses on the local network, the one towards the router first.
    """

    names: tuple[str, ...]
    numbers: tuple[str, ...]

    @property
    def hosts(self) -> list[str]:
        """Every host that an address of this PC may have, the loopback's last."""
        return [*self.numbers, *self.names, *LOOPBACK_NAMES, *LOOPBACK]

    def urls(self, port: int) -> list[str]:
        """The https addresses for phones, the most certain to work first."""
        return [f"https://{host}:{port}/" for host in (*self.numbers, *self.names) or LOOPBACK_NAMES]


def is_local(number: str) -> bool:
    """Whether an address belongs to a local network.

    >>> is_local("192.168.1.20"), is_local("203.0.113.9")
    (True, False)
    """
    found = ipaddress.ip_address(number)
    return any(found in network for network in LOCAL)


def is_loopback(number: str) -> bool:
    """Whether an address is this machine's own, also where IPv6 carries one of IPv4; what is no address is not.

    >>> is_loopback("127.0.0.1"), is_loopback("::ffff:127.0.0.1"), is_loopback("192.168.1.20"), is_loopback("")
    (True, True, False, False)
    """
    try:
        found = ipaddress.ip_address(number)
    except ValueError:
        return False
    return (getattr(found, "ipv4_mapped", None) or found).is_loopback


def host_label() -> str:
    """This PC's name, as it can stand in a certificate; empty if it has none that can."""
    label = socket.gethostname().partition(".")[0].lower()
    return label if LABEL.fullmatch(label) and label != "localhost" else ""


def every_number(outside_only: bool) -> list[str]:
    """The IPv4 addresses of this PC's adapters; without those of networks inside it, if asked."""
    with suppress(OSError):
        return [
            str(found.ip)
            for adapter in ifaddr.get_adapters()
            if not (outside_only and INNER.match(adapter.nice_name))
            for found in adapter.ips
            if found.is_IPv4
        ]
    return []


def find_addresses() -> Addresses:
    """Look up the names and addresses that this PC has now."""
    label = host_label()
    names = (f"{label}.local", label) if label else ()
    numbers: list[str] = []
    for probe in PROBES:
        with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
            asking.connect((probe, 9))
            numbers.append(asking.getsockname()[0])
    # The probes find nothing on a PC that makes its phones a network of its own, with no way to anywhere else.
    numbers += every_number(outside_only=True)
    kept = [one for one in dict.fromkeys(numbers) if is_local(one) and not ipaddress.ip_address(one).is_loopback]
    return Addresses(names, tuple(kept))
