"""Imports a history from a spreadsheet: looked at first, written only when what was seen is accepted.

Each request brings the file again, so that nothing of a history lies about that nobody accepted.
"""

import base64
import hashlib
import json
from datetime import datetime
from typing import Any, NamedTuple

from ..engine import BadInput
from ..log import REFUSED, STORED, Log
from ..log.intake import receive
from .history_entries import Found, Maker, Units, judgeable
from .history_form import find_headings, guess_columns
from .history_rows import LeftOut, Mistake, Reader
from .spreadsheet import Row, Sheet, as_text, read_sheet

BATCH = 100
SAMPLES = 3

ASKS = {
    "unit": "Say which unit these rows are about, or which column names it.",
    "columns": "Say which column holds the day, and which what was measured or noted.",
    "torque_unit": "Say in which unit the torques were read that stand without one.",
    "length_unit": "Say in which unit the thicknesses were read that stand without one.",
    "days": "Say whether 3/5/2025 is 3 May or 5 March in this file.",
    "held": "Say how the unit was held for these checks.",
    "wrench": "Say with which wrench the torques were read.",
    "micrometer": "Say with which micrometer the plates were measured.",
    "who": "Type your name: each entry says who imported it.",
}


class Look(NamedTuple):
    """What a file holds, read as the settings say.

    Attributes
    ----------
    sheet : Sheet
        The sheet.
    headings : Row
        Its row of headings.
    columns : list of dict
        What its columns mean.
    asks : list of str
        Names of `ASKS` that have to be answered before anything can be imported.
    unknown : list of str
        Names of units that nobody knows.
    found : list of Found
        The entries, in the order of their rows.
    mistakes : list of Mistake
        Cells that cannot be used.
    left_out : list of LeftOut
        Rows that are not imported.
    """

    sheet: Sheet
    headings: Row
    columns: list[dict[str, Any]]
    asks: list[str]
    unknown: list[str]
    found: list[Found]
    mistakes: list[Mistake]
    left_out: list[LeftOut]

    @property
    def new(self) -> list[dict[str, Any]]:
        """The entries that the log does not have."""
        return [found.entry for found in self.found if not found.there]

    @property
    def preview(self) -> str:
        """By this an import knows that it writes what somebody looked at."""
        to_save = [[entry["id"], entry["who"], entry["body"]] for entry in self.new]
        return hashlib.sha256(json.dumps(to_save, sort_keys=True).encode()).hexdigest()


def unpack(data: str) -> bytes:
    """The bytes of a file in base64."""
    try:
        return base64.b64decode(data, validate=True)
    except ValueError:
        raise BadInput("data", "This file arrived damaged: choose it again.") from None


def look(log: Log, request: dict[str, Any], data: bytes, now: datetime) -> Look:
    """Read a history without writing anything.

    Parameters
    ----------
    log : Log
        The log that it is for.
    request : dict
        Checked by `history_form.FORM`.
    data : bytes
        The file.
    now : datetime
        When it is imported, with its offset.

    Raises
    ------
    BadInput
        It is no spreadsheet, or has no row of headings.
    """
    sheet = read_sheet(data, request["sheet"])
    headings = find_headings(sheet.rows, request["heading_row"])
    if headings is None:
        raise BadInput("heading_row", "There is no such row in the file: name the row of its headings.")
    columns = guess_columns(headings) if request["columns"] is None else request["columns"]
    units = Units(log, request["names"], now.date())
    reader = Reader(request, columns, headings, units.find, now.date())
    reader.read(sheet)
    asked = reader.asked
    means = {column["means"] for column in columns}
    if "day" not in means or not means & {"torque", "torque_reverse", "thickness", "note"}:
        asked["columns"] = None
    if any(judgeable(done) for done in reader.done):
        asked.update((name, None) for name in ("held", "wrench") if request[name] is None)
    if request["micrometer"] is None and any(done.plates for done in reader.done):
        asked["micrometer"] = None
    if not request["who"].strip():
        asked["who"] = None
    maker = Maker(log, request, units, now, reader.spoiled)
    # With a question open nothing could be judged as it was measured.
    found = [] if asked else list(maker.make(reader.done))
    asks = [name for name in ASKS if name in asked]
    mistakes = sorted([*reader.mistakes, *maker.mistakes], key=lambda mistake: mistake.row)
    left_out = sorted([*reader.left_out, *maker.left_out])
    return Look(sheet, headings, columns, asks, list(reader.unknown), found, mistakes, left_out)


def write(log: Log, looked: Look, accepted: str, source: str) -> list[dict[str, Any]]:
    """Write what was looked at and accepted; gives the log's answers.

    Raises
    ------
    BadInput
        At `accepted`: it is not what was looked at, or something has to be answered first.
    """
    if looked.asks:
        raise BadInput(looked.asks[0], ASKS[looked.asks[0]])
    if accepted != looked.preview:
        raise BadInput("accepted", "This is not what was looked at, or the log has changed: look at it again.")
    new = looked.new
    return [
        answer
        for start in range(0, len(new), BATCH)
        for answer in receive(log, new[start : start + BATCH], source=source)
    ]


def samples(looked: Look, column: int) -> list[str]:
    """The first cells below a heading, as people see them."""
    below = (
        as_text(row.cells[column])
        for row in looked.sheet.rows
        if row.number > looked.headings.number and column < len(row.cells) and row.cells != looked.headings.cells
    )
    return [text[:80] for _, text in zip(range(SAMPLES), (text for text in below if text), strict=False)]


def summary(answers: list[dict[str, Any]]) -> dict[str, int]:
    """How many entries were stored, and how many refused."""
    return {name: sum(answer["answer"] == name for answer in answers) for name in (STORED, REFUSED)}
