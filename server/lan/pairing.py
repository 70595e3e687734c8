"""The one-time code that lets a phone in: short enough to type, short-lived, and closed after a few wrong tries."""

import hmac
import secrets
import threading
import time
from collections import Counter
from collections.abc import Callable

# No letters or digits that are taken for one another.
ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
LENGTH = 8
VALID_S = 600
# Wrong tries of one code: from one address, and from all.
MOST_WRONG = 5
MOST_IN_ALL = 1000


class PairingClosed(Exception):
    """No code is open: none was made, it was used or guessed at too often, or it ran out."""


class PairingLocked(Exception):
    """Too many wrong tries from this address; `wait_s` says for how many seconds the code is still good."""

    def __init__(self, wait_s: int) -> None:
        super().__init__(wait_s)
        self.wait_s = wait_s


class WrongCode(Exception):
    """The code is another; this address has `left` tries left."""

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

    Wrong tries are counted by address, so that whoever guesses locks out nobody else; a new code gives everybody new
    tries, since only the bench can make one. The tries in all bound what is to be won with many addresses: of a code's
    30^8 values a guesser sees `MOST_IN_ALL`, fewer than one in 600 million.

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
        self.wrong: Counter[str] = Counter()

    def open(self, role: str) -> str:
        """Make a code for a role, in place of any that was open.

        Returns
        -------
        str
            The code as it is shown, good for `VALID_S` seconds and one phone.
        """
        with self.lock:
            self.code = "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))
            self.role, self.ends = role, self.clock() + VALID_S
            self.wrong.clear()
            return spaced(self.code)

    def use(self, code: str, address: str) -> str:
        """Use a code up.

        Parameters
        ----------
        code : str
            As it was typed.
        address : str
            Where it was typed.

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
            left = self.ends - self.clock()
            if not self.code or left <= 0:
                self.code = ""
                raise PairingClosed
            if self.wrong[address] >= MOST_WRONG:
                raise PairingLocked(int(left) + 1)
            if hmac.compare_digest(plain(code).encode(), self.code.encode()):
                self.code = ""
                return self.role
            self.wrong[address] += 1
            if self.wrong.total() >= MOST_IN_ALL:
                self.code = ""
                raise PairingClosed
            if self.wrong[address] >= MOST_WRONG:
                raise PairingLocked(int(left) + 1)
            raise WrongCode(MOST_WRONG - self.wrong[address])
