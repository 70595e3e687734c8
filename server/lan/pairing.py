"""The one-time code that pairs a phone: short enough to type, short-lived, and closed after a few wrong tries."""

import hmac
import secrets
import threading
import time
from collections import Counter
from collections.abc import Callable

# Without letters and digits that look alike.
ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
LENGTH = 8
VALID_S = 600
# The most wrong tries of a code: from one address, and from all addresses together.
MOST_WRONG = 5
MOST_IN_ALL = 1000


class PairingClosed(Exception):
    """No code is open: none was made, or it was used, guessed at too often, or has expired."""


class PairingLocked(Exception):
    """Too many wrong tries came from this address; `wait_s` is how many seconds the code is still valid."""

    def __init__(self, wait_s: int) -> None:
        super().__init__(wait_s)
        self.wait_s = wait_s


class WrongCode(Exception):
    """The code is wrong; this address has `tries_left` tries left."""

    def __init__(self, tries_left: int) -> None:
        super().__init__(tries_left)
        self.tries_left = tries_left


def normalize(code: str) -> str:
    """A typed code in capitals, without what people put between its letters.

    >>> normalize("abcd-2345 ")
    'ABCD2345'
    """
    return "".join(letter for letter in code.upper() if letter in ALPHABET)


def hyphenate(code: str) -> str:
    """A code as it is shown, with a hyphen in the middle."""
    return f"{code[: LENGTH // 2]}-{code[LENGTH // 2 :]}"


class Pairing:
    """At most one open code, kept in memory only.

    Wrong tries are counted by address, so that a guesser locks nobody else out. A new code gives everybody new tries,
    since only the bench can make one. The limit for all addresses together stops a guesser who has many of them:
    `MOST_IN_ALL` tries are fewer than one in 600 million of a code's 30^8 values.

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
        self.ends = 0.0
        self.wrong_tries: Counter[str] = Counter()

    def open(self, role: str) -> str:
        """Make a code for a role; an earlier code that is still open becomes invalid.

        Returns
        -------
        str
            The code as it is shown, valid for `VALID_S` seconds and one phone.
        """
        with self.lock:
            self.code = "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))
            self.role, self.ends = role, self.clock() + VALID_S
            self.wrong_tries.clear()
            return hyphenate(self.code)

    def use(self, typed: str, address: str) -> str:
        """Use the code up.

        Parameters
        ----------
        typed : str
            The code as it was typed.
        address : str
            The IP address of the device on which it was typed.

        Returns
        -------
        str
            The role for which the code was made.

        Raises
        ------
        PairingLocked, PairingClosed, WrongCode
            The device is not let in.
        """
        with self.lock:
            left_s = self.ends - self.clock()
            if not self.code or left_s <= 0:
                self.code = ""
                raise PairingClosed
            if self.wrong_tries[address] >= MOST_WRONG:
                raise PairingLocked(int(left_s) + 1)
            if hmac.compare_digest(normalize(typed).encode(), self.code.encode()):
                self.code = ""
                return self.role
            self.wrong_tries[address] += 1
            if self.wrong_tries.total() >= MOST_IN_ALL:
                self.code = ""
                raise PairingClosed
            if self.wrong_tries[address] >= MOST_WRONG:
                raise PairingLocked(int(left_s) + 1)
            raise WrongCode(MOST_WRONG - self.wrong_tries[address])
