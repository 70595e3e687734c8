"""A real `slipbook serve --lan` process on the loopback, and clients that come to it over TLS."""

import http.client
import json
import re
import signal
import socket
import ssl
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from .running import ROOT


class LanServer:
    """A `slipbook serve --lan` process that listens on the loopback only."""

    def __init__(self, folder: Path, announce: bool = False, program: tuple[str, ...] = ("-m", "server.cli")) -> None:
        self.told = tempfile.TemporaryFile("w+")  # noqa: SIM115
        # Several may run at once on one machine: what they say to the network is for tests of its own.
        quiet = () if announce else ("--no-announce",)
        ports = ("--port", "0", "--welcome-port", "0", "--address", "127.0.0.1")
        self.process = subprocess.Popen(
            [sys.executable, *program, "serve", "--lan", "--folder", str(folder), *ports, *quiet],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            stderr=self.told,
            text=True,
        )
        assert self.process.stdout is not None
        self.said = ""
        for line in self.process.stdout:
            self.said += line
            if "Ctrl+C" in line:
                break
        found = re.search(r"https://localhost:(\d+)/", self.said)
        welcome = re.search(r"http://\S+:(\d+)/", self.said)
        if found is None or welcome is None:
            self.process.wait()
            raise AssertionError(f"The server did not start: {self.said}{self.errors()}")
        self.port, self.welcome_port = int(found[1]), int(welcome[1])
        self.authority = folder / "lan" / "authority.pem"
        self.trust = ssl.create_default_context(cafile=self.authority)

    def next_line(self) -> str:
        """What the server says next on standard output."""
        assert self.process.stdout is not None
        return self.process.stdout.readline()

    def errors(self) -> str:
        self.told.seek(0)
        return self.told.read()

    def stop(self) -> int:
        self.process.send_signal(signal.SIGTERM)
        self.process.communicate(timeout=30)
        return self.process.returncode

    def ask(self, method: str, path: str, body: Any = None, token: str | None = None) -> tuple[int, Any]:
        """One request over verified TLS."""
        connection = http.client.HTTPSConnection("127.0.0.1", self.port, context=self.trust, timeout=30)
        try:
            text = None if body is None else json.dumps(body)
            headers = {"Content-Type": "application/json"}
            if token:
                headers["Authorization"] = f"Bearer {token}"
            connection.request(method, path, text, headers)
            answer = connection.getresponse()
            return answer.status, json.loads(answer.read() or b"null")
        finally:
            connection.close()

    def paired(self, role: str, name: str = "Mara's phone") -> str:
        """The token of a phone that came in with a code made at the PC."""
        status, made = self.ask("POST", "/api/pairing", {"role": role})
        assert status == 200, made
        status, came = self.ask("POST", "/api/pair", {"code": made["code"], "name": name})
        assert status == 200, came
        return str(came["token"])

    def connected(self, timeout: float = 30) -> socket.socket:
        """A connection on which nothing was said yet."""
        return socket.create_connection(("127.0.0.1", self.port), timeout=timeout)

    def secured(self, timeout: float = 30) -> ssl.SSLSocket:
        """A verified TLS connection on which nothing was asked yet."""
        return self.trust.wrap_socket(self.connected(timeout), server_hostname="localhost")

    def welcome(self, method: str, path: str, body: bytes | None = None) -> tuple[int, str, bytes]:
        """One request to the welcome page."""
        connection = http.client.HTTPConnection("127.0.0.1", self.welcome_port, timeout=30)
        try:
            connection.request(method, path, body)
            answer = connection.getresponse()
            return answer.status, str(answer.headers["Content-Type"]), answer.read()
        finally:
            connection.close()


@contextmanager
def unshaken(folder: Path) -> Iterator[LanServer]:
    """A server that has to be stopped as usual at the end, and to have said nothing of a failure."""
    running = LanServer(folder)
    yield running
    assert running.stop() == 0
    assert "Traceback" not in running.errors()
