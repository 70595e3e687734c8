"""Both packs together: which thicknesses of the stack they can come to while they differ by no more than they may."""

from typing import Any

from .bitsets import bits_of, shifted
from .lanes import Budget, Side, counted


def half_up(number: int) -> int:
    """Half of a whole number, rounded up.

    >>> half_up(3), half_up(-3)
    (2, -1)
    """
    return -(-number // 2)


class Packs:
    """What two packs can come to.

    Parameters
    ----------
    first, second : Side
        Their open places; the sets of the first count upward, those of the second downward.
    lean : int
        First less second of all that cannot change, less what the packs should differ by, micrometres.
    most_apart : int
        How far apart the packs may be, micrometres.
    low, high : int
        The thicknesses of all open places together that matter.
    both : Side, optional
        What both come to together, where the stock is too small for each to take what it likes.

    Notes
    -----
    Pieces that both packs could use are taken to be there for either, but for the thickness of both together: what is
    found may still ask for more pieces than there are, and what is not found cannot be had.
    """

    def __init__(
        self, first: Side, second: Side, lean: int, most_apart: int, low: int, high: int, both: Side | None = None
    ) -> None:
        self.first, self.second = first, second
        self.both = None if both is None else [shifted(row, both.end - low) for row in both.reached()]
        self.lean, self.most_apart = lean, most_apart
        self.low, self.high = low, high
        self.ends = first.end + second.end
        # Bits of the first pack that come into question, and those of the second that may lie opposite.
        self.start = max(0, self.least_bit(low))
        width = max(0, self.most_bit(high) - self.start + 1)
        self.other_start = max(0, self.start + self.ends - high)
        mask = (1 << width) - 1
        other_mask = (1 << max(0, width + high - low + 1)) - 1
        self.first_sets = [row >> self.start & mask for row in first.reached()]
        self.second_sets = [row >> self.other_start & other_mask for row in second.reached()]

    def least_bit(self, total: int) -> int:
        """Least bit of the first pack at this thickness of both."""
        return half_up(total - self.lean - self.most_apart) - self.first.end

    def most_bit(self, total: int) -> int:
        """Greatest bit of the first pack at this thickness of both."""
        return (total - self.lean + self.most_apart) // 2 - self.first.end

    def pairs(self, changes: int) -> list[tuple[int, int, int]]:
        """(changes of the first pack, its set, the second's) for each way of sharing so many changes out."""
        return [
            (here, self.first_sets[here], self.second_sets[changes - here])
            for here in range(changes + 1)
            if self.first_sets[here] and self.second_sets[changes - here]
        ]

    def meeting(self, first_set: int, second_set: int, total: int) -> int:
        """Bits of the first pack, from `start`, at which both come to `total` and are not too far apart."""
        least, most = self.least_bit(total) - self.start, self.most_bit(total) - self.start
        if most < 0:
            return 0
        window = (1 << (most + 1)) - 1
        if least > 0:
            window = window >> least << least
        return first_set & shifted(second_set, self.other_start + total - self.ends - self.start) & window

    def nearest(self, changes: int, start: int, step: int) -> int | None:
        """The first thickness from `start` on, upward or downward by `step`, that so many changes can come to."""
        pairs = self.pairs(changes)
        total = min(start, self.high) if step < 0 else max(start, self.low)
        both = -1 if self.both is None else self.both[changes]
        while pairs and self.low <= total <= self.high:
            if both >> (total - self.low) & 1:
                for _, first_set, second_set in pairs:
                    if self.meeting(first_set, second_set, total):
                        return total
            total += step
        return None

    def ways(self, changes: int, total: int) -> list[tuple[int, int, int, int]]:
        """Every way to come to a thickness, most even first: (apart, first pack's changes, its bit, the other's)."""
        possible = []
        for here, first_set, second_set in self.pairs(changes):
            for bit in bits_of(self.meeting(first_set, second_set, total)):
                bit += self.start
                apart = self.lean + 2 * (self.first.end + bit) - total
                possible.append((abs(apart), here, bit, bit + self.ends - total))
        return sorted(possible)

    def fillings(self, way: tuple[int, int, int, int], changes: int, budget: Budget) -> Any:
        """The pieces of one of the `ways`, (place, kind, thickness) each, as far as the stock goes round."""
        _, here, bit, other_bit = way
        for first_pieces in self.first.fillings(here, bit, {}, budget):
            for second_pieces in self.second.fillings(changes - here, other_bit, counted({}, first_pieces), budget):
                yield first_pieces + second_pieces
