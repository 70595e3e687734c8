"""Requests made up from the interface's own OpenAPI document: whatever comes, no answer is a failure of the server."""

from pathlib import Path
from typing import Any

import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis.checks import not_a_server_error
from schemathesis.core.result import Ok
from schemathesis.specs.openapi.checks import content_type_conformance, response_schema_conformance

from server.app import close_app

from .stores import app_over

# The client here does not unpack what it is sent.
PLAIN = {"Accept-Encoding": "identity"}
CHECKS = [not_a_server_error, content_type_conformance, response_schema_conformance]


def test_no_request_makes_the_server_fail(tmp_path: Path, rounds: int) -> None:
    app = app_over(tmp_path / "data")
    document = schemathesis.openapi.from_wsgi("/api/openapi.json", app)
    operations = [operation.ok() for operation in document.get_all_operations() if isinstance(operation, Ok)]
    statuses = []
    for operation in operations:

        @settings(max_examples=5 * rounds, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
        @given(case=operation.as_strategy())
        def ask(case: schemathesis.Case[Any]) -> None:
            statuses.append(case.call_and_validate(checks=CHECKS, headers=PLAIN).status_code)

        ask()
    close_app(app)
    assert len(operations) > 15
    assert {200, 422} <= set(statuses), "requests that can be answered, and some that cannot"


def test_the_document_is_the_same_for_the_same_program(tmp_path: Path) -> None:
    documents = []
    for name in ("one", "two"):
        app = app_over(tmp_path / name)
        documents.append(app.test_client().get("/api/openapi.json").json)
        close_app(app)
    assert documents[0] == documents[1]
