"""Whoever comes without a token can neither stop the server nor take all of it up."""

import contextlib
import random
import socket
import struct
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from server import serving
from server.lan.connections import (
    MOST_FROM_ADDRESS,
    MOST_LEAVING,
    MOST_OPEN,
    ConnectionState,
    OpenConnections,
    ThreadQueue,
)
from server.serving import LAN_THREADS

from .lan_server import LanServer, serve_lan

pytestmark = pytest.mark.about_files("`serve --lan` serves a folder, with a certificate of its own")

# A close that sends RST at once.
ABRUPTLY = struct.pack("ii", 1, 0)


@pytest.fixture
def server(tmp_path: Path) -> Iterator[LanServer]:
    with serve_lan(tmp_path / "data") as running:
        yield running


def test_connections_that_break_off_in_the_handshake_leave_the_server_running(server: LanServer) -> None:
    chance = random.Random(7)
    for _ in range(400):
        with server.connect() as visitor:
            visitor.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, ABRUPTLY)
            with contextlib.suppress(OSError):
                visitor.sendall(b"\x16")
            # Whether the server is between its look at the first byte and the handshake is a matter of luck.
            time.sleep(chance.random() * 1e-3)
    assert server.ask("GET", "/api/health")[0] == 200


def test_the_longest_idle_connection_makes_room_for_a_new_one(server: LanServer) -> None:
    with contextlib.ExitStack() as visitors:
        first, *_ = [visitors.enter_context(server.connect()) for _ in range(MOST_OPEN)]
        assert server.ask("GET", "/api/health")[0] == 200
        assert first.recv(1) == b"", "it had to go"


def full(
    open_connections: OpenConnections, count: int, address: str, state: ConnectionState = ConnectionState.UNFINISHED
) -> None:
    """Let so many connections of an address in; each is named by its number and address."""
    for number in range(count):
        assert open_connections.admit((number, address), address)
        open_connections.set_state((number, address), state)


def test_one_address_cannot_take_the_room_of_the_others() -> None:
    dismissed: list[Any] = []
    open_connections = OpenConnections(dismissed.append)
    full(open_connections, MOST_FROM_ADDRESS, "192.168.7.66")
    full(open_connections, 30, "192.168.7.30", ConnectionState.IDLE)
    full(open_connections, 10, "127.0.0.1")
    assert dismissed == []
    full(open_connections, 1, "192.168.7.66")
    assert dismissed == [(0, "192.168.7.66")], "its own oldest went"


def test_whoever_has_begun_and_not_ended_goes_before_phones_that_wait() -> None:
    dismissed: list[Any] = []
    open_connections = OpenConnections(dismissed.append)
    full(open_connections, 60, "192.168.7.30", ConnectionState.IDLE)
    full(open_connections, 60, "192.168.7.66")
    full(open_connections, 60, "192.168.7.67")
    for number in range(120):
        assert open_connections.admit(number, f"192.168.8.{number}")
        open_connections.set_state(number, ConnectionState.BUSY)
        assert open_connections.must_leave(dismissed[-1])
        open_connections.release(dismissed[-1])
    assert dismissed == [(number, f"192.168.7.{last}") for last in (66, 67) for number in range(60)]
    assert open_connections.admit("one more", "192.168.8.200")
    assert dismissed[-1] == (0, "192.168.7.30"), "the longest idle"


def test_where_all_are_at_work_a_new_one_is_refused() -> None:
    open_connections = OpenConnections()
    full(open_connections, MOST_FROM_ADDRESS, "192.168.7.66", ConnectionState.BUSY)
    assert not open_connections.admit("too many", "192.168.7.66")
    open_connections.release((0, "192.168.7.66"))
    assert open_connections.admit("again", "192.168.7.66")


def test_connections_on_their_way_out_are_bounded_too() -> None:
    open_connections = OpenConnections()
    admitted = [open_connections.admit(number, "127.0.0.1") for number in range(2 * MOST_OPEN)]
    assert admitted.count(True) == len(open_connections.admitted) == MOST_OPEN + MOST_LEAVING


def test_the_threads_are_shared_out() -> None:
    begun: list[Any] = []
    thread_queue = ThreadQueue(24, begun.append)
    for number in range(40):
        thread_queue.enqueue((number, "greedy"), "192.168.7.66")
    assert len(begun) == 16
    for number in range(10):
        thread_queue.enqueue((number, "phone"), "192.168.7.30")
    assert len(begun) == 20
    thread_queue.enqueue("the bench", "127.0.0.1")
    assert begun[-1] == "the bench"
    thread_queue.end((0, "phone"))
    assert begun[-1] == (4, "phone"), "an address that has its share waits, and the others do not"
    assert thread_queue.forget((5, "phone"))
    assert not thread_queue.forget((5, "phone"))
    thread_queue.end((1, "phone"))
    assert begun[-1] == (6, "phone")
    thread_queue.end((0, "greedy"))
    assert begun[-1] == (16, "greedy"), "in the order in which they asked"


def test_a_strangers_long_body_is_refused_unread(server: LanServer) -> None:
    began = b"POST /api/pair HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer nobodys\r\n"
    began += b"Content-Type: application/json\r\nContent-Length: 500000\r\n\r\n"
    with contextlib.ExitStack() as visitors:
        waiting = [visitors.enter_context(server.connect_tls()) for _ in range(LAN_THREADS)]
        for visitor in waiting:
            # So much that a thread begins with it.
            visitor.sendall(began + b"[" * 70_000)
        assert {visitor.recv(12) for visitor in waiting} == {b"HTTP/1.1 413"}


def test_whoever_takes_nothing_of_an_answer_does_not_hold_up_a_stop(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(serving, "PATIENCE", 0)
    begun = threading.Event()

    def endless(_: Any, start: Any) -> Iterator[bytes]:
        start("200 OK", [("Content-Type", "text/plain")])
        for _ in range(1000):
            yield b" " * 100_000
            begun.set()

    server = serving.Server((serving.LOOPBACK, 0), endless, 1)
    serving.start_listening(server, 0)
    # Far beyond this test: only a stop that breaks the connection off ends in time.
    server.timeout = 3600
    threading.Thread(target=server.serve, daemon=True).start()
    with socket.create_connection(server.bind_addr, timeout=10) as reader:
        reader.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n")
        assert begun.wait(10)
        stopping = threading.Thread(target=server.stop, daemon=True)
        stopping.start()
        stopping.join(20)
        assert not stopping.is_alive()
