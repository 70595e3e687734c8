"""TLS for cheroot's server: handshakes outside the accepting thread, and step by step."""

import socket
import ssl
import time
from typing import Any

from cheroot.makefile import StreamReader, StreamWriter
from cheroot.ssl import Adapter

from .authority import Credentials
from .gathering import GatheringConnection

HANDSHAKE_WITHIN_S = 10.0
TLS_HANDSHAKE = b"\x16"
NOT_TLS_ANSWER = (
    b"HTTP/1.1 400 Bad Request\r\nContent-Type: text/plain; charset=utf-8\r\nConnection: close\r\n\r\n"
    b"Slipbook is here over TLS only: put https:// before the address.\n"
)


class TlsConnection(GatheringConnection):
    """A connection that does its handshake step by step, between which it takes up no thread."""

    handshake_begun = False
    is_secured = False
    # Whether the client did not speak TLS and was refused.
    is_refused = False

    def __init__(self, server: Any, sock: socket.socket, makefile: Any) -> None:
        super().__init__(server, sock, makefile)
        self.handshake_deadline = time.monotonic() + HANDSHAKE_WITHIN_S

    def serve_arrived(self) -> bool:
        """Serve what has arrived, once the handshake is over."""
        if self.is_secured:
            return super().serve_arrived()
        try:
            return self.go_on_with_handshake()
        except OSError:
            return False

    def go_on_with_handshake(self) -> bool:
        """Go on with the handshake; returns False if the connection must be closed."""
        if time.monotonic() > self.handshake_deadline:
            return False
        if not self.handshake_begun and not self.begin_handshake():
            return not self.is_refused
        try:
            self.socket.do_handshake()
        except ssl.SSLWantReadError:
            # It waits with all other connections until more has arrived.
            return True
        self.open_files()
        self.is_secured = True
        return True

    def begin_handshake(self) -> bool:
        """Look at the first byte; returns whether a handshake has begun. A client without TLS is refused."""
        self.socket.setblocking(False)
        try:
            first_byte = self.socket.recv(1, socket.MSG_PEEK)
        except BlockingIOError:
            return False
        if first_byte != TLS_HANDSHAKE:
            self.is_refused = True
            if first_byte:
                self.socket.sendall(NOT_TLS_ANSWER)
            return False
        context = self.server.ssl_adapter.credentials.current_context()
        self.socket = context.wrap_socket(self.socket, server_side=True, do_handshake_on_connect=False)
        self.handshake_begun = True
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
