"""Counts every byte that a server sends, the service worker's share included, which a page's tools do not see."""

import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress

PIECE = 65536


class Counter:
    """Passes connections on to a port and counts the bytes that come back; stopped by `close`."""

    def __init__(self, to: int) -> None:
        self.to = to
        self.bytes = 0
        self.requests = 0
        self.guard = threading.Lock()
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.port: int = self.listener.getsockname()[1]
        threading.Thread(target=self.accept, daemon=True).start()

    def accept(self) -> None:
        """Take connections until closed."""
        with suppress(OSError):
            while True:
                near, _ = self.listener.accept()
                far = socket.create_connection(("127.0.0.1", self.to))
                threading.Thread(target=self.carry, args=(near, far, False), daemon=True).start()
                threading.Thread(target=self.carry, args=(far, near, True), daemon=True).start()

    def carry(self, source: socket.socket, target: socket.socket, back: bool) -> None:
        """Carry what comes from one end to the other."""
        with suppress(OSError):
            while piece := source.recv(PIECE):
                with self.guard:
                    self.bytes += len(piece) if back else 0
                    self.requests += not back
                target.sendall(piece)
        for end in (source, target):
            with suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
            end.close()

    def close(self) -> None:
        """Take no more connections."""
        self.listener.close()


@contextmanager
def counting(to: int) -> Iterator[Counter]:
    """A counter before a port."""
    counter = Counter(to)
    try:
        yield counter
    finally:
        counter.close()
