"""A history in a spreadsheet is looked into at the workshop's PC, accepted, and stands in the book."""

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .test_story import UNIT, ready

pytestmark = pytest.mark.in_reach


def test_a_history_is_seen_before_it_is_imported_and_says_where_it_is_from(
    demo: RunningServer, phone: Page, tmp_path: Path
) -> None:
    file = tmp_path / "old log.csv"
    rows = ["Date;Diff;By;Torque;Torque", f"3.4.2019;{UNIT};Joss;84,5;86", f"4.5.2019;{UNIT};Joss;83;x"]
    file.write_text("\n".join(rows), encoding="cp1252")
    phone.goto(demo.address)
    ready(phone)
    phone.goto(f"{demo.address}/#/import")
    phone.get_by_role("link", name="A history that was kept in a spreadsheet").click()
    phone.get_by_label("Who imports it").fill("Ilse Marrow")
    phone.locator("input[type=file]").set_input_files(file)
    expect(phone.get_by_text("Say in which unit the torques were read")).to_be_visible()
    phone.get_by_label("Torques without a unit are in").select_option("nm")
    expect(phone.get_by_text("Say in which unit the torques were read")).to_be_hidden()
    phone.get_by_label("Days in figures").select_option("dmy")
    expect(phone.get_by_text("Say whether 3/5/2025")).to_be_hidden()
    phone.get_by_label("How it was held").select_option("bench_output_held")
    expect(phone.get_by_text("Say how the unit was held")).to_be_hidden()
    expect(phone.get_by_label("Wrench", exact=True).get_by_role("option", name="Long beam")).to_be_attached()
    phone.get_by_label("Wrench", exact=True).select_option(label="Long beam")
    expect(phone.get_by_text("“x” is no figure")).to_be_visible()
    expect(phone.get_by_text(f"2019-04-03, {UNIT} (row 2, Joss)")).to_be_visible()
    phone.get_by_role("button", name="Import 1 entry").click()
    expect(phone.get_by_text("1 entry was imported; 0 were in the log already.")).to_be_visible()
    # The book brings it like any other entry.
    entry = """async () => {
        const { deliver } = await slipbook.part("log/delivery.js");
        await deliver();
        const { entries } = await (await fetch("/api/log?after=60&most=50")).json();
        const found = entries.find(({ imported }) => imported);
        return `#/unit/${found.unit}/entry/${found.id}`;
    }"""
    phone.goto(f"{demo.address}/{phone.evaluate(entry)}")
    expect(phone.get_by_text("as old log.csv has it in row 2; imported by Ilse Marrow")).to_be_visible()
