"""Every way to fill a stack from a shelf, without going through them: which is best, and how many there are.

The places of each kind of plate, first and second side, are filled by plates that stay and by pieces of stock. An
arrangement has a number of changes (places that get a piece of stock), a sum of thickness and a difference between the
sides. Wanted is a sum in a window with the fewest changes, then the smallest difference, then the least miss.

Moving a plate that is fitted to another place is no way to be better: the same plates with each new piece put where an
old one comes out have the same sum and fewer changes. So a fitted plate stays where it is or goes.

Sets of thickness are whole numbers used as rows of bits: bit n is set when n can be reached, a shift adds a plate, an
"or" joins two sets. That makes the work grow with the number of different sums, not with that of the arrangements.

1. `totals`: for each step on the way, all sums that can still be added, for every number of changes. The sides play no
   part in them. At the first step they tell the fewest changes.
2. `Views`: the same for the first side, the second side, and their difference. With the totals these are four exact
   shadows of all that can still be reached.
3. `search`: differences from the smallest up; a branch whose shadows miss the window is cut, no state is entered twice.
   That is quick where many arrangements lie in the window. Where it drags on they are few, and `sweep` takes them all.
"""

from typing import Any, NamedTuple

from .bits import bits_of, choose, common_divisor, shifted

# States that `search` may enter before it is tried whether few enough arrangements are left to `sweep` through them.
PATIENCE = 6000

# States of one step that `sweep` may hold.
MOST_STATES = 12000

# Counts are kept side by side in one number, this many bits each: places left on the first side, on the second, and
# changes left. MicroPython looks up numbers many times faster than tuples. What takes more than is left borrows from
# its neighbour and comes to a count that no stack has, so that looking it up finds nothing.
COUNT = 8
# A whole state has the sums of both sides below its counts, this many bits each: MicroPython spreads numbers by their
# lowest 32 bits, and of all three the sums differ most.
SUM = 24
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

Best = NamedTuple(
    "Best",
    [
        ("changes", int),
        # First side less second, with the lean of all that does not change.
        ("apart", int),
        # Thickness of all places together.
        ("total", int),
        ("miss", float),
        # What was taken at each step: (source, first side, second side).
        ("taken", Any),
    ],
)


def merged(left: int) -> int:
    """`counts` with the places of both sides together on the second."""
    return (left >> 2 * COUNT << COUNT) + (left & (1 << 2 * COUNT) - 1)


def state_of(left: int, first: int, second: int) -> int:
    """`counts` of what is left and the sums of both sides, in one number."""
    return left << 2 * SUM | first << SUM | second


def parts_of(state: int) -> tuple[int, int, int]:
    """(`counts`, first sum, second sum) of a state."""
    return state >> 2 * SUM, state >> SUM & (1 << SUM) - 1, state & (1 << SUM) - 1


def cost_of(best: Best) -> tuple[int, float]:
    """What arrangements with the same number of changes are compared by."""
    return abs(best.apart), best.miss


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


class Arrangements:
    """All arrangements of some kinds of plates.

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
    Two places a side with plates of 20 each; a piece of 23 and two of 21 on the shelf. A sum of 83 takes one change.

    >>> plates = Arrangements([Kind((2, 2), ({20: 2}, {20: 2}), [(23, 1), (21, 2)])])
    >>> best = plates.best(83, 84, lambda total: abs(total - 84))
    >>> best.changes, best.total, abs(best.apart), plates.count
    (1, 83, 3, 39)
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

    def best(self, low: int, high: int, miss: Any, lean: int = 0) -> Best | None:
        """The best arrangement.

        Parameters
        ----------
        low, high : int
            Window for the sum of all places.
        miss : callable
            Sum -> how far it is from what is wanted.
        lean : int
            First side less second of all that does not change.

        Returns
        -------
        Best or None
            Fewest changes, then the smallest difference between the sides, then the least miss; None where no sum lies
            in the window.
        """
        window = self.window(low, high)
        for changes in sorted(self.sums):
            if self.sums[changes] & window:
                return self.search(changes, window, miss, self.lean + lean)
        return None

    def search(self, changes: int, window: int, miss: Any, lean: int) -> Best:
        """The best arrangement with this number of changes; there is one."""
        layers = self.views_for(changes)
        root = layers[0][changes]
        ranked = sorted((miss(self.base + self.unit * bit), bit) for bit in bits_of(self.sums[changes] & window))
        found: Best | None = None
        apart = [(lean + self.unit * (bit - self.raised), bit) for bit in bits_of(root.apart)]
        patience = float(PATIENCE)
        for difference, target in sorted(apart, key=lambda pair: (abs(pair[0]), pair[0])):
            if found is not None and abs(difference) > abs(found.apart):
                break
            while ranked:
                # Only sums with a smaller miss than the best so far are still wanted.
                wanted = 0
                for _, bit in ranked:
                    wanted |= 1 << bit
                reached, entered = self.descend(layers, changes, target, wanted, patience)
                patience -= entered
                if patience < 0:
                    rest = self.sweep(changes, wanted, miss, lean)
                    if rest is not None:
                        return rest if found is None or cost_of(rest) < cost_of(found) else found
                    patience = float("inf")
                    continue
                if reached is None:
                    break
                total, taken = reached
                least = next(value for value, bit in ranked if bit == total)
                ranked = [pair for pair in ranked if pair[0] < least]
                found = Best(changes, difference, self.base + self.unit * total, least, taken)
        assert found is not None, "a sum in the window has an arrangement"
        return found

    def sweep(self, changes: int, wanted: int, miss: Any, lean: int) -> Best | None:
        """The best whose sum is one of `wanted`, by taking along every state that leads to one; None if too many.

        The totals are exact, so no state is taken along in vain.
        """
        layers = [{state_of(changes, 0, 0)}]
        for place, step in enumerate(self.steps):
            after = self.totals[place + 1]
            following = set()
            for state in layers[-1]:
                left, first, second = parts_of(state)
                for take, size_one, size_two, _ in step.options:
                    rest = left + step.opens - take
                    total = first + size_one + second + size_two
                    if rest >= 0 and after.get(merged(rest), 0) << total & wanted:
                        following.add(state_of(rest, first + size_one, second + size_two))
            if len(following) > MOST_STATES:
                return None
            layers.append(following)
        costs = []
        for state in layers[-1]:
            _, first, second = parts_of(state)
            difference, total = lean + self.unit * (first - second), self.base + self.unit * (first + second)
            costs.append((abs(difference), miss(total), difference, total, state))
        _, least, difference, total, state = min(costs)
        return Best(changes, difference, total, least, self.way_back(layers, state))

    def way_back(self, layers: list[set[int]], state: int) -> list[Any]:
        """What was taken at each step on a way through the layers to `state`."""
        taken = []
        for place in range(len(self.steps) - 1, -1, -1):
            step = self.steps[place]
            left, first, second = parts_of(state)
            for take, size_one, size_two, _ in step.options:
                before = left + take - step.opens
                if before >= 0 and first >= size_one and second >= size_two:
                    state = state_of(before, first - size_one, second - size_two)
                    if state in layers[place]:
                        taken.append((step.source, take >> 2 * COUNT, take >> COUNT & ONE))
                        break
        taken.reverse()
        return [row for row in taken if row[1] + row[2]]

    def descend(self, layers: Any, changes: int, target: int, wanted: int, most: float) -> tuple[Any, int]:
        """Look for an arrangement whose difference is bit `target` of the views and whose sum is one of `wanted`.

        Returns
        -------
        tuple
            ((sum, what was taken) or None, how many states were entered); more than `most` where it gave up.
        """
        level = target - self.raised
        entered: list[set[int]] = [set() for _ in layers]
        count = 0
        stack: list[Any] = [(0, changes, 0, 0, 0, None)]
        while stack and count <= most:
            place, left, first, second, apart, trail = stack.pop()
            views = layers[place].get(left)
            if views is None or apart > target:
                continue
            view_first, view_second, view_apart = views
            if not view_apart >> (target - apart) & 1:
                continue
            # On this level the sum is twice the first side less the difference, and twice the second side plus it.
            sums = wanted & self.totals[place][merged(left)] << (first + second)
            if sums:
                sums &= shifted(view_first, 2 * first - level)
            if sums:
                sums &= shifted(view_second, 2 * second + level)
            if not sums:
                continue
            if place == len(self.steps):
                return (first + second, self.told(trail)), count
            state = state_of(left, first, second)
            if state in entered[place]:
                continue
            entered[place].add(state)
            count += 1
            step = self.steps[place]
            for take, size_one, size_two, difference in step.options:
                rest = left + step.opens - take
                reached = (first + size_one, second + size_two, apart + difference)
                stack.append((place + 1, rest, reached[0], reached[1], reached[2], (step.source, take, trail)))
        return None, count

    def told(self, trail: Any) -> list[Any]:
        """What was taken at each step, in order."""
        taken = []
        while trail is not None:
            source, take, trail = trail
            if take >> COUNT:
                taken.append((source, take >> 2 * COUNT, take >> COUNT & ONE))
        taken.reverse()
        return taken
