"""The shelf against books kept by hand: what counts, rebuilds, plans, corrections and late arrivals come to.

`shelf_stories` was written from the rules alone: a count is the truth at its moment, what came before it is in it, a
rebuild takes and returns, a correction says anew what was done then, a plan reserves until the unit is rebuilt.
"""

import random
from typing import Any

import pytest

from .shelf_stories import Books, Shop, shelf_of

NOTHING = (0, 0, 0, 0)


def page_of(shelf: dict[str, Any]) -> dict[str, tuple[int, int, int, int]]:
    """The engine's rows as the clerk writes them."""
    lines = {row["name"]: (row["count"], row["short"], row["wanted"], row["to_buy"]) for row in shelf["rows"]}
    bought = {row["name"]: row["count"] for row in shelf["to_buy"]}
    for name, count in bought.items():
        lines.setdefault(name, (0, 0, count, count))
    return {name: line for name, line in lines.items() if any(line)}


def unsure_of(shelf: dict[str, Any]) -> set[str]:
    """The names of which the engine says that it cannot tell."""
    return {row["name"] for row in shelf["rows"] if any("count it again" in text.lower() for text in row["says"])}


def compare(seed: int, wrong_clocks: bool, crowded: bool) -> tuple[int, int]:
    """Tell a story and compare it with the books; how many classes were compared, and of how many nobody could tell."""
    chance = random.Random(seed)
    shop = Shop(chance, wrong_clocks, crowded)
    shop.tell(chance.randrange(4, 26))
    # What the workshop has, or one of the phones: other entries are still on their way.
    entries = list(chance.choice([shop.log, *[device.has for device in shop.devices]]).values())
    chance.shuffle(entries)
    shelf = shelf_of(entries)
    mine, theirs, unsure = Books(shop, entries).page(), page_of(shelf), unsure_of(shelf)
    # Of two plans for one unit, or two lowest stocks, that were written within minutes, either may count.
    sure = 2 if crowded else 4
    for name in {*mine, *theirs} - unsure:
        assert mine.get(name, NOTHING)[:sure] == theirs.get(name, NOTHING)[:sure], (seed, name, shelf)
    return len({*mine, *theirs}), len(unsure)


@pytest.mark.parametrize("wrong_clocks", [False, True])
def test_the_shelf_is_what_the_books_say(wrong_clocks: bool) -> None:
    """Where things happen twenty minutes or more apart, clocks that were compared leave nothing open."""
    unsure = 0
    for seed in range(60):
        unsure += compare(seed, wrong_clocks, crowded=False)[1]
    assert unsure == 0


def test_where_clocks_cannot_tell_the_shelf_says_so_and_else_is_right() -> None:
    found = [compare(seed, seed % 2 == 0, crowded=True) for seed in range(1000, 1060)]
    assert 0 < sum(unsure for _, unsure in found) < 0.5 * sum(classes for classes, _ in found)
