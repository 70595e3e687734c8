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

from .lan_visitors import PHONE, lan_app, paired_phone
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
    shifting_app: AtPhone


@pytest.fixture(scope="module")
def made_up(tmp_path_factory: pytest.TempPathFactory, request: pytest.FixtureRequest) -> MadeUp:
    """Requests for every operation: making them up takes longer than answering them, and all callers ask the same."""
    shifting_app = AtPhone()
    shifting_app.app, door = lan_app(tmp_path_factory.mktemp("document") / "data")
    reader = {**PLAIN, "Authorization": f"Bearer {paired_phone(shifting_app.app, BENCH, 'Reader').token}"}
    document = schemathesis.openapi.from_wsgi("/api/openapi.json", shifting_app, headers=reader)
    close_app(shifting_app.app)
    door.close()
    cases: list[schemathesis.Case[Any]] = []
    rounds = int(request.config.getoption("--rounds"))
    for operation in document.get_all_operations():
        assert isinstance(operation, Ok)

        @settings(max_examples=2 * rounds, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
        @given(case=operation.ok().as_strategy())
        def keep(case: schemathesis.Case[Any]) -> None:
            cases.append(case)

        keep()
    return MadeUp(cases, shifting_app)


def try_all(made_up: MadeUp, app: Flask, token: str | None) -> Counter[tuple[str, str, int]]:
    """How often each operation gave each answer; none of them a failure, and each as the document says."""
    made_up.shifting_app.app = app
    headers = {**PLAIN, **({"Authorization": f"Bearer {token}"} if token else {})}
    answer_counts: Counter[tuple[str, str, int]] = Counter()
    for case in made_up.cases:
        answer = case.call_and_validate(checks=CHECKS, headers=headers)
        answer_counts[(case.method, case.path, answer.status_code)] += 1
    return answer_counts


def statuses(answer_counts: Counter[tuple[str, str, int]], *except_for: tuple[str, str]) -> set[int]:
    return {status for method, path, status in answer_counts if (method, path) not in except_for}


def test_no_request_with_a_bench_token_makes_the_server_fail(lan: tuple[Flask, Door], made_up: MadeUp) -> None:
    app, _ = lan
    answer_counts = try_all(made_up, app, paired_phone(app, BENCH).token)
    assert {200, 404, 422} <= statuses(answer_counts)
    assert len({(method, path) for method, path, _ in answer_counts}) > 20
    assert 403 not in statuses(answer_counts)


def test_no_request_with_a_trackside_token_makes_the_server_fail(lan: tuple[Flask, Door], made_up: MadeUp) -> None:
    app, door = lan
    phone = paired_phone(app, TRACKSIDE)
    known = door.registers.register_of(None).devices.all()
    answer_counts = try_all(made_up, app, phone.token)
    assert {200, 403, 404, 422} <= statuses(answer_counts)
    assert statuses(
        Counter({route: 1 for route in answer_counts if "/devices" in route[1] or route[1] == "/api/pairing"})
    ) == {403}
    assert door.registers.register_of(None).devices.all() == known
    assert phone.ask("POST", "/api/log", json={"entries": [entry("note")]}).status_code == 200


@pytest.mark.parametrize("token", [None, "x" * 43])
def test_no_request_without_a_good_token_makes_the_server_fail(
    lan: tuple[Flask, Door], made_up: MadeUp, token: str | None
) -> None:
    app, door = lan
    answer_counts = try_all(made_up, app, token)
    assert statuses(answer_counts, *OPEN) == {401}
    assert door.registers.register_of(None).devices.all() == []
    assert app.extensions["slipbook_log"].last == 0
