"""The one-time code that pairs a phone: short enough to type, short-lived, and closed after a few wrong tries."""

import secrets

# Without letters and digits that look alike.
CODE_ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
CODE_LENGTH = 8
CODE_VALID_S = 600
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


def refusal_of_try(tries: int, tries_in_all: int, left_s: float) -> PairingClosed | PairingLocked | WrongCode:
    """What a wrong try is told.

    Parameters
    ----------
    tries, tries_in_all : int
        How many wrong tries of the code came from this address, and from all together, with this one.
    left_s : float
        How many seconds the code is still valid.
    """
    if tries_in_all >= MOST_IN_ALL:
        return PairingClosed()
    return PairingLocked(int(left_s) + 1) if tries >= MOST_WRONG else WrongCode(MOST_WRONG - tries)


def normalize_code(code: str) -> str:
    """A typed code in capitals, without what people put between its letters.

    >>> normalize_code("abcd-2345 ")
    'ABCD2345'
    """
    return "".join(letter for letter in code.upper() if letter in CODE_ALPHABET)


def make_code() -> str:
    """A new code, which nobody can guess in time."""
    return "".join(secrets.choice(CODE_ALPHABET) for _ in range(CODE_LENGTH))


def hyphenate(code: str, workshop: int | None = None) -> str:
    """A code as it is shown: after its workshop's number, if there are several, and with a hyphen in the middle.

    >>> hyphenate("ABCD2345"), hyphenate("ABCD2345", 1), hyphenate("ABCD2345", 10_000)
    ('ABCD-2345', '3-ABCD-2345', 'D5C-ABCD-2345')
    """
    prefix = "" if workshop is None else f"{spell_number(workshop)}-"
    return f"{prefix}{code[: CODE_LENGTH // 2]}-{code[CODE_LENGTH // 2 :]}"


def spell_number(number: int) -> str:
    """A number above 0 in the letters of a code."""
    letters = ""
    while number:
        number, letter = divmod(number, len(CODE_ALPHABET))
        letters = CODE_ALPHABET[letter] + letters
    return letters


def split_code(typed: str) -> tuple[int | None, str]:
    """The workshop's number that a typed code begins with, if there is one, and the code itself.

    >>> split_code("d5c abcd 2345"), split_code("abcd-2345")
    ((10000, 'ABCD2345'), (None, 'ABCD2345'))
    """
    letters = normalize_code(typed)
    number = 0
    for letter in letters[:-CODE_LENGTH]:
        number = number * len(CODE_ALPHABET) + CODE_ALPHABET.index(letter)
    return (number if letters[:-CODE_LENGTH] else None), letters[-CODE_LENGTH:]
