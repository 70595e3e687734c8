"""The one-time code that lets a phone in: short enough to type, short-lived, and closed after a few wrong tries."""

import hmac
import secrets
import threading
import time
from collections.abc import Callable

# No letters or digits that are taken for one another.
ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
LENGTH = 8
VALID_S = 600
MOST_WRONG = 5
LOCKED_S = 900


class PairingClosed(Exception):
    """No code is open: none was made, it was used, or it ran out."""


class PairingLocked(Exception):
    """Too many wrong tries; `wait_s` says for how many seconds more."""

    def __init__(self, wait_s: int) -> None:
        super().__init__(wait_s)
        self.wait_s = wait_s


class WrongCode(Exception):
    """The code is another; `left` tries are left."""

    def __init__(self, left: int) -> None:
        super().__init__(left)
        self.left = left


def plain(code: str) -> str:
    """A code as it was typed, without what people put between its letters.

    >>> plain("abcd-2345 ")
    'ABCD2345'
    """
    return "".join(letter for letter in code.upper() if letter in ALPHABET)


def spaced(code: str) -> str:
    """A code as it is shown."""
    return f"{code[: LENGTH // 2]}-{code[LENGTH // 2 :]}"


class Pairing:
    """At most one open code, kept in memory only.

    Parameters
    ----------
    clock : callable
        Seconds that never run backwards.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self.clock = clock
        self.lock = threading.Lock()
        self.code = ""
        self.role = ""
        self.ends = 0.0
        self.wrong = 0
        self.locked_until = 0.0

    def open(self, role: str) -> str:
        """Make a code for a role, in place of any that was open.

        Returns
        -------
        str
            The code as it is shown, good for `VALID_S` seconds and one phone.

        Raises
        ------
        PairingLocked
            There were too many wrong tries.
        """
        with self.lock:
            self.check_lock()
            self.code = "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))
            self.role, self.ends = role, self.clock() + VALID_S
            return spaced(self.code)

    def use(self, code: str) -> str:
        """Use a code up.

        Parameters
        ----------
        code : str
            As it was typed.

        Returns
        -------
        str
            The role that it was made for.

        Raises
        ------
        PairingLocked, PairingClosed, WrongCode
            It lets nobody in.
        """
        with self.lock:
            self.check_lock()
            if not self.code or self.clock() >= self.ends:
                self.code = ""
                raise PairingClosed
            if hmac.compare_digest(plain(code).encode(), self.code.encode()):
                self.code, self.wrong = "", 0
                return self.role
            # Counted over all codes, or making new ones would give a guesser new tries.
            self.wrong += 1
            if self.wrong >= MOST_WRONG:
                self.code, self.wrong = "", 0
                self.locked_until = self.clock() + LOCKED_S
                self.check_lock()
            raise WrongCode(MOST_WRONG - self.wrong)

    def check_lock(self) -> None:
        """Refuse while locked."""
        wait = self.locked_until - self.clock()
        if wait > 0:
            raise PairingLocked(int(wait) + 1)
