"""Reads a spreadsheet that people made, CSV or XLSX, into rows of plain cells, and says what it took it for."""

import csv
import io
import zipfile
from datetime import date, datetime
from typing import Any, NamedTuple

from ..engine import BadInput

MOST_ROWS = 20_000
MOST_COLUMNS = 200
# Unpacked, of a workbook: far more than a history of twenty years.
MOST_UNPACKED = 80_000_000
SEPARATORS = {";": "semicolons", "\t": "tabs", ",": "commas", "|": "upright strokes"}
# By these bytes a text says how it is written (Unicode, 23.8).
MARKS = [(b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16")]
ENCODINGS = {"utf-8-sig": "UTF-8", "utf-8": "UTF-8", "utf-16": "UTF-16", "cp1252": "Windows-1252"}
ZIP_MARK, OLD_WORKBOOK_MARK = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"

# A cell as a spreadsheet holds it; None where it is empty.
Value = str | int | float | bool | date | None


class Row(NamedTuple):
    """A row: its number as the spreadsheet shows it, its cells, and whether it is hidden there."""

    number: int
    cells: list[Value]
    hidden: bool


class Sheet(NamedTuple):
    """A sheet of a file.

    Attributes
    ----------
    name : str
        Its name; empty in a CSV.
    names : list of str
        All sheets of the file.
    rows : list of Row
        Its rows that are not empty.
    empty : int
        How many rows before the last one are empty.
    written_in : str
        What the file was taken for: "UTF-8, separated by semicolons" or "XLSX".
    """

    name: str
    names: list[str]
    rows: list[Row]
    empty: int
    written_in: str


def read_sheet(data: bytes, name: str = "") -> Sheet:
    """A sheet of a spreadsheet.

    Parameters
    ----------
    data : bytes
        The file.
    name : str
        The sheet; the first one if empty.

    Raises
    ------
    BadInput
        At `data`: it is no spreadsheet that can be read, or too large; at `sheet`: it has no such sheet.
    """
    if data.startswith(ZIP_MARK):
        return read_workbook(data, name)
    if data.startswith(OLD_WORKBOOK_MARK):
        raise BadInput("data", "This is a workbook of the old form, .xls: save it as .xlsx or as CSV, and choose that.")
    return read_csv(data)


def gather(rows: list[tuple[list[Value], bool]]) -> tuple[list[Row], int]:
    """Rows that are not empty, with their numbers, and how many are."""
    if len(rows) > MOST_ROWS:
        raise BadInput("data", f"This has more than {MOST_ROWS} rows: split it into several files.")
    kept = [
        Row(number, cells[:MOST_COLUMNS], hidden)
        for number, (cells, hidden) in enumerate(rows, 1)
        if any(cell is not None for cell in cells)
    ]
    last = kept[-1].number if kept else 0
    return kept, last - len(kept)


def read_csv(data: bytes) -> Sheet:
    """The only sheet of a CSV, in whichever encoding and with whichever separator."""
    text, encoding = decode(data)
    separator = find_separator(text)
    if "\0" in text:
        raise BadInput("data", "This is neither text nor a workbook: choose a file that ends in .csv or .xlsx.")
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator))
    except csv.Error as failure:
        raise BadInput("data", f"This CSV cannot be read: {failure}. Save it again, or as .xlsx.") from None
    rows, empty = gather([([cell.strip() or None for cell in line], False) for line in lines])
    return Sheet("", [], rows, empty, f"{ENCODINGS[encoding]}, separated by {SEPARATORS[separator]}")


def decode(data: bytes) -> tuple[str, str]:
    """A text, and what it is written in: what its first bytes say, else UTF-8 if it can be that, else Windows-1252.

    >>> decode("Prüfung".encode("cp1252")), decode("Prüfung".encode("utf-16"))
    (('Prüfung', 'cp1252'), ('Prüfung', 'utf-16'))
    """
    for mark, encoding in [*((mark, encoding) for mark, encoding in MARKS if data.startswith(mark)), (b"", "utf-8")]:
        try:
            return data.decode(encoding), encoding
        except UnicodeError:
            if mark:
                raise BadInput("data", "This text is damaged: save it again as CSV in UTF-8, or as .xlsx.") from None
    # What Windows-1252 leaves undefined stands as a mark that something is wrong, and not as a guess.
    return data.decode("cp1252", errors="replace"), "cp1252"


def find_separator(text: str) -> str:
    """The sign that separates cells: the one that parts most of the first lines into equally many.

    >>> find_separator("day;torque\\n3.5.2025;84,5\\n4.5.2025;83,0"), find_separator("day,torque\\n2025-05-03,84.5")
    (';', ',')
    """
    lines = [line for line in text.splitlines()[:50] if line.strip()]

    def merit(separator: str) -> tuple[int, int]:
        widths = [len(line) for line in csv.reader(lines, delimiter=separator)]
        usual = max(set(widths), key=lambda width: (widths.count(width), width), default=1)
        return (widths.count(usual) if usual > 1 else 0, usual)

    try:
        return max(SEPARATORS, key=merit)
    except csv.Error:
        return ","


def read_workbook(data: bytes, name: str) -> Sheet:
    """A sheet of a workbook, with the values that its formulas had when it was saved."""
    from openpyxl import load_workbook
    from openpyxl.utils.escape import unescape

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            if sum(part.file_size for part in packed.infolist()) > MOST_UNPACKED:
                raise BadInput("data", "This workbook is far too large for a history: keep the one sheet that counts.")
        book = load_workbook(io.BytesIO(data), data_only=True)
    except BadInput:
        raise
    except Exception:  # openpyxl lets through whatever its parts raise
        raise BadInput(
            "data", "This workbook cannot be read: open it, save it as .xlsx again, and choose that."
        ) from None
    names = [sheet.title for sheet in book.worksheets]
    if not names:
        raise BadInput("data", "This workbook has no sheet with cells: choose another file.")
    if name and name not in names:
        raise BadInput("sheet", f"There is no sheet {name!r} in it. Choose one of: {', '.join(names)}.")
    sheet = book[name or names[0]]

    def value_of(value: Any) -> Value:
        if isinstance(value, str):
            return unescape(value).strip() or None
        return value if isinstance(value, int | float | date) else None if value is None else str(value)

    if sheet.max_row > 10 * MOST_ROWS:
        raise BadInput("data", f"This has more than {MOST_ROWS} rows: split it into several files.")
    found = [
        ([value_of(cell.value) for cell in row[:MOST_COLUMNS]], bool(sheet.row_dimensions[number].hidden))
        for number, row in enumerate(sheet.iter_rows(), 1)
    ]
    # A format that reaches down to the last row of the sheet makes no row.
    while found and not any(cell is not None for cell in found[-1][0]):
        found.pop()
    rows, empty = gather(found)
    return Sheet(sheet.title, names, rows, empty, "XLSX")


def as_text(value: Value) -> str:
    """A cell as people see it.

    >>> as_text(84.0), as_text(None), as_text(datetime(2025, 5, 3)), as_text(True)
    ('84', '', '2025-05-03', 'yes')
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.date().isoformat() if not (value.hour or value.minute) else value.isoformat(" ", "minutes")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return f"{value:.10g}"
    return str(value)
