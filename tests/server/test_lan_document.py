"""The whole OpenAPI document, with requests made up from it by everybody who may come in over the network."""

from collections import Counter
from typing import Any

import pytest
import schemathesis
from flask import Flask
from hypothesis import HealthCheck, given, settings
from schemathesis.core.result import Ok

from server.lan import BENCH, TRACKSIDE, Door

from .lan_made import PHONE, paired
from .made import entry
from .test_document import CHECKS, PLAIN
from .test_lan_roles import OPEN


class AtPhone:
    """The application as it is asked from a phone's address: from this machine's own everybody is the bench."""

    def __init__(self, app: Flask) -> None:
        self.app = app

    def __call__(self, environ: dict[str, Any], start: Any) -> Any:
        return self.app({**environ, "REMOTE_ADDR": PHONE}, start)


def try_all(app: Flask, token: str | None, rounds: int) -> Counter[tuple[str, str, int]]:
    """How often each operation gave each answer; none of them a failure, and each as the document says."""
    reader = {**PLAIN, "Authorization": f"Bearer {paired(app, BENCH, 'Reader').token}"}
    asked = {**PLAIN, **({"Authorization": f"Bearer {token}"} if token else {})}
    document = schemathesis.openapi.from_wsgi("/api/openapi.json", AtPhone(app), headers=reader)
    tried: Counter[tuple[str, str, int]] = Counter()
    for found in document.get_all_operations():
        assert isinstance(found, Ok)

        @settings(max_examples=2 * rounds, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
        @given(case=found.ok().as_strategy())
        def ask(case: schemathesis.Case[Any]) -> None:
            answer = case.call_and_validate(checks=CHECKS, headers=asked)
            tried[(case.method, case.path, answer.status_code)] += 1

        ask()
    return tried


def statuses(tried: Counter[tuple[str, str, int]], *but: tuple[str, str]) -> set[int]:
    return {status for method, path, status in tried if (method, path) not in but}


def test_no_request_with_a_bench_token_makes_the_server_fail(lan: tuple[Flask, Door], rounds: int) -> None:
    app, _ = lan
    tried = try_all(app, paired(app, BENCH).token, rounds)
    assert {200, 404, 422} <= statuses(tried)
    assert len({(method, path) for method, path, _ in tried}) > 20
    assert 403 not in statuses(tried)


def test_no_request_with_a_trackside_token_makes_the_server_fail(lan: tuple[Flask, Door], rounds: int) -> None:
    app, door = lan
    phone = paired(app, TRACKSIDE)
    known = door.devices.all()
    tried = try_all(app, phone.token, rounds)
    assert {200, 403, 404, 422} <= statuses(tried)
    assert statuses(Counter({one: 1 for one in tried if "/devices" in one[1] or one[1] == "/api/pairing"})) == {403}
    assert [one for one in door.devices.all() if one.name != "Reader"] == known
    assert phone.ask("POST", "/api/log", json={"entries": [entry("note")]}).status_code == 200


@pytest.mark.parametrize("token", [None, "x" * 43])
def test_no_request_without_a_good_token_makes_the_server_fail(
    lan: tuple[Flask, Door], rounds: int, token: str | None
) -> None:
    app, door = lan
    tried = try_all(app, token, rounds)
    assert statuses(tried, *OPEN) == {401}
    assert [one.name for one in door.devices.all()] == ["Reader"]
    assert app.extensions["slipbook_log"].last == 0
