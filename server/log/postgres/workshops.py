"""The workshops of a database: made, listed and removed by who owns its tables."""

import json
from typing import NamedTuple

from psycopg import errors

from ...engine.request.errors import BadInput
from ...engine.request.fields import LINE, Text
from ..directions import closed
from ..faults import LogFault
from ..identity import Identity
from .address import Connection
from .database import Database, one_value

ADD_WORKSHOP = """
    insert into workshop (name, log_id, generation, receipt_key, demo, gaps, skipped, top, timeline)
    values (%s, %s, %s, %s, %s, %s, %s, %s, %s) returning id
"""
LIST_WORKSHOPS = """
    select id, name, log_id::text, made::date::text,
    (select count(*) from entry where entry.workshop = workshop.id),
    (select count(distinct unit) from entry where entry.workshop = workshop.id and unit <> '')
    from workshop order by name
"""
NAME = Text(LINE, "what a workshop is called")
# Without a foreign key from them, which would make bringing a log back half as slow again.
LARGE_TABLES = ("entry", "photo", "photo_piece")


class Workshop(NamedTuple):
    """A workshop, and how much its log holds."""

    id: int
    name: str
    log_id: str
    made: str
    entries: int
    units: int


def check_owner(database: Database) -> None:
    """Refuse a role that row-level security binds: it sees no workshop until it is told which.

    Raises
    ------
    LogFault
        It is bound.
    """
    with database.nowhere() as connection:
        if one_value(connection, "select row_security_active('workshop')"):
            raise LogFault("This role only serves: name the role that owns the tables in the database's address.")


def is_text(name: str) -> bool:
    """Whether a name is text at all: bytes on a command line that are no UTF-8 come as halves of letters."""
    try:
        name.encode()
    except UnicodeEncodeError:
        return False
    return True


def checked(name: str) -> str:
    """A new workshop's name as it was typed, without what is blank at its ends.

    Raises
    ------
    LogFault
        It is no name: empty, too long, of several lines, or with what cannot be shown.
    """
    try:
        if not is_text(name):
            raise BadInput("", "What was typed is no text in UTF-8: type it again.")
        return str(NAME.read(name.strip(), ""))
    except BadInput as refusal:
        raise LogFault(f"A workshop's name is one line that can be shown. {refusal.reason}") from refusal


def add(database: Database, name: str, demo: bool = False) -> int:
    """Make a workshop with an empty log; returns its number in the database.

    Raises
    ------
    LogFault
        There is one of this name, or this is no name.
    """
    with database.nowhere() as connection:
        return add_in(connection, database, Identity.new(checked(name), demo))


def add_in(connection: Connection, database: Database, identity: Identity) -> int:
    """Make a workshop in a transaction that has begun."""
    runs = (json.dumps(identity.gaps), json.dumps(identity.skipped), identity.floor)
    identity_values = (identity.name, identity.log_id, identity.generation, identity.key, identity.demo, *runs)
    try:
        return int(one_value(connection, ADD_WORKSHOP, (*identity_values, database.timeline)))
    except errors.UniqueViolation as failure:
        raise LogFault(
            f"The workshop {identity.name!r}, or the log that it would hold, is in the database already."
        ) from failure


def find(database: Database, name: str) -> int:
    """The number of the workshop with this name.

    Raises
    ------
    LogFault
        There is none.
    """
    with database.nowhere() as connection:
        query = "select id from workshop where name = %s"
        number = one_value(connection, query, [name]) if is_text(name) else None
        if number is None:
            names = [row[0] for row in connection.execute("select name from workshop order by name").fetchall()]
            choices = (
                f"choose one of: {', '.join(map(closed, names))}" if names else "make it with `slipbook workshop add`"
            )
            raise LogFault(f"There is no workshop {name!r} in this database: {choices}.")
        return int(number)


def for_carrying(database: Database, name: str, log_id: str, may_go_on: bool = False) -> int:
    """A new workshop for a log that is carried into it; with `may_go_on`, also one that has it or none yet.

    Raises
    ------
    LogFault
        There is a workshop of this name with another log, or this is no name.
    """
    name = checked(name)
    has_entries = "exists (select from entry where entry.workshop = workshop.id)"
    with database.nowhere() as connection:
        query = f"select id, log_id::text, {has_entries} from workshop where name = %s"
        row = connection.execute(query.encode(), [name]).fetchone()
    if row is None:
        return add(database, name)
    if not may_go_on or (row[1] != log_id and row[2]):
        raise LogFault(f"There is a workshop {name!r} already: give the log another name.")
    return int(row[0])


def close_for(database: Database, workshop: int, where: str) -> None:
    """Take nothing in any more, since the log went elsewhere; with an empty text, take entries in again."""
    with database.workshop(workshop) as connection:
        connection.execute("update workshop set moved = %s where id = %s", [where, workshop])


def listed(database: Database) -> list[Workshop]:
    """All workshops, by name."""
    with database.nowhere() as connection:
        return [Workshop(*row) for row in connection.execute(LIST_WORKSHOPS).fetchall()]


def remove(database: Database, workshop: int) -> None:
    """Remove a workshop with all that belongs to it."""
    with database.workshop(workshop) as connection:
        connection.execute("select from workshop where id = %s for update", [workshop])
        for table in LARGE_TABLES:
            connection.execute(f"delete from {table} where workshop = %s".encode(), [workshop])
        connection.execute("delete from workshop where id = %s", [workshop])
