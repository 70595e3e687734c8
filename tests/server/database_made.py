"""A database that is prepared, with workshops in it."""

import psycopg

from server.log.postgres import Database, schema, workshops

from ..postgres import OWNER

# What the server is in the database: it owns nothing there.
ROLE = "slipbook_server"


def make_database(address: str, *names: str) -> tuple[Database, list[int]]:
    """Prepare an empty database and add workshops; returns it as the server sees it, and the workshops' numbers."""
    schema.prepare(address, ROLE)
    numbers = [workshops.add(address, name)[0] for name in names]
    return Database(address.replace(f"{OWNER}@", f"{ROLE}@")), numbers


def owner_of(address: str) -> "psycopg.Connection[tuple[object, ...]]":
    """A connection of the database's owner, for whom no row is hidden."""
    return psycopg.connect(address, autocommit=True, options="-c search_path=slipbook")
