"""A backup is taken from the screen, and a new PC with an empty log becomes the log that was lost, with all of it."""

import json
import urllib.request
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer, until
from .screens import of_log
from .test_story import UNIT, ready

pytestmark = [pytest.mark.in_reach, pytest.mark.about_files("a backup is brought back on the screen into a folder")]

OWN_LOG = "() => slipbook.part('log/logs.js').then(({ ownLog }) => ownLog()).then(({ id }) => id)"
BUSY = "() => !document.querySelector('progress')"


def health(address: str) -> dict[str, object]:
    with urllib.request.urlopen(f"{address}/api/health") as answer:
        report: dict[str, object] = json.load(answer)
    return report


def test_a_log_is_taken_to_a_new_pc_from_the_screen(demo: RunningServer, phone: Page, tmp_path: Path) -> None:
    phone.goto(f"{demo.address}/#/backup")
    file = tmp_path / "taken home.zip"
    with phone.expect_download() as download:
        phone.get_by_role("button", name="Save a backup").click(timeout=20000)
    download.value.save_as(file)
    entries = of_log(demo.address)
    expect(phone.get_by_text(f"is with this browser's downloads: {len(entries)} entries")).to_be_visible()
    with phone.expect_download() as table:
        phone.get_by_role("button", name="Save as CSV").click()
    assert UNIT in table.value.path().read_text("utf-8")

    # Nothing of it is lost here, so there is nothing to bring back.
    phone.locator("input[type=file]").set_input_files(file)
    expect(phone.get_by_text("There is nothing to bring back.")).to_be_visible(timeout=20000)

    with RunningServer(tmp_path / "new") as server:
        phone.goto(f"{server.address}/#/backup")
        phone.locator("input[type=file]").set_input_files(Path(__file__))
        expect(phone.get_by_role("alert")).to_contain_text("is not a backup of Slipbook", timeout=20000)
        phone.locator("input[type=file]").set_input_files(file)
        expect(phone.get_by_text("This log is empty. It becomes Demonstration")).to_be_visible(timeout=20000)
        expect(phone.get_by_role("row", name=UNIT)).to_be_visible()
        assert health(server.address)["log"] == 0
        phone.get_by_role("button", name="Bring it back").click()
        expect(phone.get_by_role("alert")).to_contain_text("Type yes to bring it back.")
        assert health(server.address)["log"] == 0
        phone.get_by_label("Type yes to bring it back").fill("Yes")
        phone.keyboard.press("Enter")
        expect(phone.get_by_role("button", name="Bring it back")).to_be_focused()
        phone.keyboard.press("Enter")
        expect(phone.get_by_text(f"{len(entries)} entries and 3 photos came, 0 entries were here")).to_be_visible()
        until(phone, BUSY)
        assert of_log(server.address) == entries
        assert health(server.address)["log_id"] == health(demo.address)["log_id"]
        # The page was of the log that was empty; when it says so, it is of the one that came back.
        assert phone.evaluate(OWN_LOG) == health(demo.address)["log_id"]
        phone.get_by_role("link", name="Units", exact=True).click()
        ready(phone)
