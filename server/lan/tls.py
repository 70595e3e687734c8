"""Cheroot's server over TLS: handshakes away from the thread that accepts, and an end to whoever dawdles."""

import errno
import re
import socket
import ssl
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Literal

from cheroot.makefile import StreamReader, StreamWriter
from cheroot.ssl import Adapter

from .authority import Credentials
from .strict_http import LARGEST_HEAD, StrictConnection, StrictRequest

# A request's body has to be here, and its answer taken, within this time in seconds: 2 MB at 300 kbit/s.
WITHIN = 60.0
HEAD_WITHIN = 10.0
HANDSHAKE_WITHIN = 10.0
# How much of a request, and for how long in seconds, is gathered before a thread begins with it, so that dawdlers hold
# no threads.
GATHERED = 64 * 1024
GATHERED_WITHIN = 20.0
HEAD_ENDS = b"\r\n\r\n"
LENGTH_LINE = re.compile(rb"\r\ncontent-length:[ \t]*([0-9]{1,15})[ \t]*\r\n", re.IGNORECASE)
WAITS_FOR_WORD = re.compile(rb"\r\nexpect:", re.IGNORECASE)
TLS_HANDSHAKE = b"\x16"
PLAIN = (
    b"HTTP/1.1 400 Bad Request\r\nContent-Type: text/plain; charset=utf-8\r\nConnection: close\r\n\r\n"
    b"Slipbook is here over TLS only: put https:// before the address.\n"
)


def is_whole(data: bytes | bytearray) -> bool:
    """Whether a request is all here, or so much of it that no more is to be waited for.

    >>> is_whole(b"GET / HTTP/1.1\\r\\nHost: x\\r\\n"), is_whole(b"GET / HTTP/1.1\\r\\nHost: x\\r\\n\\r\\n")
    (False, True)
    """
    ends = data.find(HEAD_ENDS)
    if ends < 0:
        return len(data) > LARGEST_HEAD
    head = data[: ends + 2]
    length = LENGTH_LINE.search(head)
    needed = ends + len(HEAD_ENDS) + (int(length[1]) if length else 0)
    return len(data) >= needed or needed > GATHERED or WAITS_FOR_WORD.search(head) is not None


@contextmanager
def plainly() -> Iterator[None]:
    """Failures of TLS as those of a plain socket: somebody who went away is nothing to report."""
    try:
        yield
    except TimeoutError:
        raise TimeoutError("timed out") from None
    except ssl.SSLError as failure:
        raise ConnectionResetError(errno.ECONNRESET, str(failure)) from failure


class Bounded(socket.SocketIO):
    """A socket's bytes, each within `patience` seconds and all of them before a deadline."""

    def __init__(self, sock: socket.socket, mode: Literal["r", "w"], patience: float) -> None:
        super().__init__(sock, mode)
        self.connection = sock
        self.patience = patience
        self.gathered = bytearray()
        self.deadline = time.monotonic() + WITHIN

    def hurry(self) -> None:
        """Give the next call no more time than is left."""
        left = self.deadline - time.monotonic()
        if left <= 0:
            raise TimeoutError("timed out")
        self.connection.settimeout(min(left, self.patience))

    def readinto(self, buffer: Any) -> int | None:
        """Read what has come."""
        if self.gathered:
            count = min(len(buffer), len(self.gathered))
            buffer[:count] = self.gathered[:count]
            del self.gathered[:count]
            return count
        self.hurry()
        with plainly():
            return super().readinto(buffer)

    def write(self, data: Any) -> int | None:
        """Write what the other side takes."""
        self.hurry()
        with plainly():
            return super().write(data)


class BoundedReader(StreamReader):
    """Cheroot's reader over a `Bounded` socket."""

    def __init__(self, sock: socket.socket, size: int, patience: float) -> None:
        super().__init__(sock, "rb", size)
        self.raw.close()
        self._raw = Bounded(sock, "r", patience)

    def has_data(self) -> bool:
        """Whether there is something to go on with already, though the socket itself may have nothing more."""
        raw: Any = self.raw
        return is_whole(raw.gathered) or raw.connection.pending() > 0

    def give_back(self) -> None:
        """Let what was read ahead count as gathered."""
        raw: Any = self.raw
        # Cheroot's reader is Python's own in Python, whose buffer has no other door.
        buffered: Any = self
        raw.gathered[:0] = buffered._read_buf[buffered._read_pos :]
        buffered._reset_read_buf()


class BoundedWriter(StreamWriter):
    """Cheroot's writer over a `Bounded` socket."""

    def __init__(self, sock: socket.socket, size: int, patience: float) -> None:
        super().__init__(sock, "wb", size)
        self.raw.close()
        self._raw = Bounded(sock, "w", patience)


class BoundedRequest(StrictRequest):
    """A request whose head has to be here sooner than its body."""

    def parse_request(self) -> None:
        """Read the head."""
        super().parse_request()
        self.conn.rfile.raw.deadline = time.monotonic() + WITHIN


class TlsConnection(StrictConnection):
    """A connection that becomes TLS step by step, and takes up a thread only while there is something to read."""

    RequestHandlerClass = BoundedRequest
    begun = False
    secured = False
    # By when the request that has begun has to be here; 0 while none has.
    gathered_by = 0.0
    # Whoever is there speaks no TLS and was told so.
    turned_away = False

    def __init__(self, server: Any, sock: socket.socket, makefile: Any) -> None:
        super().__init__(server, sock, makefile)
        self.handshake_ends = time.monotonic() + HANDSHAKE_WITHIN

    def communicate(self) -> bool:
        """Serve what has come; False when the connection is to be closed."""
        try:
            if not self.secured:
                return self.secure()
            if not self.gather():
                return time.monotonic() < self.gathered_by
        except OSError:
            return False
        now = time.monotonic()
        self.rfile.raw.deadline = now + HEAD_WITHIN
        self.wfile.raw.deadline = now + WITHIN + HEAD_WITHIN
        kept = bool(super().communicate())  # type: ignore[no-untyped-call]
        self.gathered_by = 0.0
        if kept:
            self.rfile.give_back()
        return kept

    def gather(self) -> bool:
        """Take what has come; whether it is a whole request, or one that a thread has to read on."""
        if not self.gathered_by:
            self.gathered_by = time.monotonic() + GATHERED_WITHIN
        gathered = self.rfile.raw.gathered
        self.socket.setblocking(False)
        try:
            while len(gathered) < GATHERED:
                more = self.socket.recv(GATHERED)
                if not more:
                    # The end: whoever reads on is told so.
                    return True
                gathered += more
        except (ssl.SSLWantReadError, ssl.SSLWantWriteError):
            return is_whole(gathered)
        return True

    def secure(self) -> bool:
        """Go on with the handshake; whoever speaks something else is told so and let go."""
        if time.monotonic() > self.handshake_ends:
            return False
        if not self.begun and not self.begin():
            return not self.turned_away
        try:
            self.socket.do_handshake()
        except ssl.SSLWantReadError:
            # Back to waiting with all the others, until more has come.
            return True
        self.rfile.close()
        self.rfile = BoundedReader(self.socket, self.rbufsize, self.server.timeout)
        self.wfile = BoundedWriter(self.socket, self.wbufsize, self.server.timeout)
        self.secured = True
        return True

    def begin(self) -> bool:
        """Look at the first byte; whether a handshake has begun."""
        self.socket.setblocking(False)
        try:
            first = self.socket.recv(1, socket.MSG_PEEK)
        except BlockingIOError:
            return False
        if first != TLS_HANDSHAKE:
            self.turned_away = True
            if first:
                self.socket.sendall(PLAIN)
            return False
        context = self.server.ssl_adapter.credentials.current()
        self.socket = context.wrap_socket(self.socket, server_side=True, do_handshake_on_connect=False)
        self.begun = True
        return True


class TlsAdapter(Adapter):
    """Tells cheroot that this is TLS; `TlsConnection` does it."""

    def __init__(self, credentials: Credentials) -> None:
        # Cheroot's own would read the certificate from files once; this one changes while the server runs.
        self.credentials = credentials

    def bind(self, sock: socket.socket) -> socket.socket:
        """The listening socket, as it is."""
        return sock

    def wrap(self, sock: socket.socket) -> tuple[socket.socket, dict[str, str]]:
        """An accepted socket, as it is, and what its requests are told."""
        return sock, self.get_environ()

    def get_environ(self) -> dict[str, str]:
        """What every request is told."""
        return {"wsgi.url_scheme": "https", "HTTPS": "on"}

    def makefile(self, sock: socket.socket, mode: str = "r", bufsize: int = -1) -> StreamReader | StreamWriter:
        """A file over a socket that is not TLS yet."""
        return (StreamReader if "r" in mode else StreamWriter)(sock, mode, bufsize)
