"""Options of the whole test run, and the fixture that is made once for all of it."""

import gc
import itertools
import os
from collections.abc import Generator, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from filelock import FileLock
from hypothesis import settings
from xdist.remote import Producer

from . import STORE
from .installed import Installed, install
from .postgres import Postgres, new_server
from .sharing_out import LongestFirst, seconds, share_of

if TYPE_CHECKING:
    from .server.database_made import Prepared

# No test depends on how busy the machine is.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--rounds", type=int, default=5, help="how often each fault is tried")
    parser.addoption("--slowed", type=float, default=1, help="how many times slower the pages of Chromium are")


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Producer) -> LongestFirst | None:
    """Share the tests out as `sharing_out` says, unless somebody asks for another way."""
    if config.option.dist != "loadfile":
        return None
    # By default the shares with the most tests come first, however short these are.
    config.option.loadscopereorder = False
    return LongestFirst(config, log)


# It is no module of ours to test, and what it does when imported takes seconds.
collect_ignore = ["warmed.py"]


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, object, object]:
    """Spare the collector of garbage half a million objects that live as long as the process: modules and tests."""
    gc.disable()
    try:
        return (yield)
    finally:
        gc.freeze()
        gc.enable()


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Begin with what takes longest, where several processes share the tests; leave out what has no folder."""
    if os.environ.get(STORE) == "postgres":
        for item in items:
            if mark := item.get_closest_marker("about_files"):
                item.add_marker(pytest.mark.skip(reason=f"about files: {mark.args[0]}"))
    if hasattr(config, "workerinput"):
        items.sort(key=lambda item: -seconds(share_of(item.nodeid)))


@pytest.fixture
def rounds(request: pytest.FixtureRequest) -> int:
    return int(request.config.getoption("--rounds"))


@pytest.fixture(scope="session")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Installed:
    """Slipbook as its users have it, installed once for all processes that run the tests."""
    folder = tmp_path_factory.getbasetemp()
    shared = (folder.parent if "PYTEST_XDIST_WORKER" in os.environ else folder) / "installed"
    with FileLock(f"{shared}.lock"):
        paths = shared / "paths.txt"
        if not paths.is_file():
            shared.mkdir()
            paths.write_text("\n".join(map(str, install(shared))))
        wheel, command, package = map(Path, paths.read_text().splitlines())
        return Installed(wheel, command, package)


@pytest.fixture(scope="session")
def postgres() -> Iterator[Postgres]:
    """A PostgreSQL server that runs as long as the tests of this process."""
    with new_server() as server:
        yield server


DATABASES = itertools.count(1)


@pytest.fixture
def pg(postgres: Postgres) -> Iterator[str]:
    """The address of an empty database."""
    name = f"test_{next(DATABASES)}"
    yield postgres.make_database(name)
    postgres.drop_database(name)


@pytest.fixture
def prepared(pg: str) -> Iterator["Prepared"]:
    """A database of its own, prepared and without a workshop."""
    # Most tests want no database, and need not read what makes one.
    from .server.database_made import Prepared

    prepared = Prepared(pg)
    yield prepared
    prepared.close()
