"""Clients that never end what they begin keep neither phones nor the workshop's own PC waiting: real sockets."""

import contextlib
import http.client
import socket
import ssl
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from server.serving import LAN_THREADS, THREADS

from .lan_server import LanServer
from .processes import serve_folder

pytestmark = pytest.mark.about_files("`serve --lan` serves a folder, with a certificate of its own")

# To the server every address of the loopback but the PC's usual one is a machine of the network here.
AMONG_NEIGHBOURS = """
import sys
from server import cli
for name, module in list(sys.modules.items()):
    if name.startswith("server.") and hasattr(module, "is_loopback"):
        module.is_loopback = lambda ip: ip == "127.0.0.1"
sys.exit(cli.main(sys.argv[1:]))
"""
PC = "127.0.0.1"
PHONE = "127.0.0.30"
# What comes at once comes within a fifth of what an unfinished request is given.
AT_ONCE_S = 4
HALF = b"GET /api/health HTTP/1.1\r\nHost: localhost\r\nX-Half: "
GREEDY = b"GET /pack.json HTTP/1.1\r\nHost: localhost\r\n\r\n"


@pytest.fixture
def workshop(tmp_path: Path) -> Iterator[LanServer]:
    server = LanServer(tmp_path / "data", program=("-c", AMONG_NEIGHBOURS))
    yield server
    assert server.stop() == 0
    assert "Traceback" not in server.errors()


def health(server: LanServer, address: str) -> int:
    """The status that a client at an address gets at once; OSError if it gets none."""
    connection = http.client.HTTPSConnection(
        "127.0.0.1", server.port, context=server.tls_context, timeout=AT_ONCE_S, source_address=(address, 0)
    )
    with contextlib.closing(connection):
        connection.request("GET", "/api/health")
        return connection.getresponse().status


def half_request(server: LanServer, address: str) -> ssl.SSLSocket:
    """A connection over which half a head was sent."""
    raw = socket.create_connection(("127.0.0.1", server.port), timeout=AT_ONCE_S, source_address=(address, 0))
    secured = server.tls_context.wrap_socket(raw, server_hostname="localhost")
    secured.sendall(HALF)
    return secured


def drip(sockets: list[socket.socket], stops: threading.Event) -> None:
    """Send a byte over each of them ten times a second."""
    while not stops.wait(0.1):
        for connection in sockets:
            with contextlib.suppress(OSError):
                connection.sendall(b"x")


@contextlib.contextmanager
def dribbling(port: int, count: int) -> Iterator[None]:
    """So many clients that send a head a byte at a time."""
    with contextlib.ExitStack() as held_open:
        sockets = [
            held_open.enter_context(socket.create_connection(("127.0.0.1", port), timeout=AT_ONCE_S))
            for _ in range(count)
        ]
        for connection in sockets:
            connection.sendall(HALF)
        stops = threading.Event()
        thread = threading.Thread(target=drip, args=[sockets, stops])
        thread.start()
        try:
            yield
        finally:
            stops.set()
            thread.join()


def health_by_http(port: int) -> int:
    """The status of the first page of a server without TLS, at once."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=AT_ONCE_S)
    with contextlib.closing(connection):
        connection.request("GET", "/")
        return connection.getresponse().status


def test_clients_that_dribble_do_not_hold_the_welcome_page(workshop: LanServer) -> None:
    with dribbling(workshop.welcome_port, 2 * THREADS):
        assert [health_by_http(workshop.welcome_port) for _ in range(3)] == [200] * 3


def test_programs_that_dribble_do_not_hold_the_server_of_this_machine(tmp_path: Path) -> None:
    with serve_folder(tmp_path / "data") as server:
        assert server.port is not None
        with dribbling(server.port, 2 * THREADS):
            assert [health_by_http(server.port) for _ in range(3)] == [200] * 3


@pytest.mark.parametrize("addresses", [1, 2, 50])
def test_half_requests_keep_nobody_out(workshop: LanServer, addresses: int) -> None:
    addresses_used = [f"127.0.1.{number % addresses + 1}" for number in range(230)]
    with contextlib.ExitStack() as held_open:
        for address in addresses_used:
            # Whoever is closed for the others' sake may be told so in the middle of the handshake.
            with contextlib.suppress(OSError):
                held_open.enter_context(half_request(workshop, address))
        for address in (PC, PHONE, PC, addresses_used[0]):
            assert health(workshop, address) == 200, address


def test_half_requests_from_the_pc_itself_keep_it_not_out(workshop: LanServer) -> None:
    with contextlib.ExitStack() as held_open:
        for _ in range(230):
            with contextlib.suppress(OSError):
                held_open.enter_context(half_request(workshop, PC))
        assert [health(workshop, address) for address in (PC, PHONE)] == [200, 200]


@pytest.mark.parametrize("addresses", [1, 40])
def test_clients_that_take_no_answer_keep_nobody_waiting(workshop: LanServer, addresses: int) -> None:
    with contextlib.ExitStack() as held_open:
        for number in range(LAN_THREADS + 12):
            raw = socket.socket()
            raw.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
            raw.settimeout(0.5)
            raw.bind((f"127.0.1.{number % addresses + 1}", 0))
            with contextlib.suppress(OSError):
                raw.connect(("127.0.0.1", workshop.port))
                greedy = held_open.enter_context(workshop.tls_context.wrap_socket(raw, server_hostname="localhost"))
                greedy.sendall(GREEDY * 40)
        # Until what the system takes off the server's hands is full.
        time.sleep(3)
        for address in (PC, PC) if addresses > 1 else (PC, PHONE):
            assert health(workshop, address) == 200, address


def test_a_slow_phone_is_still_served(workshop: LanServer) -> None:
    request: Any = HALF + b"\r\n\r\n"
    with half_request(workshop, PHONE) as slow, contextlib.suppress(TimeoutError):
        for byte in request[len(HALF) :]:
            slow.sendall(bytes([byte]))
        assert slow.recv(15) == b"HTTP/1.1 200 OK"
