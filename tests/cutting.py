"""A way to a PostgreSQL server that breaks off where it hurts: around a COMMIT.

The messages are those of the frontend/backend protocol 3.0, PostgreSQL's documentation, chapter "Message Formats".
"""

import contextlib
import shutil
import socket
import threading
from collections.abc import Callable, Iterator
from typing import Literal, Self

from .postgres import OWNER, Postgres, make_folder

# Before the server hears of it: nothing is committed. After it answered: all is, and nobody knows.
Where = Literal["before commit", "before answer"]
SOCKET = ".s.PGSQL.5432"
COMPLETE, QUERY, PARSE = b"C", b"Q", b"P"


class Cutting:
    """Clients reach the server through it, by a Unix socket of its own.

    Parameters
    ----------
    server : Postgres
        The server.
    is_cut : callable
        Asked at each COMMIT: where to cut the connection, or None to let it pass.

    Attributes
    ----------
    cuts : int
        How many connections were cut.
    """

    def __init__(self, server: Postgres, is_cut: Callable[[], Where | None]) -> None:
        self.target = str(server.folder / SOCKET)
        self.is_cut = is_cut
        self.cuts = 0
        self.folder = make_folder()
        self.socket = socket.socket(socket.AF_UNIX)
        self.socket.bind(str(self.folder / SOCKET))
        self.socket.listen(64)
        self.open: set[socket.socket] = set()
        self.lock = threading.Lock()
        threading.Thread(target=self.accept, daemon=True).start()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.socket.close()
        with self.lock:
            for connection in self.open:
                break_off(connection)
        shutil.rmtree(self.folder, ignore_errors=True)

    def address(self, database: str = OWNER, user: str = OWNER) -> str:
        """Where clients connect."""
        return f"postgresql://{user}@/{database}?host={self.folder}"

    def accept(self) -> None:
        """Take connections until this is closed."""
        while True:
            try:
                client, _ = self.socket.accept()
            except OSError:
                return
            server = socket.socket(socket.AF_UNIX)
            try:
                server.connect(self.target)
            except OSError:
                server.close()
                client.close()
                continue
            Way(self, client, server).start()


class Way:
    """One connection through a `Cutting`."""

    def __init__(self, cutting: Cutting, client: socket.socket, server: socket.socket) -> None:
        self.cutting = cutting
        self.client = client
        self.server = server
        self.cut: Where | None = None
        with cutting.lock:
            cutting.open |= {client, server}

    def start(self) -> None:
        for carry in (self.carry_requests, self.carry_answers):
            threading.Thread(target=carry, daemon=True).start()

    def carry_requests(self) -> None:
        """Carry what the client says."""
        with self.until_broken():
            # The first message has no type.
            size = read(self.client, 4)
            self.server.sendall(size + read(self.client, int.from_bytes(size) - 4))
            for kind, message in messages(self.client):
                if kind in (QUERY, PARSE) and b"commit" in message[5:].lower().split(b"\0"):
                    self.cut = self.cutting.is_cut()
                    if self.cut == "before commit":
                        return
                self.server.sendall(message)

    def carry_answers(self) -> None:
        """Carry what the server answers."""
        with self.until_broken():
            for kind, message in messages(self.server):
                if kind == COMPLETE and message[5:] == b"COMMIT\0" and self.cut == "before answer":
                    return
                self.client.sendall(message)

    @contextlib.contextmanager
    def until_broken(self) -> Iterator[None]:
        """Go on until either side is gone or this is left; then both are broken off."""
        try:
            with contextlib.suppress(OSError, EOFError):
                yield
        finally:
            with self.cutting.lock:
                if self.cut and self.client in self.cutting.open:
                    self.cutting.cuts += 1
                self.cutting.open -= {self.client, self.server}
            for connection in (self.client, self.server):
                break_off(connection)


def break_off(connection: socket.socket) -> None:
    with contextlib.suppress(OSError):
        connection.shutdown(socket.SHUT_RDWR)
    connection.close()


def read(connection: socket.socket, size: int) -> bytes:
    """Exactly so many bytes.

    Raises
    ------
    EOFError
        The other side has ended before.
    """
    data = b""
    while len(data) < size:
        part = connection.recv(size - len(data))
        if not part:
            raise EOFError
        data += part
    return data


def messages(connection: socket.socket) -> Iterator[tuple[bytes, bytes]]:
    """Each message with a type, and its type."""
    while True:
        head = read(connection, 5)
        yield head[:1], head + read(connection, int.from_bytes(head[1:]) - 4)
