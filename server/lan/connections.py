"""Keeps strangers from taking up every connection and every thread of this PC."""

import threading
import time
from collections import Counter, deque
from collections.abc import Callable, Iterable
from enum import IntEnum
from typing import Any

from .addresses import is_loopback

# Below the lowest limits of a system: 256 files that a program may open, and 512 sockets that it can wait for at once.
MOST_OPEN = 200
# Enough for twenty phones with six connections each, behind a router that shows one address for all of them.
MOST_FROM_ADDRESS = 120
# What the network leaves for the PC itself: two browsers, and whoever shuts a device out there.
KEPT_FOR_PC = 20
# How many more may be on their way out.
MOST_LEAVING = 20


class ConnectionState(IntEnum):
    """What a connection is at; those that come first are the first to be closed where others need room."""

    UNFINISHED = 0
    """Its handshake or its request has not arrived whole."""
    IDLE = 1
    """Its last request was answered."""
    BUSY = 2
    """A whole request is being answered."""
    LEAVING = 3
    """It was told to go."""


class OpenConnection:
    """An open connection: where it comes from, what it is at, and since when."""

    def __init__(self, address: str) -> None:
        self.address = address
        self.is_own = is_loopback(address)
        self.state = ConnectionState.UNFINISHED
        self.since = time.monotonic()

    def priority(self) -> tuple[ConnectionState, bool, float]:
        """The lowest goes first: what is unfinished, from the network, for the longest time."""
        return self.state, self.is_own, self.since


class OpenConnections:
    """The open connections. Where there is no room for another, one that does no work has to go.

    Parameters
    ----------
    dismiss : callable
        Breaks a connection off, from whichever thread.
    """

    def __init__(self, dismiss: Callable[[Any], None] = lambda _: None) -> None:
        self.lock = threading.Lock()
        self.dismiss = dismiss
        self.admitted: dict[Any, OpenConnection] = {}

    def admit(self, connection: Any, address: str) -> bool:
        """Count a new connection, in the place of another if need be; returns False if all others are at work."""
        opened = OpenConnection(address)
        with self.lock:
            rivals = self.find_rivals(opened)
            dismissed = min(
                (rival for rival in rivals if self.admitted[rival].state < ConnectionState.BUSY),
                key=self.find_priority,
                default=None,
            )
            if len(self.admitted) >= MOST_OPEN + MOST_LEAVING or (rivals and dismissed is None):
                return False
            if dismissed is not None:
                self.admitted[dismissed].state = ConnectionState.LEAVING
            self.admitted[connection] = opened
        if dismissed is not None:
            self.dismiss(dismissed)
        return True

    def find_priority(self, connection: Any) -> tuple[ConnectionState, bool, float]:
        """How soon a connection has to go, compared with others."""
        return self.admitted[connection].priority()

    def find_rivals(self, new: OpenConnection) -> list[Any]:
        """The connections of which one has to go before a new one has room; none if there is room."""
        staying = [
            connection for connection, opened in self.admitted.items() if opened.state != ConnectionState.LEAVING
        ]
        if new.is_own:
            return staying if len(staying) >= MOST_OPEN else []
        neighbours = [connection for connection in staying if self.admitted[connection].address == new.address]
        if len(neighbours) >= MOST_FROM_ADDRESS:
            return neighbours
        return staying if len(staying) >= MOST_OPEN - KEPT_FOR_PC else []

    def set_state(self, connection: Any, state: ConnectionState) -> None:
        """Note what a connection is at now."""
        with self.lock:
            opened = self.admitted.get(connection)
            if opened is not None and opened.state not in (state, ConnectionState.LEAVING):
                opened.state, opened.since = state, time.monotonic()

    def must_leave(self, connection: Any) -> bool:
        """Whether a connection was told to go."""
        with self.lock:
            opened = self.admitted.get(connection)
            return opened is not None and opened.state == ConnectionState.LEAVING

    def release(self, connection: Any) -> None:
        """No longer count a connection."""
        with self.lock:
            self.admitted.pop(connection, None)


class ThreadQueue:
    """Shares the threads out: some are kept for the PC itself, and no address of the network has all the others.

    Parameters
    ----------
    threads : int
        How many there are.
    hand_over : callable
        Hands a connection to a thread.
    """

    def __init__(self, threads: int, hand_over: Callable[[Any], None]) -> None:
        self.lock = threading.Lock()
        self.hand_over = hand_over
        self.most_at_work = threads - max(1, threads // 6)
        self.most_from_address = threads * 2 // 3
        # The address of each connection that a thread has, without those of the PC itself.
        self.at_work: dict[Any, str] = {}
        self.waiting: deque[tuple[Any, str]] = deque()

    def enqueue(self, connection: Any, address: str) -> None:
        """Hand a connection to a thread, now or in its turn."""
        with self.lock:
            self.waiting.append((connection, address))
        self.hand_over_ready()

    def end(self, connection: Any) -> None:
        """A thread is done with a connection."""
        with self.lock:
            self.at_work.pop(connection, None)
        self.hand_over_ready()

    def hand_over_ready(self) -> None:
        """Begin with all that may begin, in the order in which they asked."""
        with self.lock:
            ready = list(self.take_ready(Counter(self.at_work.values())))
        for connection in ready:
            self.hand_over(connection)

    def take_ready(self, at_work_from: Counter[str]) -> Iterable[Any]:
        """Take those that may begin out of the row. The caller holds the lock."""
        for _ in range(len(self.waiting)):
            connection, address = self.waiting.popleft()
            if is_loopback(address):
                yield connection
            elif at_work_from.total() < self.most_at_work and at_work_from[address] < self.most_from_address:
                at_work_from[address] += 1
                self.at_work[connection] = address
                yield connection
            else:
                self.waiting.append((connection, address))

    def forget(self, connection: Any) -> bool:
        """Take a connection out of the row; returns whether it was in it."""
        with self.lock:
            count = len(self.waiting)
            self.waiting = deque(row for row in self.waiting if row[0] != connection)
            return len(self.waiting) < count
