"""Labels: each whole within its own edges, with the words that it is for, and a code that leads where it says."""

import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy
import pypdf
import pypdfium2
import pytest
import zxingcpp
from flask.testing import FlaskClient

from server.app import close_app
from server.cli import main
from server.engine.request.units import say
from server.office.label_paper import SHEETS, LabelPaper, paper_of
from server.office.label_pdf import write_labels
from server.office.labels import Label
from tests.engine.checks import BREAKAWAY, UNIT

from .sample_logs import UNIT_ID, stored
from .stores import app_over, open_log, place_of

# ISO 216 and ANSI Y14.1, mm.
PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
POINT_MM = 25.4 / 72
PIECES = [
    {"name": "F 2.50", "part": "friction", "mm": "2,5", "count": 6, "minimum_mm": 2.3, "family": "external lugs"},
    {"name": "S & <b>/ä 1.4", "part": "separator", "mm": 1.4, "count": 1},
]
LONG = "W" * 60
CUSTOM = {"page": "a4", "across": 6, "down": 3, "width_mm": 32, "height_mm": "80", "left_mm": 5, "top_mm": 12.5}


@pytest.fixture
def client(folder: Path) -> Iterator[FlaskClient]:
    wrench = {**BREAKAWAY["wrench"], "calibration_due": "2027-02-01"}
    with open_log(folder) as log:
        log.add([stored("unit", body={**UNIT, "name": LONG, "owner": "Żaneta & <b>Söhne</b> " + "long " * 11})])
        log.add(
            [stored("shelf", "", body={"pieces": PIECES}), stored("kit", "", body={"tool": "wrench", "wrench": wrench})]
        )
    app = app_over(folder)
    yield app.test_client()
    close_app(app)


def keys(client: FlaskClient) -> list[str]:
    answer = client.get("/api/labels")
    assert answer.status_code == 200, answer.text
    return [label["key"] for group in (answer.json or {})["groups"] for label in group["labels"]]


def drawn(client: FlaskClient, **settings: Any) -> bytes:
    body = {"labels": [{"key": key} for key in keys(client)], "sheet": "a4_3x7", **settings}
    answer = client.post("/api/labels", json=body)
    assert answer.status_code == 200, answer.text
    assert answer.content_type == "application/pdf"
    return bytes(answer.data)


def box_of(paper: LabelPaper, number: int, scale: float) -> tuple[int, int, int, int]:
    """Left, top, right and bottom of a label in a picture with so many points to the mm."""
    left, top = paper.place(number)
    return tuple(round(scale * edge) for edge in (left, top, left + paper.width, top + paper.height))  # type: ignore[return-value]


def pictures(data: bytes, paper: LabelPaper, page: int = 0) -> list[Any]:
    """Each label of a page as a picture, and the page with all labels taken out of it."""
    scale = 10.0
    whole = numpy.array(pypdfium2.PdfDocument(data)[page].render(scale=scale * POINT_MM).to_pil().convert("L"))
    cut = []
    for number in range(paper.labels):
        left, top, right, bottom = box_of(paper, number, scale)
        cut.append(whole[top:bottom, left:right].copy())
        whole[max(0, top - 1) : bottom + 1, max(0, left - 1) : right + 1] = 255
    return [*cut, whole]


def code_in(picture: Any) -> str:
    """What the only code of a picture says."""
    [code] = zxingcpp.read_barcodes(picture)
    assert code.format == zxingcpp.BarcodeFormat.QRCode
    return code.text


@pytest.mark.parametrize("sheet", [*SHEETS, "custom"])
def test_each_label_is_whole_and_its_code_leads_where_it_says(client: FlaskClient, sheet: str) -> None:
    settings: dict[str, Any] = {"sheet": sheet, **({"custom": CUSTOM} if sheet == "custom" else {})}
    measured = {**CUSTOM, "width_mm": 32.0, "height_mm": 80.0, "gap_across_mm": 0.0, "gap_down_mm": 0.0}
    paper = paper_of(sheet, measured if sheet == "custom" else None)
    data = drawn(client, start=2, **settings)
    [page] = pypdf.PdfReader(io.BytesIO(data)).pages
    page_size = float(page.mediabox.width) * POINT_MM, float(page.mediabox.height) * POINT_MM
    assert page_size == pytest.approx(PAPERS["letter" if "letter" in sheet else "a4"], abs=0.2)
    first, *labels, last_page = pictures(data, paper)
    assert first.min() == 255, "the first label of the sheet is used up"
    assert last_page.min() == 255, "nothing is drawn beside the labels"
    paths = [f"unit/{UNIT_ID}", "shelf/bag/F%202.50", "shelf/bag/S%20%26%20%3Cb%3E%2F%C3%A4%201.4"]
    assert [code_in(picture) for picture in labels[:3]] == [f"http://localhost/#/{path}" for path in paths]
    assert code_in(labels[3]).startswith("http://localhost/#/kit/tool/")
    # Nothing reaches the edge, where a label is cut.
    for picture in labels[:4]:
        inside = picture[3:-3, 3:-3]
        assert inside.min() < 100
        assert min(edge.min() for edge in (picture[:3], picture[-3:], picture[:, :3], picture[:, -3:])) == 255


def test_a_bags_label_says_class_thickness_limit_and_count(client: FlaskClient) -> None:
    text = " ".join(pypdf.PdfReader(io.BytesIO(drawn(client))).pages[0].extract_text().split())
    for words in ("F 2.50", "friction, 2.500 mm", "limit 2.300 mm", "6 pieces, counted 2026-05-", "external lugs"):
        assert words in text
    for words in ("S & <b>/ä 1.4", "1 piece, counted", "Long beam", "torque wrench", "calibrated until 2027-02-01"):
        assert words in text
    assert "Żaneta & <b>Söhne</b>" in text
    assert say(2.5, "mm", "inch") == "0.0984 inch"
    inches = pypdf.PdfReader(io.BytesIO(drawn(client, lengths="inch"))).pages[0].extract_text()
    assert "0.0984 inch" in " ".join(inches.split())


def test_copies_go_on_over_several_sheets_after_the_first_is_used_up(client: FlaskClient) -> None:
    labels_asked = [{"key": "bag:F 2.50", "copies": 30}, {"key": keys(client)[0]}]
    data = drawn(client, labels=labels_asked, start=20)
    pages = pypdf.PdfReader(io.BytesIO(data)).pages
    # Of 21 on a sheet two are left, then 21, then 8.
    assert [page.extract_text().count("external lugs") for page in pages] == [2, 21, 7]
    outlined = pictures(drawn(client, labels=labels_asked[1:], outline="yes"), paper_of("a4_3x7", None))
    assert outlined[1].min() == 255
    assert outlined[0][:, :4].min() < 255


def refused(client: FlaskClient, **settings: Any) -> dict[str, str]:
    body = {"labels": [{"key": "bag:F 2.50"}], "sheet": "custom", **settings}
    answer = client.post("/api/labels", json=body)
    assert answer.status_code == 422, answer.text
    [error] = (answer.json or {})["errors"]
    return {error["field"]: error["reason"]}


def test_a_sheet_that_cannot_be_is_refused_at_its_own_field(client: FlaskClient) -> None:
    assert refused(client, custom={**CUSTOM, "across": 7}) == {
        "custom.across": "These labels take 224.0 mm and the page has 210 mm: at most 6 fit, or they are smaller."
    }
    assert refused(client, custom={**CUSTOM, "left_mm": 30}) == {
        "custom.left_mm": "With this edge the last label ends 12.0 mm beyond the page."
    }
    assert "custom" in refused(client)
    assert refused(client, sheet="a4_3x7", start=22) == {"start": "This sheet has 21 labels: start at one of them."}
    assert refused(client, sheet="a4_3x7", labels=[{"key": "bag:gone"}]) == {
        "labels.0.key": "This is no longer in the log or on the shelf: choose again."
    }
    assert list(refused(client, sheet="a4_3x7", labels=[])) == ["labels"]
    small = {**CUSTOM, "width_mm": 18, "height_mm": 18, "across": 9}
    long = [{"key": keys(client)[2]}]
    assert list(refused(client, custom=small, labels=long)) == ["sheet"]


def test_the_command_draws_labels(client: FlaskClient, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = folder.parent / "labels.pdf"
    command = ["labels", *place_of(folder), "--to", str(file), "--address", "https://bench.local:8127/"]
    assert main([*command, "bags", "Long beam", "--start", "21", "--sheet", "a4_3x7"]) == 0
    assert capsys.readouterr().out == f"{file} has 3 labels on 2 sheets.\n"
    first = pictures(file.read_bytes(), paper_of("a4_3x7", None))[20]
    assert code_in(first) == "https://bench.local:8127/#/shelf/bag/F%202.50"
    assert main([*command, "--force", "--sheet", "custom", "--measures", "page=a4,across=9,down=1,width_mm=60"]) == 2
    assert "custom.height_mm: Fill this in." in capsys.readouterr().err
    assert main([*command, "nobody", "--force"]) == 2
    assert "There is no 'nobody'" in capsys.readouterr().err


def test_what_cannot_be_read_is_said_at_each_field_before_labels_are_made(client: FlaskClient) -> None:
    typed: dict[str, Any] = {
        "labels": [{"key": keys(client)[0], "copies": "abc"}],
        "sheet": "custom",
        "start": "x",
    }
    typed["custom"] = {"page": "a4", "across": "9", "down": "2,5", "width_mm": "40", "height_mm": "30"}
    answer = client.post("/api/labels/look", json=typed)
    assert answer.status_code == 422
    assert {fault["field"] for fault in (answer.json or {})["errors"]} == {"labels.0.copies", "custom.down", "start"}
    read = {"labels": [{"key": keys(client)[0], "copies": "2"}], "start": "1"}
    answer = client.post("/api/labels/look", json={**typed, **read, "custom": {**typed["custom"], "down": "2"}})
    assert [fault["field"] for fault in (answer.json or {})["errors"]] == ["custom.across"]
    assert client.post("/api/labels/look", json={**read, "sheet": "a4_3x7"}).status_code == 204


def test_what_only_says_a_direction_is_not_drawn() -> None:
    label = Label("units", "unit", "84.6 \u202eback\u2066 end\u200f", ["\u2067one", "2\u061c"], "unit/1")
    data = write_labels([label], paper_of("a4_3x7", None), 1, "https://pit-pc.local")
    assert pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text().split() == ["84.6", "back", "end", "one", "2"]
