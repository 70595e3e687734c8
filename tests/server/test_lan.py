"""`slipbook serve --lan` as phones meet it: certificates, TLS, the welcome page, slow clients. All on the loopback."""

import contextlib
import http.client
import re
import socket
import ssl
import warnings
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization

from server.cli import main
from server.lan import Addresses, Authority, Credentials, private
from server.lan.authority import encode_key
from server.log import LogFault
from server.serving import LAN_THREADS

from .lan_server import LanServer, serve_lan
from .lan_visitors import PC_ADDRESSES
from .sample_logs import entry

pytestmark = pytest.mark.about_files("`serve --lan` serves a folder, with a certificate of its own")

TODAY = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
DAY = timedelta(days=1)
# A server that never lets go of whoever dawdles, so that on no machine it does so before this test is done.
WITHOUT_END_OF_PATIENCE = """
import sys
from server import serving
from server.cli import main
from server.lan import gathering, tls
start_listening = serving.start_listening
def be_patient(server, *rest):
    server.timeout = 3600
    start_listening(server, *rest)
serving.start_listening = be_patient
tls.HANDSHAKE_WITHIN_S = gathering.HEAD_WITHIN_S = gathering.GATHERED_WITHIN_S = 3600
sys.exit(main())
"""


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LanServer]:
    with serve_lan(tmp_path_factory.mktemp("lan") / "data") as running:
        yield running


def test_a_phone_is_paired_and_sends_over_verified_tls(server: LanServer) -> None:
    status, code_answer = server.ask("POST", "/api/pairing", {"role": "trackside"})
    assert status == 200, code_answer
    status, pair_answer = server.ask("POST", "/api/pair", {"code": code_answer["code"], "name": "Jo's phone"})
    assert status == 200, pair_answer
    status, answer = server.ask("POST", "/api/log", {"entries": [entry("note"), entry("unit")]}, pair_answer["token"])
    assert [row["answer"] for row in answer["answers"]] == ["stored", "refused"]
    assert server.ask("GET", "/api/devices", token=pair_answer["token"])[0] == 403
    assert server.ask("DELETE", f"/api/devices/{pair_answer['device']['id']}")[0] == 200
    status, refused = server.ask("POST", "/api/log", {"entries": [entry("note")]}, pair_answer["token"])
    assert status == 401
    assert "shut out" in refused["detail"]


@pytest.mark.parametrize("name", ["localhost", "127.0.0.1"])
def test_the_chain_verifies_for_the_right_names(server: LanServer, name: str) -> None:
    with (
        socket.create_connection(("127.0.0.1", server.port), timeout=30) as raw,
        server.tls_context.wrap_socket(raw, server_hostname=name) as secured,
    ):
        assert secured.version() in ("TLSv1.2", "TLSv1.3")


def test_the_chain_verifies_for_no_other_name_and_no_other_authority(server: LanServer) -> None:
    other = Authority.make(datetime.now(UTC), "pit-pc")
    strangers = ssl.create_default_context(cadata=other.pem.decode())
    for tls_context, name, reason in (
        (server.tls_context, "elsewhere.example", "mismatch"),
        (server.tls_context, "127.0.0.2", "mismatch"),
        (strangers, "localhost", "verify failed"),
        (ssl.create_default_context(), "localhost", "verify failed"),
    ):
        with (
            socket.create_connection(("127.0.0.1", server.port), timeout=30) as raw,
            pytest.raises(ssl.SSLCertVerificationError, match=reason),
        ):
            tls_context.wrap_socket(raw, server_hostname=name)


def old_client(version: ssl.TLSVersion) -> ssl.SSLContext:
    """A client that speaks one old version only, and really does, whatever this machine's policy."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.check_hostname = False
        context.verify_mode = ssl.CERT_NONE
        context.set_ciphers("ALL:@SECLEVEL=0")
        context.minimum_version = version
        context.maximum_version = version
    return context


@pytest.mark.parametrize("version", [ssl.TLSVersion.TLSv1, ssl.TLSVersion.TLSv1_1])
def test_old_tls_is_refused(server: LanServer, version: ssl.TLSVersion) -> None:
    with (
        socket.create_connection(("127.0.0.1", server.port), timeout=30) as raw,
        pytest.raises(ssl.SSLError, match=r"ALERT_PROTOCOL_VERSION|alert protocol version"),
    ):
        # It is the server that says no (RFC 8446, 6.2), not this client that cannot ask.
        old_client(version).wrap_socket(raw)
    # The same client does come in with the oldest version that is good.
    with (
        socket.create_connection(("127.0.0.1", server.port), timeout=30) as raw,
        old_client(ssl.TLSVersion.TLSv1_2).wrap_socket(raw) as secured,
    ):
        assert secured.version() == "TLSv1.2"


def test_plain_http_is_told_to_use_tls(server: LanServer) -> None:
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)
    connection.request("GET", "/api/health")
    answer = connection.getresponse()
    assert answer.status == 400
    assert b"https://" in answer.read()
    connection.close()


def test_idle_and_dawdling_clients_keep_nobody_waiting(tmp_path: Path) -> None:
    server = LanServer(tmp_path / "data", program=("-c", WITHOUT_END_OF_PATIENCE))
    with contextlib.ExitStack() as held_open:
        held_open.callback(server.stop)

        def opened() -> socket.socket:
            return held_open.enter_context(socket.create_connection(("127.0.0.1", server.port), timeout=30))

        # More of them than there are threads that serve.
        first = opened()
        waiting = [first, *(opened() for _ in range(2 * LAN_THREADS))]
        for connection in waiting[::2]:
            # Begins a handshake and stops; the others say nothing at all.
            connection.sendall(b"\x16\x03\x01")
        secured = [
            held_open.enter_context(server.tls_context.wrap_socket(opened(), server_hostname="localhost"))
            for _ in range(30)
        ]
        assert [server.ask("GET", "/api/health")[0] for _ in range(4)] == [200] * 4
        first.setblocking(False)
        # Still held: nobody was let go to make room for the others.
        with pytest.raises(BlockingIOError):
            first.recv(1)
        secured[0].sendall(b"GET /api/health HTTP/1.1\r\nHost: localhost\r\n\r\n")
        assert secured[0].recv(100).split()[1] == b"200"


def test_headers_and_bodies_have_a_limit(server: LanServer) -> None:
    for request, status in (
        (b"GET /api/health HTTP/1.1\r\nHost: localhost\r\nX: " + b"x" * 40000 + b"\r\n\r\n", b"413"),
        (b"GET /" + b"x" * 40000 + b" HTTP/1.1\r\nHost: localhost\r\n\r\n", b"414"),
        (b"POST /api/log HTTP/1.1\r\nHost: localhost\r\nContent-Length: 99999999\r\n\r\n", b"413"),
    ):
        with (
            socket.create_connection(("127.0.0.1", server.port), timeout=30) as raw,
            server.tls_context.wrap_socket(raw, server_hostname="localhost") as secured,
        ):
            secured.sendall(request)
            assert secured.recv(100).split()[1] == status


def test_the_welcome_page_hands_out_the_authority_and_nothing_else(server: LanServer, tmp_path: Path) -> None:
    status, kind, page = server.welcome("GET", "/")
    assert (status, kind) == (200, "text/html; charset=utf-8")
    status, kind, der = server.welcome("GET", "/authority.crt")
    assert (status, kind) == (200, "application/x-x509-ca-cert")
    _, _, pem = server.welcome("GET", "/authority.pem")
    certificate = x509.load_der_x509_certificate(der)
    assert x509.load_pem_x509_certificate(pem) == certificate
    fingerprint = Authority(certificate, None).fingerprint  # type: ignore[arg-type]
    assert re.fullmatch(r"([0-9A-F]{2} ){31}[0-9A-F]{2}", fingerprint)
    assert fingerprint.encode() in page
    assert f"fingerprint: {fingerprint}\n" in server.output
    assert b"<script" not in page
    others = ["/api/health", "/api/units", "/api/pair", "/index.html", "/app.js", "/../authority-key.pem"]
    others += ["/authority-key.pem", "/host.pem", "/devices.json", "/authority.crt/", "/%2e%2e/lan/host-key.pem"]
    for path in others:
        assert server.welcome("GET", path)[0] == 404, path
    for method in ("POST", "PUT", "DELETE", "PATCH"):
        assert server.welcome(method, "/", b"x")[0] in (405, 413), method
        assert server.welcome(method, "/api/pair", b"{}")[0] in (404, 405, 413), method
    assert all(b"PRIVATE KEY" not in server.welcome("GET", path)[2] for path in (*others, "/", "/authority.pem"))


def test_private_keys_are_the_owners_alone(server: LanServer, tmp_path: Path) -> None:
    credentials = Credentials(tmp_path / "lan", lambda: PC_ADDRESSES)
    files = sorted(path.name for path in (tmp_path / "lan").iterdir())
    assert files == ["authority-key.pem", "authority.pem", "host-key.pem", "host.pem"]
    assert {path.stat().st_mode & 0o777 for path in (tmp_path / "lan").iterdir()} == {0o600}
    assert credentials.authority.certificate.public_key() == credentials.authority.key.public_key()


def host_certificate(folder: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate((folder / "host.pem").read_bytes())


def test_the_host_certificate_is_short_lived_and_for_this_pc_only(tmp_path: Path) -> None:
    credentials = Credentials(tmp_path, lambda: PC_ADDRESSES, lambda: TODAY)
    certificate = host_certificate(tmp_path)
    # CA/Browser Forum baseline requirements, 6.3.2 (from memory): no longer than 398 days; a day is left to spare.
    assert certificate.not_valid_after_utc - certificate.not_valid_before_utc <= 397 * DAY
    alternative_names = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert alternative_names.get_values_for_type(x509.DNSName) == ["pit-pc.local", "pit-pc", "localhost"]
    assert list(map(str, alternative_names.get_values_for_type(x509.IPAddress))) == ["192.168.7.20", "127.0.0.1", "::1"]
    assert not certificate.extensions.get_extension_for_class(x509.BasicConstraints).value.ca
    authority = credentials.authority.certificate.extensions
    assert authority.get_extension_for_class(x509.BasicConstraints).value.ca
    assert authority.get_extension_for_class(x509.NameConstraints).critical
    assert not authority.get_extension_for_class(x509.KeyUsage).value.digital_signature


def test_the_authority_cannot_vouch_for_a_place_elsewhere(tmp_path: Path) -> None:
    """A real TLS client refuses a certificate beyond the limits, though its authority signed it."""
    authority = Authority.make(datetime.now(UTC), "pit-pc")
    authority.covers = lambda name: bool(name)  # type: ignore[method-assign]
    tls_context = ssl.create_default_context(cadata=authority.pem.decode())
    for names, good in ((("pit-pc.local",), True), (("bank.example",), False)):
        certificate, key = authority.issue(Addresses(names, ()), datetime.now(UTC))
        (tmp_path / "c.pem").write_bytes(certificate.public_bytes(serialization.Encoding.PEM) + encode_key(key))
        server_context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        server_context.load_cert_chain(tmp_path / "c.pem")
        assert handshake_succeeds(tls_context, server_context, names[0]) is good, names


def handshake_succeeds(client: ssl.SSLContext, server: ssl.SSLContext, name: str) -> bool:
    """Whether a client trusts a server, over memory alone."""
    to_client, to_server = ssl.MemoryBIO(), ssl.MemoryBIO()
    client_side = client.wrap_bio(to_client, to_server, server_hostname=name)
    server_side = server.wrap_bio(to_server, to_client, server_side=True)
    for _ in range(5):
        with contextlib.suppress(ssl.SSLWantReadError):
            try:
                client_side.do_handshake()
                return True
            except ssl.SSLCertVerificationError:
                return False
        with contextlib.suppress(ssl.SSLWantReadError):
            server_side.do_handshake()
    raise AssertionError("no handshake")


def test_the_host_certificate_is_renewed_in_time_while_running(tmp_path: Path) -> None:
    now = [TODAY]
    credentials = Credentials(tmp_path, lambda: PC_ADDRESSES, lambda: now[0])
    first, context, authority = (
        host_certificate(tmp_path),
        credentials.context,
        (tmp_path / "authority.pem").read_bytes(),
    )
    now[0] = TODAY + 300 * DAY
    credentials.current_context()
    assert host_certificate(tmp_path) == first
    now[0] = TODAY + 340 * DAY
    assert credentials.current_context() is not context
    renewed = host_certificate(tmp_path)
    assert renewed.not_valid_after_utc > now[0] + 390 * DAY
    assert renewed.serial_number != first.serial_number
    renewed.verify_directly_issued_by(credentials.authority.certificate)
    assert (tmp_path / "authority.pem").read_bytes() == authority, "phones trust it still"
    now[0] = TODAY + 3000 * DAY
    Credentials(tmp_path, lambda: PC_ADDRESSES, lambda: now[0])
    assert host_certificate(tmp_path).not_valid_after_utc > now[0] + 300 * DAY, "also after years in a drawer"
    assert (tmp_path / "authority.pem").read_bytes() == authority


def test_an_authority_that_runs_out_is_made_anew_and_told(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    old = Credentials(tmp_path, lambda: PC_ADDRESSES, lambda: TODAY).authority
    later = TODAY + 3600 * DAY
    new = Credentials(tmp_path, lambda: PC_ADDRESSES, lambda: later)
    assert new.authority.fingerprint != old.fingerprint
    assert "every phone has to trust the new one" in caplog.text
    host_certificate(tmp_path).verify_directly_issued_by(new.authority.certificate)


def test_a_clock_that_went_back_renews_nothing(tmp_path: Path) -> None:
    now = [TODAY]
    credentials = Credentials(tmp_path, lambda: PC_ADDRESSES, lambda: now[0])
    first = host_certificate(tmp_path)
    now[0] = datetime(1970, 1, 1, tzinfo=UTC)
    assert credentials.current_context() is credentials.context
    assert host_certificate(tmp_path) == first
    with pytest.raises(LogFault, match="clock shows 1970-01-01"):
        Credentials(tmp_path, lambda: PC_ADDRESSES, lambda: now[0])
    now[0] = TODAY + DAY
    credentials.current_context()
    assert host_certificate(tmp_path) == first


def test_a_new_address_is_on_the_certificate_within_minutes(tmp_path: Path) -> None:
    now, addresses = [TODAY], [PC_ADDRESSES]
    credentials = Credentials(tmp_path, lambda: addresses[0], lambda: now[0])
    reported: list[Addresses] = []
    credentials.address_watchers.append(reported.append)
    addresses[0] = Addresses(PC_ADDRESSES.names, ("10.0.0.5", "203.0.113.9"))
    now[0] += timedelta(minutes=6)
    credentials.current_context()
    alternative_names = host_certificate(tmp_path).extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert "10.0.0.5" in map(str, alternative_names.get_values_for_type(x509.IPAddress))
    assert "203.0.113.9" not in map(str, alternative_names.get_values_for_type(x509.IPAddress)), "no public address"
    assert reported == [addresses[0]]


def test_a_damaged_authority_is_told_and_left_alone(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Credentials(folder / "lan", lambda: PC_ADDRESSES)
    (folder / "lan" / "authority.pem").write_bytes(b"-----BEGIN CERTIFICATE-----\n")
    with pytest.raises(LogFault, match="cannot be used together"):
        Credentials(folder / "lan", lambda: PC_ADDRESSES)
    assert main(["serve", "--lan", "--no-announce", "--folder", str(folder), "--port", "0", "--welcome-port", "0"]) == 2
    assert "cannot be used together" in capsys.readouterr().err


def test_a_damaged_host_certificate_is_made_anew(tmp_path: Path) -> None:
    Credentials(tmp_path, lambda: PC_ADDRESSES)
    private.write(tmp_path / "host.pem", b"half a certif")
    credentials = Credentials(tmp_path, lambda: PC_ADDRESSES)
    host_certificate(tmp_path).verify_directly_issued_by(credentials.authority.certificate)


def test_a_taken_welcome_port_is_told_in_a_sentence(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        ports = ["--port", "0", "--welcome-port", port, "--address", "127.0.0.1"]
        assert main(["serve", "--lan", "--no-announce", "--folder", str(folder), *ports]) == 2
    assert f"Port {port} is taken" in capsys.readouterr().err
