"""Twenty phones at once over TLS, with dawdlers between them: everybody is served, nothing is lost, nothing grows."""

import contextlib
import json
import random
import ssl
import threading
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPSConnection
from pathlib import Path
from typing import Any

import pytest

from server.serving import LAN_THREADS

from .lan_server import LanServer, serve_lan
from .sample_logs import UNIT_ID, entry, new_id

pytestmark = pytest.mark.about_files("`serve --lan` serves a folder, with a certificate of its own")

PHONES = 20
BATCHES = 4
IN_BATCH = 6
# How much resident memory may grow over all rounds after the first two, in kB. A connection whose buffers were kept
# would be some 100 kB, and every round opens 150.
GROWTH_KB = 8_000


@pytest.fixture
def server(tmp_path: Path) -> Iterator[LanServer]:
    with serve_lan(tmp_path / "data") as running:
        assert running.ask("POST", "/api/log", {"entries": [entry("unit")]})[0] == 200
        yield running


class Phone:
    """A phone with a token of its own, and an outbox."""

    def __init__(self, server: LanServer, name: str) -> None:
        self.server = server
        self.token = server.pair("trackside", name)
        self.chance = random.Random(name)
        self.sent: list[str] = []

    def open(self) -> HTTPSConnection:
        return HTTPSConnection("localhost", self.server.port, context=self.server.tls_context, timeout=60)

    def send(self, connection: HTTPSConnection, entries: list[dict[str, Any]]) -> list[str]:
        headers = {"Authorization": f"Bearer {self.token}", "Content-Type": "application/json"}
        connection.request("POST", "/api/log", json.dumps({"entries": entries}), headers)
        answer = connection.getresponse()
        content = json.loads(answer.read())
        assert answer.status == 200, content
        return [answer["answer"] for answer in content["answers"]]

    def deliver(self) -> None:
        """Send several batches; some twice, as after an answer that got lost, and some over a new connection."""
        connection = self.open()
        for _ in range(BATCHES):
            kinds = [self.chance.choice(("note", "torque_check")) for _ in range(IN_BATCH)]
            batch = [entry(kind, id=new_id()) for kind in kinds]
            assert self.send(connection, batch) == ["stored"] * IN_BATCH
            self.sent += [entry["id"] for entry in batch]
            if self.chance.random() < 0.3:
                connection.close()
                connection = self.open()
                assert self.send(connection, batch) == ["already_there"] * IN_BATCH
        connection.close()


HEAD = b"POST /api/log HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"


class Dawdlers:
    """Clients that begin and do not end, more of them than there are threads."""

    def __init__(self, server: LanServer) -> None:
        self.open_connections = contextlib.ExitStack()
        self.dripping: list[ssl.SSLSocket] = []
        for number in range(LAN_THREADS + 12):
            match number % 6:
                case 0:
                    self.open_connections.enter_context(server.connect())
                case 1:
                    # The beginning of a handshake (RFC 8446, 5.1).
                    self.open_connections.enter_context(server.connect()).sendall(b"\x16\x03\x01\x02\x00\x01")
                case 2:
                    self.open_connections.enter_context(server.connect_tls()).sendall(HEAD[:40])
                case 3:
                    half = HEAD + b'Content-Length: 500\r\n\r\n{"entries": ['
                    self.open_connections.enter_context(server.connect_tls()).sendall(half)
                case 4:
                    # Asks for all there is and takes none of it.
                    greedy = self.open_connections.enter_context(server.connect_tls())
                    greedy.sendall(b"GET /api/log?after=0&most=500 HTTP/1.1\r\nHost: localhost\r\n\r\n" * 3)
                case _:
                    self.dripping.append(self.open_connections.enter_context(server.connect_tls()))
        self.stops = threading.Event()
        self.thread = threading.Thread(target=self.drip)
        self.thread.start()

    def drip(self) -> None:
        """Send one byte at a time, and read one byte at a time."""
        text = b"GET /api/units HTTP/1.1\r\nHost: localhost\r\nX-Slow: " + b"x" * 1000
        for byte in text:
            for connection in self.dripping:
                with contextlib.suppress(OSError):
                    connection.sendall(bytes([byte]))
            if self.stops.wait(0.02):
                return

    def end(self) -> None:
        self.stops.set()
        self.thread.join()
        self.open_connections.close()


def all_ids(server: LanServer) -> list[str]:
    """Every entry's id, page by page, in the log's order."""
    ids: list[str] = []
    after, has_more = 0, True
    while has_more:
        status, page = server.ask("GET", f"/api/log?after={after}&most=500")
        assert status == 200
        assert [entry["seq"] for entry in page["entries"]] == list(range(after + 1, page["next"] + 1))
        ids += [entry["id"] for entry in page["entries"]]
        after, has_more = page["next"], page["more"]
    return ids


def deliver_at_once(phones: list[Phone]) -> None:
    with ThreadPoolExecutor(len(phones)) as pool:
        for delivery in [pool.submit(phone.deliver) for phone in phones]:
            delivery.result(timeout=120)


def test_twenty_phones_deliver_at_once_among_dawdlers(server: LanServer) -> None:
    phones = [Phone(server, f"Phone {number}") for number in range(PHONES)]
    dawdlers = Dawdlers(server)
    try:
        deliver_at_once(phones)
    finally:
        dawdlers.end()
    logged_ids = all_ids(server)[1:]
    sent = [id for phone in phones for id in phone.sent]
    assert len(sent) == PHONES * BATCHES * IN_BATCH
    assert Counter(logged_ids) == Counter(sent), "the union, each once"
    # In every phone's own order.
    places = {id: place for place, id in enumerate(logged_ids)}
    assert all([places[id] for id in phone.sent] == sorted(places[id] for id in phone.sent) for phone in phones)
    status, unit = server.ask("GET", f"/api/units/{UNIT_ID}")
    assert status == 200
    assert {entry["id"] for entry in unit["entries"]} >= set(sent)


def resident_kb(pid: int) -> int:
    """Resident memory of a process (proc(5))."""
    for line in Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1])
    raise AssertionError("no VmRSS")


def open_files(pid: int) -> int:
    return len(list(Path(f"/proc/{pid}/fd").iterdir()))


def count_settled_files(server: LanServer) -> int:
    """How many files the server holds open once everybody has gone."""
    deadline, count = time.monotonic() + 30, open_files(server.process.pid)
    while time.monotonic() < deadline:
        time.sleep(0.5)
        now = open_files(server.process.pid)
        if now >= count and now < 40:
            return now
        count = now
    return count


def test_memory_and_connections_stay_steady_round_after_round(server: LanServer, rounds: int) -> None:
    phones = [Phone(server, f"Phone {number}") for number in range(PHONES)]
    figures: list[tuple[int, int, int]] = []
    for _ in range(max(3, rounds)):
        dawdlers = Dawdlers(server)
        try:
            # The same phones over and over, without new entries: what is kept of entries is the log's own.
            for phone in phones:
                assert phone.server.ask("GET", "/api/units", token=phone.token)[0] == 200
            with ThreadPoolExecutor(PHONES) as pool:
                refused = list(pool.map(lambda phone: deliver_same_batch(phone), phones))
        finally:
            dawdlers.end()
        assert set(refused) == {"already_there"}
        figures.append((resident_kb(server.process.pid), count_settled_files(server), len(all_ids(server))))
    first, last = figures[1], figures[-1]
    assert last[0] - first[0] < GROWTH_KB, figures
    assert last[1] <= first[1] + 2, figures


KNOWN: dict[str, dict[str, Any]] = {}


def deliver_same_batch(phone: Phone) -> str:
    """Deliver the same batch as ever, several times over new connections; the answer of the last."""
    known = KNOWN.setdefault(phone.token, entry("note", id=new_id()))
    answer = ""
    for _ in range(6):
        connection = phone.open()
        (answer,) = phone.send(connection, [known])
        connection.close()
    return answer
