"""Labels are made at the bench, and a phone that reads one opens what it is about, without a network too."""

import io
import json
import re
import urllib.request

import pypdf
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .test_story import ready_offline


def keys_there(address: str) -> list[str]:
    with urllib.request.urlopen(f"{address}/api/labels") as answer:
        return [label["key"] for group in json.load(answer)["groups"] for label in group["labels"]]


def test_a_label_is_made_and_opens_what_it_is_about(demo: RunningServer, phone: Page) -> None:
    tool = next(key for key in keys_there(demo.address) if key.startswith("tool:")).removeprefix("tool:")
    phone.goto(demo.address)
    ready_offline(phone)
    phone.goto(f"{demo.address}/#/labels")
    phone.get_by_role("button", name="All bags of plates").click(timeout=20000)
    copies = phone.get_by_label("Copies of F 2.50")
    copies.fill("two")
    expect(copies).to_have_accessible_description(re.compile("Type a number.*two"))
    copies.fill("2")
    expect(copies).to_have_attribute("aria-invalid", "false")
    phone.get_by_role("checkbox", name="Bramble 1").check()
    phone.get_by_role("radio", name="other measures").check()
    phone.get_by_label("Labels in a row", exact=True).fill("9")
    phone.get_by_label("Width of a label").fill("40")
    phone.get_by_label("Height of a label").fill("30,5")
    make = phone.get_by_role("button", name="Make the labels")
    make.click()
    expect(phone.get_by_label("Rows", exact=True)).to_have_attribute("aria-invalid", "true")
    phone.get_by_label("Rows", exact=True).fill("9")
    make.click()
    expect(phone.get_by_text("These labels take 360.0 mm and the page has 210 mm: at most 5 fit")).to_be_visible()
    phone.get_by_label("Labels in a row", exact=True).fill("5")
    with phone.expect_download() as download:
        make.click()
    pages = pypdf.PdfReader(io.BytesIO(download.value.path().read_bytes())).pages
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    assert text.count("friction, 2.500 mm") == 2
    assert "Bramble 1" in text
    assert "Long beam" not in text
    # The sheet that was chosen is there the next time.
    phone.reload()
    expect(phone.get_by_label("Height of a label")).to_have_value("30,5", timeout=20000)

    phone.context.set_offline(True)
    phone.goto(f"{demo.address}/#/shelf/bag/F%202.50")
    expect(phone.get_by_role("heading", name="F 2.50")).to_be_visible(timeout=20000)
    expect(phone.get_by_text("4 pieces", exact=True)).to_be_visible()
    expect(phone.get_by_role("row", name="Limit")).to_contain_text("2.300 mm (common practice)")
    phone.goto(f"{demo.address}/#/shelf/bag/gone%2F")
    expect(phone.get_by_text("No plates of this name are on the shelf that this phone knows")).to_be_visible()
    phone.goto(f"{demo.address}/#/kit/tool/{tool}")
    expect(phone.locator(f'[data-tool="{tool}"]')).to_be_focused(timeout=20000)
    expect(phone.locator("li.pointed")).to_be_in_viewport()
    phone.goto(f"{demo.address}/#/kit/tool/0190c5de-0000-7000-8000-0000000000ff")
    expect(phone.get_by_text("This tool is not in the kit that this phone knows")).to_be_visible(timeout=20000)
    phone.goto(f"{demo.address}/#/labels")
    expect(phone.get_by_role("alert")).to_contain_text(
        "Labels are drawn by the workshop's PC. The workshop cannot be reached"
    )
