"""The front of good choices: fewest plates changed, most certain to meet the order, and what lies between.

For every number of plates changed the thickness of the stack that meets the order most often is looked for: the chance
rises up to one thickness and falls from there, so only the nearest on either side of it come into question. Whether a
thickness can be had follows from exact sets, for which pieces that both packs could use count for either; then pieces
are found for it, or it is passed over.

What is stated as proven rests on the sets alone: they hold every arrangement that the shelf allows, and more.
"""

import math
from typing import Any, NamedTuple

from .bitsets import bits_of
from .lanes import Budget
from .outcome import Doubts
from .packs import Packs
from .stack import Filling, Stack

# Choices that are shown at most.
MOST_CHOICES = 5

# One more plate has to be worth this much chance, and what is less behind the best counts as the best.
WORTH = 0.01

# Packs that are more even, by whole steps of so many micrometres, are worth this much chance.
EVEN = 0.005
EVEN_STEP = 20

# Thicknesses that are looked at for that.
LEVEL = 12

# Where pieces and places are known with different doubts: how many ways are looked at, and how much less likely ones.
VARIETY = 12
VARIED = 0.03

# Golden section, and how small a part of the aim the peak is looked for in.
GOLDEN = (math.sqrt(5.0) - 1) / 2
PEAK_SHARE = 64

# Steps spent on finding pieces for one thickness, and thicknesses tried for one number of changes.
PATIENCE = 2000
TRIES = 12

# Doubts of pieces that are told apart in the search: finer ones, and all.
MOST_TIERS = 3

Choice = NamedTuple(
    "Choice",
    [
        ("changes", int),
        ("chance", float),
        ("filling", Filling),
        ("doubts", Doubts),
    ],
)


def every(sets: list[int]) -> int:
    """What any number of changes comes to."""
    together = 0
    for row in sets:
        together |= row
    return together


Candidate = NamedTuple(
    "Candidate",
    [
        # Which of the tiers of pieces it is from.
        ("tier", int),
        # A thickness that so many changes come to, and which way the next ones lie.
        ("total", int),
        ("step", int),
        ("chance", float),
    ],
)


class Front:
    """The good choices for one aim.

    Parameters
    ----------
    stack : Stack
        The places and the shelf.
    aim : Aim or SeenAim
        The torque that is wanted.
    outcome : Outcome or SeenOutcome
        How it may come out.
    balance : int
        First pack less second as it should be, micrometres.
    most_apart : int
        How far they may be off that, micrometres.
    cavity : float
        How far off the depth may be, mm.

    Attributes
    ----------
    choices : list of Choice
        From the most certain to the fewest plates; empty where there is none.
    ceilings : dict
        Number of changes -> chance that no arrangement with so many is above.
    """

    def __init__(
        self,
        stack: Stack,
        aim: Any,
        outcome: Any,
        balance: int,
        most_apart: int,
        cavity: float,
        single: bool = False,
    ) -> None:
        self.stack, self.aim, self.outcome = stack, aim, outcome
        self.balance, self.most_apart, self.cavity = balance, most_apart, cavity
        self.tiers = self.tiers_of()
        self.sides = [stack.side(side, self.tiers[-1]) for side in (0, 1)]
        self.both = stack.both(self.tiers[-1])
        # Whether something was left unsettled that might have been had.
        self.gave_up = False
        self.packs = [self.packs_of(widest) for widest in self.tiers]
        # Where all doubts are alike every way to a thickness is as good as any other.
        alike = len(self.tiers) == 1 and len({stack.places[place].within for place in stack.open}) <= 1
        self.variety, self.slack = (1, EVEN) if alike else (VARIETY, VARIED)
        self.ceilings: dict[int, float] = {}
        self.candidates: dict[int, list[Candidate]] = {}
        self.by_changes: dict[int, Choice] = {}
        self.look()
        self.choices = self.settled(single)

    def tiers_of(self) -> list[float]:
        """Doubts by which pieces are told apart: only finer ones, then all; the last holds all."""
        open_parts = {self.stack.places[place].part for place in self.stack.open}
        widths = sorted({piece["within_mm"] for piece in self.stack.shelf if piece["part"] in open_parts})
        if len(widths) > MOST_TIERS:
            widths = [widths[0], widths[len(widths) // 2], widths[-1]]
        return widths or [0.0]

    def packs_of(self, widest: float) -> Packs | None:
        """Both packs, filled from pieces that are at most `widest` mm off."""
        all_of_it = widest == self.tiers[-1]
        sides = self.sides if all_of_it else [self.stack.side(side, widest) for side in (0, 1)]
        if sides[0] is None or sides[1] is None or self.aim.low > self.aim.high:
            return None
        closed = self.stack.closed
        return Packs(
            sides[0],
            sides[1],
            self.stack.lean - self.balance,
            self.most_apart,
            self.aim.low - closed,
            self.aim.high - closed,
            self.both if all_of_it else self.stack.both(widest),
        )

    def doubts(self, changes: int, widest: float) -> Doubts:
        """Doubts of a choice that is not known yet: the open places' own are shared out evenly."""
        opened = [self.stack.places[place].within ** 2 for place in self.stack.open]
        return self.with_doubts(changes, sum(opened) / len(opened) if opened else 0.0, widest)

    def extremes(self, changes: int) -> set[Doubts]:
        """The least and the greatest doubts that a choice with so many changes can have."""
        opened = sorted(self.stack.places[place].within ** 2 for place in self.stack.open)
        goes = {sum(opened[:changes]), sum(opened[len(opened) - changes :])} if changes else {0.0}
        widths = {self.tiers[0], self.tiers[-1]} if changes else {0.0}
        return {self.with_doubts(changes, gone / max(1, changes), width) for gone in goes for width in widths}

    def with_doubts(self, changes: int, goes: float, widest: float) -> Doubts:
        """Doubts where each place that changes has the square `goes`, mm2, and each piece may be `widest` mm off."""
        every = sum(row.within**2 for row in self.stack.places) + self.cavity**2
        more = max(0, changes - 1)
        ends = (math.sqrt(goes), widest) if changes else (0.0, 0.0)
        return Doubts(max(0.0, every - changes * goes) / 3, more * goes / 3, more * widest * widest / 3, *ends)

    def chance(self, total: int, doubts: Doubts, changes: int) -> float:
        """Chance to meet the order with a stack this thick, rounded so that both hosts rank alike."""
        low, high, scatter = self.aim.met_by(changes > 0)
        chance: float = self.outcome.chance(total, doubts, low, high, scatter)
        return round(chance, 9)

    def peak(self, doubts: Doubts, changes: int) -> int:
        """The thickness from the thinnest to the thickest of the aim that meets the order most often.

        By golden section, down to a small part of what the aim spans: about its peak the chance is flat.
        """
        low: int = self.aim.low
        high: int = self.aim.high
        exact = max(2, (high - low) // PEAK_SHARE)
        lower, upper = high - int(GOLDEN * (high - low)), low + int(GOLDEN * (high - low))
        at_lower, at_upper = self.chance(lower, doubts, changes), self.chance(upper, doubts, changes)
        while high - low > exact and lower < upper:
            if at_lower < at_upper:
                low, lower, at_lower = lower, upper, at_upper
                upper = low + int(GOLDEN * (high - low))
                at_upper = self.chance(upper, doubts, changes)
            else:
                high, upper, at_upper = upper, lower, at_lower
                lower = high - int(GOLDEN * (high - low))
                at_lower = self.chance(lower, doubts, changes)
        return (low + high) // 2

    def look(self) -> None:
        """Candidates and ceilings for every number of changes."""
        if self.packs[-1] is None:
            return
        most = len(self.stack.open)
        widest = self.tiers[-1]
        ends = [self.peak(self.doubts(changes, widest), most) for changes in (0, most)]
        for changes in range(most + 1):
            peak = ends[0] + (ends[1] - ends[0]) * changes // max(1, most)
            candidates: list[Candidate] = []
            for tier, packs in enumerate(self.packs):
                if packs is not None:
                    for start, step in ((peak, -1), (peak + 1, 1)):
                        total = self.nearest(packs, changes, start, step)
                        if total is not None:
                            chance = self.chance(total, self.doubts(changes, self.tiers[tier]), changes)
                            candidates.append(Candidate(tier, total, step, chance))
            if candidates:
                self.candidates[changes] = candidates
                self.ceilings[changes] = max(
                    self.chance(candidate.total, doubts, changes)
                    for candidate in candidates
                    if candidate.tier == len(self.tiers) - 1
                    for doubts in self.extremes(changes)
                )

    def nearest(self, packs: Packs, changes: int, start: int, step: int) -> int | None:
        """As `Packs.nearest`, of the whole stack."""
        closed = self.stack.closed
        total = packs.nearest(changes, start - closed, step)
        return None if total is None else total + closed

    def ends(self) -> tuple[int | None, int | None]:
        """Thinnest and thickest that the stack can be from this shelf, the packs' difference left aside."""
        sides = self.sides
        if sides[0] is None or sides[1] is None:
            return None, None
        if self.both is not None:
            together = every(self.both.reached())
            if not together:
                return None, None
            whole = bits_of(together)
            end = self.both.end + self.stack.closed
            return end + whole[0], end + whole[-1]
        first, second = every(sides[0].reached()), every(sides[1].reached())
        if not first or not second:
            return None, None
        bits, other = bits_of(first), bits_of(second)
        ends = sides[0].end + sides[1].end + self.stack.closed
        return ends + bits[0] - other[-1], ends + bits[-1] - other[0]

    def could_gain(self) -> bool:
        """Whether any shelf could give a choice that is better by more than twice what a plate has to be worth.

        No choice is better than one of just the right thickness that brings no doubt of its own.
        """
        if not self.choices or self.aim.low > self.aim.high:
            return True
        doubts = self.doubts(0, 0.0)
        most = len(self.stack.open)
        return self.chance(self.peak(doubts, most), doubts, most) >= self.choices[0].chance + 2 * WORTH

    def thicknesses(self) -> int:
        """How many different thicknesses of the stack this shelf allows."""
        sides = self.sides
        if sides[0] is None or sides[1] is None:
            return 0
        if self.both is not None:
            return bin(every(self.both.reached())).count("1")
        first, second = every(sides[0].reached()), every(sides[1].reached())
        together = 0
        # Downward, one set counts from the other end: a shift the other way round adds it.
        last = len(bin(second)) - 3 if second else 0
        for bit in bits_of(second):
            together |= first << (last - bit)
        return bin(together).count("1")

    def beyond(self, start: int, step: int, last: int) -> int | None:
        """The nearest thickness outside the aim, from `start` on to `last`, that any number of changes comes to."""
        sides = self.sides
        if sides[0] is None or sides[1] is None or (last - start) * step < 0:
            return None
        closed = self.stack.closed
        low, high = sorted((start - closed, last - closed))
        packs = Packs(sides[0], sides[1], self.stack.lean - self.balance, self.most_apart, low, high, self.both)
        packs.first_sets, packs.second_sets = [every(packs.first_sets)], [every(packs.second_sets)]
        packs.both = None if packs.both is None else [every(packs.both)]
        return self.nearest(packs, 0, start, step)

    def settled(self, single: bool) -> list[Choice]:
        """The front, with pieces for every choice; with `single` the most certain alone."""
        while True:
            chosen = self.worth_showing(single)
            unsettled = [changes for changes in chosen if changes not in self.by_changes]
            if not unsettled:
                return [self.by_changes[changes] for changes in reversed(chosen)]
            for changes in unsettled:
                choice = self.settle(changes)
                if choice is None:
                    del self.candidates[changes]
                else:
                    self.by_changes[changes] = choice

    def worth(self, changes: int) -> float:
        """Chance of the best with so many changes, as far as it is known."""
        if changes in self.by_changes:
            return self.by_changes[changes].chance
        return max(candidate.chance for candidate in self.candidates[changes])

    def worth_showing(self, single: bool) -> list[int]:
        """Numbers of changes on the front, rising."""
        if not self.candidates:
            return []
        best = max(self.worth(changes) for changes in self.candidates)
        chosen: list[int] = []
        for changes in sorted(self.candidates):
            if (
                not chosen
                or self.worth(changes) >= self.worth(chosen[-1]) + WORTH
                or self.worth(changes) >= best - WORTH
            ):
                chosen.append(changes)
            if self.worth(changes) >= best - WORTH:
                break
        if single:
            return chosen[-1:]
        while len(chosen) > MOST_CHOICES:
            gains = [(self.worth(chosen[at]) - self.worth(chosen[at - 1]), at) for at in range(1, len(chosen) - 1)]
            del chosen[min(gains)[1]]
        return chosen

    def settle(self, changes: int) -> Choice | None:
        """Pieces for the best choice with so many changes; None where there are none."""
        best: Choice | None = None
        for tier in range(len(self.tiers)):
            here = [candidate for candidate in self.candidates[changes] if candidate.tier == tier]
            choice = self.settle_from(changes, here)
            if choice is not None and (best is None or choice.chance > best.chance):
                best = choice
        return best

    def settle_from(self, changes: int, candidates: list[Candidate]) -> Choice | None:
        """Pieces for the best of some candidates, or for what lies beyond where the stock has too few for it."""
        for _ in range(TRIES):
            if not candidates:
                return None
            top = max(candidate.chance for candidate in candidates)
            level: list[tuple[int, float, int, Candidate]] = []
            going = []
            for candidate in candidates:
                last: Candidate | None = candidate
                while last is not None and last.chance >= top - self.slack and len(level) < LEVEL:
                    level.append((self.unevenness(changes, last), -last.chance, last.total, last))
                    last = self.beyond_candidate(changes, last)
                if last is not None:
                    going.append(last)
            candidates = going
            choice = self.best_of(changes, [row[3] for row in sorted(level, key=lambda row: row[:3])])
            if choice is not None:
                return choice
        self.gave_up = True
        return None

    def best_of(self, changes: int, candidates: list[Candidate]) -> Choice | None:
        """The best of some candidates, the more even ones first, that pieces are found for."""
        best: Choice | None = None
        looked_at = 0
        for candidate in candidates:
            for choice in self.pieces_for(changes, candidate):
                looked_at += 1
                if best is None or choice.chance > best.chance + EVEN:
                    best = choice
            if looked_at >= self.variety:
                break
        return best

    def unevenness(self, changes: int, candidate: Candidate) -> int:
        """How far apart the packs are at best, in coarse steps."""
        packs = self.packs[candidate.tier]
        assert packs is not None
        return packs.ways(changes, candidate.total - self.stack.closed)[0][0] // EVEN_STEP

    def beyond_candidate(self, changes: int, candidate: Candidate) -> Candidate | None:
        """The next one in the same direction."""
        packs = self.packs[candidate.tier]
        assert packs is not None
        total = self.nearest(packs, changes, candidate.total + candidate.step, candidate.step)
        if total is None:
            return None
        chance = self.chance(total, self.doubts(changes, self.tiers[candidate.tier]), changes)
        return Candidate(candidate.tier, total, candidate.step, chance)

    def pieces_for(self, changes: int, candidate: Candidate) -> list[Choice]:
        """Pieces for one thickness, in the most even ways that the stock allows; empty where there are none."""
        packs = self.packs[candidate.tier]
        assert packs is not None
        budget = Budget(PATIENCE)
        choices = []
        for way in packs.ways(changes, candidate.total - self.stack.closed):
            for taken in packs.fillings(way, changes, budget):
                filling = self.stack.filled(taken, self.balance, self.tiers[candidate.tier])
                doubts = self.stack.doubts(filling, self.cavity)
                choices.append(Choice(changes, self.chance(filling.total, doubts, changes), filling, doubts))
                if 3 * len(choices) >= self.variety:
                    return choices
            if budget.left < 0:
                self.gave_up = True
                break
        return choices
