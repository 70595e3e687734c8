"""The host names and IP addresses under which phones on the workshop's network find this PC."""

import ipaddress
import re
import socket
from contextlib import suppress
from typing import NamedTuple

import ifaddr

HOST_LABEL = re.compile(r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?")
LOOPBACK_NAMES = ("localhost",)
LOOPBACK_IPS = ("127.0.0.1", "::1")
# Documentation addresses (RFC 5737), which nobody has. Asking the system for the route to them sends nothing.
PROBE_IPS = ("192.0.2.1", "198.51.100.1")
# Adapters of networks inside this PC, for containers and virtual machines, where no phone is.
VIRTUAL_ADAPTER = re.compile(r"docker|br-|veth|virbr|vmnet|vboxnet|vEthernet|VirtualBox|VMware", re.IGNORECASE)
# The addresses of local networks: RFC 1918, RFC 3927, loopback; RFC 4193 and link-local for IPv6.
LOCAL_NETWORKS = tuple(
    ipaddress.ip_network(text)
    for text in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8")
) + tuple(ipaddress.ip_network(text) for text in ("fc00::/7", "fe80::/10", "::1/128"))


class Addresses(NamedTuple):
    """Where phones find this PC.

    Attributes
    ----------
    names : tuple of str
        Host names in lower case, without the loopback's; first the name that phones look up without a name server.
    ips : tuple of str
        IP addresses on the local network, IPv4 first; first of all the one towards the router.
    """

    names: tuple[str, ...]
    ips: tuple[str, ...]

    @property
    def hosts(self) -> list[str]:
        """Every host that a URL of this PC may name; the loopback's last."""
        return [*self.ips, *self.names, *LOOPBACK_NAMES, *LOOPBACK_IPS]

    def urls(self, port: int) -> list[str]:
        """The https addresses for phones, the most certain to work first."""
        # An IPv6 address is long to type, and a network may have it without a router that knows of it.
        ips4, ips6 = [ip for ip in self.ips if ":" not in ip], [ip for ip in self.ips if ":" in ip]
        hosts = [*ips4, *self.names, *map(host_in_url, ips6)] or LOOPBACK_NAMES
        return [f"https://{host}:{port}/" for host in hosts]


def host_in_url(host: str) -> str:
    """A host as it stands in an address (RFC 3986, 3.2.2).

    >>> host_in_url("192.168.1.20"), host_in_url("fd00::2")
    ('192.168.1.20', '[fd00::2]')
    """
    return f"[{host}]" if ":" in host else host


def unmapped_ip(ip: str) -> str:
    """An IPv4 address as such where a socket for both kinds gives it as IPv4 inside IPv6.

    >>> unmapped_ip("::ffff:192.168.1.20"), unmapped_ip("fd00::2"), unmapped_ip("")
    ('192.168.1.20', 'fd00::2', '')
    """
    with suppress(ValueError):
        mapped = getattr(ipaddress.ip_address(ip), "ipv4_mapped", None)
        return str(mapped) if mapped else ip
    return ip


def is_local(ip: str) -> bool:
    """Whether an IP address belongs to a local network.

    >>> is_local("192.168.1.20"), is_local("203.0.113.9")
    (True, False)
    """
    address = ipaddress.ip_address(ip)
    return any(address in network for network in LOCAL_NETWORKS)


def is_loopback(ip: str) -> bool:
    """Whether an IP address is this machine's own, also as IPv4 inside IPv6; False for text that is no IP address.

    >>> is_loopback("127.0.0.1"), is_loopback("::ffff:127.0.0.1"), is_loopback("192.168.1.20"), is_loopback("")
    (True, True, False, False)
    """
    try:
        address = ipaddress.ip_address(ip)
    except ValueError:
        return False
    return (getattr(address, "ipv4_mapped", None) or address).is_loopback


def find_pc_label() -> str:
    """This PC's name in the form that certificates allow; empty if it has no such name."""
    label = socket.gethostname().partition(".")[0].lower()
    return label if HOST_LABEL.fullmatch(label) and label != "localhost" else ""


def has_ipv6() -> bool:
    """Whether this PC can listen for IPv4 and IPv6 alike."""
    if socket.has_dualstack_ipv6():
        with suppress(OSError), socket.socket(socket.AF_INET6) as test_socket:
            test_socket.bind(("::", 0))
            return True
    return False


def find_ips(outside_only: bool) -> list[str]:
    """The IP addresses of this PC's adapters, IPv4 first; if `outside_only`, without those of networks inside it.

    Without the link-local ones of IPv6: they mean something only together with the name of an adapter, which is another
    on each machine, and browsers take none in an address.
    """
    with suppress(OSError):
        adapters = ifaddr.get_adapters()
        found = [
            str(address.ip) if address.is_IPv4 else str(address.ip[0])
            for adapter in adapters
            if not (outside_only and VIRTUAL_ADAPTER.match(adapter.nice_name))
            for address in adapter.ips
        ]
        ips = [ip for ip in found if ":" not in ip or not ipaddress.ip_address(ip).is_link_local]
        return sorted(ips, key=lambda ip: ":" in ip)
    return []


def find_addresses() -> Addresses:
    """Look up the names and addresses that this PC has now."""
    label = find_pc_label()
    names = (f"{label}.local", label) if label else ()
    ips: list[str] = []
    for probe_ip in PROBE_IPS:
        with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe_socket:
            probe_socket.connect((probe_ip, 9))
            ips.append(probe_socket.getsockname()[0])
    # The probes find nothing if this PC makes a network of its own for its phones, without a route to anywhere else.
    ips += find_ips(outside_only=True)
    if not has_ipv6():
        ips = [ip for ip in ips if ":" not in ip]
    local = [ip for ip in dict.fromkeys(ips) if is_local(ip) and not ipaddress.ip_address(ip).is_loopback]
    return Addresses(names, tuple(local))
