"""Killed servers and cut connections: what was acknowledged is there, once. More with --rounds."""

import http.client
import json
import random
import signal
import socket
import threading
import time
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from server.engine import calc
from server.log.files import FolderLog
from server.log.files.survey import survey

from .processes import ServerProcess, serve_folder
from .sample_logs import OTHER_UNIT, UNIT_ID, entry, new_id

pytestmark = pytest.mark.about_files("kills servers of a folder; `test_database_faults.py` those of a database")

SHOWN = calc("note", {"text": "x"})


def note(unit: str) -> dict[str, Any]:
    return entry("note", unit, shown=SHOWN)


def stored_ids(folder: Path) -> list[str]:
    with FolderLog(folder) as log:
        assert log.problems == []
        ids: list[str] = []
        has_more, after = True, 0
        while has_more:
            # A page is bounded in bytes, which two hundred rounds go beyond.
            entries, has_more = log.after(after, 10**6)
            ids += [entry["id"] for entry in entries]
            after = entries[-1]["seq"] if entries else after
        return ids


class Uploader(threading.Thread):
    """Sends batch after batch until the server is gone, and remembers what was acknowledged."""

    def __init__(self, server: ServerProcess, unit: str) -> None:
        super().__init__()
        self.server = server
        self.unit = unit
        self.sent: list[dict[str, Any]] = []
        self.acknowledged: list[str] = []

    def run(self) -> None:
        while True:
            batch = [note(random.choice((self.unit, UNIT_ID))) for _ in range(random.randint(1, 6))]
            self.sent += batch
            try:
                answer = self.server.ask("POST", "/api/log", {"entries": batch})
            except (OSError, http.client.HTTPException, ValueError):
                return
            assert all(row["answer"] == "stored" for row in answer["answers"])
            self.acknowledged += [row["id"] for row in answer["answers"]]


def wait_for_an_answer(uploaders: list[Uploader]) -> None:
    """Wait until the server has acknowledged something to one of these."""
    deadline = time.monotonic() + 60
    while not any(uploader.acknowledged for uploader in uploaders) and time.monotonic() < deadline:
        time.sleep(0.01)


def test_a_killed_server_has_every_acknowledged_entry_once(tmp_path: Path, rounds: int) -> None:
    folder = tmp_path / "data"
    sent: dict[str, dict[str, Any]] = {}
    acknowledged: list[str] = []
    for _ in range(rounds):
        with serve_folder(folder) as server:
            uploaders = [Uploader(server, new_id()) for _ in range(3)]
            for uploader in uploaders:
                uploader.start()
            if not acknowledged:
                # Without that nothing is tried, however slow the machine.
                wait_for_an_answer(uploaders)
            time.sleep(random.uniform(0.02, 0.4))
            server.stop(signal.SIGKILL)
            for uploader in uploaders:
                uploader.join()
        for uploader in uploaders:
            sent.update({entry["id"]: entry for entry in uploader.sent})
            acknowledged += uploader.acknowledged
        assert survey(folder).faults == []
        ids = Counter(stored_ids(folder))
        assert set(ids.values()) <= {1}
        assert set(acknowledged) <= set(ids), "an acknowledged entry is gone"
        assert set(ids) <= set(sent)
    assert acknowledged, "nothing was ever acknowledged, so nothing was tried"
    # Phones send again what nobody acknowledged; then everything is there, once.
    with serve_folder(folder) as server:
        waiting = list(sent.values())
        for start in range(0, len(waiting), 100):
            server.ask("POST", "/api/log", {"entries": waiting[start : start + 100]})
    assert sorted(stored_ids(folder)) == sorted(sent)


def send_and_hang_up(port: int, body: bytes, part: float) -> None:
    """Send a request, or a part of it, and never read the answer."""
    head = f"POST /api/log HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: {len(body)}"
    request = head.encode() + b"\r\n\r\n" + body
    with socket.create_connection(("127.0.0.1", port)) as connection:
        connection.sendall(request[: max(1, int(len(request) * part))])
        if part == 1:
            time.sleep(random.uniform(0, 0.02))


def deliver_outbox(server: ServerProcess, entries: list[dict[str, Any]]) -> None:
    """Deliver an outbox over a bad network: only an answer that arrives clears an entry."""
    assert server.port is not None
    outbox = {entry["id"]: entry for entry in entries}
    while outbox:
        batch = random.sample(list(outbox.values()), min(len(outbox), random.randint(1, 30)))
        draw = random.random()
        if draw < 0.5:
            send_and_hang_up(server.port, json.dumps({"entries": batch}).encode(), random.choice((random.random(), 1)))
            continue
        for answer in server.ask("POST", "/api/log", {"entries": batch})["answers"]:
            assert answer["answer"] in ("stored", "already_there")
            outbox.pop(answer["id"], None)


def test_twenty_devices_over_a_bad_network_make_the_union_exactly_once(tmp_path: Path, rounds: int) -> None:
    folder = tmp_path / "data"
    entries_each = min(200, 8 * rounds)
    outboxes = [[note(random.choice((UNIT_ID, OTHER_UNIT, ""))) for _ in range(entries_each)] for _ in range(20)]
    failures: list[BaseException] = []

    def run(entries: list[dict[str, Any]]) -> None:
        try:
            deliver_outbox(server, entries)
        except BaseException as failure:
            failures.append(failure)

    with serve_folder(folder) as server:
        threads = [threading.Thread(target=run, args=(outbox,)) for outbox in outboxes]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert server.stop() == 0
    assert failures == []
    assert sorted(stored_ids(folder)) == sorted(entry["id"] for outbox in outboxes for entry in outbox)
