"""Requests made up from the interface's own OpenAPI document: whatever comes, no answer is a failure of the server.

Whoever may come in over the network asks them too.
"""

from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import Any, NamedTuple

import pytest
import schemathesis
from flask import Flask
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import content_type_conformance, response_schema_conformance

from server.app import close_app
from server.lan import BENCH, TRACKSIDE, Door

from .lan_visitors import PHONE, lan_app, paired_phone
from .made_up import Case, Kept, cases, made_up, spread
from .sample_logs import entry
from .stores import app_over
from .test_lan_roles import OPEN

ADDRESS = "/api/openapi.json"
# The client here does not unpack what it is sent.
PLAIN = {"Accept-Encoding": "identity"}
CHECKS = [not_a_server_error, content_type_conformance, response_schema_conformance]
ABOUT_DEVICES = ("/api/pair", "/api/devices")

# Method, path and status.
Answers = Counter[tuple[str, str, int]]


class AtPhone:
    """An application as it is asked from a phone's address: from this machine's own everybody is the bench."""

    app: Flask

    def __call__(self, environ: dict[str, Any], start: Any) -> Any:
        return self.app({**environ, "REMOTE_ADDR": PHONE}, start)


class Requests(NamedTuple):
    """The same requests as they are kept, and for each operation of the application that is asked from a phone."""

    kept: Kept
    by_operation: dict[str, list[Case]]
    shifting_app: AtPhone


@pytest.fixture(scope="module")
def requests(tmp_path_factory: pytest.TempPathFactory, request: pytest.FixtureRequest) -> Requests:
    """Requests for everything that is answered at all: an application with a door answers the most."""
    shifting_app = AtPhone()
    shifting_app.app, door = lan_app(tmp_path_factory.mktemp("document") / "data")
    reader = {**PLAIN, "Authorization": f"Bearer {paired_phone(shifting_app.app, BENCH, 'Reader').token}"}
    document = schemathesis.openapi.from_wsgi(ADDRESS, shifting_app, headers=reader)
    close_app(shifting_app.app)
    door.close()
    kept = made_up(document, 5 * int(request.config.getoption("--rounds")))
    return Requests(kept, cases(document, kept), shifting_app)


def ask_all(asked: Iterable[Case], token: str | None = None) -> Answers:
    """How often each operation gave each answer; none of them a failure, and each as the document says."""
    headers = {**PLAIN, **({"Authorization": f"Bearer {token}"} if token else {})}
    answers: Answers = Counter()
    for case in asked:
        answer = case.call_and_validate(checks=CHECKS, headers=headers)
        answers[(case.method, case.path, answer.status_code)] += 1
    return answers


def ask_some(requests: Requests, app: Flask, rounds: int, token: str | None) -> Answers:
    """What somebody at a phone is answered: four of them ask the same, so each asks fewer of every operation."""
    requests.shifting_app.app = app
    return ask_all(
        (case for all_cases in requests.by_operation.values() for case in spread(all_cases, 2 * rounds)), token
    )


def statuses(answers: Answers, *except_for: tuple[str, str]) -> set[int]:
    return {status for method, path, status in answers if (method, path) not in except_for}


def test_no_request_makes_the_server_fail(tmp_path: Path, requests: Requests) -> None:
    app = app_over(tmp_path / "data")
    by_operation = cases(schemathesis.openapi.from_wsgi(ADDRESS, app), requests.kept)
    answers = ask_all(case for all_cases in by_operation.values() for case in all_cases)
    close_app(app)
    assert len(by_operation) > 15
    assert all(by_operation.values()), "each operation is asked"
    assert {200, 422} <= statuses(answers), "requests that can be answered, and some that cannot"


def test_the_document_is_the_same_for_the_same_program(tmp_path: Path) -> None:
    documents = []
    for name in ("one", "two"):
        app = app_over(tmp_path / name)
        documents.append(app.test_client().get(ADDRESS).json)
        close_app(app)
    assert documents[0] == documents[1]


def test_no_request_with_a_bench_token_makes_the_server_fail(
    lan: tuple[Flask, Door], requests: Requests, rounds: int
) -> None:
    app, _ = lan
    answers = ask_some(requests, app, rounds, paired_phone(app, BENCH).token)
    assert {200, 404, 422} <= statuses(answers)
    assert len({(method, path) for method, path, _ in answers}) > 20
    assert 403 not in statuses(answers)


def test_no_request_about_devices_makes_the_server_fail(lan: tuple[Flask, Door], requests: Requests) -> None:
    requests.shifting_app.app, _ = lan
    token = paired_phone(requests.shifting_app.app, BENCH).token
    of_devices = [
        all_cases for all_cases in requests.by_operation.values() if all_cases[0].path.startswith(ABOUT_DEVICES)
    ]
    answers = ask_all((case for all_cases in of_devices for case in all_cases), token)
    assert len(of_devices) == 5
    assert {200, 404, 422} <= statuses(answers)


def test_no_request_with_a_trackside_token_makes_the_server_fail(
    lan: tuple[Flask, Door], requests: Requests, rounds: int
) -> None:
    app, door = lan
    phone = paired_phone(app, TRACKSIDE)
    known = door.registers.register_of(None).devices.all()
    answers = ask_some(requests, app, rounds, phone.token)
    assert {200, 403, 404, 422} <= statuses(answers)
    assert statuses(
        Counter({route: 1 for route in answers if "/devices" in route[1] or route[1] == "/api/pairing"})
    ) == {403}
    assert door.registers.register_of(None).devices.all() == known
    assert phone.ask("POST", "/api/log", json={"entries": [entry("note")]}).status_code == 200


@pytest.mark.parametrize("token", [None, "x" * 43])
def test_no_request_without_a_good_token_makes_the_server_fail(
    lan: tuple[Flask, Door], requests: Requests, rounds: int, token: str | None
) -> None:
    app, door = lan
    answers = ask_some(requests, app, rounds, token)
    assert statuses(answers, *OPEN) == {401}
    assert door.registers.register_of(None).devices.all() == []
    assert app.extensions["slipbook_log"].last == 0
