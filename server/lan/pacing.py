"""Delays the answers to guesses, so that guessing does not slow down those who work with the PC."""

import threading
import time
from contextlib import suppress

from ..log import LogFault
from .register import Guesses

# Wrong tokens and codes within `GUESSES_WITHIN_S` seconds that are answered at once: a phone that is shut out asks a
# few times.
FREE_GUESSES = 20
GUESSES_WITHIN_S = 60.0
PAUSE_S = 0.05
# How many guesses may wait at a time; the other threads are for those who work.
MOST_WAITING = 4


class Pacing:
    """Delays the answers of one process.

    Parameters
    ----------
    guesses : Guesses
        Counts wrong guesses.
    pause_s : float
        By how many seconds the answer to a guess is delayed once there were too many.
    """

    def __init__(self, guesses: Guesses, pause_s: float = PAUSE_S) -> None:
        self.guesses = guesses
        self.pause_s = pause_s
        self.waiting_places = threading.Semaphore(MOST_WAITING)

    def count_guess(self) -> bool:
        """Count a wrong guess; returns whether there were too many lately, which there may have been if none counts."""
        with suppress(LogFault):
            return self.guesses.count() > FREE_GUESSES
        return True

    def delay_guess(self) -> None:
        """Count a wrong guess, and wait before it is answered if there were too many lately."""
        if self.count_guess() and self.waiting_places.acquire(blocking=False):
            try:
                time.sleep(self.pause_s)
            finally:
                self.waiting_places.release()
