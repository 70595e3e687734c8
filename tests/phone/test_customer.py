"""The customer gets the sheet: what was done, how it stands, when it is due, and on paper."""

import io
import re
from typing import Any

import pypdf
import pytest
from playwright.sync_api import Page, expect

from server.engine import calc
from server.engine.history.sheet import TITLES

from .conftest import RunningServer, until
from .hands import Hands
from .screens import OF_THE_SERVER, of_log, put, unit_path
from .test_bench import at_the_bench
from .test_story import UNIT

pytestmark = pytest.mark.in_reach


def test_the_customer_reads_what_was_done_and_prints_it(demo: RunningServer, hands: Hands) -> None:
    page = hands.page
    page.add_init_script("window.printed = 0; window.print = () => { window.printed += 1; };")
    # The code on the last sheet leads here.
    page.goto(f"{demo.address}/#{unit_path(demo.address)}")
    stands = page.locator(".card.judged").first
    expect(stands).to_contain_text("go")
    expect(stands).to_contain_text("Good to run")
    hands.link("breakaway torque checked 84.3")
    expect(page.get_by_role("heading", name="breakaway torque checked")).to_be_focused()
    expect(page.get_by_text("by Joss Tarn")).to_be_visible()
    expect(page.get_by_text("The workshop judged it again, with the same result.")).to_be_visible()
    hands.link(UNIT)

    at_the_bench(hands, "Build sheet")
    sheet = page.get_by_role("article")
    for words in (
        "Odette Farrow",
        "84.3 N·m",
        "Ordered",
        "by Joss Tarn",
        "coast 60° (into a corner), drive 45° (out of it)",
        "Check torque at each",
    ):
        expect(sheet).to_contain_text(words)
    for slot in ("A1", "R2", "B5"):
        expect(sheet.get_by_role("row", name=re.compile(f"^{slot} "))).to_have_count(1)
    hands.button("Print")
    until(page, "() => window.printed === 1")
    hands.link(UNIT)
    expect(page.get_by_role("heading", name=UNIT)).to_be_focused()


# ISO 216: 210 mm by 297 mm; ANSI Y14.1: 8.5 inch by 11 inch; a point is 1/72 inch (ISO 32000-1, 8.3.2.3).
PAPERS = {"a4": (210 / 25.4 * 72, 297 / 25.4 * 72), "letter": (612.0, 792.0)}


def crowded(unit: dict[str, Any]) -> dict[str, Any]:
    """An entry of a unit like another, with sixty plates more and a name as long as one can be."""
    body = unit["body"]
    plates = [{"slot": f"A{number}x", "part": "separator", "new_mm": 2.0, "minimum_mm": 1.9} for number in range(60)]
    chain = [*body["chain"][:1], *plates, *body["chain"][1:]]
    known = {name: value for name, value in body.items() if name not in ("cavity_mm", "worked_out")}
    own = {name: value for name, value in unit.items() if name not in OF_THE_SERVER}
    new = known | {"chain": chain, "name": "Crowded " + "W" * 50}
    ids = {"id": "0190c5de-0000-7000-8000-0000000000c1", "unit": "0190c5de-0000-7000-8000-0000000000c2"}
    return own | ids | {"body": new, "shown": calc("unit", new), "knows": []}


@pytest.mark.knows_the_demo
def test_each_sheet_is_one_page_of_the_paper_that_was_chosen(demo: RunningServer, phone: Page) -> None:
    first = next(entry for entry in of_log(demo.address) if entry["kind"] == "unit")
    much = crowded(first)
    put(demo.address, [much])
    phone.emulate_media(color_scheme="dark")
    phone.goto(demo.address)
    for unit in (first, much):
        expect(phone.get_by_role("link", name=unit["body"]["name"])).to_be_visible(timeout=20000)
        phone.goto(f"{demo.address}/#/unit/{unit['unit']}/sheet")
        article = phone.get_by_role("article")
        for template, title in TITLES.items():
            phone.locator(f"[data-field=template][value={template}]").check()
            expect(article).to_contain_text(title, timeout=20000)
            for paper, size in PAPERS.items():
                phone.locator(f"[data-field=paper][value={paper}]").check()
                expect(article).to_have_class(re.compile(rf"\b{paper}\b"))
                reader = pypdf.PdfReader(io.BytesIO(phone.pdf(prefer_css_page_size=True)))
                [page] = reader.pages
                assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(size, abs=1)
                text = page.extract_text()
                assert title in text
                assert "Signed" in text
        phone.goto(f"{demo.address}/#/")
    phone.emulate_media(media="print", color_scheme="dark")
    for gone in ("#bar", "#tabs"):
        expect(phone.locator(gone)).to_be_hidden()
    # Paper is white, so what is written on it is dark.
    expect(phone.locator("html")).to_have_css("color-scheme", "light")
