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
from server.lan.crowding import MOST_FROM_ADDRESS, MOST_OPEN, Crowd
from server.serving import LAN_THREADS

from .lan_served import LanServer, serve_lan

# A close that sends RST at once.
ABRUPTLY = struct.pack("ii", 1, 0)


@pytest.fixture
def server(tmp_path: Path) -> Iterator[LanServer]:
    with serve_lan(tmp_path / "data") as running:
        yield running


def test_connections_that_break_off_in_the_handshake_leave_the_server_running(server: LanServer) -> None:
    chance = random.Random(7)
    for _ in range(400):
        with server.connected() as visitor:
            visitor.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, ABRUPTLY)
            with contextlib.suppress(OSError):
                visitor.sendall(b"\x16")
            # Whether the server is between its look at the first byte and the handshake is a matter of luck.
            time.sleep(chance.random() * 1e-3)
    assert server.ask("GET", "/api/health")[0] == 200


def test_idle_connections_beyond_the_most_are_closed_and_the_others_served(server: LanServer) -> None:
    with contextlib.ExitStack() as visitors:
        for _ in range(MOST_OPEN):
            visitors.enter_context(server.connected())
        one_more = visitors.enter_context(server.connected())
        assert one_more.recv(1) == b"", "there is no room"
    for _ in range(100):
        # The server hears of their going when it gets round to it.
        with contextlib.suppress(OSError):
            assert server.ask("GET", "/api/health")[0] == 200
            return
        time.sleep(0.1)
    raise AssertionError("there is room again, and nobody is let in")


def test_one_address_cannot_take_the_room_of_the_others() -> None:
    crowd = Crowd()
    assert [crowd.admit(number, "192.168.7.66") for number in range(MOST_OPEN)].count(True) == MOST_FROM_ADDRESS
    assert crowd.admit("a phone", "192.168.7.30")
    assert crowd.admit("the bench", "127.0.0.1")
    crowd.release(0)
    crowd.release(0)
    assert crowd.admit("again", "192.168.7.66")
    assert not crowd.admit("too many again", "192.168.7.66")


def test_a_strangers_long_body_is_refused_unread(server: LanServer) -> None:
    began = b"POST /api/pair HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer nobodys\r\n"
    began += b"Content-Type: application/json\r\nContent-Length: 500000\r\n\r\n"
    with contextlib.ExitStack() as visitors:
        waiting = [visitors.enter_context(server.secured()) for _ in range(LAN_THREADS)]
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
