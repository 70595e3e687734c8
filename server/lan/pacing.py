"""Answers guesses late, so that guessing leaves the PC to those who work with it."""

import threading
import time
from collections.abc import Callable

# Wrong tokens and codes that are answered at once, in `WITHIN_S` seconds: a phone that was shut out asks a few times.
FREE = 20
WITHIN_S = 60.0
PAUSE_S = 0.05
# How many guesses may wait at a time; the threads of the others are for those who work.
MOST_WAITING = 4


class Pacing:
    """Counts wrong guesses, whoever makes them.

    Parameters
    ----------
    pause_s : float
        How much later a guess is answered once there were too many, in seconds.
    clock : callable
        Seconds that never run backwards.
    """

    def __init__(self, pause_s: float = PAUSE_S, clock: Callable[[], float] = time.monotonic) -> None:
        self.pause_s = pause_s
        self.clock = clock
        self.lock = threading.Lock()
        self.began = clock()
        self.wrong = 0
        self.waiting = threading.Semaphore(MOST_WAITING)

    def too_many(self) -> bool:
        """Count one more; whether there were too many lately."""
        with self.lock:
            now = self.clock()
            if now - self.began >= WITHIN_S:
                self.began, self.wrong = now, 0
            self.wrong += 1
            return self.wrong > FREE

    def delay_guess(self) -> None:
        """Hold up the answer to a wrong guess, if there are too many."""
        if self.too_many() and self.waiting.acquire(blocking=False):
            try:
                time.sleep(self.pause_s)
            finally:
                self.waiting.release()
