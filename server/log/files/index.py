"""Where each entry is in its file, so that entries need not be kept in memory."""

from bisect import bisect_right
from collections import defaultdict
from typing import NamedTuple
from uuid import UUID

from ..layout import Line


class LinePosition(NamedTuple):
    """Where an entry's line is: in the file of which unit, from which byte, and how many bytes long; and its id."""

    unit: str
    start: int
    length: int
    id: bytes


class Index:
    """Every entry's place by its number, and its number by its id."""

    def __init__(self) -> None:
        self.positions: dict[int, LinePosition] = {}
        self.numbers: dict[bytes, int] = {}
        self.sorted_numbers: list[int] = []
        self.by_unit: dict[str, list[int]] = defaultdict(list)

    def add(self, lines: list[Line]) -> None:
        """Add the lines of a file; unless their numbers are the highest so far, call `sort` before asking."""
        for line in lines:
            entry_id = UUID(line.id).bytes
            self.positions[line.seq] = LinePosition(line.unit, line.start, len(line.data), entry_id)
            self.numbers[entry_id] = line.seq
            self.sorted_numbers.append(line.seq)
            self.by_unit[line.unit].append(line.seq)

    def sort(self) -> None:
        """Put the numbers in order after the lines of several files were added, or entries that came back."""
        self.sorted_numbers.sort()

    def add_late(self, lines: list[Line]) -> None:
        """Add lines that came later, in whatever order their numbers are."""
        numbers = [self.last, *(line.seq for line in lines)]
        self.add(lines)
        if numbers != sorted(numbers):
            self.sort()

    def replace(self, unit: str, lines: list[Line]) -> None:
        """Replace all lines of a unit."""
        replaced = set(self.by_unit.pop(unit, []))
        self.sorted_numbers = [seq for seq in self.sorted_numbers if seq not in replaced]
        for seq in replaced:
            del self.positions[seq]
        self.numbers = {entry_id: seq for entry_id, seq in self.numbers.items() if seq not in replaced}
        self.add(lines)
        self.sort()

    def unit_of(self, seq: int) -> str | None:
        """The unit whose file has the entry with this number, or None if there is no such entry."""
        position = self.positions.get(seq)
        return position.unit if position else None

    def id_of(self, seq: int) -> str:
        """The id of the entry with this number; empty if there is none."""
        position = self.positions.get(seq)
        return str(UUID(bytes=position.id)) if position else ""

    def ids_of(self, unit: str) -> list[tuple[str, int]]:
        """Id and number of each of a unit's entries."""
        return [(self.id_of(seq), seq) for seq in self.by_unit.get(unit, [])]

    def number_of(self, entry_id: str) -> int | None:
        """The number of the entry with this id, or None."""
        return self.numbers.get(UUID(entry_id).bytes)

    def after(self, seq: int, most: int) -> list[int]:
        """The next numbers after `seq`, at most `most` of them."""
        first = bisect_right(self.sorted_numbers, seq)
        return self.sorted_numbers[first : first + most]

    def first_within(self, numbers: list[int], most_bytes: int) -> list[int]:
        """The first of these numbers whose entries take at most so many bytes together, one at least."""
        size = 0
        for count, seq in enumerate(numbers):
            size += self.positions[seq].length
            if size > most_bytes and count:
                return numbers[:count]
        return numbers

    @property
    def last(self) -> int:
        """The highest number given; 0 in an empty log."""
        return self.sorted_numbers[-1] if self.sorted_numbers else 0

    def gaps(self) -> list[tuple[int, int]]:
        """Runs of numbers that no entry has, each (first, last)."""
        runs = []
        previous = 0
        for seq in self.sorted_numbers:
            if seq > previous + 1:
                runs.append((previous + 1, seq - 1))
            previous = seq
        return runs
