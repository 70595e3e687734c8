"""The log as a workbook: the same cells as the CSV, numbers as numbers, days as days, and no text that is a formula."""

import csv
import io
import zipfile
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from server.app import close_app
from server.cli import main
from server.engine import KINDS
from server.engine.records.kinds import SHOP
from server.office.workbook import FORMULA_STARTS
from tests.engine.samples import samples

from .sample_logs import UNIT_ID, stored
from .stores import app_over, open_log, place_of

MEDIA_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def exported(folder: Path, form: str, *options: str) -> bytes:
    file = folder.parent / f"table.{form}"
    assert main(["export", *place_of(folder), "--format", form, "--to", str(file), "--force", *options]) == 0
    return file.read_bytes()


def sheet_of(data: bytes) -> tuple[list[str], list[list[Any]]]:
    """The headings and the cells of a workbook, by a reader that is not the writer's streaming one."""
    [sheet] = openpyxl.load_workbook(io.BytesIO(data)).worksheets
    headings, *rows = sheet.iter_rows()
    return [str(cell.value) for cell in headings], [list(row) for row in rows]


def shown(cell: Any) -> str:
    """A cell as a spreadsheet shows it by its format."""
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, datetime) and cell.number_format == "yyyy-mm-dd hh:mm:ss":
        return value.isoformat(sep="T")
    if isinstance(value, date):
        assert cell.number_format == "yyyy-mm-dd"
        return value.isoformat()[:10]
    if isinstance(value, int | float):
        return f"{value:.{len(cell.number_format.partition('.')[2])}f}"
    return str(value)


@pytest.fixture
def filled(folder: Path) -> Path:
    """A log with each good sample of every kind of entry."""
    entries = [
        stored(name, "" if kind.about == SHOP else UNIT_ID, body=row["request"])
        for name, kind in KINDS.items()
        for row in samples(kind.calculation)
        if not row["about"].startswith("bad")
    ]
    with open_log(folder) as log:
        log.add(entries)
    return folder


@pytest.mark.parametrize("rows", ["parts", "entries"])
def test_a_workbook_shows_what_the_csv_says_and_knows_what_is_a_number(filled: Path, rows: str) -> None:
    text = exported(filled, "csv", "--rows", rows, "--lengths", "inch").decode("utf-8-sig")
    csv_headings, *csv_rows = csv.reader(io.StringIO(text))
    headings, cells = sheet_of(exported(filled, "xlsx", "--rows", rows, "--lengths", "inch"))
    assert [name for name in headings if not name.endswith("_offset")] == csv_headings
    assert len(cells) == len(csv_rows) > 30
    kinds = set()
    for row, csv_row in zip(cells, csv_rows, strict=True):
        for heading, words in zip(csv_headings, csv_row, strict=True):
            cell = row[headings.index(heading)]
            if heading in ("at", "received"):
                beside = row[headings.index(heading + "_offset")].value
                at = datetime.fromisoformat(words)
                sign, hours, minutes = beside[3], int(beside[4:6]), int(beside[7:])
                offset = timedelta(hours=hours, minutes=minutes) * (-1 if sign == "-" else 1)
                assert cell.value - offset == at.astimezone(UTC).replace(tzinfo=None, microsecond=0)
                continue
            # A CSV has nothing else to say that a text with a sign is no formula.
            quoted = words.startswith("'") and words[1:2] in FORMULA_STARTS
            assert shown(cell) == (words[1:] if quoted else words), heading
            assert bool(cell.quotePrefix) == quoted, heading
            kinds.add(cell.data_type)
            if heading.endswith(")") and words:
                assert cell.data_type == "n", f"{heading} is a number: {words}"
            if heading == "day" and words:
                assert cell.is_date
    assert kinds == {"n", "s", "d"} or kinds == {"n", "s", "inlineStr", "d"}


def test_one_row_an_entry_holds_every_part_in_columns(filled: Path) -> None:
    text = exported(filled, "csv", "--rows", "entries").decode("utf-8-sig")
    by_entry = list(csv.DictReader(io.StringIO(text)))
    by_part = list(csv.DictReader(io.StringIO(exported(filled, "csv").decode("utf-8-sig"))))
    assert len(by_entry) == len({row["id"] for row in by_part}) == len({row["id"] for row in by_entry})
    wide = {row["id"]: row for row in by_entry}
    own = {row["id"]: row for row in by_part if not row["item"]}
    parts = 0
    for row in by_part:
        if not row["item"]:
            continue
        for heading, words in row.items():
            # What stands in the entry's own row is repeated in each of its parts.
            if words and heading not in ("item", "item_no") and own[row["id"]][heading] != words:
                assert wide[row["id"]][f"{row['item']}.{row['item_no']}.{heading}"] == words
                parts += 1
    assert parts > 500


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_no_text_is_a_formula_in_a_workbook(folder: Path, start: str) -> None:
    text = f"{start}HYPERLINK(1)"
    with open_log(folder) as log:
        entry = stored("note", who=text)
        # No form takes such names; a file may hold them all the same.
        log.add([{**entry, "body": {"text": text, text: text}}])
    data = exported(folder, "xlsx")
    headings, [row] = sheet_of(data)
    hostile = [cell for cell in row if cell.value == text.replace("\r", "\n") or cell.value == text]
    assert len(hostile) == 3
    assert {cell.data_type for cell in hostile} <= {"s", "inlineStr"}
    # So that a spreadsheet which saves it as something else still knows it as words.
    assert all(cell.quotePrefix for cell in hostile)
    with zipfile.ZipFile(io.BytesIO(data)) as book:
        assert b"<f>" not in book.read("xl/worksheets/sheet1.xml")
    assert text.replace("\r", "\n") in headings or text in headings


def test_letters_that_a_workbook_cannot_hold_stop_nothing(folder: Path) -> None:
    text = "a\x00b\x0bc\ud7ff\uffff _x0041_ " + "long " * 8000
    with open_log(folder) as log:
        log.add([{**stored("note"), "body": {"text": text}}])
    headings, [row] = sheet_of(exported(folder, "xlsx"))
    value = row[headings.index("text")].value
    assert value.startswith("a\ufffdb\ufffdc\ud7ff\ufffd _x005F_x0041_ long")
    assert len(value) == 32_767


def test_a_workbook_wants_a_file(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with open_log(folder) as log:
        log.add([stored("note")])
    assert main(["export", *place_of(folder), "--format", "xlsx"]) == 2
    assert "--to FILE.xlsx" in capsys.readouterr().err
    assert main(["export", *place_of(folder), "--rows", "entries"]) == 2
    assert "add --format csv or --format xlsx" in capsys.readouterr().err


def test_the_interface_gives_the_whole_log_as_a_workbook(filled: Path) -> None:
    headings, cells = sheet_of(exported(filled, "xlsx", "--rows", "entries"))
    app = app_over(filled)
    try:
        client = app.test_client()
        answer = client.get("/api/table/workbook?all=true&rows=entries")
        assert answer.content_type == MEDIA_TYPE
        assert 'filename="slipbook.xlsx"' in answer.headers["Content-Disposition"]
        same, answered = sheet_of(answer.data)
        assert same == headings
        assert [[cell.value for cell in row] for row in answered] == [[cell.value for cell in row] for row in cells]
        of_unit = client.get(f"/api/table/workbook?unit={UNIT_ID}")
        assert {row[4].value for row in sheet_of(of_unit.data)[1]} <= {cell.value for row in cells for cell in row}
        assert client.get("/api/table/workbook?unit=01930000-0000-7000-8000-00000000ffff").status_code == 404
        assert client.get("/api/table/workbook?rows=some").status_code == 422
    finally:
        close_app(app)
