"""Every way to fill a stack from a shelf, without going through them: which is best.

Wanted is a sum of thickness in a window with the fewest changes, then the smallest difference between the sides, then
the least miss. What can be reached at all is known from `reach`; here a way there is looked for.

1. The totals of all places tell the fewest changes.
2. `search`: differences from the smallest up; a branch whose shadows miss the window is cut, no state is entered twice.
   That is quick where many arrangements lie in the window. Where it drags on they are few, and `sweep` takes them all.
3. Where they are too many for that as well, `search` goes on for a while. What is found by then has the fewest changes,
   but may be neither the best balanced nor the closest, and says so.
"""

from typing import Any, NamedTuple

from .bitsets import bits_of, shifted
from .reachable import COUNT, ONE, Reach, merged

# States that `search` may enter before it is tried whether few enough arrangements are left to `sweep` through them.
PATIENCE = 6000

# States of one step that `sweep` may hold.
MOST_STATES = 12000

# States that `search` may enter after that: some seconds on a phone.
LAST_PATIENCE = 10000

# States of one step that `sweep` keeps where it cannot take them all along any more.
FEW_STATES = 1000

# A whole state has the sums of both sides below its `counts`, this many bits each: MicroPython spreads numbers by their
# lowest 32 bits, and of all three the sums differ most.
SUM = 24

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
        # Whether no arrangement with as few changes is better.
        ("proven", bool),
    ],
)


def state_of(left: int, first: int, second: int) -> int:
    """`counts` of what is left and the sums of both sides, in one number."""
    return left << 2 * SUM | first << SUM | second


def parts_of(state: int) -> tuple[int, int, int]:
    """(`counts`, first sum, second sum) of a state."""
    return state >> 2 * SUM, state >> SUM & (1 << SUM) - 1, state & (1 << SUM) - 1


def cost_of(best: Best) -> tuple[int, float]:
    """What arrangements with the same number of changes are compared by."""
    return abs(best.apart), best.miss


class Arrangements(Reach):
    """All arrangements of some kinds of plates, and the best of them.

    Examples
    --------
    Two places a side with plates of 20 each; a piece of 23 and two of 21 on the shelf. A sum of 83 takes one change.

    >>> from server.engine.plan.reachable import Kind
    >>> plates = Arrangements([Kind((2, 2), ({20: 2}, {20: 2}), [(23, 1), (21, 2)])])
    >>> best = plates.best(83, 84, lambda total: abs(total - 84))
    >>> best.changes, best.total, abs(best.apart), plates.count
    (1, 83, 3, 39)
    """

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
            Fewest changes, then the smallest difference between the sides, then the least miss, the last two as far as
            `proven` says; None where no sum lies in the window.
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
        swept = False
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
                    rest = self.sweep(changes, wanted, miss, lean, not swept)
                    if rest is not None:
                        best = rest if found is None or cost_of(rest) < cost_of(found) else found
                        return Best(best.changes, best.apart, best.total, best.miss, best.taken, rest.proven)
                    swept, patience = True, float(LAST_PATIENCE)
                    continue
                if reached is None:
                    break
                total, taken = reached
                least = next(value for value, bit in ranked if bit == total)
                ranked = [pair for pair in ranked if pair[0] < least]
                found = Best(changes, difference, self.base + self.unit * total, least, taken, True)
        assert found is not None, "a sum in the window has an arrangement"
        return found

    def sweep(self, changes: int, wanted: int, miss: Any, lean: int, whole: bool) -> Best | None:
        """The best whose sum is one of `wanted`, by taking along every state that leads to one.

        The totals are exact, so no state is taken along in vain. Where they are too many the answer is None if `whole`,
        and otherwise the best that some of them lead to, spread over all.
        """
        proven = True
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
            if len(following) > MOST_STATES and whole:
                return None
            if len(following) > FEW_STATES and not whole:
                proven, following = False, self.some(following, lean)
            layers.append(following)
        costs = []
        for state in layers[-1]:
            _, first, second = parts_of(state)
            difference, total = lean + self.unit * (first - second), self.base + self.unit * (first + second)
            costs.append((abs(difference), miss(total), difference, total, state))
        _, least, difference, total, state = min(costs)
        return Best(changes, difference, total, least, self.way_back(layers, state), proven)

    def some(self, states: set[int], lean: int) -> set[int]:
        """A few of many states: half of them the best balanced so far, half spread over all."""
        half = FEW_STATES // 2
        ranked = []
        for state in states:
            _, first, second = parts_of(state)
            ranked.append((abs(lean + self.unit * (first - second)), state))
        ranked.sort()
        ordered = sorted(states)
        return {state for _, state in ranked[:half]} | {ordered[pick * len(ordered) // half] for pick in range(half)}

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
