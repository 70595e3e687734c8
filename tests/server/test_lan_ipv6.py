"""Phones find the PC over IPv6 as well; a PC without it does as well as before."""

import http.client
import ipaddress
import re
from pathlib import Path

import ifaddr
import pytest
from cryptography import x509
from flask import Flask

from server.lan import TRACKSIDE, Addresses, Door, addresses
from server.lan.announcing import Announcer, HostName
from server.lan.authority import Authority
from server.lan.register import utc_now

from .lan_server import LanServer
from .lan_visitors import PC_ADDRESSES, Visitor, paired_phone
from .test_lan_announcing import LOOPBACK_IP, Phone, label, phone, until  # noqa: F401

pytestmark = pytest.mark.about_files("`serve --lan` serves a folder, with a certificate of its own")

# A unique local address (RFC 4193), a link-local one (RFC 4291, 2.5.6) and one of documentation (RFC 3849).
OWN, LINK_LOCAL, PUBLIC = "fd12:3456:789a::20", "fe80::1ff:fe23:4567:890a", "2001:db8::20"
BOTH = Addresses(PC_ADDRESSES.names, (*PC_ADDRESSES.ips, OWN))
# A program on a system without IPv6.
NO_IPV6 = """
import socket, sys
socket.has_dualstack_ipv6 = lambda: False
from server.cli import main
sys.exit(main())
"""


def adapter(*ips: str | tuple[str, int, int]) -> ifaddr.Adapter:
    return ifaddr.Adapter("eth7", "eth7", [ifaddr.IP(ip, 64, "eth7") for ip in ips])


def test_a_pcs_ipv6_addresses_are_found_but_for_those_that_need_a_zone(monkeypatch: pytest.MonkeyPatch) -> None:
    adapters = [adapter((LINK_LOCAL, 0, 4), (OWN, 0, 0), (PUBLIC, 0, 0), "192.168.7.20"), adapter(("::1", 0, 0))]
    monkeypatch.setattr(ifaddr, "get_adapters", lambda: adapters)
    monkeypatch.setattr(addresses, "PROBE_IPS", ())
    monkeypatch.setattr(addresses, "has_ipv6", lambda: True)
    # Nobody may vouch for a public one.
    assert addresses.find_addresses().ips == ("192.168.7.20", OWN)
    monkeypatch.setattr(addresses, "has_ipv6", lambda: False)
    assert addresses.find_addresses().ips == ("192.168.7.20",)


def test_they_are_printed_as_addresses_that_a_browser_takes() -> None:
    assert BOTH.urls(8127) == [
        "https://192.168.7.20:8127/",
        "https://pit-pc.local:8127/",
        "https://pit-pc:8127/",
        f"https://[{OWN}]:8127/",
    ]
    assert Addresses((), (OWN,)).urls(8127) == [f"https://[{OWN}]:8127/"]


def test_the_certificate_covers_them() -> None:
    now = utc_now()
    certificate, _ = Authority.make(now).issue(BOTH, now)
    certified = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert ipaddress.ip_address(OWN) in certified.get_values_for_type(x509.IPAddress)


def test_phones_are_answered_under_them_and_under_no_others(lan: tuple[Flask, Door]) -> None:
    app, door = lan
    door.update_hosts(BOTH)
    mara = paired_phone(app, TRACKSIDE)
    for host in (OWN, "::1"):
        for port in ("", ":8127"):
            assert mara.ask("GET", "/api/units", headers={"Host": f"[{host}]{port}"}).status_code == 200, host
    for host in (f"[{PUBLIC}]", f"[{OWN}0]", f"[{OWN}", OWN, f"{OWN}:8127", "[::", "[]", f"[{LINK_LOCAL}%25eth0]"):
        assert mara.ask("GET", "/api/units", headers={"Host": host}).status_code == 400, host


def test_a_page_at_such_an_address_may_use_the_pcs_rights_and_others_may_not(lan: tuple[Flask, Door]) -> None:
    app, _ = lan
    own_pc = Visitor(app, "::1")
    for origin, status in ((f"http://[{OWN}]", 403), ("http://[::1]", 200)):
        headers = {"Host": "[::1]", "Origin": origin}
        assert own_pc.ask("POST", "/api/pairing", json={"role": TRACKSIDE}, headers=headers).status_code == status


def test_a_pc_with_ipv6_alone_says_where_a_first_visit_goes(tmp_path: Path) -> None:
    door = Door(tmp_path, lambda: Addresses((), (OWN,)))
    door.port, door.welcome_port = 8127, 8128
    assert door.urls() == [f"https://[{OWN}]:8127/"]
    assert door.welcome_url() == f"http://[{OWN}]:8128/"
    door.close()


def test_the_name_is_looked_up_as_both_kinds(tmp_path: Path, phone: Phone, label: str) -> None:  # noqa: F811
    announcing = Announcer(
        HostName(tmp_path, label), lambda: (LOOPBACK_IP, OWN), (8127, 8128), lambda: None, lambda _: None
    )
    announcing.start()
    try:
        assert until(lambda: announcing.announced_host)
        assert until(lambda: sorted(phone.ips_of(f"{label}.local")) == [LOOPBACK_IP, OWN])
        assert until(lambda: any(label in str(service) for service in phone.services()))
    finally:
        announcing.stop()


@pytest.mark.parametrize("program", [("-m", "server.cli"), ("-c", NO_IPV6)], ids=["as it is", "without IPv6"])
def test_both_kinds_come_in_where_the_pc_has_both(tmp_path: Path, program: tuple[str, ...]) -> None:
    server = LanServer(tmp_path / "data", program=program, everywhere=True)
    has_both = program[0] == "-m" and addresses.has_ipv6()
    try:
        for host in ["127.0.0.1", "::1"] if has_both else ["127.0.0.1"]:
            connection = http.client.HTTPSConnection(host, server.port, context=server.tls_context, timeout=30)
            connection.request("GET", "/api/devices")
            assert connection.getresponse().status == 200, "the PC itself, whichever way it comes"
            connection.close()
        if not has_both:
            assert "[" not in server.output
            with pytest.raises(OSError, match=r"refused|family|unreachable|assign"):
                http.client.HTTPSConnection("::1", server.port, timeout=5).connect()
    finally:
        assert server.stop() == 0
    log = (tmp_path / "data" / "lan" / "access.log").read_text()
    # One machine is one line in the log, whichever kind of socket it came over.
    assert "::ffff:" not in log
    assert re.search(r" 127\.0\.0\.1 \S+ GET /api/devices 200$", log, re.MULTILINE)
