"""Several processes serve a database as one: what one of them is told all know, and none of them is missed."""

import contextlib
import http.client
import json
import os
import re
import signal
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from server.cli import main
from tests.linux import children_of
from tests.postgres import wait_until

from .database_made import Prepared
from .processes import COMMAND, PythonProcess, ServerProcess, exchange
from .sample_logs import UNIT_ID, entry

CODE = re.compile(r"\S+-\S{4}-\S{4}")


@contextlib.contextmanager
def serving(prepared: Prepared, *options: str) -> Iterator[ServerProcess]:
    server = ServerProcess("serve", "--database", prepared.url, *options, warm=False)
    try:
        yield server
    finally:
        if server.process.poll() is None:
            server.stop()
    assert "Traceback" not in server.errors()


def asks(server: ServerProcess, method: str, path: str, body: Any = None, token: str | None = None) -> tuple[int, Any]:
    """One request on a connection of its own, which any of the processes may get."""
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)
    status, data = exchange(connection, method, path, body, token)
    return status, json.loads(data or b"null")


def code_of(prepared: Prepared, name: str, capsys: pytest.CaptureFixture[str]) -> str:
    """The first code of a new workshop."""
    capsys.readouterr()
    assert main(["workshop", "add", name, "--database", prepared.owner_url]) == 0
    code = CODE.search(capsys.readouterr().out)
    assert code is not None
    return code[0]


def is_gone(pid: int) -> bool:
    """Whether a process has ended."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] == "Z"
    except FileNotFoundError:
        return True


def pid_of(server: ServerProcess) -> int:
    pid: int = server.process.pid
    return pid


def until(answers: Callable[[], bool]) -> None:
    """Wait until this comes about, while connections may be broken off."""

    def all_have_answered() -> bool:
        with contextlib.suppress(OSError):
            return answers()
        return False

    wait_until(all_have_answered)


def test_what_one_process_is_told_all_of_them_know(prepared: Prepared, capsys: pytest.CaptureFixture[str]) -> None:
    codes = [code_of(prepared, name, capsys) for name in ("Mill Lane", "Harbour")]
    with serving(prepared, "--workers", "3") as server:
        assert len(children_of(pid_of(server))) == 3
        status, health = asks(server, "GET", "/api/health")
        assert (status, health["log_id"], health["role"]) == (200, None, None)
        for method, path in (("GET", "/api/units"), ("GET", "/api/log"), ("POST", "/api/log"), ("GET", "/api/devices")):
            assert asks(server, method, path, {"entries": []} if method == "POST" else None)[0] == 401
        tokens = []
        for code in codes:
            status, pair_answer = asks(server, "POST", "/api/pair", {"code": code, "name": "The bench"})
            assert (status, pair_answer["device"]["role"]) == (200, "bench"), pair_answer
            tokens.append(pair_answer["token"])
            # A code is used up everywhere.
            for _ in range(6):
                assert asks(server, "POST", "/api/pair", {"code": code, "name": "Somebody"})[0] == 422
        mill, harbour = tokens
        sent = [entry("unit"), entry("torque_check")]
        for entry_sent in sent:
            status, answer = asks(server, "POST", "/api/log", {"entries": [entry_sent]}, mill)
            assert (status, answer["answers"][0]["answer"]) == (200, "stored"), answer
        for _ in range(12):
            status, page = asks(server, "GET", "/api/log", None, mill)
            assert [row["id"] for row in page["entries"]] == [entry_sent["id"] for entry_sent in sent]
            # The other workshop sees nothing of it, and numbers its own entries.
            assert asks(server, "GET", "/api/log", None, harbour)[1]["entries"] == []
            assert asks(server, "GET", f"/api/units/{UNIT_ID}", None, harbour)[0] == 404
            assert [row["id"] for row in asks(server, "GET", "/api/units", None, mill)[1]["units"]] == [UNIT_ID]
        assert asks(server, "POST", "/api/log", {"entries": [entry("kit")]}, harbour)[1]["answers"][0]["seq"] == 1
        # Shut out by one process, shut out by all.
        [device] = asks(server, "GET", "/api/devices", None, harbour)[1]["devices"]
        assert asks(server, "DELETE", f"/api/devices/{device['id']}", None, harbour)[0] in (200, 204)
        assert {asks(server, "GET", "/api/units", None, harbour)[0] for _ in range(12)} == {401}


def test_a_process_that_dies_is_replaced_and_all_end_with_who_started_them(
    prepared: Prepared, capsys: pytest.CaptureFixture[str]
) -> None:
    code = code_of(prepared, "Mill Lane", capsys)
    with serving(prepared, "--workers", "2") as server:
        token = asks(server, "POST", "/api/pair", {"code": code, "name": "The bench"})[1]["token"]
        sent = entry("note")
        assert asks(server, "POST", "/api/log", {"entries": [sent]}, token)[0] == 200
        before = set(children_of(pid_of(server)))
        os.kill(min(before), signal.SIGKILL)
        wait_until(lambda: len(set(children_of(pid_of(server))) - before) == 1)
        until(lambda: [asks(server, "GET", "/api/log", None, token)[0] for _ in range(8)] == [200] * 8)
        assert [row["id"] for row in asks(server, "GET", "/api/log", None, token)[1]["entries"]] == [sent["id"]]
        workers = children_of(pid_of(server))
        assert server.stop() == 0
        assert all(map(is_gone, workers))
    with serving(prepared, "--workers", "2") as server:
        workers = children_of(pid_of(server))
        assert len(workers) == 2
        # Without a chance to tell them.
        server.stop(signal.SIGKILL)
        wait_until(lambda: all(map(is_gone, workers)))


def test_a_proxy_is_believed_and_nobody_else(prepared: Prepared, capsys: pytest.CaptureFixture[str]) -> None:
    code = code_of(prepared, "Mill Lane", capsys)
    statuses: dict[str, set[int]] = {}
    with serving(prepared, "--behind-proxy", "127.0.0.1") as server:
        # Wrong codes are counted by the address that the proxy names: whoever has guessed is locked out alone.
        wrong = code[:-4] + ("AAAA" if code[-4:] != "AAAA" else "BBBB")
        for address in ("203.0.113.7", "203.0.113.8"):
            for _ in range(8 if address.endswith("7") else 1):
                status = forwarded(server, address, {"code": wrong, "name": "x"})
                statuses.setdefault(address, set()).add(status)
        assert forwarded(server, "203.0.113.7", {"code": code, "name": "x"}) == 429
        assert forwarded(server, "203.0.113.8", {"code": code, "name": "Mara"}) == 200
    with serving(prepared, "--behind-proxy", "192.0.2.1") as server:
        # What comes from another address is not believed: all are one address, and the second guess counts for it too.
        assert main(["workshop", "code", "Mill Lane", "--database", prepared.owner_url]) == 0
        shown_code = CODE.search(capsys.readouterr().out)
        assert shown_code is not None
        for number in range(8):
            forwarded(server, f"203.0.113.{number}", {"code": wrong, "name": "x"})
        assert forwarded(server, "203.0.113.99", {"code": shown_code[0], "name": "x"}) == 429


def forwarded(server: ServerProcess, address: str, body: Any) -> int:
    """The status of an attempt to pair that comes through a proxy, or from somebody who says so."""
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)
    headers = {"Content-Type": "application/json", "X-Forwarded-For": address, "X-Forwarded-Proto": "https"}
    try:
        connection.request("POST", "/api/pair", json.dumps(body), headers)
        return connection.getresponse().status
    finally:
        connection.close()


def refused(*arguments: str) -> str:
    """What a server says that cannot begin."""
    process = PythonProcess(*COMMAND, "serve", *arguments)
    assert process.process.wait(60) == 2, process.errors()
    return process.errors()


def test_a_taken_port_and_a_database_that_is_away_are_said_in_a_sentence(prepared: Prepared) -> None:
    with serving(prepared) as server:
        # Nobody else's server is joined at its port.
        sentence = refused("--database", prepared.url, "--port", str(server.port))
        assert f"Port {server.port} is taken" in sentence
    sentence = refused("--database", "postgresql://slipbook@/x?host=/nowhere", "--port", "0", "--workers", "2")
    assert "cannot be reached" in sentence
    assert "Traceback" not in sentence
