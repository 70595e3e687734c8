"""A unit's sheet as a PDF: one page, its text as text, whatever stands in it."""

import base64
import io
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdf
import pytest
from flask.testing import FlaskClient
from PIL import Image

from server.app import close_app
from server.cli import main
from server.engine.history.sheet import TEMPLATES
from server.log import Log
from tests.engine.checks import BREAKAWAY, PLATES, UNIT

from .sample_logs import OTHER_UNIT, UNIT_ID, stored
from .stores import app_over, open_log, place_of

# ISO 216: 210 mm by 297 mm; ANSI Y14.1: 8.5 inch by 11 inch; a point is 1/72 inch (ISO 32000-1, 8.3.2.3).
PAPERS = {"a4": (210 / 25.4 * 72, 297 / 25.4 * 72), "letter": (612, 792)}


def many_plates() -> dict[str, Any]:
    """A unit with sixty plates more than the others, of which no depth is known."""
    first, *rest = UNIT["chain"]
    extra = [{"slot": f"A{number}x", "part": "separator", "new_mm": 2.0, "minimum_mm": 1.9} for number in range(60)]
    known = {name: value for name, value in UNIT.items() if name != "cavity_mm"}
    return {**known, "chain": [first, *extra, *rest]}


@pytest.fixture
def client(folder: Path) -> Iterator[FlaskClient]:
    wrench = {**BREAKAWAY["wrench"], "calibration_due": "2027-02-01"}
    fitted = [{"slot": "A2", "mm": 2.5}, {"slot": "B4", "mm": 2.52, "minimum_mm": 2.4}]
    rebuilt: dict[str, Any] = {
        "fitted": fitted,
        "note": "Both packs renewed.",
        "oil": "Racing 80W-90",
        "hours": "4,5",
        "parts_cost": "128.40",
    }
    with open_log(folder) as log:
        log.add(
            [
                stored("unit", body={**UNIT, "name": "Bramble 1", "owner": "Żaneta & <b>Söhne</b>"}),
                stored("rebuild", at="2026-05-01T10:00:00+02:00", body=rebuilt),
                stored("plate_check", at="2026-05-02T10:00:00+02:00", body=PLATES),
                stored("torque_check", at="2026-05-03T10:00:00+02:00", body={**BREAKAWAY, "wrench": wrench}),
                stored("unit", OTHER_UNIT, body={"name": "W" * 60, "service": {"low_nm": 60}}),
            ]
        )
    app = app_over(folder)
    yield app.test_client()
    close_app(app)


def page_of(client: FlaskClient, query: str = "", unit: str = UNIT_ID) -> tuple[pypdf.PageObject, str]:
    """The only page of a sheet, and its text without line breaks."""
    answer = client.get(f"/api/units/{unit}/sheet.pdf{query}")
    assert answer.status_code == 200, answer.text
    assert answer.content_type == "application/pdf"
    [page] = pypdf.PdfReader(io.BytesIO(answer.data)).pages
    return page, " ".join(page.extract_text().split())


@pytest.mark.parametrize("paper", PAPERS)
def test_a_sheet_is_one_page_of_the_paper_that_was_asked_for(client: FlaskClient, paper: str) -> None:
    for template in TEMPLATES:
        page, _ = page_of(client, f"?paper={paper}&template={template}")
        size = float(page.mediabox.width), float(page.mediabox.height)
        assert size == pytest.approx(PAPERS[paper], abs=0.5)


def test_a_customers_sheet_says_what_was_ordered_reached_and_done(client: FlaskClient) -> None:
    page, text = page_of(client)
    for words in (
        "Bramble 1",
        "Żaneta & <b>Söhne</b>",
        "GO",
        "100.0 N·m",
        "Ordered 100.0 N·m ± 10.0 N·m. It may run from 70.0 N·m to 130.0 N·m.",
        "100.0 N·m, 2026-05-03 by Mara, guard band",
        "Tool Long beam; its calibration held up to 2027-02-01",
        "Exchanged A2 2.500 mm (limit 2.300 mm), B4 2.520 mm (limit 2.400 mm)",
        "Both packs renewed.",
        "Racing 80W-90",
        "100 × 51 × 3.5, free height 6.3 mm",
        "Thicknesses in mm.",
        "A2 friction 2.500 2.450 2.300",
        "Check torque at each meeting; open it once a season (common practice).",
        "hold it closed in a vice before the cover screws are touched",
    ):
        assert words in text, words
    assert "128.40" not in text
    fonts: Any = page["/Resources"]
    assert all(
        "/FontFile2" in font.get_object()["/FontDescriptor"]
        for font in fonts["/Font"].values()
        if "/FontDescriptor" in font.get_object()
    )
    assert any("/FontDescriptor" in font.get_object() for font in fonts["/Font"].values())


def test_the_workshops_sheet_and_the_list_have_what_they_are_for(client: FlaskClient) -> None:
    _, text = page_of(client, "?template=workshop")
    for words in ("Workshop sheet", "Hours 4,5", "Cost of the parts 128.40"):
        assert words in text
    _, text = page_of(client, "?template=inspection")
    for words in ("Inspection list", "Point 1", "Marks", "Torque reverse", "A2 friction 2.500 2.450 2.300"):
        assert words in text
    assert "GO" not in text.split(), "a list to be filled in judges nothing"


def test_what_there_is_to_know_of_the_figures_is_a_sentence_for_the_workshop(folder: Path) -> None:
    with open_log(folder) as log:
        log.add([stored("unit", body={**UNIT, "cavity_mm": 61.8})])
    app = app_over(folder)
    sentence = "! The spring is past three quarters of its travel: the real load is above this figure."
    for template, is_there in (("workshop", True), ("customer", False)):
        _, text = page_of(app.test_client(), f"?template={template}")
        assert (sentence in text) == is_there
        assert "{" not in text
    close_app(app)


def test_a_sheet_is_read_in_foot_pounds_and_inches(client: FlaskClient) -> None:
    _, text = page_of(client, "?torque=lbf_ft&lengths=inch")
    # NIST SP 811, appendix B: 1 lbf·ft is 1.355817948 N·m; 100 / 1.355817948 = 73.76; 2.45 / 25.4 = 0.09646.
    assert "Ordered 73.8 lbf·ft" in text
    assert "Thicknesses in inch." in text
    assert "0.0965" in text
    assert "N·m" not in text


def test_a_unit_of_which_little_is_known_has_a_sheet_too(client: FlaskClient) -> None:
    _, text = page_of(client, unit=OTHER_UNIT)
    assert "W" * 20 in text
    assert "not checked" in text
    assert "It may run from 60.0 N·m." in text


@pytest.mark.parametrize("count", [1, 2, 3])
def test_an_inspections_sheet_has_a_line_for_each_other_part(folder: Path, count: int) -> None:
    features = [{"name": f"Case crack {number}", "part": "case", "measure": "crack"} for number in range(count)]
    with open_log(folder) as log:
        log.add([stored("unit", body={**UNIT, "features": features})])
    app = app_over(folder)
    _, text = page_of(app.test_client(), "?template=inspection")
    assert all(feature["name"] in text for feature in features)
    close_app(app)


@pytest.mark.parametrize("template", TEMPLATES)
def test_what_is_far_too_much_still_fits_on_the_page(folder: Path, template: str) -> None:
    hostile = "<font size=900>&lt;]]> " + "long " * 330 + "\u202eend"
    with open_log(folder) as log:
        log.add(
            [
                stored("unit", body={**many_plates(), "name": "<b>&amp;" + "X" * 50}),
                stored("rebuild", body={"note": hostile}),
            ]
        )
    app = app_over(folder)
    page, text = page_of(app.test_client(), f"?template={template}")
    assert "<b>&amp;" in text
    assert "A59x" in text
    if template != "inspection":
        assert "<font size=900>&lt;]]> long long" in text
        assert "(the whole text is in the log)" in text
    assert "/Annots" not in page
    close_app(app)


def test_the_workshops_letterhead_stands_above_it(folder: Path) -> None:
    picture = io.BytesIO()
    Image.new("RGB", (300, 90), "#0d4f4a").save(picture, "PNG")
    mark = base64.b64encode(picture.getvalue()).decode()
    lines = "12 Mill Lane\nOwlbridge <b>&\ntel. 12"
    app = app_over(folder)
    log: Log = app.extensions["slipbook_log"]
    log.add([stored("unit", body={**UNIT, "name": "Bramble 1"})])
    for number, mark_now in enumerate(("", mark, "/9j/" + "A" * 400)):
        body = {"name": "Marrow & Tarn", "lines": lines, **({"mark": mark_now} if mark_now else {})}
        log.add([stored("letterhead", "", body=body)])
        page, text = page_of(app.test_client())
        assert text.startswith("Marrow & Tarn 12 Mill Lane Owlbridge <b>& tel. 12 Bramble 1")
        # What is no picture after all keeps nobody from a sheet.
        assert len(page.images) == (1 if number == 1 else 0)
    close_app(app)


def test_the_command_draws_a_sheet(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with open_log(folder) as log:
        log.add([stored("unit", body={**UNIT, "name": "Bramble 1"})])
    file = folder.parent / "sheet.pdf"
    command = ["sheet", "Bramble 1", *place_of(folder), "--to", str(file), "--template", "inspection"]
    assert main(command) == 0
    assert "Inspection list" in pypdf.PdfReader(file).pages[0].extract_text()
    assert main(command) == 2
    assert "--force" in capsys.readouterr().err


def test_what_cannot_be_drawn_is_refused_in_a_sentence(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    assert client.get("/api/units/01930000-0000-7000-8000-00000000ffff/sheet.pdf").status_code == 404
    assert client.get(f"/api/units/{UNIT_ID}/sheet.pdf?template=poster").status_code == 422
    monkeypatch.setitem(sys.modules, "reportlab", None)
    monkeypatch.setitem(sys.modules, "reportlab.lib", None)
    answer = client.get(f"/api/units/{UNIT_ID}/sheet.pdf")
    assert answer.status_code == 501
    assert "slipbook[pdf]" in (answer.json or {})["detail"]
