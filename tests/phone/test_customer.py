"""The customer gets the sheet: what was done, how it stands, when it is due, and on paper."""

import re

import pytest
from playwright.sync_api import expect

from .conftest import RunningServer
from .hands import Hands
from .screens import of_log, unit_path
from .test_bench import at_the_bench
from .test_story import UNIT


def test_the_customer_reads_what_was_done_and_prints_it(demo: RunningServer, hands: Hands) -> None:
    page = hands.page
    page.add_init_script("window.printed = 0; window.print = () => { window.printed += 1; };")
    # The code on the last sheet leads here.
    page.goto(f"{demo.address}/#{unit_path(demo.address)}")
    stands = page.locator(".card.judged").first
    expect(stands).to_contain_text("go", timeout=20000)
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
    assert page.evaluate("window.printed") == 1
    hands.link(UNIT)
    expect(page.get_by_role("heading", name=UNIT)).to_be_focused()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_sheet_is_one_page_of_paper(demo: RunningServer, hands: Hands, paper: str) -> None:
    page = hands.page
    for unit in [entry for entry in of_log(demo.address) if entry["kind"] == "unit"]:
        page.emulate_media(media="screen")
        page.goto(f"{demo.address}/#/unit/{unit['unit']}/sheet")
        expect(page.get_by_role("article")).to_contain_text(unit["body"]["name"], timeout=20000)
        page.emulate_media(media="print")
        for gone in ("#bar", "#tabs", "button"):
            expect(page.locator(gone).first).to_be_hidden()
        printed = page.pdf(format=paper, print_background=True)
        assert len(re.findall(rb"/Type\s*/Page\b(?!s)", printed)) == 1, unit["body"]["name"]
