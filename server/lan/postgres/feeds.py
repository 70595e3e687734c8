"""The calendars' addresses of a workshop, a row each."""

import uuid
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from ...log import LogFault
from ..register import (
    MOST_FEEDS,
    READ_EVERY,
    TOO_MANY_FEEDS,
    Feed,
    hash_token,
    is_due_again,
    make_token,
    time_as_text,
    utc_now,
)

if TYPE_CHECKING:
    from ...log.postgres import Database

COLUMNS = "id, name, token_sha256, made, seen, withdrawn"


def feed_of(row: tuple[Any, ...]) -> Feed:
    """The address that a row is of."""
    id, name, token_sha256, *times = row
    return Feed(str(id), name, token_sha256, *(time_as_text(time) if time else "" for time in times))


class DatabaseFeeds:
    """Every address of a workshop."""

    def __init__(self, database: "Database", workshop: int) -> None:
        self.database = database
        self.workshop = workshop

    def all(self) -> list[Feed]:
        """Every address that still counts, the newest first."""
        query = f"select {COLUMNS} from feed where workshop = %s and withdrawn is null order by made desc"
        with self.database.workshop(self.workshop) as connection:
            return [feed_of(row) for row in connection.execute(query, [self.workshop])]

    def add(self, name: str) -> tuple[Feed, str]:
        """Make an address; returns it and its secret part, which cannot be read again.

        Raises
        ------
        LogFault
            There are too many, or it cannot be written.
        """
        token = make_token()
        row = (str(uuid.uuid4()), name, hash_token(token), utc_now(), None, None)
        with self.database.workshop(self.workshop) as connection:
            # One at a time, or two could be the last that there is room for.
            connection.execute("select pg_advisory_xact_lock(hashtext('feed'), %s::int)", [self.workshop])
            count_query = "select count(*) from feed where workshop = %s and withdrawn is null"
            if (connection.execute(count_query, [self.workshop]).fetchone() or (0,))[0] >= MOST_FEEDS:
                raise LogFault(TOO_MANY_FEEDS)
            insert = f"insert into feed (workshop, {COLUMNS}) values (%s, %s, %s, %s, %s, %s, %s)"
            connection.execute(insert, [self.workshop, *row])
        return feed_of(row), token

    def note_read(self, feed: Feed) -> None:
        """Note that an address was read now."""
        now = utc_now()
        if is_due_again(feed.seen, now, READ_EVERY):
            # As with devices.
            with suppress(LogFault), self.database.workshop(self.workshop) as connection:
                connection.execute("set local synchronous_commit to off")
                connection.execute(
                    "update feed set seen = %s where workshop = %s and id = %s", [now, self.workshop, feed.id]
                )

    def withdraw(self, id: str) -> Feed | None:
        """Withdraw an address for good; returns it, or None if there is no such address."""
        update = f"""
            update feed set withdrawn = %s where workshop = %s and id = %s and withdrawn is null returning {COLUMNS}
        """
        with self.database.workshop(self.workshop) as connection:
            row = connection.execute(update, [utc_now(), self.workshop, id]).fetchone()
        return feed_of(row) if row else None
