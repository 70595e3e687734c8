"""A customer's name stands wherever the owner that was typed did; sums and dates of one customer's units."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from server.app import close_app
from server.engine import calc
from server.office.calendar import dates_of
from tests.engine.checks import UNIT

from .sample_logs import OTHER_UNIT, UNIT_ID, entry, new_id, stored
from .stores import app_over, open_log

ODE = new_id()
RENAMED = "Tarn Ode-Vale"


def customer(name: str, **more: Any) -> dict[str, Any]:
    return stored("customer", "", body={"name": name, **more})


def units() -> list[dict[str, Any]]:
    """A unit that is linked, under the name that the customer had then, and one that has that name alone."""
    linked = {**UNIT, "name": "Bramble 1", "owner": "T. Ode", "customer_id": ODE}
    return [
        stored("unit", body=linked),
        stored("unit", OTHER_UNIT, body={**UNIT, "name": "Wren 2", "owner": "T. Ode"}),
        stored("rebuild", at="2026-03-01T10:00:00+01:00", body={"note": "x", "hours": "1,5", "parts_cost": "20.10"}),
        stored("rebuild", OTHER_UNIT, at="2026-03-01T10:00:00+01:00", body={"note": "x", "hours": "2"}),
    ]


@pytest.fixture
def client(folder: Path) -> Iterator[FlaskClient]:
    with open_log(folder) as log:
        log.add([customer("T. Ode") | {"id": ODE}, *units(), customer(RENAMED, id=ODE)])
    app = app_over(folder)
    yield app.test_client()
    close_app(app)


def test_the_list_and_the_sums_name_the_customer_and_else_what_was_typed(client: FlaskClient) -> None:
    listed: Any = client.get("/api/units").json
    assert [(unit["name"], unit["owner"]) for unit in listed["units"]] == [("Bramble 1", RENAMED), ("Wren 2", "T. Ode")]
    sums: Any = client.get("/api/costs?by=owner").json
    assert [(row["name"], row["hours"]) for row in sums["sums"]] == [("T. Ode", "2"), (RENAMED, "1.5")]


def test_a_name_that_changes_afterwards_counts_at_once(client: FlaskClient) -> None:
    client.get("/api/units")
    change = {**customer("Tarn Ode", id=ODE), "unit": ""}
    sent = {
        name: change[name]
        for name in ("id", "at", "who", "device", "unit", "kind", "version", "engine", "body", "shown")
    }
    answer: Any = client.post("/api/log", json={"entries": [sent]}).json
    assert answer["answers"][0]["answer"] == "stored"
    listed: Any = client.get("/api/units").json
    assert listed["units"][0]["owner"] == "Tarn Ode"


def test_a_customer_has_the_sums_and_dates_of_its_units(client: FlaskClient) -> None:
    page: Any = client.get(f"/api/customers/{ODE}").json
    assert (page["name"], page["units"], page["rebuilds"]) == (RENAMED, [UNIT_ID], 1)
    assert (page["hours"], page["parts_cost"], page["without_cost"]) == ("1.5", "20.10", 0)
    assert {due["unit"] for due in page["dates"]} == {UNIT_ID}
    assert {due["title"] for due in page["dates"]} == {
        "Bramble 1: check the torque",
        "Bramble 1: measure the plates",
    }
    missing = client.get(f"/api/customers/{OTHER_UNIT}")
    assert (missing.status_code, "no customer" in missing.text) == (404, True)


def test_a_customers_calendar_holds_the_own_units_alone(client: FlaskClient) -> None:
    answer = client.get(f"/api/customers/{ODE}/calendar")
    assert answer.content_type == "text/calendar; charset=utf-8"
    assert answer.text.count("BEGIN:VEVENT") == 2
    # The other unit has the same owner by name alone, and another customer's would have none of it either.
    assert UNIT_ID in answer.text
    assert OTHER_UNIT not in answer.text
    assert client.get(f"/api/customers/{OTHER_UNIT}/calendar").status_code == 404


def test_sheet_calendar_and_tables_name_the_customer(client: FlaskClient, folder: Path) -> None:
    shop = [customer("T. Ode") | {"id": ODE, "seq": 1}, customer(RENAMED, id=ODE) | {"seq": 2}]
    rows = [{**entry, "seq": number} for number, entry in enumerate(units(), 3) if entry["unit"] == UNIT_ID]
    request = {"entries": rows, "shop": shop, "today": "2026-11-29"}
    assert calc("sheet", request)["sheet"]["owner"] == RENAMED
    [*dues] = dates_of({"": shop, UNIT_ID: rows}, date(2026, 11, 29))
    assert all(due.text.endswith(f"({RENAMED})") for due in dues if due.unit)
    # A table and a unit's file say what each entry said, by the name of then.
    table = client.get("/api/table").text
    assert "T. Ode" in table
    assert RENAMED in table


def test_all_that_is_held_is_told_in_words_and_whole_and_where_the_name_still_stands(client: FlaskClient) -> None:
    note = entry("note", body={"text": "Rang tarn  ODE-vale, paid."})
    sent = entry("sheet_sent", body={"day": "2026-05-01", "how": "mail", "customer_id": ODE})
    other = entry("note", OTHER_UNIT, body={"text": "Oil changed."})
    answer: Any = client.post("/api/log", json={"entries": [note, sent, other]}).json
    assert {row["answer"] for row in answer["answers"]} == {"stored"}
    held_data: Any = client.get(f"/api/customers/{ODE}/held").json
    assert held_data["customer"] == RENAMED
    kinds = [row["kind"] for row in held_data["entries"]]
    assert sorted(kinds) == ["customer", "customer", "note", "sheet_sent", "unit", "unit"]
    # The unit that has the name alone, as it was once, and the note; not what is erased with the record.
    assert {(row["name"], row["kind"]) for row in held_data["places"]} == {("Wren 2", "unit"), ("Bramble 1", "note")}
    [place] = [row for row in held_data["places"] if row["kind"] == "note"]
    assert place["texts"] == ["Rang tarn  ODE-vale, paid."]
    assert place["cuts"] == [{"entry": note["id"], "field": "body.text", "start": 5, "length": 14, "of": 26}]
    words = "\n".join(held_data["in_words"])
    assert "note, Bramble 1" in words
    assert "body" not in words
    assert f"name: {RENAMED}" in words

    # Erased, the name is gone from list, table and file, and nobody finds it any more.
    body = {"ids": [ODE], "cuts": [piece for row in held_data["places"] for piece in row["cuts"]]}
    answer = client.post("/api/log", json={"entries": [entry("erasure", "", body=body)]}).json
    assert answer["answers"][0]["answer"] == "stored"
    listed: Any = client.get("/api/units").json
    assert {unit["owner"] for unit in listed["units"]} == {"[erased]"}
    assert "ode" not in client.get("/api/table").text.lower()
    again: Any = client.get(f"/api/customers/{ODE}/held").json
    assert (again["customer"], again["places"]) == ("[erased]", [])
    changed: Any = client.get(f"/api/log/erased/{answer['answers'][0]['id']}").json
    assert len(changed["entries"]) == 5
    assert all(row["receipt"] for row in changed["entries"])
