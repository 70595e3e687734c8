"""The way to a database: a pool of connections, and transactions that are bound to one workshop each."""

import contextlib
import logging
import os
import socket
import threading
import time
from collections.abc import Callable, Iterator
from typing import Any

import psycopg
from psycopg_pool import ConnectionPool

from ..faults import LogFault, Unfinished
from .address import OLDEST, Connection, settings_of
from .faults import UNKNOWN, fault_of
from .schema import check_version

STANDBY_WAITS = "The database waits for a standby that does not answer: look after the standby, then send again."
BROKE_OFF = "The connection to the database broke off as it began: look after the database, then send again."
BIND = "select set_config('slipbook.workshop', %s, true)"
# How long a request waits for a connection, and a transaction for its commit: a standby that is gone would hold it up
# for good.
POOL_S = 10.0
COMMIT_S = 20.0
# The server's role may have no power over row-level security.
HAS_POWERS = "select rolsuper or rolbypassrls from pg_roles where rolname = current_user"
OWNS_TABLES = "select pg_get_userbyid(relowner) = current_user from pg_class where oid = 'slipbook.entry'::regclass"
TIMELINE = (
    "select system_identifier || '/' || substr(pg_walfile_name(pg_current_wal_lsn()), 1, 8) from pg_control_system()"
)


class OneLineFilter(logging.Filter):
    """Of what the pool says of a database that cannot be reached, once in a while a line."""

    def __init__(self, every_s: float = 60.0) -> None:
        super().__init__()
        self.every_s = every_s
        self.next_at = 0.0

    def filter(self, record: logging.LogRecord) -> bool:
        """Whether a record is written, which is cut to its first line."""
        now = time.monotonic()
        if now < self.next_at:
            return False
        self.next_at = now + self.every_s
        record.msg, record.args = (record.getMessage().splitlines() or [""])[0], ()
        record.exc_info = None
        return True


logging.getLogger("psycopg.pool").addFilter(OneLineFilter())


class Database:
    """A database that holds the logs of workshops; safe to use from several threads.

    Parameters
    ----------
    url : str
        Its address, as libpq takes it: several hosts, and what says who asks, may be in it.
    most : int
        How many connections are open at most.
    serves : bool
        Whether it is used to serve devices: then the role must be one that row-level security binds.

    Attributes
    ----------
    timeline : str
        The server that was last reached, and its timeline: another one may lack what was stored.

    Raises
    ------
    LogFault
        It cannot be reached, or used as it is.
    """

    def __init__(self, url: str, most: int = 8, serves: bool = False) -> None:
        self.settings = settings_of(url)
        self.timeline = ""
        self.lock = threading.Lock()
        # What other modules keep for each workshop in this process, such as its clock.
        self.kept: dict[Any, Any] = {}
        self.commits: dict[Connection, float] = {}
        self.closing = threading.Event()
        threading.Thread(target=self.watch, daemon=True).start()
        try:
            with self.connected() as connection:
                self.check_usable(connection, serves)
        except BaseException:
            self.closing.set()
            raise
        self.pool: ConnectionPool[Connection] = ConnectionPool(
            self.settings,
            min_size=1,
            max_size=most,
            timeout=POOL_S,
            configure=self.greet,
            check=ConnectionPool.check_connection,
            open=True,
            name="slipbook",
        )

    @contextlib.contextmanager
    def connected(self) -> Iterator[Connection]:
        """A connection of its own, outside the pool."""
        with as_log_faults(), psycopg.connect(self.settings) as connection:
            yield connection

    def check_usable(self, connection: Connection, serves: bool) -> None:
        """Refuse a database that cannot be used.

        Raises
        ------
        LogFault
            It is too old, of another version of Slipbook, or the role has the wrong rights.
        """
        major = connection.info.server_version // 10000
        if major < OLDEST:
            raise LogFault(f"This is PostgreSQL {major}, which is too old: Slipbook needs {OLDEST} or newer.")
        check_version(connection)
        role = connection.info.user
        if serves and any(one_value(connection, query) for query in (HAS_POWERS, OWNS_TABLES)):
            raise LogFault(
                f"The role {role} owns the database or may do everything in it, and serving needs one that may not: "
                "make a role for the server, and run `slipbook prepare` with --server-role."
            )
        self.greet(connection)

    def greet(self, connection: Connection) -> None:
        """Make a new connection ready, before anything is read by it."""
        # Until a standby has this, a primary that was cut off shows nothing: so it cannot be taken for the right one.
        connection.execute("select pg_logical_emit_message(true, 'slipbook', '')")
        self.timeline = str(one_value(connection, TIMELINE))
        began = time.monotonic()
        try:
            self.commit(connection)
        except Unfinished as fault:
            # Only what waits for a standby is broken off so late.
            raise LogFault(STANDBY_WAITS if time.monotonic() - began >= COMMIT_S else BROKE_OFF) from fault

    @contextlib.contextmanager
    def workshop(self, workshop: int | None) -> Iterator[Connection]:
        """A transaction that is bound to one workshop; what it did is durable after the block.

        Raises
        ------
        LogFault
            It cannot be done.
        Unfinished
            Whether it was done is not known: doing it again has to be safe.
        """
        warnings: list[str] = []

        def keep_warning(diagnostic: psycopg.errors.Diagnostic) -> None:
            warnings.append(diagnostic.sqlstate or "")

        with as_log_faults(), self.pool.connection() as connection:
            connection.add_notice_handler(keep_warning)
            try:
                workshop_text = "" if workshop is None else str(workshop)
                connection.execute(BIND, [workshop_text])
                yield connection
                self.commit(connection)
            finally:
                connection.remove_notice_handler(keep_warning)
        # So says a primary that was told not to wait for its standby any longer.
        if "01000" in warnings:
            raise Unfinished(UNKNOWN)

    def nowhere(self) -> contextlib.AbstractContextManager[Connection]:
        """A transaction that is bound to no workshop, for functions that look across them."""
        return self.workshop(None)

    def commit(self, connection: Connection) -> None:
        """Commit; a wait without an end is broken off by `watch`."""
        with self.lock:
            self.commits[connection] = time.monotonic() + COMMIT_S
        try:
            connection.commit()
        except psycopg.Error as failure:
            connection.close()
            raise fault_of(failure, committing=True) from failure
        finally:
            with self.lock:
                self.commits.pop(connection, None)

    def watch(self) -> None:
        """Break off commits that wait too long: nothing that the database can be asked for bounds that wait."""
        while not self.closing.wait(1.0):
            now = time.monotonic()
            with self.lock:
                late_connections = [connection for connection, until in self.commits.items() if until < now]
            for connection in late_connections:
                with contextlib.suppress(OSError, psycopg.Error):
                    break_off(connection)

    def keep(self, name: Any, make: Callable[[], Any]) -> Any:
        """Something that this process keeps under a name, made when it is first asked for."""
        if name not in self.kept:
            # Not under a lock, since making it may ask the database; of two that are made at once one is kept.
            self.kept.setdefault(name, make())
        return self.kept[name]

    def close(self) -> None:
        """Close every connection."""
        self.closing.set()
        self.pool.close()


@contextlib.contextmanager
def as_log_faults() -> Iterator[None]:
    """Have failures of the database come out as faults."""
    try:
        yield
    except psycopg.Error as failure:
        raise fault_of(failure) from failure


def one_value(connection: Connection, query: str, parameters: Any = ()) -> Any:
    """The only value that a query answers; None where it answers nothing."""
    row = connection.execute(query.encode(), parameters).fetchone()
    return row[0] if row else None


def break_off(connection: Connection) -> None:
    """Close the way to the database, whoever waits for it."""
    with socket.socket(fileno=os.dup(connection.fileno())) as raw_socket:
        raw_socket.shutdown(socket.SHUT_RDWR)
