"""Found without typing: a real browser of services and a real resolver of names, on the loopback."""

import math
import secrets
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, TypeVar

import pytest
from cryptography import x509
from zeroconf import (  # type: ignore[attr-defined]
    AddressResolver,
    IPVersion,
    ServiceBrowser,
    ServiceInfo,
    ServiceListener,
    Zeroconf,
)

from server.lan import Addresses, Door
from server.lan import announcing as subject
from server.lan.announcing import HTTP_SERVICE, HTTPS_SERVICE, Announcer, HostName

from .lan_server import LanServer
from .lan_visitors import PC_ADDRESSES

pytestmark = pytest.mark.about_files("`serve --lan` serves a folder, with a certificate of its own")

LOOPBACK_IP = "127.0.0.1"
WAIT = 30.0
# A program whose system refuses multicast, as some do to whoever is no administrator.
NO_MULTICAST = """
import errno, os, sys
from server.lan import announcing
def refused(**options):
    raise OSError(errno.EPERM, os.strerror(errno.EPERM))
announcing.Zeroconf = refused
from server.cli import main
sys.exit(main())
"""


Connection = TypeVar("Connection", bound=Zeroconf)


class SilentUntilLater(Zeroconf):
    """A connection to the network on which nothing is said before `speaks_at`, in seconds."""

    speaks_at = math.inf

    def async_send(self, *packet: Any, **options: Any) -> None:
        if time.monotonic() >= self.speaks_at:
            super().async_send(*packet, **options)


def on_the_loopback(kind: type[Connection]) -> Connection:
    """Somebody's connection to the network, with a thread of its own whatever else runs in this one."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(kind, interfaces=[LOOPBACK_IP], ip_version=IPVersion.V4Only).result()


class Phone(ServiceListener):
    """Somebody on the network who looks around."""

    def __init__(self, kind: str = HTTPS_SERVICE) -> None:
        self.kind = kind
        self.network = on_the_loopback(Zeroconf)
        self.seen: set[str] = set()
        self.changed = threading.Condition()
        self.browser = ServiceBrowser(self.network, kind, self)

    def add_service(self, zc: Zeroconf, type_: str, name: str) -> None:
        with self.changed:
            self.seen.add(name)
            self.changed.notify_all()

    def remove_service(self, zc: Zeroconf, type_: str, name: str) -> None:
        with self.changed:
            self.seen.discard(name)
            self.changed.notify_all()

    def update_service(self, zc: Zeroconf, type_: str, name: str) -> None:
        pass

    def services(self) -> Iterator[ServiceInfo | None]:
        """All that are announced now, as far as they answer."""
        return (self.network.get_service_info(self.kind, name, 1000) for name in sorted(self.seen))

    def service(self, port: int) -> ServiceInfo | None:
        """The service that is announced at a port."""
        return next((service for service in self.services() if service is not None and service.port == port), None)

    def ips_of(self, host: str) -> list[str]:
        """What a name is looked up as."""
        resolver = AddressResolver(f"{host}.")
        resolver.request(self.network, 3000)
        return list(resolver.parsed_addresses())

    def close(self) -> None:
        self.network.close()


@pytest.fixture
def phone() -> Iterator[Phone]:
    phone = Phone()
    yield phone
    phone.close()


def until(condition: Callable[[], object]) -> bool:
    """Whether something comes true in time."""
    deadline = time.monotonic() + WAIT
    while time.monotonic() < deadline:
        if condition():
            return True
        time.sleep(0.05)
    return False


@pytest.fixture
def patient(monkeypatch: pytest.MonkeyPatch) -> tuple[float, ...]:
    """Probes at their own times, the answer to the last waited for as long as a busy machine needs to give it."""
    *before, last = subject.PROBE_WAITS_S
    monkeypatch.setattr(subject, "PROBE_WAITS_S", (*before, 4 * last))
    return subject.PROBE_WAITS_S


def announcer(folder: Path, label: str, reported: list[str], ips: tuple[str, ...] = (LOOPBACK_IP,)) -> Announcer:
    return Announcer(HostName(folder, label), lambda: ips, (8127, 8128), lambda: None, reported.append)


@pytest.fixture
def label() -> str:
    """A name that nobody else on this machine tries at the same time."""
    return f"pit-{secrets.token_hex(4)}x"


def rival(label: str, number: str) -> Zeroconf:
    """Another machine that answers to a name, and has just said so."""
    network = on_the_loopback(Zeroconf)
    network.register_service(printer(label, number))
    return network


def printer(label: str, number: str) -> ServiceInfo:
    """A service of a machine that has a name and an address."""
    kind = "_ipp._tcp.local."
    title = f"Printer {label}.{kind}"
    return ServiceInfo(kind, title, port=631, server=f"{label}.local.", parsed_addresses=[number])


@pytest.fixture
def reserved(label: str) -> Iterator[SilentUntilLater]:
    """A machine that has had the name for so long that nobody here heard it take it."""
    running = on_the_loopback(SilentUntilLater)
    running.register_service(printer(label, "192.168.7.66"))
    yield running
    running.close()


def test_a_phone_finds_the_server_by_its_name_and_by_its_services(tmp_path: Path, phone: Phone) -> None:
    visitor = Phone(HTTP_SERVICE)
    server = LanServer(tmp_path / "data", announce=True)
    try:
        reported = server.next_line()
        assert reported.startswith("Found by name: https://slipbook"), reported + server.errors()
        host = reported.split("//")[1].split(":")[0]
        assert f"https://{host}:{server.port}/" in reported
        assert f"http://{host}:{server.welcome_port}/" in reported
        assert until(lambda: phone.service(server.port)), "the application"
        assert until(lambda: visitor.service(server.welcome_port)), "the welcome page"
        service = phone.service(server.port)
        assert service is not None
        assert service.server == f"{host}."
        assert service.parsed_addresses() == [LOOPBACK_IP]
        assert service.properties == {b"path": b"/"}
        assert until(lambda: phone.ips_of(host) == [LOOPBACK_IP])
        certificate = x509.load_pem_x509_certificate((tmp_path / "data" / "lan" / "host.pem").read_bytes())
        names = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
        assert host in names.get_values_for_type(x509.DNSName)
        page = server.welcome("GET", "/")[2].decode()
        assert f"https://{host}:{server.port}/" in page
        assert f"http://{host}:{server.welcome_port}/" in page
        with server.tls_context.wrap_socket(server.connect(), server_hostname=host) as secured:
            secured.sendall(f"GET /api/health HTTP/1.1\r\nHost: {host}:{server.port}\r\n\r\n".encode())
            assert secured.recv(1000).startswith(b"HTTP/1.1 200")
    finally:
        assert server.stop() == 0
        visitor.close()
    assert until(lambda: service.name not in phone.seen), "it says goodbye"


def test_without_announcing_nothing_is_said(tmp_path: Path, phone: Phone) -> None:
    server = LanServer(tmp_path / "data")
    try:
        assert "slipbook.local" not in server.output
        assert not (tmp_path / "data" / "lan" / "name").exists()
        # Whoever announces afterwards is seen, so that the phone would have seen the server too.
        reported: list[str] = []
        other = announcer(tmp_path, "told-later", reported)
        other.start()
        assert until(
            lambda: any(
                "told-later" in str(phone.network.get_service_info(HTTPS_SERVICE, name)) for name in sorted(phone.seen)
            )
        )
        assert phone.service(server.port) is None
        other.stop()
    finally:
        assert server.stop() == 0


def test_where_multicast_is_refused_the_server_runs_and_says_so_once(tmp_path: Path) -> None:
    server = LanServer(tmp_path / "data", announce=True, program=("-c", NO_MULTICAST))
    try:
        assert server.next_line() == (
            "Phones cannot find this PC by name here (Operation not permitted): use its addresses, or the QR code.\n"
        )
        assert server.ask("GET", "/api/health")[0] == 200
        assert b"slipbook.local" not in server.welcome("GET", "/")[2], "no name that nobody can look up"
        assert server.errors() == ""
    finally:
        assert server.stop() == 0


def test_an_address_that_went_away_is_told_and_tried_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(subject, "CHECK_EVERY_S", 0.1)
    reported: list[str] = []
    ips: list[tuple[str, ...]] = [("192.0.2.77",)]
    running = Announcer(HostName(tmp_path, "moved"), lambda: ips[0], (8127, 8128), lambda: None, reported.append)
    running.start()
    # No machine has this address (RFC 5737), so that the system itself refuses it.
    assert until(lambda: reported)
    assert reported[0].startswith("Phones cannot find this PC by name here (")
    ips[0] = ()
    assert until(lambda: len(reported) > 1)
    assert reported[1].startswith("This PC is not on a local network yet")
    ips[0] = (LOOPBACK_IP,)
    assert until(lambda: running.announced_host == "moved.local")
    running.stop()
    assert len(reported) == 3, "each once, however often it was tried"
    assert running.announced_host == ""


@pytest.mark.usefixtures("patient")
def test_a_name_that_another_machine_has_is_left_to_it(tmp_path: Path, phone: Phone, label: str) -> None:
    other, second = rival(label, "192.168.7.66"), rival(f"{label}-2", "192.168.7.67")
    reported: list[str] = []
    running = announcer(tmp_path, label, reported)
    running.start()
    try:
        assert until(lambda: running.announced_host)
        assert running.announced_host == f"{label}-3.local"
        assert reported[0] == f"Another machine here is called {label}.local, so this PC is now {label}-2.local."
        assert until(lambda: phone.ips_of(f"{label}.local") == ["192.168.7.66"])
        assert until(lambda: phone.ips_of(f"{label}-3.local") == [LOOPBACK_IP])
    finally:
        running.stop()
        other.close()
        second.close()
    assert HostName(tmp_path, label).host == f"{label}-3.local", "phones know it by this name: it keeps it"


def test_a_machine_that_may_not_repeat_itself_yet_is_waited_for(
    tmp_path: Path, label: str, reserved: SilentUntilLater, patient: tuple[float, ...]
) -> None:
    network = on_the_loopback(Zeroconf)
    # As of one that sent its address just now (RFC 6762, 6).
    reserved.speaks_at = time.monotonic() + 1
    try:
        assert announcer(tmp_path, label, []).find_rivals(network, patient) == ["192.168.7.66"]
    finally:
        network.close()


def test_a_probe_asks_for_a_name_and_says_for_which_address(tmp_path: Path) -> None:
    running = announcer(tmp_path, "pit", [])
    running.ips = ("192.168.7.20",)
    # The layout of RFC 1035, 4.1: one question and one record of an authority, which is a name that is asked about
    # (RFC 6762, 8.2); the record's name is a pointer to the question's.
    head = "0000 0000 0001 0000 0001 0000"
    question = f"03{b'pit'.hex()} 05{b'local'.hex()} 00 0001 0001"
    offered = "c00c 0001 0001 00000078 0004 c0a80714"
    assert running.make_probe().packets() == [bytes.fromhex(head + question + offered)]


def test_a_free_name_is_probed_three_times_and_for_longer_than_a_second(tmp_path: Path, label: str) -> None:
    class Counting(Zeroconf):
        def send(self, *packet: Any, **options: Any) -> None:
            sent.append(time.monotonic())
            super().send(*packet, **options)

    sent: list[float] = []
    network = on_the_loopback(Counting)
    try:
        assert announcer(tmp_path, label, []).find_rivals(network, subject.PROBE_WAITS_S) == []
    finally:
        network.close()
    # RFC 6762, 8.1: three, 250 ms apart; and 6: an answer may be a second late.
    assert len(sent) >= 3
    assert sent[-1] - sent[0] > 1


@pytest.mark.parametrize(("number", "yields"), [("192.168.7.66", True), ("10.0.0.1", False)])
def test_of_two_that_took_a_name_at_once_one_keeps_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, label: str, number: str, yields: bool
) -> None:
    monkeypatch.setattr(subject, "CHECK_EVERY_S", 0.1)
    running = announcer(tmp_path, label, [])
    heard: list[list[str]] = []
    find_others = running.find_rivals

    def listen(network: Zeroconf, waits_s: tuple[float, ...]) -> list[str]:
        heard.append(find_others(network, waits_s))
        return heard[-1]

    monkeypatch.setattr(running, "find_rivals", listen)
    running.start()
    assert until(lambda: running.announced_host == f"{label}.local")
    other = rival(label, number)
    try:
        assert until(lambda: running.announced_host == f"{label}-2.local" or not yields)
        if not yields:
            assert until(lambda: [number] in heard[:-1]), "it has heard the other, and looked once more since"
            assert running.announced_host == f"{label}.local"
    finally:
        running.stop()
        other.close()


def test_a_name_is_given_up_to_a_machine_that_says_so_only_when_asked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, label: str, reserved: SilentUntilLater
) -> None:
    monkeypatch.setattr(subject, "CHECK_EVERY_S", 0.1)
    running = announcer(tmp_path, label, [])
    running.start()
    try:
        assert until(lambda: running.announced_host == f"{label}.local")
        reserved.speaks_at = 0
        assert until(lambda: running.announced_host == f"{label}-2.local")
    finally:
        running.stop()


@pytest.mark.usefixtures("patient")
def test_a_new_name_is_on_the_certificate_before_it_is_announced(tmp_path: Path, label: str) -> None:
    door = Door(tmp_path, lambda: Addresses(PC_ADDRESSES.names, (LOOPBACK_IP,)), announce=True)
    assert door.host_name is not None
    door.port, door.welcome_port = 8127, 8128
    assert door.urls()[:2] == [f"https://{LOOPBACK_IP}:8127/", "https://pit-pc.local:8127/"], (
        "not before it can be looked up"
    )
    door.host_name.label = label
    door.credentials.renew()
    other = rival(label, "192.168.7.66")
    reported: list[str] = []
    door.announce(reported.append)
    try:
        assert until(lambda: len(reported) == 2)
        assert reported[1].startswith(f"Found by name: https://{label}-2.local:8127/")
        certificate = x509.load_pem_x509_certificate((tmp_path / "lan" / "host.pem").read_bytes())
        named = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
        assert f"{label}-2.local" in named.get_values_for_type(x509.DNSName)
        assert f"{label}-2.local" in door.hosts
        assert f"{label}.local" not in door.hosts
        assert door.urls()[1] == f"https://{label}-2.local:8127/"
    finally:
        door.close()
        other.close()


def test_a_kept_name_that_is_none_is_passed_over(tmp_path: Path) -> None:
    for content in (b"", b"../x", b"a b", b"\xff", b"x" * 64):
        (tmp_path / "name").write_bytes(content)
        assert HostName(tmp_path).host == "slipbook.local"
    (tmp_path / "name").write_bytes(b"slipbook-4\n")
    assert HostName(tmp_path).host == "slipbook-4.local"
