"""The open code of a data folder."""

import hmac
import threading
import time
from collections import Counter
from collections.abc import Callable

from ..pairing import (
    CODE_VALID_S,
    MOST_IN_ALL,
    MOST_WRONG,
    PairingClosed,
    PairingLocked,
    hyphenate,
    make_code,
    normalize_code,
    refusal_of_try,
)


class FolderPairing:
    """The open code, kept in memory only.

    Parameters
    ----------
    clock : callable
        Tells seconds that never run backwards.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self.clock = clock
        self.lock = threading.Lock()
        self.code = ""
        self.role = ""
        self.valid_until = 0.0
        self.wrong_tries: Counter[str] = Counter()

    def open(self, role: str) -> str:
        """Make a code for a role; returns it as it is shown."""
        with self.lock:
            self.code = make_code()
            self.role, self.valid_until = role, self.clock() + CODE_VALID_S
            self.wrong_tries.clear()
            return hyphenate(self.code)

    def use(self, typed: str, address: str) -> str:
        """Use the code up; returns the role for which it was made."""
        with self.lock:
            left_s = self.valid_until - self.clock()
            if not self.code or left_s <= 0:
                self.code = ""
                raise PairingClosed
            if self.wrong_tries[address] >= MOST_WRONG:
                raise PairingLocked(int(left_s) + 1)
            if hmac.compare_digest(normalize_code(typed).encode(), self.code.encode()):
                self.code = ""
                return self.role
            self.wrong_tries[address] += 1
            tries_in_all = self.wrong_tries.total()
            if tries_in_all >= MOST_IN_ALL:
                self.code = ""
            raise refusal_of_try(self.wrong_tries[address], tries_in_all, left_s)
