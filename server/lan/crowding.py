"""Keeps one stranger from taking up every connection that this PC can keep open."""

import threading
from typing import Any

from .addresses import is_loopback

# Below what the leanest systems let a program open: 256 files, and 512 sockets that can be waited for at once.
MOST_OPEN = 200
# Twenty phones behind a router that gives them all its own address, with six connections each.
MOST_FROM_ONE = 120


class Crowd:
    """The connections that are open, and where each came from."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.open: dict[Any, str] = {}

    def comes(self, connection: Any, address: str) -> bool:
        """Count a new connection; whether there is room for it."""
        with self.lock:
            crowded = not is_loopback(address) and list(self.open.values()).count(address) >= MOST_FROM_ONE
            if crowded or len(self.open) >= MOST_OPEN:
                return False
            self.open[connection] = address
            return True

    def goes(self, connection: Any) -> None:
        """Count a connection no more."""
        with self.lock:
            self.open.pop(connection, None)
