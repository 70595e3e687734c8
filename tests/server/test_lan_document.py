"""The whole OpenAPI document, with requests made up from it by everybody who may come in over the network."""

from collections import Counter
from dataclasses import dataclass
from typing import Any

import pytest
import schemathesis
from flask import Flask
from hypothesis import HealthCheck, given, settings
from schemathesis.core.result import Ok

from server.app import close_app
from server.lan import BENCH, TRACKSIDE, Door

from .lan_visitors import PHONE, lan_app, paired
from .sample_logs import entry
from .test_document import CHECKS, PLAIN
from .test_lan_roles import OPEN


class AtPhone:
    """An application as it is asked from a phone's address: from this machine's own everybody is the bench."""

    app: Flask

    def __call__(self, environ: dict[str, Any], start: Any) -> Any:
        return self.app({**environ, "REMOTE_ADDR": PHONE}, start)


@dataclass
class MadeUp:
    """Requests made up from the document, and the application that answers them."""

    cases: list[schemathesis.Case[Any]]
    asked: AtPhone


@pytest.fixture(scope="module")
def made_up(tmp_path_factory: pytest.TempPathFactory, request: pytest.FixtureRequest) -> MadeUp:
    """Requests for every operation: making them up takes longer than answering them, and all callers ask the same."""
    asked = AtPhone()
    asked.app, door = lan_app(tmp_path_factory.mktemp("document") / "data")
    reader = {**PLAIN, "Authorization": f"Bearer {paired(asked.app, BENCH, 'Reader').token}"}
    document = schemathesis.openapi.from_wsgi("/api/openapi.json", asked, headers=reader)
    close_app(asked.app)
    door.close()
    cases: list[schemathesis.Case[Any]] = []
    rounds = int(request.config.getoption("--rounds"))
    for found in document.get_all_operations():
        assert isinstance(found, Ok)

        @settings(max_examples=2 * rounds, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
        @given(case=found.ok().as_strategy())
        def keep(case: schemathesis.Case[Any]) -> None:
            cases.append(case)

        keep()
    return MadeUp(cases, asked)


def try_all(made_up: MadeUp, app: Flask, token: str | None) -> Counter[tuple[str, str, int]]:
    """How often each operation gave each answer; none of them a failure, and each as the document says."""
    made_up.asked.app = app
    headers = {**PLAIN, **({"Authorization": f"Bearer {token}"} if token else {})}
    tried: Counter[tuple[str, str, int]] = Counter()
    for case in made_up.cases:
        answer = case.call_and_validate(checks=CHECKS, headers=headers)
        tried[(case.method, case.path, answer.status_code)] += 1
    return tried


def statuses(tried: Counter[tuple[str, str, int]], *but: tuple[str, str]) -> set[int]:
    return {status for method, path, status in tried if (method, path) not in but}


def test_no_request_with_a_bench_token_makes_the_server_fail(lan: tuple[Flask, Door], made_up: MadeUp) -> None:
    app, _ = lan
    tried = try_all(made_up, app, paired(app, BENCH).token)
    assert {200, 404, 422} <= statuses(tried)
    assert len({(method, path) for method, path, _ in tried}) > 20
    assert 403 not in statuses(tried)


def test_no_request_with_a_trackside_token_makes_the_server_fail(lan: tuple[Flask, Door], made_up: MadeUp) -> None:
    app, door = lan
    phone = paired(app, TRACKSIDE)
    known = door.registers.of(None).devices.all()
    tried = try_all(made_up, app, phone.token)
    assert {200, 403, 404, 422} <= statuses(tried)
    assert statuses(Counter({one: 1 for one in tried if "/devices" in one[1] or one[1] == "/api/pairing"})) == {403}
    assert door.registers.of(None).devices.all() == known
    assert phone.ask("POST", "/api/log", json={"entries": [entry("note")]}).status_code == 200


@pytest.mark.parametrize("token", [None, "x" * 43])
def test_no_request_without_a_good_token_makes_the_server_fail(
    lan: tuple[Flask, Door], made_up: MadeUp, token: str | None
) -> None:
    app, door = lan
    tried = try_all(made_up, app, token)
    assert statuses(tried, *OPEN) == {401}
    assert door.registers.of(None).devices.all() == []
    assert app.extensions["slipbook_log"].last == 0
