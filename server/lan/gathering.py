"""Gathers a request before a thread begins with it, so that slow clients take up no threads."""

import errno
import re
import socket
import ssl
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Literal

from cheroot.makefile import StreamReader, StreamWriter

from .connections import ConnectionState
from .strict_http import LARGEST_HEAD, StrictConnection, StrictRequest

# Limits in seconds. A request's body must arrive, and its answer be read, within the first: 2 MB at 300 kbit/s.
BODY_WITHIN_S = 60.0
HEAD_WITHIN_S = 10.0
# How many bytes of a request are gathered, and for how many seconds.
GATHERED_BYTES = 64 * 1024
GATHERED_WITHIN_S = 20.0
HEAD_ENDS = b"\r\n\r\n"
LENGTH_LINE = re.compile(rb"\r\ncontent-length:[ \t]*([0-9]{1,15})[ \t]*\r\n", re.IGNORECASE)
EXPECT_LINE = re.compile(rb"\r\nexpect:", re.IGNORECASE)


def is_ready(data: bytes | bytearray) -> bool:
    """Whether a request has arrived whole, or as much of it as is gathered.

    >>> is_ready(b"GET / HTTP/1.1\\r\\nHost: x\\r\\n"), is_ready(b"GET / HTTP/1.1\\r\\nHost: x\\r\\n\\r\\n")
    (False, True)
    """
    head_end = data.find(HEAD_ENDS)
    if head_end < 0:
        return len(data) > LARGEST_HEAD
    head = data[: head_end + 2]
    length = LENGTH_LINE.search(head)
    size = head_end + len(HEAD_ENDS) + (int(length[1]) if length else 0)
    # A client that sends Expect waits for an answer before it sends the body.
    return len(data) >= size or size > GATHERED_BYTES or EXPECT_LINE.search(head) is not None


@contextmanager
def as_socket_errors() -> Iterator[None]:
    """Raise TLS failures as those of a plain socket, which cheroot does not report: a client went away."""
    try:
        yield
    except TimeoutError:
        raise TimeoutError("timed out") from None
    except ssl.SSLError as failure:
        raise ConnectionResetError(errno.ECONNRESET, str(failure)) from failure


class BoundedSocketIO(socket.SocketIO):
    """Reads or writes a socket, waiting at most `wait_s` seconds each time and never beyond a deadline."""

    def __init__(self, sock: socket.socket, mode: Literal["r", "w"], wait_s: float) -> None:
        super().__init__(sock, mode)
        self.connection = sock
        self.wait_s = wait_s
        self.gathered = bytearray()
        self.deadline = time.monotonic() + BODY_WITHIN_S

    def set_timeout(self) -> None:
        """Limit the next call to the time that is left."""
        left_s = self.deadline - time.monotonic()
        if left_s <= 0:
            raise TimeoutError("timed out")
        self.connection.settimeout(min(left_s, self.wait_s))

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
    """Cheroot's reader over a `BoundedSocketIO`."""

    def __init__(self, sock: socket.socket, size: int, wait_s: float) -> None:
        super().__init__(sock, "rb", size)
        self.raw.close()
        self._raw = BoundedSocketIO(sock, "r", wait_s)

    def has_data(self) -> bool:
        """Whether a request is ready, or TLS holds data, even if the socket itself has nothing to read."""
        raw: Any = self.raw
        return is_ready(raw.gathered) or (isinstance(raw.connection, ssl.SSLSocket) and raw.connection.pending() > 0)

    def return_unread(self) -> None:
        """Put what was read ahead back before the gathered bytes."""
        raw: Any = self.raw
        # The buffer of the standard library's reader, which cheroot uses, can be reached in no other way.
        reader: Any = self
        raw.gathered[:0] = reader._read_buf[reader._read_pos :]
        reader._reset_read_buf()


class BoundedWriter(StreamWriter):
    """Cheroot's writer over a `BoundedSocketIO`."""

    def __init__(self, sock: socket.socket, size: int, wait_s: float) -> None:
        super().__init__(sock, "wb", size)
        self.raw.close()
        self._raw = BoundedSocketIO(sock, "w", wait_s)


class BoundedRequest(StrictRequest):
    """A request whose head has less time to arrive than its body."""

    def parse_request(self) -> None:
        """Read the head."""
        super().parse_request()
        self.conn.rfile.raw.deadline = time.monotonic() + BODY_WITHIN_S


class GatheringConnection(StrictConnection):
    """A connection that takes up a thread only while there is data to read, and lets its server know what it is at."""

    RequestHandlerClass = BoundedRequest
    # By when the request that has begun must be gathered; 0 if none has begun.
    gather_deadline = 0.0

    def __init__(self, server: Any, sock: socket.socket, makefile: Any) -> None:
        super().__init__(server, sock, makefile)
        self.open_files()

    def open_files(self) -> None:
        """Read and write the socket within limits from now on."""
        self.rfile.close()
        self.rfile = BoundedReader(self.socket, self.rbufsize, self.server.timeout)
        self.wfile = BoundedWriter(self.socket, self.wbufsize, self.server.timeout)

    def communicate(self) -> bool:
        """Serve what has arrived; returns False if the connection must be closed."""
        try:
            return self.serve_arrived()
        finally:
            self.server.thread_queue.end(self)

    def serve_arrived(self) -> bool:
        """Gather what has arrived, and answer a request that is whole."""
        open_connections = self.server.open_connections
        try:
            if not self.gather():
                open_connections.set_state(self, ConnectionState.UNFINISHED)
                return time.monotonic() < self.gather_deadline
        except OSError:
            return False
        open_connections.set_state(self, ConnectionState.BUSY)
        now = time.monotonic()
        self.rfile.raw.deadline = now + HEAD_WITHIN_S
        self.wfile.raw.deadline = now + BODY_WITHIN_S + HEAD_WITHIN_S
        stays_open = bool(super().communicate())  # type: ignore[no-untyped-call]
        self.gather_deadline = 0.0
        if stays_open:
            self.rfile.return_unread()
        open_connections.set_state(self, ConnectionState.IDLE)
        return stays_open

    def gather(self) -> bool:
        """Read what has arrived; returns whether a thread can begin with the request."""
        if not self.gather_deadline:
            self.gather_deadline = time.monotonic() + GATHERED_WITHIN_S
        gathered = self.rfile.raw.gathered
        self.socket.setblocking(False)
        try:
            while len(gathered) < GATHERED_BYTES:
                data = self.socket.recv(GATHERED_BYTES)
                if not data:
                    # The client closed the connection; the thread that reads on sees that.
                    return True
                gathered += data
        except (BlockingIOError, ssl.SSLWantReadError, ssl.SSLWantWriteError):
            return is_ready(gathered)
        return True
