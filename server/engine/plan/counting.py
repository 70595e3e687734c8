"""How many arrangements of a stack the shelf allows."""

from typing import Any

from .bitsets import choose
from .places import PARTS, micrometres
from .stack import Stack

# Ways of having filled the places that are kept apart while counting.
MOST_STATES = 3000

# Places that are left to fill are kept side by side in one number, this many bits for each group.
BITS = 7


class Group:
    """Places of one kind that allow the same pieces, and whether their own plates may stay."""

    def __init__(self, allowed: set[int], may_stay: bool, places: int) -> None:
        self.allowed = allowed
        self.may_stay = may_stay
        self.places = places


def arrangements(stack: Stack) -> tuple[int, bool]:
    """How many ways there are to fill a stack's places, pieces of one row of the shelf being alike.

    Returns
    -------
    tuple
        (count, whether it is exact; otherwise there are as many or more).
    """
    count, exact = 1, True
    for part in PARTS:
        pieces = [piece for piece in stack.shelf if piece["part"] == part]
        groups = groups_of(stack, part, pieces)
        whole = len(groups)
        while states(groups) > MOST_STATES:
            groups = merged(groups)
        exact = exact and len(groups) == whole
        count *= count_kind(groups, [piece["count"] for piece in pieces])
    return count, exact


def groups_of(stack: Stack, part: str, pieces: list[dict[str, Any]]) -> list[Group]:
    """The open places of one kind, grouped."""
    groups: dict[Any, Group] = {}
    for place in stack.open:
        row = stack.places[place]
        if row.part != part:
            continue
        least, most = row.size - stack.most_change, max(row.size + stack.most_change, row.new)
        allowed = [at for at, piece in enumerate(pieces) if least <= micrometres(piece["mm"]) <= most]
        key = (tuple(allowed), row.may_stay)
        if key in groups:
            groups[key].places += 1
        else:
            groups[key] = Group(set(allowed), row.may_stay, 1)
    return [groups[key] for key in sorted(groups)]


def states(groups: list[Group]) -> int:
    """How many ways of places being left there are."""
    count = 1
    for group in groups:
        count *= group.places + 1
    return count


def merged(groups: list[Group]) -> list[Group]:
    """The groups with the two most alike in one, which allows only what both do."""
    pairs = [
        (len(first.allowed & second.allowed), -row, -column)
        for row, first in enumerate(groups)
        for column, second in enumerate(groups)
        if row < column
    ]
    _, row, column = max(pairs)
    first, second = groups[-row], groups[-column]
    both = Group(first.allowed & second.allowed, first.may_stay and second.may_stay, first.places + second.places)
    return [group for group in groups if group is not first and group is not second] + [both]


def count_kind(groups: list[Group], counts: list[int]) -> int:
    """Ways to fill the places of one kind from rows of stock with these counts."""
    start = sum(group.places << BITS * at for at, group in enumerate(groups))
    ways = {start: 1}
    plenty = [0] * len(groups)
    for row, count in enumerate(counts):
        takers = [at for at, group in enumerate(groups) if row in group.allowed]
        if sum(groups[at].places for at in takers) <= count:
            # There are enough for every place at once, so none has to wait for another.
            for at in takers:
                plenty[at] += 1
            continue
        ways = with_row(ways, takers, count, BITS * len(groups))
    total = 0
    for left, many in ways.items():
        for at, group in enumerate(groups):
            many *= (plenty[at] + (1 if group.may_stay else 0)) ** (left >> BITS * at & (1 << BITS) - 1)
        total += many
    return total


def with_row(ways: dict[int, int], takers: list[int], count: int, spare: int) -> dict[int, int]:
    """Ways after up to `count` alike pieces went to places of the groups that take them.

    What is left of the row goes along above the places, from bit `spare` on.
    """
    layer = {left | count << spare: many for left, many in ways.items()}
    for at in takers:
        following: dict[int, int] = {}
        for state, many in layer.items():
            free, there = state >> BITS * at & (1 << BITS) - 1, state >> spare
            for taken in range(min(free, there) + 1):
                after = state - (taken << BITS * at) - (taken << spare)
                following[after] = following.get(after, 0) + many * choose(free, taken)
        layer = following
    answer: dict[int, int] = {}
    for state, many in layer.items():
        left = state & (1 << spare) - 1
        answer[left] = answer.get(left, 0) + many
    return answer
