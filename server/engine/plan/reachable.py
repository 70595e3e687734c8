"""What can be reached by filling a stack from a shelf: every sum of thickness, without going through the arrangements.

The places of each kind of plate, first and second side, are filled by plates that stay and by pieces of stock. An
arrangement has a number of changes (places that get a piece of stock), a sum of thickness and a difference between the
sides.

Moving a plate that is fitted to another place is no way to be better: the same plates with each new piece put where an
old one comes out have the same sum and fewer changes. So a fitted plate stays where it is or goes.

Sets of thickness are whole numbers used as rows of bits: bit n is set when n can be reached, a shift adds a plate, an
"or" joins two sets. That makes the work grow with the number of different sums, not with that of the arrangements.

- `Reach.totals`: for each step on the way, all sums that can still be added, for every number of changes. The sides
  play no part in them.
- `Views`: the same for the first side, the second side, and their difference. With the totals these are four exact
  shadows of all that can still be reached.
"""

from typing import Any, NamedTuple

from .bitsets import choose, common_divisor

# Counts are kept side by side in one number, this many bits each: places left on the first side, on the second, and
# changes left. MicroPython looks up numbers many times faster than tuples. What takes more than is left borrows from
# its neighbour and comes to a count that no stack has, so that looking it up finds nothing.
COUNT = 8
ONE = (1 << COUNT) - 1


def counts(first: int, second: int, changes: int) -> int:
    """Places on both sides and changes, in one number."""
    return first << 2 * COUNT | second << COUNT | changes


Kind = NamedTuple(
    "Kind",
    [
        # Places on the first and on the second side.
        ("places", Any),
        # Plates that may stay, as {size: how many}, on the first and on the second side; at most one for each place.
        ("fitted", Any),
        # Stock as (size, count).
        ("stock", Any),
    ],
)

Step = NamedTuple(
    "Step",
    [
        # Places that have to be filled from this step on, as `counts`; 0 but where a new kind begins.
        ("opens", int),
        # Places of its kind on both sides.
        ("places", int),
        # What can be taken: (`counts`, size on the first side, size on the second, difference).
        ("options", Any),
        # (kind, side, size) of a fitted group, or (kind, None, row of stock).
        ("source", Any),
    ],
)

Views = NamedTuple(
    "Views",
    [
        # Counted double, so that they line up with sums of both sides.
        ("first", int),
        ("second", int),
        # Moved up by the largest size of its kind for every plate on the second side, so that none is below 0.
        ("apart", int),
    ],
)


def merged(left: int) -> int:
    """`counts` with the places of both sides together on the second."""
    return (left >> 2 * COUNT << COUNT) + (left & (1 << 2 * COUNT) - 1)


def count_kind(kind: Kind) -> int:
    """Ways to fill the places of one kind, pieces of one row of stock being alike."""
    places = kind.places[0] + kind.places[1]
    may_stay = sum(sum(side.values()) for side in kind.fitted)
    # ways[c]: how c given places can be filled from the rows of stock so far.
    ways = [1] + [0] * places
    for _, count in kind.stock:
        ways = [
            sum(choose(filled, taken) * ways[filled - taken] for taken in range(min(count, filled) + 1))
            for filled in range(places + 1)
        ]
    return sum(choose(may_stay, goes) * ways[places - may_stay + goes] for goes in range(may_stay + 1))


class Reach:
    """What some kinds of plates can come to.

    Parameters
    ----------
    kinds : list of Kind
        Sizes are whole numbers, such as micrometres, 0 or more.

    Attributes
    ----------
    count : int
        How many arrangements there are.
    sums : dict
        Number of changes -> row of bits of the sums that it can give, in `unit`s above `base`.
    base, unit : int
        Smallest sum, and the step between sums.

    Examples
    --------
    A place on each side with a plate of 20, and two pieces of 21 on the shelf: sums of 40, 41 and 42.

    >>> both = Reach([Kind((1, 1), ({20: 1}, {20: 1}), [(21, 2)])])
    >>> both.count, both.base, {changes: bin(row) for changes, row in sorted(both.sums.items())}
    (4, 40, {0: '0b1', 1: '0b10', 2: '0b100'})
    """

    def __init__(self, kinds: list[Kind]) -> None:
        self.count = 1
        self.base = self.lean = 0
        self.unit = 0
        smallest = []
        for kind in kinds:
            self.count *= count_kind(kind)
            sizes = [size for side in kind.fitted for size in side] + [size for size, _ in kind.stock]
            least = min(sizes) if sizes else 0
            smallest.append(least)
            self.base += least * (kind.places[0] + kind.places[1])
            self.lean += least * (kind.places[0] - kind.places[1])
            for size in sizes:
                self.unit = common_divisor(self.unit, size - least)
        self.unit = self.unit or 1
        self.steps: list[Step] = []
        # What `Views.apart` is moved up by in all.
        self.raised = 0
        for place, kind in enumerate(kinds):
            self.add_steps(place, kind, smallest[place])
        self.totals = self.all_totals()
        self.sums = self.totals[0]
        self.views: dict[int, list[dict[int, Views]]] = {}

    def add_steps(self, place: int, kind: Kind, least: int) -> None:
        """The steps that fill one kind's places."""
        first, second = kind.places
        if first + second == 0:
            return
        rows: list[Any] = []
        for side in (0, 1):
            for size, count in sorted(kind.fitted[side].items()):
                takes = [(n, 0) if side == 0 else (0, n) for n in range(count + 1)]
                rows.append(((place, side, size), (size - least) // self.unit, takes, 0))
        for row, (size, count) in enumerate(kind.stock):
            both = [(n, m) for n in range(first + 1) for m in range(second + 1) if n + m <= count]
            # Where there are enough for every place the sides need not share, and two small steps cost less than one.
            enough = count >= first + second
            for takes in (
                ([(n, 0) for n in range(first + 1)], [(0, m) for m in range(second + 1)]) if enough else [both]
            ):
                rows.append(((place, None, row), (size - least) // self.unit, takes, 1))
        most = max([size for _, size, _, _ in rows] + [0])
        self.raised += second * most
        opens = counts(first, second, 0)
        for source, size, takes, cost in rows:
            options = [
                (counts(n, m, cost * (n + m)), n * size, m * size, n * size + m * (most - size)) for n, m in takes
            ]
            self.steps.append(Step(opens, first + second, options, source))
            opens = 0
        if not rows:
            self.steps.append(Step(opens, first + second, [], None))

    def all_totals(self) -> list[dict[int, int]]:
        """For each step, `counts` with all places on the second side -> row of the sums that can still be added."""
        layers = [{0: 1}]
        for step in reversed(self.steps):
            takes = {(merged(take), one + two) for take, one, two, _ in step.options}
            layer: dict[int, int] = {}
            for left, row in layers[-1].items():
                for taken, size in takes:
                    if (left + taken) >> COUNT <= step.places:
                        layer[left + taken] = layer.get(left + taken, 0) | row << size
            if step.opens:
                opens = merged(step.opens)
                layer = {left - opens: row for left, row in layer.items() if left >> COUNT == step.places}
            layers.append(layer)
        layers.reverse()
        return layers

    def views_for(self, changes: int) -> list[dict[int, Views]]:
        """For each step, the views of what can still be reached, by `counts`."""
        if changes in self.views:
            return self.views[changes]
        entered = [{counts(0, 0, changes)}]
        for place, step in enumerate(self.steps):
            alive = self.totals[place + 1]
            following = set()
            for left in entered[-1]:
                for take, _, _, _ in step.options:
                    after = left + step.opens - take
                    if after >= 0 and merged(after) in alive:
                        following.add(after)
            entered.append(following)
        layers: list[dict[int, Views]] = [{0: Views(1, 1, 1)}]
        for place in range(len(self.steps) - 1, -1, -1):
            step, layer = self.steps[place], {}
            for left in entered[place]:
                views = self.joined(step, left + step.opens, layers[-1])
                if views.first:
                    layer[left] = views
            layers.append(layer)
        layers.reverse()
        self.views[changes] = layers
        return layers

    def joined(self, step: Step, left: int, after: dict[int, Views]) -> Views:
        """Views before a step, from those after it."""
        first = second = apart = 0
        for take, size_one, size_two, difference in step.options:
            views = after.get(left - take)
            if views is not None:
                v_first, v_second, v_apart = views
                first |= v_first << 2 * size_one
                second |= v_second << 2 * size_two
                apart |= v_apart << difference
        return Views(first, second, apart)

    def window(self, low: int, high: int) -> int:
        """Row of bits of all sums from `low` to `high`."""
        start = max(0, -((self.base - low) // self.unit))
        end = (high - self.base) // self.unit
        return ((1 << (end + 1)) - 1) >> start << start if end >= start else 0
