"""A table as an XLSX workbook (ISO/IEC 29500): numbers as numbers, days as days, and no text as a formula.

openpyxl is imported where a workbook is made: most days nobody asks for one, and it takes a third of a second.
"""

import io
import re
from collections.abc import Iterator
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from ..log.cells import DAY, NUMBER, TIME, Cell
from ..log.table import Table

if TYPE_CHECKING:
    from openpyxl.worksheet._write_only import WriteOnlyWorksheet

MEDIA_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"

# The most characters that a cell holds, and the most columns of a sheet.
MOST_LETTERS = 32_767
# Serial numbers of days count a 29 February 1900 that never was.
FIRST_DAY = date(1900, 3, 1)
# XML 1.0 cannot hold these at all.
UNWRITABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
# In a cell's text this stands for a character, and has to be written so that it does not (ISO/IEC 29500-1, ST_Xstring).
LOOKS_ESCAPED = re.compile("_(?=x[0-9A-Fa-f]{4}_)")
# What a spreadsheet, or a CSV that is saved from it, would take for the beginning of a formula.
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")

OFFSET = "_offset"


def write_workbook(table: Table) -> bytes:
    """A table as a workbook of one sheet.

    A time stands as its device showed it, and beside it its offset from UTC, since a spreadsheet knows no offsets.

    Returns
    -------
    bytes
        The file's content.
    """
    from openpyxl import Workbook
    from openpyxl.styles import Font

    book = Workbook(write_only=True)
    sheet = book.create_sheet("Log")
    sheet.freeze_panes = "A2"
    kinds: dict[str, int] = {}
    rows = [*table.rows]
    for row in rows:
        kinds.update((heading, cell.kind) for heading, cell in row.items() if cell.kind == TIME)
    headings = list(with_offsets(table.headings, kinds))
    sheet.append([word_cell(sheet, heading, font=Font(bold=True)) for heading in headings])
    for row in rows:
        sheet.append([cell for heading in table.headings for cell in cells_of(sheet, row.get(heading), heading, kinds)])
    data = io.BytesIO()
    book.save(data)
    return data.getvalue()


def with_offsets(headings: list[str], kinds: dict[str, int]) -> Iterator[str]:
    """Headings, with a column for its offset beside each time.

    >>> list(with_offsets(["seq", "at"], {"at": TIME}))
    ['seq', 'at', 'at_offset']
    """
    for heading in headings:
        yield heading
        if kinds.get(heading) == TIME:
            yield heading + OFFSET


def cells_of(sheet: "WriteOnlyWorksheet", cell: Cell | None, heading: str, kinds: dict[str, int]) -> list[Any]:
    """The cells of the workbook for a cell of the table: one, or a time and its offset."""
    is_time = kinds.get(heading) == TIME
    if cell is None:
        return [None, None] if is_time else [None]
    if is_time:
        at = datetime.fromisoformat(cell.text)
        offset = at.strftime("%z")
        shown = styled(sheet, at.replace(tzinfo=None, microsecond=0), "yyyy-mm-dd hh:mm:ss")
        return [shown, word_cell(sheet, f"UTC{offset[:3]}:{offset[3:5]}")]
    if cell.kind == NUMBER:
        places = len(cell.text.partition(".")[2])
        number = float(cell.text) if places else int(cell.text)
        return [styled(sheet, number, "0." + "0" * places if places else "0")]
    if cell.kind == DAY and date.fromisoformat(cell.text) >= FIRST_DAY:
        return [styled(sheet, date.fromisoformat(cell.text), "yyyy-mm-dd")]
    return [word_cell(sheet, cell.text)]


def styled(sheet: "WriteOnlyWorksheet", value: Any, number_format: str) -> Any:
    """A number or a date that is shown in this format."""
    from openpyxl.cell import WriteOnlyCell

    cell = WriteOnlyCell(sheet, value=value)
    cell.number_format = number_format
    return cell


def word_cell(sheet: "WriteOnlyWorksheet", text: str, font: Any = None) -> Any:
    """A cell of words: whatever they begin with, they are stored as words and not as a formula."""
    from openpyxl.cell import WriteOnlyCell

    cell = WriteOnlyCell(sheet, value="")
    if font is not None:
        cell.font = font
    cell.value = writable(text)
    # A text that begins with a sign was just taken for a formula.
    cell.data_type = "s"
    if text.startswith(FORMULA_STARTS):
        cell.quotePrefix = True
    return cell


def writable(text: str) -> str:
    r"""A text as a cell can hold it.

    >>> writable("a\x00b"), writable("_x0041_"), len(writable("a" * 40_000))
    ('a\ufffdb', '_x005F_x0041_', 32767)
    """
    text = LOOKS_ESCAPED.sub("_x005F_", UNWRITABLE.sub("\ufffd", text))
    return text if len(text) <= MOST_LETTERS else text[: MOST_LETTERS - 1] + "…"
