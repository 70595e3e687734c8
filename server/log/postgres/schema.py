"""The tables of a database, made and changed by numbered files of SQL, and only when somebody asks for it."""

import contextlib
import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import psycopg
from psycopg import sql
from yoyo import read_migrations
from yoyo.backends.core.postgresql import PostgresqlPsycopgBackend

from ..faults import LogFault
from .address import OLDEST, SCHEMA, Connection, settings_of
from .faults import NOT_PREPARED, fault_of

HERE = Path(__file__).resolve().parent
MIGRATIONS = HERE / "migrations"
GRANTS = HERE / "grants.sql"
# Where it is noted which of them were run.
TABLE = "migration"
OTHER_VERSION = "The database is of another version of Slipbook ({there}, and this one needs {here}): {remedy}"


class Address(NamedTuple):
    """What the library hands around as an address."""

    settings: str
    database: str = ""


class Backend(PostgresqlPsycopgBackend):  # type: ignore[misc]
    """Migrations over a connection that is made as everywhere else."""

    def connect(self, dburi: Address) -> Connection:
        """A connection on which every statement is a transaction unless one is begun."""
        return psycopg.connect(dburi.settings, autocommit=True)

    @contextlib.contextmanager
    def lock(self, timeout: float = 0) -> Iterator[None]:
        """One at a time; of this lock nothing stays when the program is killed, as a row in a table would."""
        name = "hashtext('slipbook.prepare')"
        self.connection.execute(f"select pg_advisory_lock({name})")
        try:
            yield
        finally:
            self.connection.execute(f"select pg_advisory_unlock({name})")


def shipped() -> list[str]:
    """The names of all migrations, in their order."""
    return sorted(path.stem for path in MIGRATIONS.glob("*.sql") if not path.stem.endswith(".rollback"))


def check_version(connection: Connection) -> None:
    """Refuse a database whose tables are not those of this version.

    Raises
    ------
    LogFault
        They are older or newer, or there are none.
    """
    there = connection.execute("select to_regclass('slipbook.migration')").fetchone()
    if there is None or there[0] is None:
        raise LogFault(NOT_PREPARED)
    rows = connection.execute("select migration_id from migration").fetchall()
    run, needed = {str(row[0]) for row in rows}, set(shipped())
    if run == needed:
        return
    remedy = "update Slipbook." if run - needed else "run `slipbook prepare`, after a backup."
    raise LogFault(OTHER_VERSION.format(there=max(run, default="none"), here=max(needed), remedy=remedy))


def prepare(url: str, server_role: str) -> list[str]:
    """Make or change the tables, and let the server's role in.

    Parameters
    ----------
    url : str
        The address, with the role that is to own everything.
    server_role : str
        The role as which `slipbook serve` comes, which exists.

    Returns
    -------
    list of str
        The migrations that were run.

    Raises
    ------
    LogFault
        It cannot be done.
    """
    settings = settings_of(url)
    try:
        with psycopg.connect(settings) as connection:
            major = connection.info.server_version // 10000
            if major < OLDEST:
                raise LogFault(f"This is PostgreSQL {major}, which is too old: Slipbook needs {OLDEST} or newer.")
            if connection.execute("select from pg_roles where rolname = %s", [server_role]).fetchone() is None:
                raise LogFault(f"There is no role {server_role}: make it first, as by `createuser {server_role}`.")
            if server_role == connection.info.user:
                raise LogFault(f"The role {server_role} cannot own the tables and serve too: name another.")
            connection.execute(sql.SQL("create schema if not exists {}").format(sql.Identifier(SCHEMA)))
        backend = Backend(Address(settings), TABLE)
        with contextlib.closing(backend.connection), backend.lock():
            waiting = backend.to_apply(read_migrations(str(MIGRATIONS)))
            names = [migration.id for migration in waiting]
            backend.apply_migrations(waiting)
        with psycopg.connect(settings) as connection:
            grants = re.sub(r"--[^\n]*", "", GRANTS.read_text("utf-8"))
            for statement in filter(None, map(str.strip, grants.split(";"))):
                connection.execute(sql.SQL(statement).format(role=sql.Identifier(server_role)))
    except psycopg.Error as failure:
        raise fault_of(failure) from failure
    return names
