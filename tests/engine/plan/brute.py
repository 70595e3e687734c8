"""Planning by going through every arrangement: slow, plain, and sharing nothing with the engine's way."""

import itertools
from collections.abc import Callable, Iterator
from typing import Any

from server.engine.plan.reachable import Kind

Way = tuple[int, int, int]


def ways(kind: Kind) -> Iterator[Way]:
    """(changes, sum on the first side, sum on the second) of every way to fill one kind's places."""
    places = []
    for side in (0, 1):
        fitted = [size for size, count in kind.fitted[side].items() for _ in range(count)]
        places += [(side, fitted[row] if row < len(fitted) else None) for row in range(kind.places[side])]
    choices = [([] if own is None else [None]) + list(range(len(kind.stock))) for _, own in places]
    for picks in itertools.product(*choices):
        if any(picks.count(row) > count for row, (_, count) in enumerate(kind.stock)):
            continue
        sums = [0, 0]
        for (side, own), pick in zip(places, picks):
            sums[side] += (own or 0) if pick is None else kind.stock[pick][0]
        yield sum(pick is not None for pick in picks), sums[0], sums[1]


def best(
    kinds: list[Kind], low: int, high: int, miss: Callable[[int], float], lean: int
) -> tuple[int, tuple[int, int, float] | None]:
    """How many arrangements there are, and (changes, difference, miss) of the best one in the window."""
    count, found = 0, None
    for combination in itertools.product(*[list(ways(kind)) for kind in kinds]):
        count += 1
        changes, first, second = (sum(column) for column in zip(*combination, (0, 0, 0)))
        if low <= first + second <= high:
            cost = (changes, abs(first - second + lean), miss(first + second))
            found = cost if found is None else min(found, cost)
    return count, found


def all_stacks(chain: list[dict[str, Any]], shelf: list[dict[str, Any]]) -> Iterator[tuple[int, list[dict[str, Any]]]]:
    """Every chain that the shelf allows, with its number of changes; each plate at its own place."""
    open_places = [place for place, item in enumerate(chain) if item["part"] in ("friction", "separator")]
    choices = [
        [None] + [row for row, piece in enumerate(shelf) if piece["part"] == chain[place]["part"]]
        for place in open_places
    ]
    for picks in itertools.product(*choices):
        if any(picks.count(row) > piece["count"] for row, piece in enumerate(shelf)):
            continue
        answer = [dict(item) for item in chain]
        for place, pick in zip(open_places, picks):
            if pick is not None:
                answer[place]["new_mm"] = shelf[pick]["mm"]
        yield sum(pick is not None for pick in picks), answer
