"""Rows of a spreadsheet as what was measured and noted on a day, with a sentence for each cell that cannot be used."""

from collections.abc import Callable, Iterator
from datetime import date
from typing import Any, NamedTuple

from ..engine import BadInput
from .cell_words import DMY, NUMERIC_DAY, read_day, read_figures, shorten
from .spreadsheet import Row, Sheet, Value, as_text

Figures = list[dict[str, str]]

# Words by which a row of totals begins.
TOTALS = ("total", "sum", "average", "mean", "count", "subtotal", "grand total")


class Mistake(NamedTuple):
    """A cell that cannot be used: its row, its column's heading, and what to do."""

    row: int
    column: str
    reason: str


class LeftOut(NamedTuple):
    """A row that is not imported, and why."""

    row: int
    reason: str


class Plate(NamedTuple):
    """A plate that was measured: its place, its points, and its own limits where the file gives them."""

    slot: str
    points: Figures
    new: Figures
    minimum: Figures


class Done(NamedTuple):
    """What a row says was done on a day to a unit."""

    row: int
    unit: str
    day: date
    who: str
    forward: Figures
    reverse: Figures
    oil: str
    outings: str
    plates: list[Plate]
    note: str


class Reader:
    """Reads the rows of a sheet.

    Parameters
    ----------
    settings : dict
        A checked request of `history_form.FORM`.
    columns : list of dict
        What its columns mean.
    headings : Row
        The row of headings.
    find_unit : callable
        The id of a unit by its name in the file; None where there is none.
    today : date
        No day is later.
    """

    def __init__(
        self,
        settings: dict[str, Any],
        columns: list[dict[str, Any]],
        headings: Row,
        find_unit: Callable[[str], str | None],
        today: date,
    ) -> None:
        self.settings = settings
        self.columns = columns
        self.headings = headings
        self.find_unit = find_unit
        self.today = today
        self.done: list[Done] = []
        self.mistakes: list[Mistake] = []
        self.left_out: list[LeftOut] = []
        # Names of units that nobody knows, and questions that a cell asked, in order.
        self.unknown: dict[str, None] = {}
        self.asked: dict[str, None] = {}
        # A row of each unit and day in which a measurement of plates has a mistake.
        self.spoiled: dict[tuple[str, date], int] = {}

    def read(self, sheet: Sheet) -> None:
        """Read every row below the headings."""
        for row in sheet.rows:
            if row.number <= self.headings.number:
                continue
            reason = self.reason_to_leave(row)
            if reason:
                self.left_out.append(LeftOut(row.number, reason))
            else:
                self.read_row(row)

    def reason_to_leave(self, row: Row) -> str:
        """Why a row is no part of the history; empty if it is."""
        if row.hidden and not self.settings["hidden"]:
            return "It is hidden in the spreadsheet."
        if [as_text(cell) for cell in row.cells] == [as_text(cell) for cell in self.headings.cells]:
            return "It repeats the headings."
        first = next((as_text(cell) for cell in row.cells if cell is not None), "")
        if first.casefold().rstrip(":. ") in TOTALS:
            return "It holds totals."
        return "" if any(value is not None for _, value in self.cells(row)) else "Nothing stands in the chosen columns."

    def cells(self, row: Row, *means: str) -> Iterator[tuple[dict[str, Any], Value]]:
        """The cells of a row in the columns that mean one of these; in all that are read if none is named."""
        for column in self.columns:
            if not means or column["means"] in means:
                yield column, row.cells[column["number"] - 1] if column["number"] <= len(row.cells) else None

    def heading(self, column: dict[str, Any]) -> str:
        """What stands above a column."""
        at = column["number"] - 1
        above = as_text(self.headings.cells[at]) if at < len(self.headings.cells) else ""
        return shorten(above) or f"column {column['number']}"

    def text(self, row: Row, means: str) -> str:
        """The text in the columns of one meaning."""
        return " ".join(text for _, value in self.cells(row, means) if (text := as_text(value).strip()))

    def read_row(self, row: Row) -> None:
        """Read a row; one that has a mistake is not imported at all."""
        before = len(self.mistakes)
        unit = self.unit_of(row)
        day = self.day_of(row)
        forward = self.figures(row, "torque", "nm")
        reverse = self.figures(row, "torque_reverse", "nm")
        plates = self.plates_of(row)
        outings = "; ".join(
            figure["typed"] for column, value in self.cells(row, "outings") for figure in self.whole(row, column, value)
        )
        note, oil = self.text(row, "note"), self.text(row, "oil")
        if len(self.mistakes) > before or unit is None or day is None:
            if unit and day and any(value is not None for _, value in self.cells(row, "thickness")):
                self.spoiled.setdefault((unit, day), row.number)
            return
        if not (forward or reverse or plates or note):
            self.left_out.append(LeftOut(row.number, "It has a day and no torque, no thickness and no note."))
            return
        who = self.text(row, "who")[:60] or self.settings["who"]
        self.done.append(Done(row.number, unit, day, who, forward, reverse, oil[:60], outings, plates, note[:3900]))

    def refuse(self, row: Row, column: dict[str, Any], reason: str) -> None:
        """Note a mistake."""
        self.mistakes.append(Mistake(row.number, self.heading(column), reason))

    def unit_of(self, row: Row) -> str | None:
        """The unit that a row is about."""
        for column, value in self.cells(row, "unit"):
            name = " ".join(as_text(value).split())
            if not name and self.settings["unit"]:
                continue
            unit = self.find_unit(name) if name else None
            if unit is None:
                if name:
                    self.unknown[name] = None
                self.refuse(row, column, f"There is no unit “{shorten(name)}” here." if name else "No unit is named.")
            return unit
        if self.settings["unit"] is None:
            self.asked["unit"] = None
        return self.settings["unit"] or None

    def day_of(self, row: Row) -> date | None:
        """The day of a row."""
        for column, value in self.cells(row, "day"):
            if self.settings["days"] is None and isinstance(value, str) and is_ambiguous(value):
                self.asked["days"] = None
            try:
                return read_day(value, self.settings["days"] or DMY, self.today)
            except BadInput as refusal:
                self.refuse(row, column, refusal.reason)
        return None

    def read_cell(self, row: Row, column: dict[str, Any], value: Value, si: str) -> Figures:
        """The figures in a cell; none where it holds a mistake."""
        field = "torque_unit" if si == "nm" else "length_unit"
        chosen = self.settings[field]
        try:
            figures = read_figures(value, si, chosen or "", self.settings["decimal"]) if value is not None else []
        except BadInput as refusal:
            self.refuse(row, column, refusal.reason)
            return []
        if any(not figure["unit"] for figure in figures):
            self.asked[field] = None
            return [{**figure, "unit": figure["unit"] or si} for figure in figures]
        return figures

    def whole(self, row: Row, column: dict[str, Any], value: Value) -> Figures:
        """A count in a cell."""
        text = as_text(value).strip()
        if text and not (text.isascii() and text.isdigit() and len(text) <= 4):
            self.refuse(row, column, f"“{shorten(text)}” is no whole number: correct this cell.")
            return []
        return [{"typed": text, "unit": ""}] if text else []

    def figures(self, row: Row, means: str, si: str) -> Figures:
        """All figures of one meaning in a row."""
        return [figure for column, value in self.cells(row, means) for figure in self.read_cell(row, column, value, si)]

    def plates_of(self, row: Row) -> list[Plate]:
        """The plates that a row says were measured: one by its own place, or one for each column that has a place."""
        plates = []
        apart = [(column, value) for column, value in self.cells(row, "thickness") if column["place"].strip()]
        for column, value in apart:
            points = self.read_cell(row, column, value, "mm")
            if points:
                plates.append(Plate(column["place"].strip(), points, [], []))
        together = [(column, value) for column, value in self.cells(row, "thickness") if not column["place"].strip()]
        points = [figure for column, value in together for figure in self.read_cell(row, column, value, "mm")]
        slot = self.text(row, "slot")
        if points and not slot:
            self.refuse(row, together[0][0], "It is not said which plate this is: choose the column of its place.")
        elif points:
            plates.append(Plate(slot[:20], points, self.figures(row, "new", "mm"), self.figures(row, "minimum", "mm")))
        return plates


def is_ambiguous(text: str) -> bool:
    """Whether day and month of a day in figures could be exchanged.

    >>> is_ambiguous("3/5/2025"), is_ambiguous("13.5.2025"), is_ambiguous("3/3/2025")
    (True, False, False)
    """
    match = NUMERIC_DAY.fullmatch(text.strip())
    return (
        match is not None and match[1].lstrip("0") != match[2].lstrip("0") and max(int(match[1]), int(match[2])) <= 12
    )
