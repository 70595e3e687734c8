"""Letters of texts that people typed, taken alike on every host.

Of letters beyond ASCII MicroPython knows neither capitals nor spaces, and CPython takes digits of every script for
digits. So the methods `strip`, `split`, `lower`, `upper` and `isdigit` are not for texts that people typed.
"""

# What shows nothing.
BLANKS = (
    " \t\n\r\xa0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u2028\u2029\u202f\u205f\u3000"
)

# Capital letters beyond ASCII: first, last, step between capitals, and how far behind each its small letter stands, or
# before it. The Unicode Standard, blocks Latin-1, Latin Extended-A, Greek, Cyrillic and its supplement.
CAPITALS = (
    (0xC0, 0xD6, 1, 32),
    (0xD8, 0xDE, 1, 32),
    (0x100, 0x12E, 2, 1),
    (0x132, 0x136, 2, 1),
    (0x139, 0x147, 2, 1),
    (0x14A, 0x176, 2, 1),
    (0x178, 0x178, 1, -121),
    (0x179, 0x17D, 2, 1),
    (0x370, 0x372, 2, 1),
    (0x376, 0x376, 1, 1),
    (0x37F, 0x37F, 1, 116),
    (0x386, 0x386, 1, 38),
    (0x388, 0x38A, 1, 37),
    (0x38C, 0x38C, 1, 64),
    (0x38E, 0x38F, 1, 63),
    (0x391, 0x3A1, 1, 32),
    (0x3A3, 0x3AB, 1, 32),
    (0x3CF, 0x3CF, 1, 8),
    (0x3D8, 0x3EE, 2, 1),
    (0x3F4, 0x3F4, 1, -60),
    (0x3F7, 0x3F7, 1, 1),
    (0x3F9, 0x3F9, 1, -7),
    (0x3FA, 0x3FA, 1, 1),
    (0x3FD, 0x3FF, 1, -130),
    (0x400, 0x40F, 1, 80),
    (0x410, 0x42F, 1, 32),
    (0x460, 0x480, 2, 1),
    (0x48A, 0x4BE, 2, 1),
    (0x4C0, 0x4C0, 1, 15),
    (0x4C1, 0x4CD, 2, 1),
    (0x4D0, 0x52E, 2, 1),
)


def is_blank(text: str) -> bool:
    """Whether a text shows nothing.

    >>> is_blank(" \\u3000\\n"), is_blank(" a"), is_blank("\\x85")
    (True, False, False)
    """
    return not text or (text[0] in BLANKS and all(letter in BLANKS for letter in text))


def trimmed(text: str) -> str:
    """A text without what shows nothing at its ends.

    >>> trimmed("\\u3000 F 2.50\\xa0")
    'F 2.50'
    """
    first, last = 0, len(text)
    while first < last and text[first] in BLANKS:
        first += 1
    while first < last and text[last - 1] in BLANKS:
        last -= 1
    return text[first:last]


def spaced(text: str) -> str:
    """A text with one space between its words.

    >>> spaced("  T.\\xa0 Ode\\n")
    'T. Ode'
    """
    return " ".join(
        [word for word in "".join([" " if letter in BLANKS else letter for letter in text]).split(" ") if word]
    )


def are_digits(text: str) -> bool:
    """Whether a text is digits from 0 to 9 alone, one at least.

    >>> are_digits("2026"), are_digits("1²"), are_digits("")
    (True, False, False)
    """
    return text != "" and all("0" <= letter <= "9" for letter in text)


def small(letter: str) -> str:
    """A letter of Latin-1, Latin Extended-A, Greek or Cyrillic as a small one; any other as it is.

    >>> "".join(small(letter) for letter in "T. ODÉ ŻŁ"), small("×")
    ('t. odé żł', '×')
    """
    if letter <= "\x7f":
        return letter.lower()
    code = ord(letter)
    for first, last, step, behind in CAPITALS:
        if first <= code <= last and (code - first) % step == 0:
            return chr(code + behind)
    return letter


def folded(name: str) -> str:
    """A name as it is compared: without regard to capitals, and to how many spaces stand where.

    >>> folded("  T.  Ode "), folded("t. ODE")
    ('t. ode', 't. ode')
    """
    return "".join([small(letter) for letter in spaced(name)])


def with_capital(text: str) -> str:
    """A text whose first letter is a capital, where that is one of ASCII.

    >>> with_capital("wet track"), with_capital("ärger"), with_capital("")
    ('Wet track', 'ärger', '')
    """
    return text[0].upper() + text[1:] if "a" <= text[:1] <= "z" else text


def listed(words: list[str]) -> str:
    """Words as a sentence lists them.

    >>> listed(["the ramps"]), listed(["a", "b", "c"])
    ('the ramps', 'a, b and c')
    """
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
