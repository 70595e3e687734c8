"""Databases that are prepared for Slipbook, with workshops in them."""

from typing import Any

import psycopg

from server.log.postgres import Database, DatabaseLog, schema, workshops

from ..postgres import OWNER as SUPERUSER
from ..postgres import Postgres

# Who owns the tables, and what the server is in the database: it owns nothing there.
OWNER, SERVER = "slipbook_owner", "slipbook"


def as_owner(address: str) -> str:
    """A database's address for who owns its tables."""
    return address.replace(f"{SUPERUSER}@", f"{OWNER}@")


def as_server(address: str) -> str:
    """A database's address as the server uses it."""
    return address.replace(f"{SUPERUSER}@", f"{SERVER}@")


class Prepared:
    """A database that is prepared for Slipbook, and the ways to it.

    Parameters
    ----------
    address : str
        Of an empty database, for who may do all.

    Attributes
    ----------
    owner_url, url : str
        Its address for who owns the tables, and for who serves.
    owner, database : Database
        It as these two see it.
    """

    def __init__(self, address: str) -> None:
        with psycopg.connect(address, autocommit=True) as connection:
            for role in (OWNER, SERVER):
                if connection.execute("select from pg_roles where rolname = %s", [role]).fetchone() is None:
                    connection.execute(f"create role {role} login".encode())
            connection.execute(f"alter database {connection.info.dbname} owner to {OWNER}".encode())
        self.owner_url, self.url = as_owner(address), as_server(address)
        schema.prepare(self.owner_url, SERVER)
        self.by_path: dict[str, int] = {}
        self.owner, self.database = Database(self.owner_url), Database(self.url, serves=True)

    @classmethod
    def on(cls, server: Postgres, name: str) -> "Prepared":
        """A new one on a server."""
        return cls(server.make_database(name))

    def workshop(self, name: str, is_demo: bool = False) -> int:
        """The workshop of this name, made if missing.

        One that has a folder's path for a name goes by the name that the log in that folder would have.
        """
        if name in self.by_path:
            return self.by_path[name]
        with self.owner.nowhere() as connection:
            row = connection.execute("select id from workshop where name = %s", [name]).fetchone()
        number = int(row[0]) if row else workshops.add(self.owner, name, is_demo)
        if own_name := "Demonstration" if is_demo else name.rpartition("/")[2] if "/" in name else "":
            self.by_path[name] = number
            with self.owner.nowhere() as connection:
                # One of an earlier test may have it.
                connection.execute("update workshop set name = 'was ' || id where name = %s", [own_name])
                connection.execute("update workshop set name = %s where id = %s", [own_name, number])
        return number

    def name_of(self, number: int) -> str:
        """What a workshop is called now."""
        with self.owner.nowhere() as connection:
            [name] = connection.execute("select name from workshop where id = %s", [number]).fetchone() or [""]
        return str(name)

    def log(self, name: str) -> DatabaseLog:
        """The log of the workshop of this name."""
        return DatabaseLog(self.database, self.workshop(name))

    def close(self) -> None:
        self.owner.close()
        self.database.close()


def make_database(address: str, *names: str) -> tuple[Database, list[int]]:
    """Prepare an empty database and add workshops; returns it as the server sees it, and the workshops' numbers."""
    prepared = Prepared(address)
    numbers = [prepared.workshop(name) for name in names]
    prepared.owner.close()
    return prepared.database, numbers


def all_rows_of(address: str) -> psycopg.Connection[tuple[Any, ...]]:
    """A connection for whom no row is hidden."""
    return psycopg.connect(address, autocommit=True, options="-c search_path=slipbook")
