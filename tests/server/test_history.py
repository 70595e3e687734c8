"""A history out of a messy spreadsheet: what can be read is imported, the rest is said row by row, nothing twice."""

import base64
import io
import json
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from server.app import close_app
from server.cli import main
from server.engine import calc
from server.log import Log
from server.office.cell_words import read_day, read_figures
from server.office.spreadsheet import read_sheet
from tests.engine.checks import BREAKAWAY, UNIT

from .messy_history import HEADINGS, MessyHistory
from .sample_logs import OTHER_UNIT, UNIT_ID, entry, read_all, stored
from .stores import app_over, open_log, place_of

WRENCH = BREAKAWAY["wrench"]
SETTINGS: dict[str, Any] = {
    "torque_unit": "nm",
    "days": "dmy",
    "held": "bench_output_held",
    "wrench": WRENCH,
    "who": "Ilse",
}
# By the names in the spreadsheet.
UNITS = {"bramble 1": UNIT_ID, "wren 2": OTHER_UNIT}


@pytest.fixture
def client(folder: Path) -> Iterator[FlaskClient]:
    """The interface over a log with two units."""
    with open_log(folder) as log:
        for name, unit in (("Bramble 1", UNIT_ID), ("Wren 2", OTHER_UNIT)):
            log.add([stored("unit", unit, body={**UNIT, "name": name})])
    app = app_over(folder)
    yield app.test_client()
    close_app(app)


def post_file(client: FlaskClient, path: str, data: bytes, name: str = "log.csv", **settings: Any) -> dict[str, Any]:
    body = {"file": name, "data": base64.b64encode(data).decode(), **SETTINGS, **settings}
    answer = client.post(path, json={key: value for key, value in body.items() if value is not None})
    assert answer.status_code == 200, answer.text
    result: dict[str, Any] = answer.json or {}
    return result


def look_into(client: FlaskClient, data: bytes, **settings: Any) -> dict[str, Any]:
    return post_file(client, "/api/history/look", data, **settings)


def import_file(client: FlaskClient, data: bytes, **settings: Any) -> dict[str, Any]:
    preview = look_into(client, data, **settings)["preview"]
    return post_file(client, "/api/history", data, accepted=preview, **settings)


def log_of(client: FlaskClient) -> list[dict[str, Any]]:
    log: Log = client.application.extensions["slipbook_log"]
    return [entry for entry in read_all(log) if entry["kind"] != "unit"]


@pytest.mark.parametrize("form", ["csv, decimal commas", "csv, points in UTF-16", "workbook"])
def test_three_hundred_messy_rows_are_read_and_each_other_is_named(client: FlaskClient, form: str) -> None:
    messy = MessyHistory(comma="comma" in form)
    settings: dict[str, Any] = {}
    if form == "workbook":
        data, settings = messy.as_workbook(), {"sheet": "Log", "name": "log.xlsx"}
    elif messy.has_commas:
        data = messy.as_csv()
    else:
        data = messy.as_csv("utf-16", ",")
    if form != "workbook":
        # A CSV knows no hidden rows: what was hidden there has torques that no wrench of this size can show.
        messy.rows_left_out.discard(messy.hidden_row)
        messy.rows_with_mistakes.add(messy.hidden_row)
    look = look_into(client, data, **settings)
    assert len(messy.rows) == 301
    assert look["asks"] == []
    assert look["heading_row"] == 3
    assert [column["means"] for column in look["columns"]] == [
        *("day", "unit", "who", "torque", "torque", "torque", "torque_reverse", "oil", "note", "")
    ]
    assert {row["row"] for row in look["mistakes"]} == messy.rows_with_mistakes
    assert {row["row"] for row in look["left_out"]} == messy.rows_left_out
    assert look["new"] == len(messy.torque_checks) + len(messy.note_rows)
    assert look["unknown_units"] in ([], ["Rook 7"])
    assert log_of(client) == [], "nothing is written before it is accepted"
    stored_answer = post_file(client, "/api/history", data, accepted=look["preview"], **settings)
    assert stored_answer == {"stored": look["new"], "there": 0, "refused": 0}
    checks = {row["imported"]["row"]: row for row in log_of(client) if row["kind"] == "torque_check"}
    assert sorted(checks) == [number for number, *_ in messy.torque_checks]
    for number, name, day, readings in messy.torque_checks:
        check = checks[number]
        assert check["unit"] == UNITS[name]
        assert check["at"][:10] == check["body"]["day"] == day.isoformat()
        assert check["shown"]["directions"]["forward"]["readings_nm"] == pytest.approx(readings, rel=1e-6)
        assert check["agrees"]
    again = look_into(client, data, **settings)
    assert (again["new"], again["there"]) == (0, stored_answer["stored"])
    assert import_file(client, data, **settings)["stored"] == 0
    assert len(log_of(client)) == stored_answer["stored"]


def test_the_same_history_from_another_file_adds_nothing(client: FlaskClient) -> None:
    messy = MessyHistory(comma=False)
    first = import_file(client, messy.as_workbook(), sheet="Log", name="log.xlsx")["stored"]
    as_text = look_into(client, messy.as_csv("utf-8", "\t"), name="log.txt", who="Mara", decimal="point")
    assert (as_text["new"], as_text["there"]) == (0, first)


def test_an_imported_entry_says_where_it_comes_from(client: FlaskClient) -> None:
    data = b"date,unit,who,torque,torque,note\n2025-05-03,Bramble 1,Mara,84,86.5,Oil looked new\n"
    import_file(client, data, name="old log.csv")
    check, note = log_of(client)
    assert note["body"]["text"] == "Oil looked new"
    for row in (check, note):
        assert row["who"] == "Mara"
        assert row["imported"] | {"at": ""} == {"file": "old log.csv", "row": 2, "at": "", "by": "Ilse"}
        assert datetime.fromisoformat(row["imported"]["at"]).tzinfo is not None
        assert row["at"].startswith("2025-05-03T12:00:0")
    assert check["at"] < note["at"], "what a row says stays in its order"
    standing = calc("standing", {"entries": [*unit_entries(client)], "today": "2026-11-29"})
    assert standing["torque"]["value_nm"] == pytest.approx(85.25)


def unit_entries(client: FlaskClient) -> list[dict[str, Any]]:
    log: Log = client.application.extensions["slipbook_log"]
    return log.of_unit(UNIT_ID)


def test_plates_of_a_day_become_one_measurement_whichever_way_they_are_written(client: FlaskClient) -> None:
    slots = [place["slot"] for place in UNIT["chain"] if place["part"] == "friction"][:2]
    long = "day;unit;plate;thickness;thickness;thickness\n" + "".join(
        f"3.5.2025;Wren 2;{slot};2,4{place};2,45;2,46 mm\n" for place, slot in enumerate(slots, 1)
    )
    settings: dict[str, Any] = {"micrometer": {"division_mm": 0.01}, "length_unit": "mm", "wrench": None}
    assert import_file(client, long.encode(), **settings)["stored"] == 1
    [check] = log_of(client)
    assert [plate["slot"] for plate in check["body"]["plates"]] == slots
    assert [plate["lowest_mm"] for plate in check["shown"]["plates"]] == pytest.approx([2.41, 2.42])
    # The same with a column for each plate, in which one figure holds all round.
    wide = f"day;unit;{slots[0]};{slots[1]}\n4.5.2025;Wren 2;0.0964 inch;2.44\n"
    columns = [{"number": 1, "means": "day"}, {"number": 2, "means": "unit"}]
    columns += [{"number": 2 + place, "means": "thickness", "place": slot} for place, slot in enumerate(slots, 1)]
    assert import_file(client, wide.encode(), columns=columns, **settings)["stored"] == 1
    plates = log_of(client)[1]["body"]["plates"]
    assert plates[0]["points_mm"] == [{"typed": "0.0964", "unit": "inch"}] * 3
    assert all(plate["same_all_round"] for plate in plates)


def test_plates_of_a_day_wait_until_all_of_them_can_be_read(client: FlaskClient) -> None:
    slots = [place["slot"] for place in UNIT["chain"] if place["part"] == "friction"][:2]
    rows = f"day,unit,plate,thickness\n2025-05-03,Wren 2,{slots[0]},2.44\n2025-05-03,Wren 2,{slots[1]},%s\n"
    settings: dict[str, Any] = {"micrometer": {"division_mm": 0.01}, "length_unit": "mm"}
    for wrong in ("thin", "24.4", "2.4 furlongs"):
        look = look_into(client, (rows % wrong).encode(), **settings)
        assert look["new"] == 0
        assert [row["row"] for row in look["mistakes"]] == [3], wrong
        if wrong != "24.4":
            assert [row["row"] for row in look["left_out"]] == [2]
    assert import_file(client, (rows % "2.43").encode(), **settings)["stored"] == 1


def test_what_has_to_be_known_is_asked_and_nothing_is_written_without_it(client: FlaskClient) -> None:
    data = b"date,torque,torque,unit\n3/5/2025,84,86,Bramble 1\n"
    none = dict.fromkeys(SETTINGS)
    look = look_into(client, data, **none)
    assert [row["field"] for row in look["asks"]] == ["torque_unit", "days", "held", "wrench", "who"]
    refused = client.post(
        "/api/history",
        json={"file": "log.csv", "data": base64.b64encode(data).decode(), "accepted": look["preview"]},
    )
    assert refused.status_code == 422
    assert (refused.json or {})["errors"][0]["field"] == "torque_unit"
    assert log_of(client) == []
    no_unit = look_into(client, b"date,torque,torque\n2025-05-03,84,86\n")
    assert [row["field"] for row in no_unit["asks"]] == ["unit"]
    assert look_into(client, b"date,torque,torque\n2025-05-03,84,86\n", unit=UNIT_ID)["new"] == 1
    # With the unit in the cell nothing is asked.
    assert (
        look_into(client, b"date,torque,torque,unit\n2025-05-03,84 Nm,86 Nm,Bramble 1\n", torque_unit=None)["new"] == 1
    )


def test_only_what_was_looked_at_is_written(client: FlaskClient) -> None:
    data = b"date,torque,torque,unit\n2025-05-03,84,86,Bramble 1\n"
    preview = look_into(client, data)["preview"]
    body = {"file": "log.csv", "data": base64.b64encode(data.replace(b"86", b"96")).decode(), **SETTINGS}
    refused = client.post("/api/history", json={**body, "accepted": preview})
    assert refused.status_code == 422
    assert (refused.json or {})["errors"][0]["field"] == "accepted"
    assert log_of(client) == []


def test_a_unit_with_another_name_in_the_file_is_found_once_it_is_named(client: FlaskClient) -> None:
    data = b"date,torque,torque,unit\n2025-05-03,84,86,the old =Bramble\n"
    assert look_into(client, data)["unknown_units"] == ["the old =Bramble"]
    assert look_into(client, data, names=[{"called": "The old =BRAMBLE", "unit": UNIT_ID}])["new"] == 1


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\x00\x01\x02\x03",
        b"PK\x03\x04 and no more",
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1",
        b"\xff\xfea",
        b"one\n",
        b'"never closed\n' * 3,
        b"=cmd|' /C calc'!A0,@x\n",
    ],
)
def test_what_is_no_history_is_refused_in_a_sentence(client: FlaskClient, data: bytes) -> None:
    body = {"file": "x.csv", "data": base64.b64encode(data).decode() or "=", **SETTINGS}
    answer = client.post("/api/history/look", json=body)
    assert answer.status_code in (200, 422)
    if answer.status_code == 200:
        assert (answer.json or {})["new"] == 0
        assert (answer.json or {})["asks"]
    else:
        assert (answer.json or {})["errors"][0]["field"] in ("data", "heading_row")


@pytest.mark.parametrize("packed", ["ä", "a", "QQ==\n====", "%"])
def test_a_file_that_arrives_damaged_is_refused(client: FlaskClient, packed: str) -> None:
    answer = client.post("/api/history/look", json={"file": "x.csv", "data": packed})
    assert answer.status_code == 422
    assert (answer.json or {})["errors"] == [{"field": "data", "reason": "This file arrived damaged: choose it again."}]


def test_figures_and_days_as_people_write_them() -> None:
    assert read_figures("84 86,5", "nm", "nm", "comma")[1]["typed"] == "86.5"
    assert read_figures("n/a", "nm", "nm", "either") == read_figures("–", "nm", "nm", "either") == []
    for text in ("1 200", "84 psi", "ask Mara / Ode", "8.4.1", "+"):
        with pytest.raises(ValueError, match=r"“"):
            read_figures(text, "nm", "nm", "either")
    today = datetime(2026, 11, 29).date()
    assert read_day("03/05/25", "mdy", today).isoformat() == "2025-03-05"
    for text in ("13/13/2025", "31.2.2020", "3 Foo 2025", "45000", "", "3.5.1955", "3.5.2199"):
        with pytest.raises(ValueError, match=r"day|month|still to come|1970"):
            read_day(text, "dmy", today)


def test_a_workbook_keeps_what_its_formulas_came_to(folder: Path) -> None:
    from openpyxl import Workbook

    book = Workbook()
    assert book.active is not None
    book.active.append(HEADINGS)
    book.active.append(["2025-05-03", "Bramble 1", "", "=40+44"])
    data = io.BytesIO()
    book.save(data)
    # No program has worked it out yet: there is no figure, and none is made up.
    assert read_sheet(data.getvalue()).rows[1].cells[3] is None


def test_the_command_shows_first_and_writes_when_told(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kit = entry("kit")
    with open_log(folder) as log:
        log.add([stored("unit", body={**UNIT, "name": "Bramble 1"}), stored("kit", body=kit["body"])])
    file = folder.parent / "log.csv"
    file.write_bytes(b"Date;Torque;Torque\n3.5.2025;84,5;86\n4.5.2025;83;x\n")
    command = ["import-history", str(file), *place_of(folder)]
    assert main(command) == 1
    assert "--torque-unit" in capsys.readouterr().out
    command += ["--unit", "bramble 1", "--torque-unit", "nm", "--days", "dmy", "--held", "bench_output_held"]
    command += ["--wrench", "long beam", "--who", "Ilse"]
    assert main(command) == 0
    printed = capsys.readouterr().out
    assert "New: 1, there already: 0, rows left out: 0, mistakes: 1." in printed
    assert "Row 3, Torque: “x” is no figure" in printed
    assert "Nothing was written: add --accept" in printed
    assert main([*command, "--accept"]) == 0
    assert "Entries stored: 1." in capsys.readouterr().out
    assert main([*command, "--accept"]) == 0
    assert "Entries stored: 0." in capsys.readouterr().out
    with open_log(folder) as log:
        assert json.dumps(read_all(log)).count('"imported"') == 1
    assert main(["import-history", str(file), *place_of(folder), "--wrench", "no such"]) == 2
    assert "There: Long beam." in capsys.readouterr().err
