"""What is asked of whoever imports a history from a spreadsheet, and what its columns may mean."""

from typing import Any

from ..engine import BadInput
from ..engine.part_checks.plates import MICROMETER
from ..engine.request.fields import Choice, Field, Group, Listing, Text, Whole, YesNo
from ..engine.request.units import unit_labels
from ..engine.torque_check.wrench import WRENCH
from ..engine.unit.held import HELD
from ..log.entry import Id
from .cell_words import DAYS, DECIMALS
from .spreadsheet import MOST_COLUMNS, MOST_ROWS, Row, as_text

# As base64, in the largest request that is taken.
MOST_LETTERS = 1_900_000

MEANINGS = {
    "unit": "the unit's name",
    "day": "the day",
    "who": "who did it",
    "torque": "breakaway torque, forward",
    "torque_reverse": "breakaway torque, reverse",
    "oil": "oil in the unit",
    "outings": "outings since the rebuild",
    "slot": "place of the plate",
    "thickness": "thickness of a plate",
    "new": "thickness of that plate when new",
    "minimum": "thickness at which it is replaced",
    "note": "a note",
}

# A heading means the first of these of which it holds a word.
WORDS = [
    ("minimum", ("minimum", "limit", "worn out")),
    ("new", ("when new", "new thickness", "nominal")),
    ("torque_reverse", ("reverse", "backward", "anticlockwise", "counterclockwise")),
    ("torque", ("torque", "breakaway", "preload", "reading", "nm", "n·m", "ft-lb", "ftlb", "lbf")),
    ("thickness", ("thickness", "measured", "point", "micrometer", "mm")),
    ("slot", ("plate", "place", "slot", "position")),
    ("outings", ("outing", "events", "races", "runs")),
    ("oil", ("oil",)),
    ("day", ("date", "day", "when")),
    ("unit", ("unit", "diff", "axle", "serial")),
    ("who", ("who", "by", "mechanic", "initials", "checked by")),
    ("note", ("note", "remark", "comment", "what was done", "work")),
]


class Packed(Field):
    """A file in base64 (RFC 4648); its letters are looked at when it is unpacked."""

    def read(self, value: object, path: str) -> str:  # noqa: D102
        if not isinstance(value, str) or not value:
            raise BadInput(path, "Choose a file.")
        if len(value) > MOST_LETTERS:
            raise BadInput(path, "This file is too large here: import it on the PC by `slipbook import-history`.")
        return value


COLUMN = Group(
    {
        "number": Whole(1, MOST_COLUMNS, "the column, from 1"),
        "means": Choice(MEANINGS, "what stands in it"),
        "place": Text(20, "of a thickness: the plate's place, where each has a column of its own", default=""),
    },
    "a column that is read",
)

# How it is read; each has to be answered only if something in the file asks for it.
SETTINGS: dict[str, Field] = {
    "sheet": Text(100, "the sheet; the first one if empty", default=""),
    "heading_row": Whole(1, MOST_ROWS, "the row of headings; the first that looks like it if empty", default=None),
    "columns": Listing(
        COLUMN, 0, MOST_COLUMNS, "what the columns mean; by their headings if left out", default=None, nouns="columns"
    ),
    "unit": Id("the unit that all rows are about, where no column names it", default=None),
    "names": Listing(
        Group({"called": Text(200, "its name in the file"), "unit": Id("the unit")}, "a unit by another name"),
        0,
        500,
        "units that have another name in the file",
        default=[],
        nouns="names",
    ),
    "torque_unit": Choice(unit_labels("nm"), "unit of torques that stand without one", default=None),
    "length_unit": Choice(unit_labels("mm"), "unit of thicknesses that stand without one", default=None),
    "decimal": Choice(DECIMALS, "the decimal sign", default="either"),
    "days": Choice(DAYS, "what a day in figures means", default=None),
    "held": Choice({held: meaning for held, (_, meaning) in HELD.items()}, "how the unit was held", default=None),
    "wrench": WRENCH,
    "micrometer": Group(MICROMETER.fields, "the micrometer", default=None),
    "hidden": YesNo("whether rows that the spreadsheet hides are read as well", default=False),
    "who": Text(60, "who imports it, and did what no column says who did", default=""),
}

FORM = Group(
    {
        "file": Text(200, "the file's name"),
        "data": Packed("the file, in base64"),
        **SETTINGS,
        "accepted": Text(64, "the `preview` of what was looked at and accepted", default=""),
    },
    "a history in a spreadsheet",
)


def read_request(form: Group, body: dict[str, Any]) -> dict[str, Any]:
    """A checked request, in which tools stand as they were typed, since entries hold them so.

    Raises
    ------
    BadInput
        At the field that cannot be used.
    """
    checked = form.read(body, "")
    return {**checked, **{tool: body[tool] for tool in ("wrench", "micrometer") if checked.get(tool) is not None}}


def find_headings(rows: list[Row], wanted: int | None) -> Row | None:
    """The row of headings: the wanted one, else of the first thirty the one that says most of what is needed."""
    if wanted is not None:
        return next((row for row in rows if row.number == wanted), None)

    def merit(row: Row) -> int:
        return len({meaning_of(cell) for cell in row.cells if isinstance(cell, str)} - {""})

    return max(rows[:30], key=merit, default=None)


def meaning_of(heading: str) -> str:
    """What a column with this heading most likely holds; empty where it says nothing.

    >>> meaning_of("Breakaway (Nm)"), meaning_of("Date"), meaning_of("Checked by"), meaning_of("Lap time")
    ('torque', 'day', 'who', '')
    """
    plain = f" {heading.casefold()} ".replace("(", " ").replace(")", " ").replace("_", " ").replace(".", " ")
    for means, words in WORDS:
        if any(f" {word} " in plain or (len(word) > 3 and word in plain) for word in words):
            return means
    return ""


def guess_columns(headings: Row) -> list[dict[str, Any]]:
    """Columns as `FORM` takes them, by their headings; of what can stand once only the first."""
    several = {"torque", "torque_reverse", "thickness", "note"}
    columns: list[dict[str, Any]] = []
    for number, heading in enumerate(headings.cells, 1):
        means = meaning_of(as_text(heading))
        if means and (means in several or means not in [column["means"] for column in columns]):
            columns.append({"number": number, "means": means, "place": ""})
    return columns
