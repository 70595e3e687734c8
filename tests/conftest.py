"""Options of the whole test run."""

import pytest
from hypothesis import settings

# No test depends on how busy the machine is.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--rounds", type=int, default=5, help="how often each fault is tried")


@pytest.fixture
def rounds(request: pytest.FixtureRequest) -> int:
    return int(request.config.getoption("--rounds"))
