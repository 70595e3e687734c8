"""Where each entry is in its file, so that entries need not be kept in memory."""

from array import array
from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from itertools import pairwise
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
    """Every entry's place by its number, and its number by its id.

    A row for each entry, in arrays: an object for each takes three times as much memory.

    Attributes
    ----------
    sorted_numbers : array of int
        The entries' numbers; after `sort` in order.
    by_unit : dict
        The numbers of each unit's entries in the order of its file.
    """

    def __init__(self) -> None:
        self.sorted_numbers = array("Q")
        self.starts = array("Q")
        self.lengths = array("Q")
        # The place of its unit among `units`.
        self.unit_places = array("L")
        self.ids: list[bytes] = []
        self.units: list[str] = []
        self.place_of_unit: dict[str, int] = {}
        self.numbers: dict[bytes, int] = {}
        self.by_unit: dict[str, array[int]] = {}

    def add(self, lines: list[Line]) -> None:
        """Add the lines of a file; unless their numbers are the highest so far, call `sort` before asking."""
        for line in lines:
            entry_id = UUID(line.id).bytes
            place = self.place_of_unit.setdefault(line.unit, len(self.units))
            if place == len(self.units):
                self.units.append(line.unit)
                self.by_unit[line.unit] = array("Q")
            self.sorted_numbers.append(line.seq)
            self.starts.append(line.start)
            self.lengths.append(len(line.data))
            self.unit_places.append(place)
            self.ids.append(entry_id)
            self.numbers[entry_id] = line.seq
            self.by_unit[line.unit].append(line.seq)

    def sort(self) -> None:
        """Put the numbers in order after the lines of several files were added, or entries that came back."""
        numbers = self.sorted_numbers
        if any(later < earlier for earlier, later in pairwise(numbers)):
            self._keep_rows(sorted(range(len(numbers)), key=numbers.__getitem__))

    def _keep_rows(self, rows: Iterable[int]) -> None:
        """Keep these rows only, in this order."""
        rows = list(rows)
        for name in ("sorted_numbers", "starts", "lengths", "unit_places"):
            column: array[int] = getattr(self, name)
            setattr(self, name, array(column.typecode, map(column.__getitem__, rows)))
        self.ids = [self.ids[row] for row in rows]

    def add_late(self, lines: list[Line]) -> None:
        """Add lines that came later, in whatever order their numbers are."""
        numbers = [self.last, *(line.seq for line in lines)]
        self.add(lines)
        if numbers != sorted(numbers):
            self.sort()

    def replace(self, unit: str, lines: list[Line]) -> None:
        """Replace all lines of a unit."""
        replaced = set(self.by_unit.get(unit, ()))
        self.by_unit[unit] = array("Q")
        self._keep_rows(row for row, seq in enumerate(self.sorted_numbers) if seq not in replaced)
        self.numbers = {entry_id: seq for entry_id, seq in self.numbers.items() if seq not in replaced}
        self.add(lines)
        self.sort()

    def position_of(self, seq: int) -> LinePosition | None:
        """Where the entry with this number is, or None if there is no such entry."""
        row = bisect_left(self.sorted_numbers, seq)
        if row == len(self.sorted_numbers) or self.sorted_numbers[row] != seq:
            return None
        return LinePosition(self.units[self.unit_places[row]], self.starts[row], self.lengths[row], self.ids[row])

    def positions_by_unit(self, numbers: Iterable[int]) -> dict[str, list[tuple[int, LinePosition]]]:
        """Of the entries with these numbers, the number and place of each, by unit."""
        by_unit: dict[str, list[tuple[int, LinePosition]]] = {}
        for seq in numbers:
            if position := self.position_of(seq):
                by_unit.setdefault(position.unit, []).append((seq, position))
        return by_unit

    def unit_of(self, seq: int) -> str | None:
        """The unit whose file has the entry with this number, or None if there is no such entry."""
        position = self.position_of(seq)
        return position.unit if position else None

    def id_of(self, seq: int) -> str:
        """The id of the entry with this number; empty if there is none."""
        position = self.position_of(seq)
        return str(UUID(bytes=position.id)) if position else ""

    def ids_of(self, unit: str) -> list[tuple[str, int]]:
        """Id and number of each of a unit's entries."""
        return [(self.id_of(seq), seq) for seq in self.by_unit.get(unit, ())]

    def number_of(self, entry_id: str) -> int | None:
        """The number of the entry with this id, or None."""
        return self.numbers.get(UUID(entry_id).bytes)

    def after(self, seq: int, most: int) -> list[int]:
        """The next numbers after `seq`, at most `most` of them."""
        first = bisect_right(self.sorted_numbers, seq)
        return list(self.sorted_numbers[first : first + most])

    def first_within(self, numbers: list[int], most_bytes: int) -> list[int]:
        """The first of these numbers whose entries take at most so many bytes together, one at least."""
        size = 0
        for count, seq in enumerate(numbers):
            size += self.lengths[bisect_left(self.sorted_numbers, seq)]
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

    def repeats(self) -> bool:
        """Whether two entries have the same number."""
        return any(earlier == later for earlier, later in pairwise(self.sorted_numbers))
