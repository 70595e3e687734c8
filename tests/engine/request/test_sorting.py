"""`in_order` against CPython's own `sorted`, which is stable and counts no comparison."""

import random

from server.engine.request.sorting import in_order

LISTS = [[], [1], list(range(200)), list(range(200, 0, -1)), [3] * 50]


def made(chance: random.Random) -> list[int]:
    """A list of which some runs are in order, with equal items."""
    rows: list[int] = []
    while len(rows) < chance.randrange(300):
        run = sorted(chance.randrange(60) for _ in range(chance.randrange(1, 40)))
        rows += run[:: chance.choice((1, -1))]
    return rows


def test_order_is_that_of_cpython() -> None:
    chance = random.Random(5)
    for rows in [*LISTS, *(made(chance) for _ in range(300))]:
        # By tens, so that many are equal and only their places tell them apart.
        pairs = [(row, place) for place, row in enumerate(rows)]
        for reverse in (False, True):
            assert in_order(rows, reverse=reverse) == sorted(rows, reverse=reverse)
            assert in_order(iter(pairs), lambda pair: pair[0] // 10, reverse) == sorted(
                pairs, key=lambda pair: pair[0] // 10, reverse=reverse
            )


def test_each_key_is_asked_for_once() -> None:
    asked: list[int] = []

    def key(row: int) -> int:
        asked.append(row)
        return row

    rows = list(range(500))
    random.Random(2).shuffle(rows)
    assert in_order(rows, key) == list(range(500))
    assert asked == rows
