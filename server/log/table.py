"""The log as a table: a row for each entry, and its parts in rows of their own or in columns of that row.

What there is comes from the records of the kinds of entry and from their forms; a column is there if any row fills it.
"""

import csv
import io
from collections.abc import Callable, Iterable, Iterator
from typing import Any, NamedTuple

from ..engine import CALCULATIONS, KINDS, result_form
from ..engine.history.timeline import replaced_by
from ..engine.request.fields import Field, Group, Listing
from . import ADDED
from .cells import NUMBER, TIME, WORDS, Cell, Place, cells_of, fields_of, lists_groups, plain_cell, unwrapped_form
from .directions import closed
from .entry import FORM, Instant
from .figures import ChosenUnits, escape_formula

# An entry's fields that other columns hold or that only the order of entries needs, and the columns that stand first.
LEFT_OUT_FIELDS = {"body", "shown", "judged", "knows", "clock"}
FIRST_COLUMNS = ["seq", "at", "who", "unit_name", "kind", "item", "item_no", "replaces", "replaced_by"]
ENTRY_COLUMNS = [
    *FIRST_COLUMNS,
    *(name for name in (*FORM.fields, *ADDED) if name not in {*FIRST_COLUMNS, *LEFT_OUT_FIELDS}),
    "judged_verdict",
]

# The entry's own times: those of its form, and when the log received it.
TIME_FIELDS = {"received", *(name for name, field in FORM.fields.items() if isinstance(field, Instant))}

# What has a row: an entry and each of its parts, or an entry alone, with its parts in numbered columns.
PARTS, ENTRIES = "parts", "entries"
ROWS = {PARTS: "a row for each entry, and one for each part that it lists", ENTRIES: "one row for each entry"}

# The definition once more, in SI.
REPEATED_FIELDS = {"checked"}

REQUEST, PART, RESULT, PART_RESULT = range(4)

Entry = dict[str, Any]


class RowLayout:
    """How the entries of one kind are cut into rows.

    Attributes
    ----------
    name : str
        The kind's name.
    place : int
        Where the kind stands among the others.
    request, result : Group
        The forms of its body and of its result.
    parts : list of str
        Names of the lists whose items get rows of their own.
    """

    def __init__(self, name: str) -> None:
        kind = KINDS[name]
        self.name = name
        self.place = list(KINDS).index(name)
        self.request = CALCULATIONS[kind.calculation].form
        result = unwrapped_form(result_form(kind.calculation), None)
        assert isinstance(result, Group), name
        self.result = result
        list_fields = [field for field, form in self.request.fields.items() if lists_groups(form)]
        self.parts = list_fields + [table for table, _ in kind.tables if table not in list_fields]

    def cells(
        self, section: int, form: Group | None, value: Entry, units: ChosenUnits, skip: set[str]
    ) -> Iterator[Cell]:
        """The cells of one part of a row; `skip` names the fields that stand elsewhere."""
        for index, name, field in fields_of(form, value):
            if name not in skip:
                yield from cells_of(field, value[name], self.path(section, name), (self.place, section, index), units)

    def path(self, section: int, name: str) -> tuple[str, ...]:
        """The names that a heading begins with: it means one thing in all rows of a kind, and beside the entry's own.

        >>> ROW_LAYOUTS["kit"].path(REQUEST, "id"), ROW_LAYOUTS["spring_check"].path(PART_RESULT, "uneven_mm")
        (('kit', 'id'), ('result', 'uneven_mm'))
        """
        if section != REQUEST and name in self.request.fields:
            return ("part" if section == PART else "result", name)
        return (self.name, name) if name in ENTRY_COLUMNS else (name,)

    def rows(self, entry: Entry, units: ChosenUnits, rows: str) -> Iterator[dict[str, Cell]]:
        """The rows of an entry, cells by heading: its own, then one for each part if `rows` says so."""
        parts = set(self.parts)
        request_cells = list(self.cells(REQUEST, self.request, entry["body"], units, parts))
        repeated = parts | REPEATED_FIELDS | self.request.fields.keys()
        all_cells = [*request_cells, *self.cells(RESULT, self.result, entry["shown"], units, repeated)]
        if rows == ENTRIES:
            all_cells += [in_columns(cell, *part) for part, cells in self.part_cells(entry, units) for cell in cells]
        yield by_heading(all_cells)
        if rows == PARTS:
            for (name, number, _), cells in self.part_cells(entry, units):
                place = [Cell("item", (), name), Cell("item_no", (), str(number), NUMBER)]
                yield by_heading([*place, *request_cells, *cells])

    def part_cells(self, entry: Entry, units: ChosenUnits) -> Iterator[tuple[tuple[str, int, int], list[Cell]]]:
        """The cells of each part that an entry lists, with its list's name, its number there and the kind's place."""
        for name in self.parts:
            for number, (part, judged) in enumerate(self.part_rows(entry, name), 1):
                form = item_form(self.request.fields.get(name))
                judged_form = item_form(self.result.fields.get(name), judged)
                skip = set(part) | ({"name"} if judged.get("name") == part.get("slot", "") else set())
                cells = list(self.cells(PART, form, part, units, set()))
                cells += self.cells(PART_RESULT, judged_form, judged, units, skip)
                yield (name, number, self.place), cells

    def part_rows(self, entry: Entry, name: str) -> Iterator[tuple[Entry, Entry]]:
        """The items of one list: as they were typed, each with what was found of it."""
        typed, judged = (as_list(entry[side].get(name)) for side in ("body", "shown"))
        for number in range(max(len(typed), len(judged))):
            yield item_at(typed, number), item_at(judged, number)


ROW_LAYOUTS = {name: RowLayout(name) for name in KINDS}


def as_list(value: Any) -> list[Any]:
    """A list; an empty one where there is none."""
    return value if isinstance(value, list) else []


def item_at(items: list[Any], number: int) -> Entry:
    """An item of a list, with fields of its own; empty where there is none."""
    return items[number] if number < len(items) and isinstance(items[number], dict) else {}


def item_form(form: Field | None, value: Any = None) -> Group | None:
    """The form of the items of a list."""
    form = unwrapped_form(form, None)
    listed_form = unwrapped_form(form.of, value) if isinstance(form, Listing) else None
    return listed_form if isinstance(listed_form, Group) else None


def in_columns(cell: Cell, name: str, number: int, place: int) -> Cell:
    """A part's cell as one of its entry's row: `plates.2.lowest (mm)`."""
    return cell._replace(heading=f"{name}.{number}.{cell.heading}", place=(place, PART, number, *cell.place))


def by_heading(cells: Iterable[Cell]) -> dict[str, Cell]:
    """Cells by heading."""
    return {cell.heading: cell for cell in cells}


def entry_cells(entry: Entry, unit_name: str, replaced_by: str | None) -> dict[str, Cell]:
    """What a row says of its entry: who, when, on which device, and whether it still counts."""
    values = {name: entry.get(name) for name in ENTRY_COLUMNS}
    values.update(unit_name=unit_name, replaced_by=replaced_by)
    if entry.get("agrees") is False:
        values["judged_verdict"] = entry["judged"].get("verdict")
    cells = (plain_cell(name, (), value) for name, value in values.items() if value not in (None, ""))
    return by_heading(cell._replace(kind=TIME) if cell.heading in TIME_FIELDS else cell for cell in cells)


class Table(NamedTuple):
    """A table: its headings in order, and its rows, cells by heading; an iterator, so that few are in memory."""

    headings: list[str]
    rows: Iterator[dict[str, Cell]]


def make_table(
    entries: Callable[[], Iterable[Entry]], names: dict[str, str], units: ChosenUnits, rows: str = PARTS
) -> Table:
    """A table of entries.

    Parameters
    ----------
    entries : callable
        Gives the entries in order; asked twice, so that a large log need not be held in memory.
    names : dict
        Each unit's name by its id.
    units : ChosenUnits
        The units of its figures.
    rows : str
        One of `ROWS`.
    """
    places: dict[str, Place] = {}
    corrections: list[Entry] = []
    for entry in entries():
        if entry.get("replaces"):
            corrections.append({name: entry.get(name) for name in ("id", "seq", "at", "replaces", "knows")})
        for row in ROW_LAYOUTS[entry["kind"]].rows(entry, units, rows):
            for cell in row.values():
                places[cell.heading] = min(cell.place, places.get(cell.heading, cell.place))
    columns = sorted(places.keys() - set(ENTRY_COLUMNS), key=lambda heading: (places[heading], heading))
    replaced = replaced_by(corrections)

    def all_rows() -> Iterator[dict[str, Cell]]:
        for entry in entries():
            own_cells = entry_cells(entry, names.get(entry["unit"], ""), replaced.get(entry["id"]))
            for row in ROW_LAYOUTS[entry["kind"]].rows(entry, units, rows):
                yield {**own_cells, **row}

    first = [name for name in FIRST_COLUMNS if rows == PARTS or name not in ("item", "item_no")]
    return Table([*first, *columns, *ENTRY_COLUMNS[len(FIRST_COLUMNS) :]], all_rows())


def write_csv(table: Table) -> str:
    """A table as RFC 4180 has it; words that a spreadsheet would take for a formula are marked as words."""
    text = io.StringIO()
    lines = csv.writer(text)
    lines.writerow(table.headings)
    for row in table.rows:
        lines.writerow([csv_text(row[heading]) if heading in row else "" for heading in table.headings])
    return text.getvalue()


def csv_text(cell: Cell) -> str:
    """A cell's text in a file that says nothing of what a cell holds."""
    return closed(escape_formula(cell.text)) if cell.kind == WORDS else cell.text
