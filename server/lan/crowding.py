"""Keeps a stranger from taking up every connection that this PC can keep open."""

import threading
from typing import Any

from .addresses import is_loopback

# Below the lowest limits of a system: 256 files that a program may open, and 512 sockets that it can wait for at once.
MOST_OPEN = 200
# Enough for twenty phones with six connections each, behind a router that shows one address for all of them.
MOST_FROM_ADDRESS = 120
# What the network leaves for the PC itself: two browsers, and whoever shuts a device out there.
KEPT_FOR_PC = 20


class Crowd:
    """The open connections, and the address that each comes from."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.open: dict[Any, str] = {}

    def admit(self, connection: Any, address: str) -> bool:
        """Count a new connection if there is room for it; returns whether there is."""
        with self.lock:
            if is_loopback(address):
                if len(self.open) >= MOST_OPEN:
                    return False
            elif (
                list(self.open.values()).count(address) >= MOST_FROM_ADDRESS
                or len(self.open) >= MOST_OPEN - KEPT_FOR_PC
            ):
                return False
            self.open[connection] = address
            return True

    def release(self, connection: Any) -> None:
        """No longer count a connection."""
        with self.lock:
            self.open.pop(connection, None)
