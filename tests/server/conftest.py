"""A data folder, an application over it and a client, for every test that asks."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from server.app import close_app
from server.lan import Door

from .lan_visitors import lan_app
from .stores import app_over


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "data"


@pytest.fixture
def app(folder: Path) -> Iterator[Flask]:
    app = app_over(folder)
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
