"""A data folder, an application over it and a client, for every test that asks."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from server.app import close_app
from server.lan import Door

from . import stores
from .lan_visitors import lan_app

HERE = Path(__file__).resolve().parent


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark as run over both stores what asks for the place of a log, unless it is about files."""
    for item in items:
        if item.path.parent == HERE and opens_logs(item) and item.get_closest_marker("about_files") is None:
            item.add_marker("both_stores")


def opens_logs(item: pytest.Item) -> bool:
    """Whether a test is given the place of a log, or a folder in a module that opens logs by `stores`."""
    given = getattr(item, "fixturenames", ())
    module = vars(getattr(item, "module", stores)).values()
    by_stores = any(getattr(value, "__module__", "") == stores.__name__ for value in module)
    return "folder" in given or ("tmp_path" in given and by_stores)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "data"


@pytest.fixture
def app(folder: Path) -> Iterator[Flask]:
    app = stores.app_over(folder)
    yield app
    close_app(app)


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


@pytest.fixture
def lan(folder: Path) -> Iterator[tuple[Flask, Door]]:
    """An application as the network sees it, and its door."""
    app, door = lan_app(folder)
    yield app, door
    close_app(app)
    door.close()
