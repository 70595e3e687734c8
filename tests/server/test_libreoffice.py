"""What leaves for a spreadsheet, opened by a spreadsheet: LibreOffice shows the figures that the log holds."""

import csv
import io
import shutil
import subprocess
from datetime import datetime
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from server import demo
from tests import browsers

from .stores import open_log
from .test_workbook import exported

PROGRAM = "soffice"
# Commas, double quotes, UTF-8, from the first line: what its own window finds in the file when it opens one. A
# workbook is written by it the same way, with its cells as they are shown.
CSV = "Text - txt - csv (StarCalc):44,34,76,1"
AS_SHOWN = f"csv:{CSV},,0,false,true"
AT = ("at", "received")


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """Opens a file in LibreOffice without a window, and hands out what it makes of it."""
    if not shutil.which(PROGRAM):
        if not browsers.may_install():
            pytest.skip("LibreOffice is not here and cannot be installed: no table was opened in it.")
        try:
            browsers.apt_install("--no-install-recommends", "libreoffice-calc")
        except subprocess.CalledProcessError:
            pytest.skip("LibreOffice could not be installed: no table was opened in it.")
    profile = tmp_path_factory.mktemp("office")

    def opened(data: bytes, form: str, target_format: str) -> bytes:
        file = profile / f"table.{form}"
        file.write_bytes(data)
        folder = profile / "made"
        profile_option = f"-env:UserInstallation={(profile / 'profile').as_uri()}"
        read = [f"--infilter={CSV}"] if form == "csv" else []
        command = [
            PROGRAM,
            profile_option,
            "--headless",
            *read,
            "--convert-to",
            target_format,
            "--outdir",
            str(folder),
            str(file),
        ]
        subprocess.run(command, check=True, capture_output=True, timeout=180)
        table: bytes = (folder / f"table.{target_format.partition(':')[0]}").read_bytes()
        return table

    return opened


@pytest.fixture
def shop(folder: Path) -> Path:
    """The demonstration's log."""
    with open_log(folder) as log:
        demo.load(log)
    return folder


def rows_of(text: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text.decode("utf-8-sig"))))


def as_meant(words: str) -> str:
    """A text of a CSV without the apostrophe that keeps one with a sign in front from being a formula."""
    return words[1:] if words[:1] == "'" and words[1:2] in tuple("=+-@") else words


def is_figure(words: str) -> bool:
    return words.replace(".", "", 1).removeprefix("-").isdecimal()


def test_a_workbook_of_the_demonstration_shows_in_libreoffice_what_the_log_holds(shop: Path, office: Any) -> None:
    headings, *rows = rows_of(exported(shop, "csv"))
    shown_headings, *shown = rows_of(office(exported(shop, "xlsx"), "xlsx", AS_SHOWN))
    assert [name for name in shown_headings if not name.endswith("_offset")] == headings
    assert len(shown) == len(rows) > 300
    figures = 0
    for row, shown_row in zip(rows, shown, strict=True):
        for heading, words in zip(headings, row, strict=True):
            cell_text = shown_row[shown_headings.index(heading)]
            if heading in AT:
                at = datetime.fromisoformat(words).replace(tzinfo=None, microsecond=0)
                assert cell_text == at.isoformat(sep=" ").replace(" ", cell_text[10])
                continue
            assert cell_text == as_meant(words), heading
            figures += is_figure(words)
    assert figures > 1000


def test_a_csv_of_the_demonstration_opens_in_libreoffice_with_its_figures_as_numbers(shop: Path, office: Any) -> None:
    data = exported(shop, "csv")
    headings, *rows = rows_of(data)
    [sheet] = openpyxl.load_workbook(io.BytesIO(office(data, "csv", "xlsx"))).worksheets
    shown_headings, *shown = sheet.iter_rows(values_only=True)
    assert list(shown_headings) == headings
    assert len(shown) == len(rows)
    figures = days = 0
    for row, shown_row in zip(rows, shown, strict=True):
        for heading, words, value in zip(headings, row, shown_row, strict=True):
            if heading.endswith(")") and is_figure(words):
                assert isinstance(value, int | float), f"{heading} {words}: {value!r}"
                assert value == pytest.approx(float(words), rel=1e-12)
                figures += 1
            elif isinstance(value, datetime):
                assert value.date().isoformat() == words, heading
                days += 1
            elif isinstance(value, str) or value is None:
                assert (value or "") == words, heading
            else:
                # Nothing else was taken for a number or a day.
                assert is_figure(words), f"{heading} {words}: {value!r}"
    assert figures > 1000
    assert days > 10
