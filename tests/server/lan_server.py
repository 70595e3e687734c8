"""A real `slipbook serve --lan` process on the loopback, and clients that come to it over TLS."""

import http.client
import json
import re
import socket
import ssl
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests import hosted

from .processes import COMMAND, PythonProcess, exchange
from .stores import over_postgres, shared


class NetworkServer(PythonProcess):
    """A server process that lets this machine in, and phones with a code, over whichever store."""

    port: int

    @property
    def address(self) -> str:
        """Where phones find it."""
        return f"https://localhost:{self.port}"

    def connection(self) -> http.client.HTTPConnection:
        """A connection on which nothing was asked yet."""
        raise NotImplementedError

    def ask(self, method: str, path: str, body: Any = None, token: str | None = None) -> tuple[int, Any]:
        """One request on a connection of its own."""
        status, data = exchange(self.connection(), method, path, body, token)
        return status, json.loads(data or b"null")

    def pair(self, role: str, name: str = "Mara's phone") -> str:
        """The token of a phone that came in with a code made at the PC."""
        status, code_answer = self.ask("POST", "/api/pairing", {"role": role})
        assert status == 200, code_answer
        status, pair_answer = self.ask("POST", "/api/pair", {"code": code_answer["code"], "name": name})
        assert status == 200, pair_answer
        return str(pair_answer["token"])


class LanServer(NetworkServer):
    """A `slipbook serve --lan` process, on the loopback if not everywhere; on any free port unless one is named."""

    def __init__(
        self,
        folder: Path,
        announce: bool = False,
        program: tuple[str, ...] = COMMAND,
        port: int = 0,
        everywhere: bool = False,
    ) -> None:
        # Several may run at once on one machine: what they announce is for tests of its own.
        quiet = () if announce else ("--no-announce",)
        where = () if everywhere else ("--address", "127.0.0.1")
        ports = ("--port", str(port), "--welcome-port", "0", *where)
        super().__init__(*program, "serve", "--lan", "--folder", str(folder), *ports, *quiet)
        # All that the server prints before it is ready.
        self.output = ""
        while line := self.next_line():
            self.output += line
            if "Ctrl+C" in line:
                break
        address = re.search(r"https://localhost:(\d+)/", self.output)
        welcome = re.search(r"http://\S+:(\d+)/", self.output)
        if address is None or welcome is None:
            raise self.start_failure(self.output)
        self.port, self.welcome_port = int(address[1]), int(welcome[1])
        self.authority = folder / "lan" / "authority.pem"
        self.tls_context = ssl.create_default_context(cafile=self.authority)

    def connection(self) -> http.client.HTTPConnection:
        """One over verified TLS."""
        return http.client.HTTPSConnection("127.0.0.1", self.port, context=self.tls_context, timeout=30)

    def connect(self, timeout: float = 30) -> socket.socket:
        """A connection on which nothing was said yet."""
        return socket.create_connection(("127.0.0.1", self.port), timeout=timeout)

    def connect_tls(self, timeout: float = 30) -> ssl.SSLSocket:
        """A verified TLS connection on which nothing was asked yet."""
        return self.tls_context.wrap_socket(self.connect(timeout), server_hostname="localhost")

    def welcome(self, method: str, path: str, body: bytes | None = None) -> tuple[int, str, bytes]:
        """One request to the welcome page."""
        connection = http.client.HTTPConnection("127.0.0.1", self.welcome_port, timeout=30)
        try:
            connection.request(method, path, body)
            answer = connection.getresponse()
            return answer.status, str(answer.headers["Content-Type"]), answer.read()
        finally:
            connection.close()


class HostedServer(NetworkServer):
    """The workshop of a database that has a folder's path for a name; on any free port unless one is named."""

    def __init__(self, folder: Path, port: int = 0) -> None:
        database = shared()
        number = str(database.workshop(str(folder)))
        super().__init__("serve", database.url, number, str(port), program=hosted.main)
        line = self.next_line()
        found = re.search(r"http://\S+:(\d+)/", line)
        if found is None:
            raise self.start_failure(line)
        self.port = int(found[1])

    @property
    def address(self) -> str:
        """Where phones find it; a proxy stands before it elsewhere."""
        return f"http://localhost:{self.port}"

    def connection(self) -> http.client.HTTPConnection:
        """One without TLS."""
        return http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)


def network_server(folder: Path, port: int = 0) -> NetworkServer:
    """A server over the store that the tests run over, which phones come to."""
    return HostedServer(folder, port) if over_postgres() else LanServer(folder, port=port)


@contextmanager
def serve_lan(folder: Path) -> Iterator[LanServer]:
    """A server that must stop as usual at the end, without a failure in its log."""
    server = LanServer(folder)
    try:
        yield server
    finally:
        exit_code = server.stop()
    assert exit_code == 0
    assert "Traceback" not in server.errors()
