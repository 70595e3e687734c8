"""Tables of tools from spreadsheets: shown first and mended; only what is new or says something else is saved."""

import re

import pytest
from playwright.sync_api import Page, expect

from .conftest import RunningServer, becomes, draft_is_kept
from .hands import BENCH, PHONE
from .test_kit_grid import FAILS, open_kit, tools_of
from .test_paste import PASTE, paste
from .test_refused import WRITE
from .test_shelf_grid import here
from .test_story import ids_on_disk, new_on_disk
from .test_tables import faults, fits

pytestmark = [pytest.mark.in_reach, pytest.mark.knows_the_demo]

LIST = """Tools of the workshop

Instrument\tType\tRange\tResolution\tMPE\tU (k=2) in %\tCalibration due\tRemarks
long  beam\t\t\t1\t\t\t31.3.2028\tred handle
Click 60\tClick torque wrench\t10-60 Nm\t0,5\t±4 %\t1,5\t2027-05-01\t
Foot click\tclick wrench\t20 to 150 lbf·ft\t1 lbf·ft\t\t\t\t

Dial 10\tdial indicator\t0-10 mm\t0.01\t17 µm\t\t\t
Bore\tbore gauge\t35-60 mm\t0.01 mm\t\t\t3/4/2027\tof Tove
Torque bar\tTorque wrench\tup to 200 Nm\t1\t\t\t-\t
Spring balance\tspring balance\t50 kg\t0,20\t\t\t\t
"""


def test_a_list_of_tools_is_mended_and_taken_by_keyboard(demo: RunningServer, bench: Page) -> None:
    open_kit(bench, demo)
    before = ids_on_disk(demo)
    bench.get_by_label("Long beam, One division").focus()
    paste(bench, LIST)
    expect(bench).to_have_url(re.compile("#/kit/paste$"))
    expect(bench.get_by_text("5 rows can be taken; 2 cannot, and their cells say why.")).to_be_visible()
    expect(bench.get_by_text("2 tools of it are in the kit: what a row leaves blank stays.")).to_be_visible()
    expect(bench.get_by_text("no zero of wrenches and scales: 2 cells are left out.")).to_be_visible()
    expect(bench.get_by_label("Row 8, Scale ends at")).to_have_count(0)
    # What a row does not say of a tool that is there, is known; a range is read into its two figures.
    expect(bench.get_by_label("Row 4, What it is")).to_have_value("wrench beam")
    expect(bench.get_by_label("Row 5, Scale starts at")).to_have_value("10 Nm")
    expect(bench.get_by_label("Row 5, Scale ends at")).to_have_value("60 Nm")
    expect(bench.locator("#changes")).to_have_count(0)
    assert faults(bench) == []
    fits(bench)
    keys = bench.keyboard
    bench.locator("#take").focus()
    keys.press("Enter")
    assert here(bench) == "Row 9, Calibrated until"
    expect(bench.get_by_label("Row 9, Calibrated until")).to_have_accessible_description(
        re.compile("Write the day as year-month-day")
    )
    keys.press("ControlOrMeta+A")
    keys.type("2027-04-03")
    keys.press("Enter")
    # A torque wrench alone does not say how far it may be off.
    assert here(bench) == "Row 10, What it is"
    expect(bench.get_by_label("Row 10, What it is")).to_have_accessible_description(
        re.compile("Choose one of these: beam wrench; click wrench; dial wrench; electronic wrench")
    )
    keys.type("di")
    draft_is_kept(bench, "2027-04-03")
    bench.reload()
    expect(bench.get_by_text("7 rows can be taken.")).to_be_visible()
    changes = bench.locator("#changes")
    expect(changes).to_contain_text("New 5: Click 60 (click wrench), Foot click (click wrench), Dial 10 (dial gauge)")
    expect(changes).to_contain_text("Changed 1: long beam (Calibrated until")
    expect(changes).to_contain_text("→ 2028-03-31, One division 2 → 1)")
    expect(changes).to_contain_text("As it is 1: Spring balance")
    expect(changes).to_contain_text("Not named, and kept 6: Bench dial (dial wrench), Dial gauge")
    assert new_on_disk(demo, before) == []
    bench.locator("#take").focus()
    keys.press("Enter")
    expect(bench.get_by_text("6 tools are saved.")).to_be_visible()
    assert here(bench) == "Kit"
    assert becomes(bench, lambda: len(new_on_disk(demo, before)) == 6)
    tools = tools_of(new_on_disk(demo, before, "kit"))
    assert all(entry["agrees"] for entry in tools.values())
    beam, click, foot, dial, bore, bar = (
        tools[name]["body"] for name in ("Long beam", "Click 60", "Foot click", "Dial 10", "Bore", "Torque bar")
    )
    # What the table left blank stays as it was typed.
    assert beam["id"] in before
    assert beam["wrench"]["high_nm"] == {"typed": "200", "unit": "nm"}
    assert beam["wrench"]["division_nm"] == {"typed": "1", "unit": "nm"}
    assert beam["wrench"]["calibration_due"] == "2028-03-31"
    assert click["wrench"] == {
        "name": "Click 60",
        "kind": "click",
        "low_nm": {"typed": "10", "unit": "nm"},
        "high_nm": {"typed": "60", "unit": "nm"},
        "division_nm": {"typed": "0,5", "unit": "nm"},
        "deviation_percent": "4",
        "certificate_percent": "1,5",
        "calibration_due": "2027-05-01",
    }
    assert foot["wrench"]["low_nm"] == {"typed": "20", "unit": "lbf_ft"}
    assert foot["wrench"]["division_nm"] == {"typed": "1", "unit": "lbf_ft"}
    assert dial["dial_gauge"]["deviation_mm"] == {"typed": "0.017", "unit": "mm"}
    assert bore["bore_gauge"]["calibration_due"] == "2027-04-03"
    assert bar["wrench"]["kind"] == "dial"
    assert "low_nm" not in bar["wrench"]
    # The same once more changes nothing.
    keys.press("Enter")
    expect(bench.get_by_label("Click 60, Name")).to_be_visible()
    again = LIST.replace("3/4/2027", "3.4.2027").replace("long  beam\t", "LONG BEAM\tTorque wrench")
    paste(bench, again)
    expect(bench.locator("#changes")).to_contain_text("As it is 7:")
    bench.locator("#take").click()
    expect(bench.get_by_text("All of it was there already.")).to_be_visible()
    assert len(new_on_disk(demo, before)) == 6


def test_rows_that_clash_say_so_and_units_of_heads_count(demo: RunningServer, bench: Page) -> None:
    open_kit(bench, demo)
    paste(
        bench,
        "Name;Kind;Permitted error (%);Resolution [mm];Zero error, µm\n"
        "Mic A;micrometer;;0,001;2\nmic a;micrometer;;0.01;\nLong beam;feeler;;0.05;\nMic B;micrometer;1;0.01;\n"
        "Pull;pull scale;3;0.1;\n;feeler;;0.05;\n",
    )
    cases = {
        "Row 3, Name": "Row 2 has this name as well",
        "Row 4, Name": "Long beam is in the kit, as beam wrench: give this row another name.",
        "Row 5, Permitted deviation or error": "That is not a unit for this. Use one of these: mm",
        "Row 6, Scale ends at": "Fill this in.",
        "Row 7, Name": "Give the tool a name",
    }
    for label, sentence in cases.items():
        expect(bench.get_by_label(label, exact=True)).to_have_accessible_description(re.compile(re.escape(sentence)))
    expect(bench.get_by_text("1 row can be taken; 5 cannot")).to_be_visible()
    bench.set_viewport_size(PHONE)  # type: ignore[arg-type]
    expect(bench.locator("table")).to_have_count(0)
    assert faults(bench) == []
    bench.set_viewport_size(BENCH)  # type: ignore[arg-type]
    bench.get_by_label("Row 3, Name").fill("Mic C")
    bench.get_by_label("Row 4, Name").fill("Leaves")
    bench.get_by_label("Row 5, Permitted deviation or error").fill("4 µm")
    bench.get_by_label("Row 6, Scale ends at").fill("20")
    # The column's unit is no unit of force, which a cell may have of its own.
    wrong = bench.get_by_label("Row 6, One division")
    expect(wrong).to_have_accessible_description(re.compile("That is not a unit for this. Use one of these: N"))
    wrong.fill("0.1 kgf")
    bench.get_by_role("button", name="Leave out row 7").click()
    expect(bench.get_by_text("5 rows can be taken.")).to_be_visible()
    before = ids_on_disk(demo)
    bench.locator("#take").click()
    expect(bench.get_by_text("5 tools are saved.")).to_be_visible()
    assert becomes(bench, lambda: len(new_on_disk(demo, before)) == 5)
    tools = tools_of(new_on_disk(demo, before))
    assert tools["Mic A"]["body"]["micrometer"]["zero_mm"] == {"typed": "0.002", "unit": "mm"}
    assert tools["Mic B"]["body"]["micrometer"]["deviation_mm"] == {"typed": "0.004", "unit": "mm"}
    assert tools["Pull"]["body"]["scale"] == {
        "name": "Pull",
        "kind": "pull_scale",
        "high_n": {"typed": "20", "unit": "kgf"},
        "division_n": {"typed": "0.1", "unit": "kgf"},
        "deviation_percent": "3",
    }


def test_what_could_not_be_written_is_written_the_next_time_and_nothing_twice(demo: RunningServer, bench: Page) -> None:
    open_kit(bench, demo)
    before = ids_on_disk(demo)
    bench.get_by_label("Long beam, One division").fill("3")
    draft_is_kept(bench, '"typed":"3"')
    paste(bench, "Name\tType\tStep\nLeaves A\tfeeler\t0.05\nLeaves B\tfeeler\t0.1\nLeaves C\tfeeler\t0,02\n")
    expect(bench.locator("#changes")).to_contain_text("New 3:")
    bench.evaluate(FAILS, 1)
    bench.locator("#take").click()
    expect(bench.get_by_text("1 of 3 are saved. This could not be saved:")).to_be_visible()
    bench.evaluate("mend()")
    expect(bench.locator("#changes")).to_contain_text("New 2: Leaves B (feeler gauge), Leaves C (feeler gauge)")
    expect(bench.locator("#changes")).to_contain_text("As it is 1: Leaves A")
    bench.locator("#take").click()
    expect(bench.get_by_text("2 tools are saved.")).to_be_visible()
    assert becomes(bench, lambda: len(new_on_disk(demo, before)) == 3)
    assert tools_of(new_on_disk(demo, before)).keys() == {"Leaves A", "Leaves B", "Leaves C"}
    # A tool that came into the kit after the table was looked at is not written a second time.
    bench.get_by_role("link", name="Kit", exact=True).last.click()
    expect(bench.get_by_label("Leaves C, Name")).to_be_visible()
    paste(bench, "Name\tKind\tType\tRange\nLeaves D\tfeeler\t\t\nBar\tTorque wrench\tdial\tsee below\n")
    expect(bench.get_by_label("Row 3, What it is")).to_have_value("wrench dial")
    high = bench.get_by_label("Row 3, Scale ends at")
    expect(high).to_have_accessible_description(re.compile("Type a number, for example 72.5; got 'see below'"))
    high.fill("90")
    bench.get_by_label("Row 3, One division").fill("1")
    expect(bench.locator("#changes")).to_contain_text("New 2:")
    leaves = {"tool": "feeler", "feeler": {"name": "Leaves D"}}
    bench.evaluate(WRITE, {"unit": "", "kind": "kit", "body": leaves, "shown": {"verdict": None}})
    bench.locator("#take").click()
    expect(bench.get_by_text("The kit was changed meanwhile: look at the rows again, then take them.")).to_be_visible()
    expect(bench.locator("#changes")).to_contain_text("As it is 1: Leaves D")
    bench.locator("#take").click()
    expect(bench.get_by_text("1 tool is saved.")).to_be_visible()
    # What was begun in the kit's table is still there.
    bench.get_by_role("link", name="Kit", exact=True).last.click()
    expect(bench.get_by_label("Leaves C, One division")).to_have_value("0,02")
    expect(bench.get_by_label("Long beam, One division")).to_have_value("3")
    # A word is pasted where the caret is.
    assert not bench.evaluate(PASTE, "Long beam\n")


def test_a_csv_of_tools_is_taken_on_a_phone(demo: RunningServer, phone: Page) -> None:
    open_kit(phone, demo)
    before = ids_on_disk(demo)
    phone.get_by_role("link", name="Paste a table").tap()
    # Without heads its cells say what they are.
    phone.get_by_label("Table", exact=True).fill("Beam 9\tbeam wrench\t20-200 Nm\t0,5\t31.3.2027\tred\n")
    phone.get_by_role("button", name="Show the rows").tap()
    expect(phone.get_by_text("1 row can be taken.")).to_be_visible()
    phone.get_by_text("1 row that can be taken").tap()
    expect(phone.get_by_text("Beam 9 · beam wrench · 0,5 N·m · 31.3.2027 · 20 Nm · 200 Nm")).to_be_visible()
    phone.get_by_role("button", name="Paste another table").tap()
    csv = "Name,Kind,Accuracy,Due\nMic 25-50,micrometer,0.004,2027-01-31\nMüller gauge,gauge,0.02,\n"
    phone.get_by_label("Choose a CSV").set_input_files(
        {"name": "tools.csv", "mimeType": "text/csv", "buffer": csv.encode("cp1252")}
    )
    expect(phone.get_by_text("1 row can be taken; 1 cannot")).to_be_visible()
    assert phone.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    wrong = phone.get_by_label("What it is", exact=True)
    expect(wrong).to_have_accessible_description(re.compile("Choose one of these"))
    wrong.select_option("depth_gauge")
    expect(phone.get_by_label("Permitted deviation or error, mm")).to_have_value("0.02")
    expect(phone.get_by_text("2 rows can be taken.")).to_be_visible()
    phone.get_by_text("1 row that can be taken").tap()
    expect(phone.get_by_text("Mic 25-50 · micrometer · 0.004 mm · 2027-01-31")).to_be_visible()
    phone.get_by_role("button", name="Take 2 rows into the kit").tap()
    expect(phone.get_by_text("2 tools are saved.")).to_be_visible()
    assert becomes(phone, lambda: len(new_on_disk(demo, before)) == 2)
    assert tools_of(new_on_disk(demo, before))["Müller gauge"]["body"]["tool"] == "depth_gauge"
    phone.get_by_role("link", name="Kit", exact=True).first.tap()
    expect(phone.get_by_role("button", name="Change Müller gauge")).to_be_visible()
