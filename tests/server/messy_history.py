"""A messy history in a spreadsheet, as a small workshop keeps one over the years; invented."""

import csv
import io
import random
from datetime import date, datetime, timedelta
from typing import Any

HEADINGS = ["Date", "Diff", "Checked by", "Torque 1", "Torque 2", "Torque 3", "Reverse", "Oil", "Remarks", "Lap time"]
NAMES = ["Bramble 1", " bramble  1", "BRAMBLE 1", "Wren 2"]
# A row as it is written, and what it should become: checks, notes, or why not.
RowCells = list[Any]


class MessyHistory:
    """The rows of the spreadsheet, and what they hold in truth.

    Attributes
    ----------
    rows : list of list
        Cells, the headings in the third row.
    hidden : int
        The row that is hidden.
    checks : list of tuple
        Row, unit's name, day and forward readings in N·m of each torque check.
    notes : list of int
        Rows that become a note.
    bad : set of int
        Rows with a mistake.
    left : set of int
        Rows that are left out.
    """

    def __init__(self, comma: bool = True) -> None:
        self.random = random.Random(29)
        self.has_commas = comma
        self.rows: list[RowCells] = [["Season log of the workshop"], [], list(HEADINGS)]
        self.torque_checks: list[tuple[int, str, date, list[float]]] = []
        self.note_rows: list[int] = []
        self.rows_with_mistakes: set[int] = set()
        self.rows_left_out: set[int] = set()
        self.day = date(2019, 2, 3)
        while len(self.rows) < 300:
            self.add_row(len(self.rows) + 1)
        self.hidden_row = len(self.rows) + 1
        self.rows_left_out.add(self.hidden_row)
        self.rows.append([self.day, "Bramble 1", "", 25000, 25100, 25200, "", "", "", ""])

    def written_figure(self, value: float) -> str:
        text = f"{value:.1f}"
        return text.replace(".", ",") if self.has_commas else text

    def written_day(self, day: date) -> Any:
        """A day in one of the ways that people write it."""
        return self.random.choice(
            [
                day.isoformat(),
                f"{day.day}.{day.month}.{day.year}",
                f"{day.day:02d}/{day.month:02d}/{day.year % 100:02d}",
                f"{day.day} {day:%B} {day.year}",
                f"{day:%b} {day.day}, {day.year}",
                datetime(day.year, day.month, day.day),
            ]
        )

    def add_row(self, number: int) -> None:
        """The next row."""
        chance = self.random.random
        self.day += timedelta(days=self.random.randrange(1, 12))
        name = self.random.choice(NAMES)
        readings = [round(self.random.uniform(75, 110), 1) for _ in range(3)]
        cells: RowCells = [self.written_day(self.day), name, self.random.choice(["Mara", "T. Ode", ""])]
        cells += [self.written_figure(value) for value in readings]
        cells += ["", self.random.choice(["", "Racing 80W-90"]), "", ""]
        draw = chance()
        if number == 40:
            cells = list(HEADINGS)
            self.rows_left_out.add(number)
        elif number in (50, 51, 90):
            cells = ["", None, "  "]
        elif number == 299:
            cells = ["Total", "", "", 24500, 24600, 24700]
            self.rows_left_out.add(number)
        elif number in (60, 120):
            # The row above once more, as somebody pasted it.
            cells = list(self.rows[-1])
            self.rows_left_out.add(number)
        elif number in (59, 119) or draw < 0.75:
            if draw < 0.1:
                cells[3:6] = [f"{text} Nm" for text in cells[3:6]]
            elif draw < 0.2:
                pound_feet = [round(value / 1.3558179483, 1) for value in readings]
                readings = [value * 1.3558179483 for value in pound_feet]
                cells[3:6] = [" / ".join(f"{self.written_figure(value)} ft-lb" for value in pound_feet), "", ""]
            elif draw < 0.3 and not self.has_commas:
                cells[3:6] = readings
            self.torque_checks.append((number, " ".join(name.casefold().split()), self.day, readings))
            if draw > 0.7:
                cells[8] = "=SUM(A1)" if draw > 0.74 else "Clutch dragging; -2 clicks, \u201cfiné\u201d"
                self.note_rows.append(number)
        elif draw < 0.85:
            cells[4:6] = ["", ""]
            self.note_rows.append(number)
        else:
            fault = self.random.choice(["name", "day", "letters", "unit", "future", "calendar"])
            column, text = {
                "name": (1, "Rook 7"),
                "day": (0, "last spring"),
                "letters": (3, "ask Mara / Ode"),
                "unit": (4, "84 psi"),
                "future": (0, "3.5.2199"),
                "calendar": (0, "31.2.2020"),
            }[fault]
            cells[column] = text
            self.rows_with_mistakes.add(number)
        self.rows.append(cells)

    def as_csv(self, encoding: str = "cp1252", separator: str = ";") -> bytes:
        text = io.StringIO()
        writer = csv.writer(text, delimiter=separator)
        for row in self.rows:
            writer.writerow([f"{cell:%d.%m.%Y}" if isinstance(cell, date) else cell for cell in row])
        return text.getvalue().encode(encoding)

    def as_workbook(self) -> bytes:
        from openpyxl import Workbook

        book = Workbook()
        notes = book.active
        assert notes is not None
        notes.title = "Read me"
        sheet = book.create_sheet("Log")
        for number, row in enumerate(self.rows, 1):
            for column, value in enumerate(row, 1):
                cell = sheet.cell(number, column)
                cell.value = value
                if isinstance(value, str):
                    cell.data_type = "s"
        sheet.row_dimensions[self.hidden_row].hidden = True
        data = io.BytesIO()
        book.save(data)
        return data.getvalue()
