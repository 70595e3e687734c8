"""Bad input gets one clear sentence at the field that caused it, and changes nothing."""

from typing import Any

import pytest
from flask.testing import FlaskClient

from server.engine import BadInput, calc
from server.engine.request.fields import NOT_ASKED
from tests.engine.checks import BREAKAWAY, PLATES, UNIT, changed

from .sample_logs import UNIT_ID, entry, new_id

NUMBER = "Type a number, for example 72.5"


def faults(client: FlaskClient, name: str, body: Any) -> dict[str, str]:
    answer = client.post(f"/api/calc/{name}", json=body)
    assert answer.status_code == 422, answer.text
    assert answer.content_type == "application/problem+json"
    assert answer.json is not None
    return {error["field"]: error["reason"] for error in answer.json["errors"]}


@pytest.mark.parametrize(
    ("change", "field", "sentence"),
    [
        ({"held": None}, "held", "Fill this in."),
        ({"held": ""}, "held", "Fill this in."),
        ({"held": "upside_down"}, "held", "Choose one of these: on the bench, case held in the vice"),
        ({"steady_nm__forward__1": "seventy"}, "steady_nm.forward.1", f"{NUMBER}; got 'seventy'."),
        ({"steady_nm__forward__1": "1.234,5"}, "steady_nm.forward.1", "Use one decimal sign only"),
        ({"steady_nm__forward__1": -5}, "steady_nm.forward.1", "This must be at least 0 N·m; got -5 N·m."),
        ({"steady_nm__forward__1": 0}, "steady_nm.forward.1", "A reading must be above 0"),
        ({"steady_nm__forward__1": 1e9}, "steady_nm.forward.1", "This must be at most 5000 N·m"),
        ({"steady_nm__forward__1": 1e99}, "steady_nm.forward.1", f"{NUMBER}; this one is far too large."),
        ({"steady_nm__forward__1": True}, "steady_nm.forward.1", NUMBER),
        ({"steady_nm__forward__1": [1]}, "steady_nm.forward.1", NUMBER),
        (
            {"steady_nm__forward__1": {"typed": "70", "unit": "mm"}},
            "steady_nm.forward.1",
            "That is not a unit for this. Use one of these: N·m, lbf·ft",
        ),
        ({"steady_nm__forward__1": {"typed": "70", "in": "nm"}}, "steady_nm.forward.1.in", "A typed quantity holds"),
        ({"steady_nm__forward__1": 160}, "steady_nm.forward.1", "The tool ends at 150 N·m; got 160 N·m."),
        ({"steady_nm__forward": [70]}, "steady_nm.forward", "Give at least 2 readings here; there is 1."),
        ({"steady_nm__forward": 70}, "steady_nm.forward", "Give a list here."),
        ({"steady_nm": "70"}, "steady_nm", "Give named fields here."),
        ({"limits": {}}, "limits.low_nm", "Give at least one limit"),
        ({"limits__low_nm": 140}, "limits.high_nm", "The highest torque allowed must be above the lowest"),
        ({"day": "25.11.2026"}, "day", "Write the day as year-month-day"),
        ({"day": "2026-02-30"}, "day", "Write the day as year-month-day"),
        ({"colour": "red"}, "colour", NOT_ASKED),
        ({"wrench__colour": "red"}, "wrench.colour", NOT_ASKED),
        ({"wrench": None}, "wrench", "Choose one tool"),
    ],
)
def test_a_bad_torque_check_is_told_at_its_field(
    client: FlaskClient, change: dict[str, Any], field: str, sentence: str
) -> None:
    refusals = faults(client, "breakaway", changed(BREAKAWAY, **change))
    assert refusals[field].startswith(sentence)
    assert refusals[field].endswith(".")


def test_a_decimal_comma_is_a_number_like_any_other(client: FlaskClient) -> None:
    comma = client.post("/api/calc/breakaway", json=changed(BREAKAWAY, steady_nm__forward=["72,5", "73,0"])).json
    point = client.post("/api/calc/breakaway", json=changed(BREAKAWAY, steady_nm__forward=[72.5, 73.0])).json
    assert comma == point


def test_every_bad_field_is_told_at_once(client: FlaskClient) -> None:
    refusals = faults(client, "breakaway", {"held": "x", "limits": {"low_nm": "much"}, "day": "today", "spare": 1})
    assert set(refusals) == {"held", "limits.low_nm", "day", "spare"}


def test_a_plate_limit_above_the_new_thickness_is_told_at_the_limit(client: FlaskClient) -> None:
    refusals = faults(client, "plates", changed(PLATES, plates__0__minimum_mm=2.6))
    assert "below" in refusals["plates.0.minimum_mm"]
    refusals = faults(client, "unit", changed(UNIT, chain__1__minimum_mm=9))
    assert "below" in refusals["chain.1.minimum_mm"]


@pytest.mark.parametrize("body", [[], "text", 5, True])
def test_a_request_without_named_fields_is_told_so(client: FlaskClient, body: Any) -> None:
    assert faults(client, "breakaway", body) == {"": "Give named fields here."}


@pytest.mark.parametrize("text", ['{"hub_ratio": NaN}', '{"hub_ratio": Infinity}', '{"hub_ratio": -Infinity}'])
def test_nan_and_infinities_are_no_json(client: FlaskClient, text: str) -> None:
    answer = client.post("/api/calc/breakaway", data=text, content_type="application/json")
    assert answer.status_code == 400
    assert answer.json is not None
    assert "is not a number" in answer.json["detail"]


def test_a_number_beyond_all_floats_is_refused(client: FlaskClient) -> None:
    answer = client.post("/api/calc/breakaway", data='{"hub_ratio": 1e999}', content_type="application/json")
    assert answer.status_code == 400
    assert answer.json is not None
    assert "too large" in answer.json["detail"]


def test_the_sentence_is_the_engines_own(client: FlaskClient) -> None:
    bad = changed(BREAKAWAY, steady_nm__forward__1="x")
    with pytest.raises(BadInput) as refusal:
        calc("breakaway", bad)
    assert faults(client, "breakaway", bad) == {refusal.value.field: refusal.value.reason}


GOOD_CHECK = entry("torque_check")


@pytest.mark.parametrize(
    ("change", "field", "sentence"),
    [
        ({"id": "5"}, "id", "Give a UUID in lower case here"),
        ({"id": GOOD_CHECK["device"]}, "id", "Give a UUID of version 7 here"),
        ({"id": GOOD_CHECK["id"].upper()}, "id", "Give a UUID in lower case here"),
        ({"id": None}, "id", "Fill this in."),
        ({"at": "2026-05-09T10:30:00"}, "at", "Give the time with its offset"),
        ({"at": "2026-05-09"}, "at", "Give the time with its offset"),
        ({"at": "2026-02-30T10:30:00Z"}, "at", "Give the time with its offset"),
        ({"at": "0001-01-01T00:00:00+14:00"}, "at", "Give the time with its offset"),
        ({"at": 1778315400}, "at", "Give the time with its offset"),
        ({"who": ""}, "who", "Fill this in."),
        ({"who": "x" * 61}, "who", "Shorten this to 60 characters"),
        ({"who": "Mara\n"}, "who", "Character 5 cannot be shown in this text: delete it."),
        ({"who": "\x1b[2J"}, "who", "Character 1 cannot be shown in this text: delete it."),
        ({"device": "phone"}, "device", "Give a UUID in lower case here"),
        ({"unit": "../../etc/passwd"}, "unit", "Give a UUID in lower case here"),
        ({"unit": ""}, "unit", "Say which unit this is about."),
        ({"kind": "rumour"}, "kind", "This entry comes from a newer Slipbook"),
        ({"version": 2}, "version", "This entry comes from a newer Slipbook"),
        ({"version": "1"}, "version", "Give the version"),
        ({"engine": 1}, "engine", "Type text here."),
        ({"replaces": GOOD_CHECK["id"]}, "replaces", "An entry cannot correct itself"),
        ({"seq": 5}, "seq", NOT_ASKED),
        ({"body": []}, "body", "Give named fields here."),
        ({"body__colour": "red"}, "body.colour", NOT_ASKED),
        ({"body__steady_nm__forward__0": 400}, "body.steady_nm.forward.0", "The tool ends at"),
        ({"shown": "go"}, "shown", "Give named fields here."),
        ({"shown__verdict": "fine"}, "shown.verdict", "Choose one of these: "),
        ({"shown__value_nm": 1e20}, "shown.value_nm", f"{NUMBER}; this one is far too large."),
        ({"shown__value_nm": "100"}, "shown.value_nm", NUMBER),
        ({"shown__findings": [{"text": 5}]}, "shown.findings.0.name", "Fill this in."),
    ],
)
def test_a_bad_entry_is_refused_at_its_field_and_not_stored(
    client: FlaskClient, change: dict[str, Any], field: str, sentence: str
) -> None:
    answer = client.post("/api/log", json={"entries": [changed(GOOD_CHECK, **change)]}).json
    assert answer is not None
    (refusal,) = answer["answers"]
    assert refusal["answer"] == "refused"
    assert {error["field"]: error["reason"] for error in refusal["errors"]}[field].startswith(sentence)
    log = client.get("/api/log").json
    assert log is not None
    assert log["entries"] == []


def test_the_kit_belongs_to_no_unit(client: FlaskClient) -> None:
    answer = client.post("/api/log", json={"entries": [{**entry("kit"), "unit": UNIT_ID}]}).json
    assert answer is not None
    [error] = answer["answers"][0]["errors"]
    assert error == {"field": "unit", "reason": "Tools of the kit belong to the shop: leave the unit empty."}


def test_the_same_id_with_other_content_is_refused_and_the_first_stays(client: FlaskClient) -> None:
    first = entry("note")
    second = {**first, "body": {"text": "Something else."}}
    client.post("/api/log", json={"entries": [first]})
    answer = client.post("/api/log", json={"entries": [second]}).json
    assert answer is not None
    assert answer["answers"][0]["answer"] == "refused"
    assert answer["answers"][0]["errors"][0]["field"] == "id"
    log = client.get("/api/log").json
    assert log is not None
    assert [entry["body"] for entry in log["entries"]] == [first["body"]]


def test_deep_nesting_in_an_entry_is_refused(client: FlaskClient) -> None:
    deep: Any = 1
    for _ in range(40):
        deep = {"in": deep}
    answer = client.post("/api/log", json={"entries": [{**entry("note"), "id": new_id(), "shown": deep}]}).json
    assert answer is not None
    assert answer["answers"][0]["errors"][0]["reason"].startswith("This is nested too deeply")
