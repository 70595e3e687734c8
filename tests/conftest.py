"""Options of the whole test run."""

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--rounds", type=int, default=5, help="how often each fault is tried")


@pytest.fixture
def rounds(request: pytest.FixtureRequest) -> int:
    return int(request.config.getoption("--rounds"))
