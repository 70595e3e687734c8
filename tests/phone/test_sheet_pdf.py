"""The sheet that the server draws says what the printed one on the screen says."""

import io
import re

import pypdf
import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .test_story import UNIT, ready

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

TEXTS = """() => [...document.querySelectorAll(".sheet h1, .sheet p, .sheet caption, .sheet th, .sheet td, .sheet dt")]
    .filter((place) => !place.querySelector("p, th, td"))
    .map((place) => place.textContent)"""


def test_the_pdf_says_all_that_the_printed_sheet_says(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    ready(phone)
    phone.get_by_role("link", name=UNIT).click()
    expect(phone.get_by_role("heading", name=UNIT)).to_be_visible()
    phone.goto(f"{phone.url}/sheet")
    expect(phone.get_by_role("button", name="Print")).to_be_visible()
    for template, title in (("customer", "Build"), ("workshop", "Workshop"), ("inspection", "Inspection")):
        phone.locator(f"[data-field=template][value={template}]").check()
        expect(phone.get_by_role("article")).to_contain_text(title)
        with phone.expect_download() as download:
            phone.get_by_role("button", name="As PDF").click()
        assert re.fullmatch(rf"Bramble-1-{template}-[-\d]+\.pdf", download.value.suggested_filename)
        [page] = pypdf.PdfReader(io.BytesIO(download.value.path().read_bytes())).pages
        drawn = "".join(page.extract_text().split()).casefold()
        wanted = ["".join(text.split()).casefold().replace("_", "") for text in phone.evaluate(TEXTS)]
        assert len(wanted) > 60
        assert [text for text in wanted if text not in drawn] == []
    phone.route("**/sheet.pdf*", lambda route: route.abort())
    phone.get_by_role("button", name="As PDF").click()
    expect(phone.get_by_role("alert")).to_contain_text(
        "The PDF is drawn by the workshop's PC. The workshop cannot be reached: go nearer or try again later. "
        "Printing from here works without it."
    )
