"""The interface as the phone and other programs meet it."""

import gzip
import json
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from server.app import close_app, create_app
from server.engine import CALCULATIONS, ENGINE_VERSION, calc
from tests.engine.checks import BREAKAWAY, PLATES, UNIT, changed

from .sample_logs import OTHER_UNIT, UNIT_ID, entry, new_id


def send(client: FlaskClient, *entries: Any) -> list[dict[str, Any]]:
    answer = client.post("/api/log", json={"entries": list(entries)})
    assert answer.status_code == 200, answer.text
    assert answer.json is not None
    answers: list[dict[str, Any]] = answer.json["answers"]
    return answers


@pytest.mark.parametrize(
    ("name", "request_body"), [("breakaway", BREAKAWAY), ("plates", PLATES), ("unit", UNIT), ("units", {})]
)
def test_a_calculation_is_the_engines_own(client: FlaskClient, name: str, request_body: dict[str, Any]) -> None:
    answer = client.post(f"/api/calc/{name}", json=request_body)
    assert answer.status_code == 200
    assert answer.json == json.loads(json.dumps(calc(name, request_body)))


def test_the_document_is_written_once_however_many_ask_at_once(client: FlaskClient) -> None:
    readers = [client.application.test_client() for _ in range(4)]
    with ThreadPoolExecutor(4) as pool:
        first, *others = pool.map(lambda reader: reader.get("/api/openapi.json").data, readers)
    assert others == [first] * 3
    assert {"/api/health", "/api/log", "/api/units"} <= json.loads(first)["paths"].keys()


def test_every_calculation_from_a_form_has_its_address(client: FlaskClient) -> None:
    document = client.get("/api/openapi.json").json
    assert document is not None
    offered = {path.removeprefix("/api/calc/") for path in document["paths"] if path.startswith("/api/calc/")}
    assert offered - {"{name}"} == set(CALCULATIONS) - {
        "built_to",
        "came_out",
        "change",
        "experience",
        "from_log",
        "judged_again",
        "kit_standing",
        "marked_parts",
        "outlook",
        "owners",
        "sheet",
        "shelf_now",
        "standing",
        "strip_found",
    }


def test_the_document_tells_meaning_unit_and_range_of_a_field(client: FlaskClient) -> None:
    document = client.get("/api/openapi.json").json
    assert document is not None
    wrench = document["components"]["schemas"]["BreakawayRequestWrench"]
    assert wrench["additionalProperties"] is False
    assert "N·m" in wrench["properties"]["high_nm"]["description"]
    assert wrench["properties"]["high_nm"]["anyOf"][0]["type"] == "number"


def test_an_entry_is_judged_again_and_a_verdict_that_agrees_travels_once(client: FlaskClient) -> None:
    check = entry("torque_check")
    (answer,) = send(client, check)
    assert answer["answer"] == "stored"
    assert answer["agrees"] is True
    assert "judged" not in answer
    page = client.get("/api/log").json
    assert page is not None
    (read_entry,) = page["entries"]
    assert {name: read_entry[name] for name in check} == check
    assert read_entry["agrees"] is True
    assert "judged" not in read_entry
    assert (page["next"], page["more"]) == (1, False)


def test_a_verdict_that_the_server_does_not_share_is_kept_and_pointed_out(client: FlaskClient) -> None:
    check = entry("torque_check")
    check["shown"] = {**check["shown"], "verdict": "rework"}
    (answer,) = send(client, check)
    assert answer["answer"] == "stored"
    assert answer["agrees"] is False
    assert answer["judged"]["verdict"] == "go"
    unit = client.get(f"/api/units/{UNIT_ID}").json
    assert unit is not None
    assert unit["entries"][0]["shown"]["verdict"] == "rework"
    assert unit["entries"][0]["judged"]["verdict"] == "go"
    assert unit["standing"]["disagrees"] == [check["id"]]


def test_a_figure_that_differs_in_the_last_bits_agrees(client: FlaskClient) -> None:
    check = entry("torque_check")
    check["shown"] = {**check["shown"], "value_nm": check["shown"]["value_nm"] * (1 + 1e-12)}
    assert send(client, check)[0]["agrees"] is True
    check = entry("torque_check")
    check["shown"] = {**check["shown"], "value_nm": check["shown"]["value_nm"] * (1 + 1e-7)}
    assert send(client, check)[0]["agrees"] is False


def test_sending_again_after_a_lost_answer_is_harmless(client: FlaskClient) -> None:
    batch = [entry("unit"), entry("torque_check"), entry("kit"), entry("note")]
    first = send(client, *batch)
    again = send(client, *batch)
    assert [answer["answer"] for answer in first] == ["stored"] * 4
    assert [answer["answer"] for answer in again] == ["already_there"] * 4
    assert [entry["seq"] for entry in again] == [entry["seq"] for entry in first]


def test_one_bad_entry_keeps_none_of_the_others_back(client: FlaskClient) -> None:
    good_entries = [entry("note"), entry("note")]
    bad = entry("torque_check", body=changed(BREAKAWAY, steady_nm__forward=["seventy", "71"]), shown={"verdict": "go"})
    answers = send(client, good_entries[0], bad, {}, 7, good_entries[1])
    assert [answer["answer"] for answer in answers] == ["stored", "refused", "refused", "refused", "stored"]
    assert answers[1]["errors"] == [
        {"field": "body.steady_nm.forward.0", "reason": "Type a number, for example 72.5; got 'seventy'."}
    ]


def test_an_entry_that_trips_the_engine_is_refused_alone(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    def trip(_: str, body: dict[str, Any], __: str) -> dict[str, Any]:
        if body.get("text") == "trip":
            raise ZeroDivisionError
        return {"verdict": None}

    monkeypatch.setattr("server.log.judging.calc_stored", trip)
    answers = send(client, entry("note"), entry("note", body={"text": "trip"}, shown={"verdict": None}), entry("note"))
    assert [answer["answer"] for answer in answers] == ["stored", "refused", "stored"]
    assert "keep it" in answers[1]["errors"][0]["reason"]


def test_the_log_is_read_page_by_page(client: FlaskClient) -> None:
    sent = [entry("note") for _ in range(25)]
    send(client, *sent)
    entries: list[dict[str, Any]] = []
    after, has_more = 0, True
    while has_more:
        page = client.get(f"/api/log?after={after}&most=10").json
        assert page is not None
        entries += page["entries"]
        after, has_more = page["next"], page["more"]
    assert [entry["id"] for entry in entries] == [entry["id"] for entry in sent]
    end = client.get("/api/log?after=25").json
    health = client.get("/api/health").json
    assert health is not None
    about = {"next": 25, "more": False, "log_id": health["log_id"], "before": sent[-1]["id"]}
    assert end == {"entries": [], **about}
    # A phone that has read further than the log goes learns that it is not the log that it read.
    assert client.get("/api/log?after=26").json == {**end, "next": 26, "before": ""}


def test_units_are_listed_with_what_stands(client: FlaskClient) -> None:
    send(client, entry("unit"), entry("torque_check"), entry("note", OTHER_UNIT))
    listed = client.get("/api/units").json
    assert listed is not None
    assert [(unit["name"], unit["verdict"]) for unit in listed["units"]] == [("", None), ("Test unit", "go")]
    send(client, entry("torque_check", at="2026-06-01T10:00:00Z", body=changed(BREAKAWAY, limits={"low_nm": 140})))
    listed = client.get("/api/units").json
    assert listed is not None
    assert listed["units"][1]["verdict"] != "go", "a new entry shows at once"


def test_an_unknown_unit_is_told_in_a_sentence(client: FlaskClient) -> None:
    unknown = new_id()
    answer = client.get(f"/api/units/{unknown}")
    assert answer.status_code == 404
    assert answer.json is not None
    assert answer.json["detail"].startswith(f"There is no unit {unknown} in this log.")


def test_health_tells_versions_and_how_far_the_log_is(client: FlaskClient) -> None:
    send(client, entry("note"))
    health = client.get("/api/health").json
    assert health is not None
    assert (health["name"], health["engine"], health["log"], health["problems"]) == ("slipbook", ENGINE_VERSION, 1, [])


@pytest.mark.parametrize(
    ("method", "path", "options", "status"),
    [
        ("get", "/api/nothing", {}, 404),
        ("get", "/nothing.html", {}, 404),
        ("post", "/api/calc/nothing", {"json": {}}, 404),
        ("get", "/api/calc/breakaway", {}, 405),
        ("delete", "/api/log", {}, 405),
        ("post", "/api/log", {"data": b"x" * 2_100_000, "content_type": "application/json"}, 413),
        ("post", "/api/log", {"data": "{}", "content_type": "text/plain"}, 415),
        ("post", "/api/log", {"data": "{", "content_type": "application/json"}, 400),
        ("post", "/api/log", {"data": b"\xff", "content_type": "application/json"}, 400),
        ("post", "/api/log", {"data": '{"entries": ["\\ud800"]}', "content_type": "application/json"}, 400),
        ("post", "/api/log", {"data": "[" * 100_000, "content_type": "application/json"}, 400),
        ("post", "/api/log", {"json": {"entries": [{}] * 101}}, 422),
        ("post", "/api/log", {"json": {"entries": [], "more": 1}}, 422),
        ("get", "/api/log?after=-1", {}, 422),
        ("get", "/api/health", {"headers": {"Host": "elsewhere.example"}}, 400),
    ],
)
def test_every_error_is_problem_details(
    client: FlaskClient, method: str, path: str, options: dict[str, Any], status: int
) -> None:
    answer = getattr(client, method)(path, **options)
    assert answer.status_code == status
    assert answer.content_type == "application/problem+json"
    problem = json.loads(answer.data)
    assert set(problem) == {"type", "title", "status", "detail", "errors"}
    assert problem["status"] == status
    assert problem["detail"].endswith(".")
    if status == 405:
        assert answer.headers["Allow"]
    if status == 422:
        assert problem["errors"]


def test_a_failure_of_the_program_itself_is_a_problem_too(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: Any) -> None:
        raise RuntimeError("boom")

    monkeypatch.setattr(type(client.application.extensions["slipbook_log"]), "after", fail)
    answer = client.get("/api/log")
    assert answer.status_code == 500
    assert answer.content_type == "application/problem+json"
    assert b"boom" not in answer.data


def test_answers_are_compressed(client: FlaskClient) -> None:
    answer = client.post("/api/calc/breakaway", json=BREAKAWAY, headers={"Accept-Encoding": "gzip"})
    assert answer.headers["Content-Encoding"] == "gzip"
    assert json.loads(gzip.decompress(answer.data)) == json.loads(json.dumps(calc("breakaway", BREAKAWAY)))


def test_a_clock_that_is_off_is_noted_and_a_good_one_is_not(client: FlaskClient) -> None:
    for minutes, off in ((0, None), (4, None), (-30, 1800), (45, -2700)):
        sent = (datetime.now(UTC) + timedelta(minutes=minutes)).isoformat(timespec="seconds")
        answer = client.post("/api/log", json={"entries": [entry("note")], "sent": sent}).json
        assert answer is not None
        clock_off_s = answer["answers"][0].get("clock_off_s")
        assert (clock_off_s is None) if off is None else abs(clock_off_s - off) < 5
    bad = client.post("/api/log", json={"entries": [], "sent": "yesterday"})
    assert bad.status_code == 422
    assert bad.json is not None
    assert bad.json["errors"][0]["field"] == "sent"


@pytest.mark.about_files("the folder is taken away")
def test_a_folder_that_is_gone_is_told_and_passes_for_no_empty_log(folder: Path) -> None:
    client = create_app(folder).test_client()
    send(client, entry("unit"), entry("torque_check"))
    away = folder.rename(folder.with_name("away"))
    for path in ("/api/log", f"/api/units/{UNIT_ID}", "/api/units"):
        answer = client.get(path)
        assert answer.status_code == 503, path
        assert "is gone, with all its copies: put it back" in answer.text
    assert client.post("/api/log", json={"entries": [entry("torque_check", id=new_id())]}).status_code == 503
    away.rename(folder)
    assert client.get("/api/log").text.count('"seq"') == 2
    close_app(client.application)
