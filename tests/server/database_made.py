"""A database that is prepared, with workshops in it."""

from typing import Any

import psycopg

from server.log.postgres import Database, schema, workshops

from ..postgres import OWNER

# What the server is in the database: it owns nothing there.
ROLE = "slipbook_server"
MAKE_ROLE = f"""
do $$ begin
    if not exists (select from pg_roles where rolname = '{ROLE}') then create role {ROLE} login; end if;
end $$
"""


def as_server(address: str) -> str:
    """A database's address as the server uses it."""
    return address.replace(f"{OWNER}@", f"{ROLE}@")


def make_database(address: str, *names: str) -> tuple[Database, list[int]]:
    """Prepare an empty database and add workshops; returns it as the server sees it, and the workshops' numbers."""
    with psycopg.connect(address, autocommit=True) as connection:
        connection.execute(MAKE_ROLE)
    schema.prepare(address, ROLE)
    owner = Database(address)
    numbers = [workshops.add(owner, name) for name in names]
    owner.close()
    return Database(as_server(address)), numbers


def owner_of(address: str) -> psycopg.Connection[tuple[Any, ...]]:
    """A connection of the database's owner, for whom no row is hidden."""
    return psycopg.connect(address, autocommit=True, options="-c search_path=slipbook")
