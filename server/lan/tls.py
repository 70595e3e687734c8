"""Cheroot's server over TLS: handshakes away from the thread that accepts, and an end to whoever dawdles."""

import socket
import ssl
import time
from typing import Any, Literal

from cheroot.makefile import StreamReader, StreamWriter
from cheroot.ssl import Adapter

from .authority import Credentials
from .strict_http import StrictConnection, StrictRequest

# A request's body has to be here, and its answer taken, within this time in seconds: 2 MB at 300 kbit/s.
WITHIN = 60.0
HEAD_WITHIN = 10.0
HANDSHAKE_WITHIN = 10.0
TLS_HANDSHAKE = b"\x16"
PLAIN = (
    b"HTTP/1.1 400 Bad Request\r\nContent-Type: text/plain; charset=utf-8\r\nConnection: close\r\n\r\n"
    b"Slipbook is here over TLS only: put https:// before the address.\n"
)


class Bounded(socket.SocketIO):
    """A socket's bytes, each within `patience` seconds and all of them before a deadline."""

    def __init__(self, sock: socket.socket, mode: Literal["r", "w"], patience: float) -> None:
        super().__init__(sock, mode)
        self.connection = sock
        self.patience = patience
        self.deadline = time.monotonic() + WITHIN

    def hurry(self) -> None:
        """Give the next call no more time than is left."""
        left = self.deadline - time.monotonic()
        if left <= 0:
            raise TimeoutError("timed out")
        self.connection.settimeout(min(left, self.patience))

    def readinto(self, buffer: Any) -> int | None:
        """Read what has come."""
        self.hurry()
        return super().readinto(buffer)

    def write(self, data: Any) -> int | None:
        """Write what the other side takes."""
        self.hurry()
        return super().write(data)


class BoundedReader(StreamReader):
    """Cheroot's reader over a `Bounded` socket."""

    def __init__(self, sock: socket.socket, size: int, patience: float) -> None:
        super().__init__(sock, "rb", size)
        self.raw.close()
        self._raw = Bounded(sock, "r", patience)

    def has_data(self) -> bool:
        """Whether there is something to read already, also where the socket itself has nothing more."""
        raw: Any = self.raw
        return bool(super().has_data()) or raw.connection.pending() > 0  # type: ignore[no-untyped-call]


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
    # Whoever is there speaks no TLS and was told so.
    turned_away = False

    def __init__(self, server: Any, sock: socket.socket, makefile: Any) -> None:
        super().__init__(server, sock, makefile)
        self.handshake_ends = time.monotonic() + HANDSHAKE_WITHIN

    def communicate(self) -> bool:
        """Serve what has come; False when the connection is to be closed."""
        if not self.secured:
            try:
                return self.secure()
            except OSError:
                return False
        now = time.monotonic()
        self.rfile.raw.deadline = now + HEAD_WITHIN
        self.wfile.raw.deadline = now + WITHIN + HEAD_WITHIN
        return bool(super().communicate())  # type: ignore[no-untyped-call]

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
