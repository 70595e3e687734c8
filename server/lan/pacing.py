"""Delays the answers to guesses, so that guessing does not slow down those who work with the PC."""

import threading
import time
from collections.abc import Callable

# Wrong tokens and codes within `WITHIN_S` seconds that are answered at once: a phone that is shut out asks a few times.
FREE = 20
WITHIN_S = 60.0
PAUSE_S = 0.05
# How many guesses may wait at a time; the other threads are for those who work.
MOST_WAITING = 4


class Pacing:
    """Counts wrong guesses, from all devices together.

    Parameters
    ----------
    pause_s : float
        By how many seconds the answer to a guess is delayed once there were too many.
    clock : callable
        Tells seconds that never run backwards.
    """

    def __init__(self, pause_s: float = PAUSE_S, clock: Callable[[], float] = time.monotonic) -> None:
        self.pause_s = pause_s
        self.clock = clock
        self.lock = threading.Lock()
        self.counting_since = clock()
        self.guesses = 0
        self.waiting = threading.Semaphore(MOST_WAITING)

    def count_guess(self) -> bool:
        """Count a wrong guess; returns whether there were too many lately."""
        with self.lock:
            now = self.clock()
            if now - self.counting_since >= WITHIN_S:
                self.counting_since, self.guesses = now, 0
            self.guesses += 1
            return self.guesses > FREE

    def delay_guess(self) -> None:
        """Count a wrong guess, and wait before it is answered if there were too many lately."""
        if self.count_guess() and self.waiting.acquire(blocking=False):
            try:
                time.sleep(self.pause_s)
            finally:
                self.waiting.release()
