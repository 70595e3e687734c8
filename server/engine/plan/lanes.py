"""What the places of one kind in one pack can come to, without going through the arrangements one by one.

A lane is a pack's places of one kind and one thickness when new. Each keeps its plate or gets a piece that does not
change it by more than the builder allows. Since every place of a lane allows the same change, the thinnest of the new
pieces may always go where the thinnest plate comes out, and so on: an arrangement is a choice of places, and of as many
pieces in rising order. Pieces of one thickness are alike here.

Sets of thickness are whole numbers used as rows of bits: bit n is set when n can be reached, a shift adds a plate, an
"or" joins two sets. That makes the work grow with the number of different sums, not with that of the arrangements.
"""

from typing import Any, NamedTuple

from .bitsets import bits_of

# Thicknesses in micrometres need fewer bits than this.
THICKNESS = 24


def piece_key(kind: int, size: int) -> int:
    """A kind and a thickness in one number, which MicroPython looks up faster than a tuple."""
    return kind << THICKNESS | size


Spot = NamedTuple(
    "Spot",
    [
        # Thickness as fitted, and least and most that it may become, micrometres.
        ("size", int),
        ("least", int),
        ("most", int),
        ("may_stay", bool),
        # Which of the stack's places it is.
        ("place", int),
    ],
)


class Lane:
    """The places of one kind in one pack.

    Parameters
    ----------
    kind : int
        Which kind of plate; lanes of one kind share their stock.
    spots : list of Spot
        In any order.
    stock : list of (int, int)
        Thickness, micrometres, and count, each thickness once, rising.
    rising : bool
        Whether sets count upward from the thinnest that the lane can be, or downward from the thickest.

    Attributes
    ----------
    end : int
        Thickness that the first bit of its sets stands for.
    fits : bool
        Whether every place can be filled at all.

    Examples
    --------
    Two places of 20, each of which may change by 2, and one piece of 21:

    >>> lane = Lane(0, [Spot(20, 18, 22, True, 0), Spot(20, 18, 22, True, 1)], [(21, 1)], True)
    >>> lane.end, [bin(row) for row in lane.reach([1, 0, 0])]
    (40, ['0b1', '0b10', '0b0'])
    """

    def __init__(self, kind: int, spots: list[Spot], stock: list[tuple[int, int]], rising: bool) -> None:
        self.kind = kind
        self.spots = sorted(spots, key=lambda spot: (spot.size, spot.place))
        least = min(spot.least for spot in spots)
        most = max(spot.most for spot in spots)
        self.stock = [row for row in stock if least <= row[0] <= most]
        self.fits = True
        self.end = 0
        # What `fillings` was asked last, and the sets that it went by.
        self.last: Any = (None, None, None)
        # How far the set moves where a place keeps its plate, or None where it may not, and where it gets a piece.
        self.stays: list[int | None] = []
        self.gets: list[list[int | None]] = []
        for spot in self.spots:
            sizes = [size if spot.least <= size <= spot.most else None for size, _ in self.stock]
            there = [size for size in sizes if size is not None] + ([spot.size] if spot.may_stay else [])
            self.fits = self.fits and bool(there)
            end = 0 if not there else min(there) if rising else max(there)
            self.end += end
            self.stays.append(abs(spot.size - end) if spot.may_stay else None)
            self.gets.append([None if size is None else abs(size - end) for size in sizes])

    def reach(self, before: list[int]) -> list[int]:
        """Sets by the number of changes, from those of the lanes before this one; as many numbers come out as go in."""
        return self.grids(before, None)[-1][-1]

    def grids(self, before: list[int], mask: int | None) -> list[list[list[int]]]:
        """For each row of stock, that row and thinner ones being there: sets by places filled, then by changes.

        Only the last is kept where there is no `mask`; with one, all are, and only their bits in it.
        """
        grid = [before]
        for stay in self.stays:
            grid.append([0] * len(before) if stay is None else [row << stay for row in grid[-1]])
        grids = [grid]
        for row, (_, count) in enumerate(self.stock):
            grid = self.with_row(grid, row, count)
            if mask is not None:
                grid = [[bits & mask for bits in sets] for sets in grid]
                grids.append(grid)
            else:
                grids = [grid]
        return grids

    def with_row(self, grid: list[list[int]], row: int, count: int) -> list[list[int]]:
        """The sets where pieces of one more thickness are there, thicker than those before."""
        after = [sets[:] for sets in grid]
        most = len(grid[0])
        # Sets in which just so many pieces of this thickness were taken; where there are enough, one or more.
        enough = count >= len(self.spots)
        taken = grid
        for _ in range(1 if enough else count):
            more: list[list[int]] = [[0] * most]
            any_taken = False
            for place, stay in enumerate(self.stays):
                get = self.gets[place][row]
                sets = [0] * most if stay is None else [bits << stay for bits in more[-1]]
                if get is not None:
                    source = taken[place]
                    for changes in range(most - 1):
                        bits = source[changes] | more[place][changes] if enough else source[changes]
                        if bits:
                            any_taken = True
                            sets[changes + 1] |= bits << get
                more.append(sets)
            if not any_taken:
                break
            for place, sets in enumerate(more):
                row_after = after[place]
                for changes, bits in enumerate(sets):
                    if bits:
                        row_after[changes] |= bits
            taken = more
        return after

    def fillings(self, changes: int, bit: int, used: dict[int, int], budget: "Budget") -> Any:
        """Every way to come to `bit` of the lane's own set with so many changes.

        Parameters
        ----------
        changes, bit : int
            What it has to come to.
        used : dict
            `piece_key` -> how many such pieces are used up elsewhere.
        budget : Budget
            What may be spent on looking.

        Yields
        ------
        list of (int, int, int)
            (place of the stack, kind, thickness) of each piece.
        """
        if self.last[:2] != (changes, bit):
            self.last = (changes, bit, self.grids([1] + [0] * changes, (1 << (bit + 1)) - 1))
        grids = self.last[2]
        # (places left to fill, rows of stock left, changes left, bit left, what was taken so far)
        open_ends: list[Any] = [(len(self.spots), len(self.stock), changes, bit, None)]
        while open_ends and budget.spend():
            place, row, left, rest, trail = open_ends.pop()
            if place == 0:
                yield pieces_on(trail, self.kind)
                continue
            place -= 1
            fits = []
            for thick in range(row if left else 0):
                get = self.gets[place][thick]
                if get is None or get > rest or not grids[thick + 1][place][left - 1] >> (rest - get) & 1:
                    continue
                size, count = self.stock[thick]
                if times(trail, size) + used.get(piece_key(self.kind, size), 0) < count:
                    # The same as the one before comes first, then what is nearest to an even share of the rest.
                    same = trail is not None and trail[1] == size
                    fits.append((same, -abs(get * (place + 1) - rest), thick, get))
            for _, _, thick, get in sorted(fits):
                step = (self.spots[place].place, self.stock[thick][0], trail)
                open_ends.append((place, thick + 1, left - 1, rest - get, step))
            stay = self.stays[place]
            if stay is not None and stay <= rest and grids[row][place][left] >> (rest - stay) & 1:
                open_ends.append((place, row, left, rest - stay, trail))


class Budget:
    """How much may still be spent on looking for an arrangement."""

    def __init__(self, left: int) -> None:
        self.left = left

    def spend(self) -> bool:
        """Spend one step; False where there is none left."""
        self.left -= 1
        return self.left >= 0


def times(trail: Any, size: int) -> int:
    """How often a thickness was taken on a trail."""
    count = 0
    while trail is not None:
        count += trail[1] == size
        trail = trail[2]
    return count


def pieces_on(trail: Any, kind: int) -> list[tuple[int, int, int]]:
    """What was taken on a trail: (place, kind, thickness)."""
    pieces = []
    while trail is not None:
        pieces.append((trail[0], kind, trail[1]))
        trail = trail[2]
    return pieces


class Side:
    """All lanes of one pack.

    Attributes
    ----------
    sets : list of list of int
        Before any lane, and after each: sets by the number of changes.
    end : int
        Thickness of the whole pack's open places that the first bit stands for.
    """

    def __init__(self, lanes: list[Lane], most: int) -> None:
        self.lanes = lanes
        self.end = sum(lane.end for lane in lanes)
        # The own sets of each lane, by the number of changes that they were worked out for.
        self.lane_sets: list[Any] = [(None, None)] * len(lanes)
        self.sets = [[1] + [0] * most]
        for lane in lanes:
            self.sets.append(lane.reach(self.sets[-1]))

    def reached(self) -> list[int]:
        """Sets of the whole pack, by the number of changes."""
        return self.sets[-1]

    def fillings(self, changes: int, bit: int, used: dict[int, int], budget: Budget) -> Any:
        """Every way to come to `bit` with so many changes; as `Lane.fillings`."""
        yield from self.from_lane(len(self.lanes), changes, bit, used, budget)

    def from_lane(self, lane: int, changes: int, bit: int, used: dict[int, int], budget: Budget) -> Any:
        """The same for the lanes below `lane` alone."""
        if lane == 0:
            yield []
            return
        here, before = self.lanes[lane - 1], self.sets[lane - 1]
        if self.lane_sets[lane - 1][0] != changes:
            self.lane_sets[lane - 1] = (changes, here.reach([1] + [0] * changes))
        lane_sets = self.lane_sets[lane - 1][1]
        for most in range(changes + 1):
            # The lanes before the first come to nothing, so it has to come to all of it.
            share = bit * len(here.spots) // sum(len(earlier.spots) for earlier in self.lanes[:lane])
            ends = outward(bits_of(lane_sets[most] & ((1 << (bit + 1)) - 1)), share) if lane > 1 else [bit]
            for part in ends:
                if not before[changes - most] >> (bit - part) & 1 or not lane_sets[most] >> part & 1:
                    continue
                for filling in here.fillings(most, part, used, budget):
                    together = counted(used, filling)
                    for others in self.from_lane(lane - 1, changes - most, bit - part, together, budget):
                        yield filling + others
                if budget.left < 0:
                    return


def outward(numbers: list[int], start: int) -> Any:
    """Rising numbers, those nearest to `start` first.

    >>> list(outward([1, 4, 5, 9], 5))
    [5, 4, 9, 1]
    """
    above = 0
    while above < len(numbers) and numbers[above] < start:
        above += 1
    below = above - 1
    while below >= 0 or above < len(numbers):
        if above == len(numbers) or (below >= 0 and start - numbers[below] < numbers[above] - start):
            yield numbers[below]
            below -= 1
        else:
            yield numbers[above]
            above += 1


def counted(used: dict[int, int], filling: list[tuple[int, int, int]]) -> dict[int, int]:
    """What is used up with a filling as well."""
    together = used.copy()
    for _, kind, size in filling:
        key = piece_key(kind, size)
        together[key] = together.get(key, 0) + 1
    return together
