"""Whole numbers as rows of bits, and a small function of numbers that MicroPython lacks."""


def choose(many: int, few: int) -> int:
    """Binomial coefficient.

    >>> choose(5, 2)
    10
    """
    ways = 1
    for place in range(few):
        ways = ways * (many - place) // (place + 1)
    return ways


def bits_of(row: int) -> list[int]:
    """Places of the set bits, lowest first.

    >>> bits_of(0b1011)
    [0, 1, 3]
    """
    text = bin(row)
    last = len(text) - 1
    return sorted(last - place for place, digit in enumerate(text) if place > 1 and digit == "1")


def shifted(row: int, by: int) -> int:
    """A row of bits moved up, or down where `by` is below 0."""
    return row << by if by >= 0 else row >> -by
