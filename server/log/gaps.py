"""Numbers that no entry has although one was given to it: its file was lost, or taken away."""


def without_skipped(gaps: list[tuple[int, int]], skipped: list[list[int]]) -> list[tuple[int, int]]:
    """Runs of numbers without those that were skipped.

    >>> without_skipped([(3, 7), (9, 30), (40, 41)], [[9, 20], [40, 50]])
    [(3, 7), (21, 30)]
    """
    for low, high in skipped:
        pieces = [
            piece for first, last in gaps for piece in ((first, min(last, low - 1)), (max(first, high + 1), last))
        ]
        gaps = [(first, last) for first, last in pieces if first <= last]
    return gaps


def count_entries(number: int) -> str:
    """A number of entries in words.

    >>> count_entries(1), count_entries(12)
    ('1 entry', '12 entries')
    """
    return f"{number} {'entry' if number == 1 else 'entries'}"


def describe_gaps(gaps: list[tuple[int, int]]) -> str:
    """What the user must know of numbers that no entry has."""
    missing = sum(last - first + 1 for first, last in gaps)
    runs = ", ".join(str(first) if first == last else f"{first} to {last}" for first, last in gaps[:5])
    more = " and more" if len(gaps) > 5 else ""
    return (
        f"The log lacks {count_entries(missing)} (number {runs}{more}): open Slipbook on each phone, which brings back "
        "what it has; if a file was taken out of units, put it back."
    )
