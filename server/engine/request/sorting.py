"""Sorts long lists alike on both hosts.

MicroPython's own `sorted` asks for a key at each comparison, and compares every two items of a list that is in order
already, as a log nearly always is: 125 000 keys for 500 entries. Nor does it leave equal items in their order.
"""

from typing import Any


def in_order(rows: Any, key: Any = None, reverse: bool = False) -> list[Any]:
    """Rows in the order of their keys, or of themselves; equal ones stay in their order, as `sorted` has it in CPython.

    Runs that are in order already are merged two by two: one pass for a list that is in order.

    >>> in_order("bCAac", lambda letter: letter.lower()), in_order([2, 3, 1], reverse=True)
    (['A', 'a', 'b', 'C', 'c'], [3, 2, 1])
    """
    runs: list[list[Any]] = []
    last: Any = None
    for row in rows:
        mark = row if key is None else key(row)
        if not runs or (last < mark if reverse else mark < last):
            runs.append([])
        runs[-1].append((mark, row))
        last = mark
    while len(runs) > 1:
        pairs = [merged(runs[place], runs[place + 1], reverse) for place in range(0, len(runs) - 1, 2)]
        runs = pairs + (runs[-1:] if len(runs) % 2 else [])
    return [pair[1] for pair in runs[0]] if runs else []


def merged(first: list[Any], second: list[Any], reverse: bool) -> list[Any]:
    """Two runs of pairs of key and row as one; of equal keys the first run's come first."""
    found: list[Any] = []
    place, count = 0, len(second)
    for pair in first:
        mark = pair[0]
        while place < count and (mark < second[place][0] if reverse else second[place][0] < mark):
            found.append(second[place])
            place += 1
        found.append(pair)
    return found + second[place:]
