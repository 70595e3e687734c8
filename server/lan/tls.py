"""TLS for cheroot's server: handshakes outside the accepting thread, and time limits for slow clients."""

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

# Limits in seconds. A request's body must arrive, and its answer be read, within the first: 2 MB at 300 kbit/s.
WITHIN = 60.0
HEAD_WITHIN = 10.0
HANDSHAKE_WITHIN = 10.0
# How many bytes of a request are gathered, and for how many seconds, before a thread begins with it, so that slow
# clients take up no threads.
GATHERED = 64 * 1024
GATHERED_WITHIN = 20.0
HEAD_ENDS = b"\r\n\r\n"
LENGTH_LINE = re.compile(rb"\r\ncontent-length:[ \t]*([0-9]{1,15})[ \t]*\r\n", re.IGNORECASE)
EXPECT_LINE = re.compile(rb"\r\nexpect:", re.IGNORECASE)
TLS_HANDSHAKE = b"\x16"
NOT_TLS_ANSWER = (
    b"HTTP/1.1 400 Bad Request\r\nContent-Type: text/plain; charset=utf-8\r\nConnection: close\r\n\r\n"
    b"Slipbook is here over TLS only: put https:// before the address.\n"
)


def is_ready(data: bytes | bytearray) -> bool:
    """Whether a request has arrived whole, or as much of it as is gathered.

    >>> is_ready(b"GET / HTTP/1.1\\r\\nHost: x\\r\\n"), is_ready(b"GET / HTTP/1.1\\r\\nHost: x\\r\\n\\r\\n")
    (False, True)
    """
    ends = data.find(HEAD_ENDS)
    if ends < 0:
        return len(data) > LARGEST_HEAD
    head = data[: ends + 2]
    length = LENGTH_LINE.search(head)
    size = ends + len(HEAD_ENDS) + (int(length[1]) if length else 0)
    # A client that sends Expect waits for an answer before it sends the body.
    return len(data) >= size or size > GATHERED or EXPECT_LINE.search(head) is not None


@contextmanager
def as_socket_errors() -> Iterator[None]:
    """Raise TLS failures as those of a plain socket, which cheroot does not report: a client went away."""
    try:
        yield
    except TimeoutError:
        raise TimeoutError("timed out") from None
    except ssl.SSLError as failure:
        raise ConnectionResetError(errno.ECONNRESET, str(failure)) from failure


class Bounded(socket.SocketIO):
    """Reads or writes a socket, waiting at most `patience` seconds each time and never beyond a deadline."""

    def __init__(self, sock: socket.socket, mode: Literal["r", "w"], patience: float) -> None:
        super().__init__(sock, mode)
        self.connection = sock
        self.patience = patience
        self.gathered = bytearray()
        self.deadline = time.monotonic() + WITHIN

    def set_timeout(self) -> None:
        """Limit the next call to the time that is left."""
        left_s = self.deadline - time.monotonic()
        if left_s <= 0:
            raise TimeoutError("timed out")
        self.connection.settimeout(min(left_s, self.patience))

    def readinto(self, buffer: Any) -> int | None:
        """Read what has arrived; first what was gathered."""
        if self.gathered:
            count = min(len(buffer), len(self.gathered))
            buffer[:count] = self.gathered[:count]
            del self.gathered[:count]
            return count
        self.set_timeout()
        with as_socket_errors():
            return super().readinto(buffer)

    def write(self, data: Any) -> int | None:
        """Write as much as the client takes."""
        self.set_timeout()
        with as_socket_errors():
            return super().write(data)


class BoundedReader(StreamReader):
    """Cheroot's reader over a `Bounded` socket."""

    def __init__(self, sock: socket.socket, size: int, patience: float) -> None:
        super().__init__(sock, "rb", size)
        self.raw.close()
        self._raw = Bounded(sock, "r", patience)

    def has_data(self) -> bool:
        """Whether a request is ready, or TLS holds data, even if the socket itself has nothing to read."""
        raw: Any = self.raw
        return is_ready(raw.gathered) or raw.connection.pending() > 0

    def return_unread(self) -> None:
        """Put what was read ahead back before the gathered bytes."""
        raw: Any = self.raw
        # The buffer of the standard library's reader, which cheroot uses, can be reached in no other way.
        reader: Any = self
        raw.gathered[:0] = reader._read_buf[reader._read_pos :]
        reader._reset_read_buf()


class BoundedWriter(StreamWriter):
    """Cheroot's writer over a `Bounded` socket."""

    def __init__(self, sock: socket.socket, size: int, patience: float) -> None:
        super().__init__(sock, "wb", size)
        self.raw.close()
        self._raw = Bounded(sock, "w", patience)


class BoundedRequest(StrictRequest):
    """A request whose head has less time to arrive than its body."""

    def parse_request(self) -> None:
        """Read the head."""
        super().parse_request()
        self.conn.rfile.raw.deadline = time.monotonic() + WITHIN


class TlsConnection(StrictConnection):
    """A connection that does its handshake step by step, and takes up a thread only while there is data to read."""

    RequestHandlerClass = BoundedRequest
    begun = False
    secured = False
    # By when the request that has begun must be gathered; 0 if none has begun.
    gather_deadline = 0.0
    # Whether the client did not speak TLS and was refused.
    refused = False

    def __init__(self, server: Any, sock: socket.socket, makefile: Any) -> None:
        super().__init__(server, sock, makefile)
        self.handshake_deadline = time.monotonic() + HANDSHAKE_WITHIN

    def communicate(self) -> bool:
        """Serve what has arrived; returns False if the connection must be closed."""
        try:
            if not self.secured:
                return self.secure()
            if not self.gather():
                return time.monotonic() < self.gather_deadline
        except OSError:
            return False
        now = time.monotonic()
        self.rfile.raw.deadline = now + HEAD_WITHIN
        self.wfile.raw.deadline = now + WITHIN + HEAD_WITHIN
        stays_open = bool(super().communicate())  # type: ignore[no-untyped-call]
        self.gather_deadline = 0.0
        if stays_open:
            self.rfile.return_unread()
        return stays_open

    def gather(self) -> bool:
        """Read what has arrived; returns whether a thread can begin with the request."""
        if not self.gather_deadline:
            self.gather_deadline = time.monotonic() + GATHERED_WITHIN
        gathered = self.rfile.raw.gathered
        self.socket.setblocking(False)
        try:
            while len(gathered) < GATHERED:
                data = self.socket.recv(GATHERED)
                if not data:
                    # The client closed the connection; the thread that reads on sees that.
                    return True
                gathered += data
        except (ssl.SSLWantReadError, ssl.SSLWantWriteError):
            return is_ready(gathered)
        return True

    def secure(self) -> bool:
        """Go on with the handshake; returns False if the connection must be closed."""
        if time.monotonic() > self.handshake_deadline:
            return False
        if not self.begun and not self.begin():
            return not self.refused
        try:
            self.socket.do_handshake()
        except ssl.SSLWantReadError:
            # It waits with all other connections until more has arrived.
            return True
        self.rfile.close()
        self.rfile = BoundedReader(self.socket, self.rbufsize, self.server.timeout)
        self.wfile = BoundedWriter(self.socket, self.wbufsize, self.server.timeout)
        self.secured = True
        return True

    def begin(self) -> bool:
        """Look at the first byte; returns whether a handshake has begun. A client without TLS is refused."""
        self.socket.setblocking(False)
        try:
            first = self.socket.recv(1, socket.MSG_PEEK)
        except BlockingIOError:
            return False
        if first != TLS_HANDSHAKE:
            self.refused = True
            if first:
                self.socket.sendall(NOT_TLS_ANSWER)
            return False
        context = self.server.ssl_adapter.credentials.current_context()
        self.socket = context.wrap_socket(self.socket, server_side=True, do_handshake_on_connect=False)
        self.begun = True
        return True


class TlsAdapter(Adapter):
    """Tells cheroot that this is TLS; `TlsConnection` does it."""

    def __init__(self, credentials: Credentials) -> None:
        # Cheroot's own adapters read the certificate once; this one's changes while the server runs.
        self.credentials = credentials

    def bind(self, sock: socket.socket) -> socket.socket:
        """The listening socket, unchanged."""
        return sock

    def wrap(self, sock: socket.socket) -> tuple[socket.socket, dict[str, str]]:
        """An accepted socket, unchanged, and the environment of its requests."""
        return sock, self.get_environ()

    def get_environ(self) -> dict[str, str]:
        """The environment of every request: it came over TLS."""
        return {"wsgi.url_scheme": "https", "HTTPS": "on"}

    def makefile(self, sock: socket.socket, mode: str = "r", bufsize: int = -1) -> StreamReader | StreamWriter:
        """A file over a socket before its handshake."""
        return (StreamReader if "r" in mode else StreamWriter)(sock, mode, bufsize)
