"""The index of a log's files against what is plainly kept of each entry, through random changes."""

import random
from uuid import UUID

from server.log.files.index import Index
from server.log.layout import Line

UNITS = ["", "a", "b", "c"]


class Plain:
    """What there is, kept as it comes: unit, start, length and id by number, and each unit's numbers in order."""

    def __init__(self) -> None:
        self.rows: dict[int, tuple[str, int, int, bytes]] = {}
        self.order: dict[str, list[int]] = {unit: [] for unit in UNITS}

    def add(self, lines: list[Line]) -> None:
        for line in lines:
            self.rows[line.seq] = (line.unit, line.start, len(line.data), UUID(line.id).bytes)
            self.order[line.unit].append(line.seq)

    def remove(self, unit: str) -> None:
        for seq in self.order[unit]:
            del self.rows[seq]
        self.order[unit] = []


def some_lines(chance: random.Random, unit: str, taken: set[int], most: int) -> list[Line]:
    """Lines whose numbers nobody has, in any order."""
    numbers = [seq for seq in chance.sample(range(1, 400), chance.randint(0, most)) if seq not in taken]
    return [
        Line(
            seq,
            str(UUID(int=chance.getrandbits(128))),
            unit,
            memoryview(bytes(chance.randint(1, 90))),
            chance.getrandbits(40),
            0,
        )
        for seq in numbers
    ]


def compare(index: Index, plain: Plain) -> None:
    """Every answer of the index is what the plain rows say."""
    numbers = sorted(plain.rows)
    assert index.last == (numbers[-1] if numbers else 0)
    assert not index.repeats()
    for seq in range(401):
        row = plain.rows.get(seq)
        position = index.position_of(seq)
        assert (tuple(position) if position else None) == row
        assert index.unit_of(seq) == (row[0] if row else None)
        assert index.id_of(seq) == (str(UUID(bytes=row[3])) if row else "")
    for seq, row in plain.rows.items():
        assert index.number_of(str(UUID(bytes=row[3]))) == seq
    for start in (0, 57, 200, 399):
        page = [seq for seq in numbers if seq > start][:20]
        assert index.after(start, 20) == page
        within = index.first_within(page, 300)
        sizes = [plain.rows[seq][2] for seq in page]
        assert within == page[: len(within)]
        assert len(within) <= 1 or sum(sizes[: len(within)]) <= 300
        assert len(within) == len(page) or sum(sizes[: len(within) + 1]) > 300
        by_unit = index.positions_by_unit(page)
        assert {seq: position for rows in by_unit.values() for seq, position in rows} == {
            seq: plain.rows[seq] for seq in page
        }
    for unit, order in plain.order.items():
        assert index.ids_of(unit) == [(str(UUID(bytes=plain.rows[seq][3])), seq) for seq in order]
    missing = {seq for first, last in index.gaps() for seq in range(first, last + 1)}
    assert missing == set(range(1, index.last)) - set(numbers)


def test_index_answers_as_plain_rows_do() -> None:
    for seed in range(20):
        chance = random.Random(seed)
        index, plain = Index(), Plain()
        for unit in UNITS:
            lines = some_lines(chance, unit, set(plain.rows), 60)
            index.add(lines)
            plain.add(lines)
        index.sort()
        compare(index, plain)
        for _ in range(6):
            unit = chance.choice(UNITS)
            if chance.random() < 0.5:
                plain.remove(unit)
                lines = some_lines(chance, unit, set(plain.rows), 60)
                index.replace(unit, lines)
            else:
                lines = some_lines(chance, unit, set(plain.rows), 5)
                index.add_late(lines)
            plain.add(lines)
            compare(index, plain)


def test_index_knows_where_two_entries_have_one_number() -> None:
    index = Index()
    for unit in ("a", "b"):
        index.add([Line(7, str(UUID(int=1)), unit, memoryview(b"x"), 0, 0)])
    index.sort()
    assert index.repeats()
