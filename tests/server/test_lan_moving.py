"""A PC that moves to another network is found there, and no longer where it was."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from flask import Flask

from server.lan import TRACKSIDE, Addresses, Door, private
from server.lan.announcing import Announcer
from server.lan.authority import CHECK_EVERY
from server.log import LogFault

from .lan_visitors import PC_ADDRESSES, Visitor, paired_phone

pytestmark = pytest.mark.about_files("`serve --lan` serves a folder, with a certificate of its own")

# Private addresses (RFC 1918) and names that no machine here has.
PADDOCK = Addresses(("paddock-pc.local", "paddock-pc"), ("10.0.0.5",))
OF_NOW = [*PADDOCK.names, *PADDOCK.ips]
OF_BEFORE = [*PC_ADDRESSES.names, *PC_ADDRESSES.ips]


def answered_hosts(phone: Visitor, hosts: list[str]) -> dict[str, int]:
    """What a phone is answered under each host."""
    return {host: phone.ask("GET", "/api/units", headers={"Host": f"{host}:8127"}).status_code for host in hosts}


def move(door: Door) -> None:
    """Take the PC elsewhere, and let so much time go by that it looks where it is."""
    door.find = lambda: PADDOCK
    later = datetime.now(UTC) + CHECK_EVERY + timedelta(seconds=1)
    door.credentials.now = lambda: later


def test_after_a_move_phones_are_answered_under_the_addresses_of_now_alone(lan: tuple[Flask, Door]) -> None:
    app, door = lan
    phone = paired_phone(app, TRACKSIDE)
    move(door)
    assert set(answered_hosts(phone, OF_BEFORE).values()) == {200}
    assert set(answered_hosts(phone, OF_NOW).values()) == {400}, "it has not looked yet"
    # As the next connection does.
    door.credentials.current_context()
    assert set(answered_hosts(phone, OF_NOW).values()) == {200}
    assert set(answered_hosts(phone, OF_BEFORE).values()) == {400}
    assert answered_hosts(phone, ["localhost", "127.0.0.1"]) == {"localhost": 200, "127.0.0.1": 200}
    assert door.urls() == [
        "https://10.0.0.5:8127/",
        "https://paddock-pc.local:8127/",
        "https://paddock-pc:8127/",
    ]
    code_answer = Visitor(app, "127.0.0.1").ask("POST", "/api/pairing", json={"role": TRACKSIDE}).json
    assert code_answer["address"].startswith("https://10.0.0.5:8127/")
    assert code_answer["welcome"] == "http://10.0.0.5:8128/"


def test_the_certificate_moves_too(lan: tuple[Flask, Door], folder: Path) -> None:
    _, door = lan
    move(door)
    before = door.credentials.context
    assert door.credentials.current_context() is not before
    certificate = x509.load_pem_x509_certificate((folder / "lan" / "host.pem").read_bytes())
    named = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    # The authority may vouch for the bare name of the PC that it was made for, and for no other.
    assert named.get_values_for_type(x509.DNSName) == ["paddock-pc.local", "localhost"]
    assert list(map(str, named.get_values_for_type(x509.IPAddress))) == ["10.0.0.5", "127.0.0.1", "::1"]


def test_after_a_move_phones_are_answered_though_the_disk_is_full(
    lan: tuple[Flask, Door], monkeypatch: pytest.MonkeyPatch
) -> None:
    app, door = lan
    phone = paired_phone(app, TRACKSIDE)
    move(door)

    def full(path: Path, data: bytes) -> None:
        raise LogFault("The disk is full.")

    monkeypatch.setattr(private, "write", full)
    before = door.credentials.context
    assert door.credentials.current_context() is before, "no other could be written"
    assert set(answered_hosts(phone, OF_NOW).values()) == {200}, "whoever trusts it all the same is answered"


def test_what_is_announced_after_a_move_is_answered_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Announcer, "start", lambda announcer: None)
    door = Door(tmp_path, lambda: PC_ADDRESSES, announce=True)
    try:
        door.announce(print)
        assert door.announcer is not None
        assert door.announcer.find_own_ips() == PC_ADDRESSES.ips
        move(door)
        # Nobody has come yet: the announcer itself has to see the move.
        assert door.announcer.find_own_ips() == PADDOCK.ips
        assert set(OF_NOW) < set(door.hosts)
        assert not set(OF_BEFORE) & set(door.hosts)
        assert "slipbook.local" in door.hosts
    finally:
        door.close()
