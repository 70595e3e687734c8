"""Whoever looks at the outbox sees how old the workshop's last good backup is, and why there is no newer one."""

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.server.processes import running_server
from tests.server.sample_logs import fill

pytestmark = [pytest.mark.in_reach, pytest.mark.about_files("a backup a day is made of a folder")]


def test_the_outbox_says_how_old_the_last_good_backup_is(phone: Page, tmp_path: Path) -> None:
    folder, stick = tmp_path / "data", tmp_path / "stick"
    fill(folder)
    with running_server("serve", "--folder", str(folder), "--backups", str(stick)) as server:
        phone.goto(f"http://127.0.0.1:{server.port}/#/outbox")
        expect(phone.get_by_text("The workshop's log has no good backup yet.")).to_be_visible()
        expect(phone.get_by_text("for backups is not there: plug it in, or name another")).to_be_visible()
    stick.mkdir()
    with running_server("serve", "--folder", str(folder), "--backups", str(stick)) as server:
        phone.goto(f"http://127.0.0.1:{server.port}/#/outbox")
        expect(phone.get_by_text("The workshop's last good backup: ")).to_be_visible()
        expect(phone.get_by_text(", less than a day ago.")).to_be_visible()
