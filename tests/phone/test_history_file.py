"""A history in a spreadsheet is looked into at the workshop's PC, accepted, and stands in the book."""

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer
from .hands import BENCH
from .test_story import UNIT, ready

pytestmark = pytest.mark.in_reach

# Pixels between the end of what is chosen in a list and its arrow.
ROOM_LEFT = """list => {
    const words = Object.assign(document.createElement("span"), { textContent: list.selectedOptions[0].textContent });
    const { font, paddingLeft, paddingRight } = getComputedStyle(list);
    Object.assign(words.style, { font, whiteSpace: "nowrap", position: "absolute" });
    document.body.append(words);
    const { width } = words.getBoundingClientRect();
    words.remove();
    return list.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight) - width;
}"""


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
    phone.get_by_role("link", name="To the units").click()
    expect(phone.get_by_role("heading", name="Units")).to_be_visible()
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
    # A spreadsheet knows no time of day, so none is shown.
    phone.goto(f"{demo.address}/#/history")
    expect(phone.locator("li", has_text="Apr 3, 2019 ·")).to_be_visible()


def test_a_unit_that_was_mixed_up_can_be_chosen_anew_and_every_choice_is_read_whole(
    demo: RunningServer, phone: Page, tmp_path: Path
) -> None:
    file = tmp_path / "misspelt.csv"
    file.write_text(f"Date;Diff;Torque;Torque\n3.4.2019;{UNIT[:-2]};84;86\n", encoding="utf-8")
    phone.set_viewport_size(BENCH)  # type: ignore[arg-type]
    phone.goto(demo.address)
    ready(phone)
    phone.goto(f"{demo.address}/#/import/history")
    phone.locator("input[type=file]").set_input_files(file)
    name = phone.get_by_label(UNIT[:-2], exact=True)
    name.select_option(label="Sorrel")
    expect(phone.get_by_text("There is no unit")).to_have_count(0)
    expect(name.locator("option:checked")).to_have_text("Sorrel")
    name.select_option(label=UNIT)
    expect(name.locator("option:checked")).to_have_text(UNIT)
    # Forward and reverse begin with the same words: what is chosen has to be read to its end.
    for column in phone.get_by_label("Torque", exact=True).all():
        assert column.evaluate(ROOM_LEFT) >= 0
