"""Where each entry lies, so that none has to be kept in memory."""

from bisect import bisect_right
from collections import defaultdict
from typing import NamedTuple
from uuid import UUID

from .layout import Line


class Place(NamedTuple):
    """Where an entry's line lies."""

    unit: str
    start: int
    length: int


class Index:
    """Every entry's place by its number, and its number by its id."""

    def __init__(self) -> None:
        self.places: dict[int, Place] = {}
        self.numbers: dict[bytes, int] = {}
        self.in_order: list[int] = []
        self.by_unit: dict[str, list[int]] = defaultdict(list)

    def put(self, lines: list[Line]) -> None:
        """Take in lines of a file; call `sort` before asking if their numbers may not be the highest so far."""
        for line in lines:
            self.places[line.seq] = Place(line.unit, line.start, len(line.written))
            self.numbers[UUID(line.id).bytes] = line.seq
            self.in_order.append(line.seq)
            self.by_unit[line.unit].append(line.seq)

    def sort(self) -> None:
        """Bring the numbers in order after files were taken in one after the other."""
        self.in_order.sort()

    def replace(self, unit: str, lines: list[Line]) -> None:
        """Forget a unit's file and take in what is there now."""
        gone = set(self.by_unit.pop(unit, []))
        self.in_order = [seq for seq in self.in_order if seq not in gone]
        for seq in gone:
            del self.places[seq]
        self.numbers = {name: seq for name, seq in self.numbers.items() if seq not in gone}
        self.put(lines)
        self.sort()

    def number(self, name: str) -> int | None:
        """Number of the entry with this id, if it is there."""
        return self.numbers.get(UUID(name).bytes)

    def after(self, seq: int, most: int) -> list[int]:
        """The next numbers after `seq`, at most `most` of them."""
        first = bisect_right(self.in_order, seq)
        return self.in_order[first : first + most]

    @property
    def last(self) -> int:
        """The highest number given; 0 in an empty log."""
        return self.in_order[-1] if self.in_order else 0

    def gaps(self) -> list[tuple[int, int]]:
        """Runs of numbers that no entry has."""
        found = []
        before = 0
        for seq in self.in_order:
            if seq > before + 1:
                found.append((before + 1, seq - 1))
            before = seq
        return found
