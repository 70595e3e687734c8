"""Requests made up from the interface's own OpenAPI document: whatever comes, no answer is a failure of the server."""

from pathlib import Path

import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import content_type_conformance, response_schema_conformance

from server.app import close_app, create_app


@pytest.fixture(scope="module")
def schema(tmp_path_factory: pytest.TempPathFactory) -> object:
    app = create_app(tmp_path_factory.mktemp("document") / "data")
    yield schemathesis.openapi.from_wsgi("/api/openapi.json", app)
    close_app(app)


document = schemathesis.pytest.from_fixture("schema")


@document.parametrize()
@settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
def test_no_request_makes_the_server_fail(case: schemathesis.Case) -> None:
    case.call_and_validate(checks=[not_a_server_error, content_type_conformance, response_schema_conformance])


def test_the_document_is_the_same_for_the_same_program(tmp_path: Path) -> None:
    documents = []
    for name in ("one", "two"):
        app = create_app(tmp_path / name)
        documents.append(app.test_client().get("/api/openapi.json").json)
        close_app(app)
    assert documents[0] == documents[1]
