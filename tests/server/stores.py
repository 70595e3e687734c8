"""The stores over which the same tests run: a folder of files, and a database with many workshops.

Tests that are not about files open their logs by `open_log`, and name them to commands by `place_of`. Both mean a data
folder, unless SLIPBOOK_TEST_STORE=postgres: then each folder's path is the name of a workshop in a database.
"""

import atexit
import functools
import json
import os
from pathlib import Path
from typing import Any

from flask import Flask
from tinydb import TinyDB

from server.app import create_app
from server.cli import main
from server.log import Log
from server.log.files import FolderLog
from tests import STORE
from tests.postgres import Postgres, new_server

from .database_made import Prepared

TABLES_OF_WORKSHOPS = """
    select table_name from information_schema.columns where table_schema = 'slipbook' and column_name = 'workshop'
"""
# A database holds a log once: what is made of a backup is in another one, as it would be on another machine.
RESTORED: set[Path] = set()


@functools.cache
def server() -> Postgres:
    """The PostgreSQL server of all tests of this process that want none of their own."""
    started = new_server()
    atexit.register(started.close)
    return started


@functools.cache
def database_named(name: str) -> Prepared:
    prepared = Prepared.on(server(), name)
    atexit.register(prepared.close)
    return prepared


def shared() -> Prepared:
    """The database of all tests of this process that want none of their own."""
    return database_named("slipbook")


def database_of(folder: Path) -> Prepared:
    """The database with the workshop that has this folder's path for a name."""
    return database_named("restored") if folder in RESTORED else shared()


def over_postgres() -> bool:
    """Whether tests that are not about files run over a database."""
    return os.environ.get(STORE) == "postgres"


def open_log(folder: Path) -> Log:
    """The log of a folder, or of the workshop that has its path for a name."""
    return database_of(folder).log(str(folder)) if over_postgres() else FolderLog(folder)


def restarted_log(folder: Path) -> Log:
    """The same log as a process has it that has just begun."""
    if over_postgres():
        database_of(folder).database.kept.clear()
    return open_log(folder)


def place_of(folder: Path, is_made: bool = True) -> list[str]:
    """What names the same log to a command; over a database its workshop is made, unless the command makes it."""
    if not over_postgres():
        return ["--folder", str(folder)]
    database = database_of(folder)
    name = database.name_of(database.workshop(str(folder))) if is_made else str(folder)
    return ["--database", database.owner_url, "--workshop", name]


def back_up_at(folder: Path, file: Path) -> None:
    """Make a backup of the same log by the command."""
    assert main(["backup", str(file), *place_of(folder)]) == 0


def restore_at(file: Path, folder: Path) -> None:
    """Make a log of a backup by the command: what this folder means from then on."""
    RESTORED.add(folder)
    assert main(["restore", str(file), *place_of(folder, is_made=False)]) == 0


def entries_kept(folder: Path) -> list[dict[str, Any]]:
    """Every entry of the same log, read past the code of either store."""
    if over_postgres():
        query = "select seq, said from slipbook.entry where workshop = %s order by seq"
        return [{"seq": seq, **json.loads(said)} for seq, said in rows(folder, query)]
    entries: list[dict[str, Any]] = []
    for file in [*folder.glob("units/*.json"), *folder.glob("shop.json")]:
        with TinyDB(file, access_mode="r") as database:
            entries += [row["entry"] for row in database.table("entries").all()]
    return entries


def photos_kept(folder: Path) -> dict[str, bytes]:
    """Every whole photo of the same log by what it is known by, read past the code of either store."""
    if over_postgres():
        return dict(rows(folder, "select sha256, data from slipbook.photo where workshop = %s"))
    return {file.stem: file.read_bytes() for file in (folder / "photos").glob("*.jpg")}


def all_kept(folder: Path) -> list[str]:
    """Everything that is kept of the same log, as text: each file of it, or each of its rows in any table."""
    if over_postgres():
        with database_of(folder).owner.nowhere() as connection:
            tables = [row[0] for row in connection.execute(TABLES_OF_WORKSHOPS.encode()).fetchall()]
        of_table = "select t::text from slipbook.{} as t where workshop = %s"
        return [row[0] for table in tables for row in rows(folder, of_table.format(table))]
    return [file.read_bytes().decode(errors="replace") for file in folder.rglob("*") if file.is_file()]


def rows(folder: Path, query: str) -> list[Any]:
    """What the database answers about the workshop that has this folder's path for a name."""
    database = database_of(folder)
    with database.owner.nowhere() as connection:
        return connection.execute(query.encode(), [database.workshop(str(folder))]).fetchall()


def app_over(folder: Path, **options: Any) -> Flask:
    """An application over the same log; over a database it is looked at anew with each request, as when serving."""
    if over_postgres():
        options.update(log=open_log(folder), logs=lambda _: open_log(folder))
    return create_app(folder, **options)
