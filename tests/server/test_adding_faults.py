"""The store on PostgreSQL by itself, without a server before it, while what is below it breaks. More with --rounds."""

import random
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from typing import Any

import pytest

from server.log import STORED, LogFault
from server.log.faults import Unfinished
from server.log.postgres import Database
from server.log.postgres.log import DatabaseLog
from tests.cutting import Cutting, Where
from tests.postgres import PATIENCE_S, Postgres, address_of, new_server, standby_of, wait_until

from .database_made import SERVER, as_server, make_database
from .sample_logs import stored
from .uploads import Phone, Send, check_all_is_there, uploading, wait_for_more

NAME = "slipbook"
# As many as there are server processes, each with connections of its own, and the threads of each.
PROCESSES, THREADS = 2, 4


def sender_to_log(database: Database, workshop: int) -> Send:
    """Hands entries to the store."""

    def send(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
        added = {"received": "2026-05-09T09:00:00.000+00:00", "agrees": True}
        judged = [{**entry, "judged": entry["shown"], **added} for entry in entries]
        answers = DatabaseLog(database, workshop).add(judged)
        return [{"id": row.entry["id"], "answer": row.answer, "seq": row.entry["seq"]} for row in answers]

    return send


@contextmanager
def open_databases(address: str, count: int = PROCESSES) -> Iterator[list[Database]]:
    """The same database as several processes have it."""
    with ExitStack() as stack:
        databases = [Database(address) for _ in range(count)]
        for database in databases:
            stack.callback(database.close)
        yield databases


@contextmanager
def phones_adding(address: str, workshop: int) -> Iterator[list[Phone]]:
    """Threads of several processes that add to one workshop meanwhile."""
    with open_databases(address) as databases:
        sends = [sender_to_log(database, workshop) for database in databases for _ in range(THREADS)]
        with uploading(sends) as phones:
            wait_for_more(phones, 20)
            yield phones


def check_union(server: Postgres, workshop: int, phones: list[Phone]) -> None:
    """All that was added is there, once, and nothing else."""
    with open_databases(as_server(server.address(NAME)), 1) as (database,):
        check_all_is_there(phones, DatabaseLog(database, workshop))


@pytest.fixture
def server() -> Iterator[Postgres]:
    with new_server() as server:
        yield server


@pytest.fixture
def workshop(server: Postgres) -> int:
    """A workshop in a database of the server."""
    database, (number,) = make_database(server.make_database(NAME), "Northgate")
    database.close()
    return number


def test_connections_are_cut_around_a_commit(server: Postgres, workshop: int, rounds: int) -> None:
    chance = random.Random()
    cuts = True

    def is_cut() -> Where | None:
        return chance.choice(("before commit", "before answer")) if cuts and chance.random() < 0.1 else None

    with Cutting(server, is_cut) as cutting:
        # The pool is filled before anything is cut.
        cuts = False
        with phones_adding(cutting.address(NAME, SERVER), workshop) as phones:
            cuts = True
            wait_until(lambda: cutting.cuts >= 10 * rounds, PATIENCE_S * max(1, rounds / 5))
            cuts = False
    assert any("not known" in text for phone in phones for text in phone.failures)
    check_union(server, workshop, phones)


def test_the_database_is_killed_and_started_again(server: Postgres, workshop: int, rounds: int) -> None:
    with phones_adding(as_server(server.address(NAME)), workshop) as phones:
        for _ in range(rounds):
            server.kill()
            time.sleep(random.uniform(0, 0.3))
            server.start()
            wait_for_more(phones, random.randint(1, 200))
    assert any(phone.failures for phone in phones)
    check_union(server, workshop, phones)


def test_the_primary_is_killed_and_the_standby_takes_over(rounds: int) -> None:
    # As often as that may take.
    for _ in range(max(1, rounds // 5)):
        with new_server() as primary:
            database, (workshop,) = make_database(primary.make_database(NAME), "Northgate")
            database.close()
            with standby_of(primary) as standby:
                take_over(workshop, primary, standby)


def take_over(workshop: int, primary: Postgres, standby: Postgres) -> None:
    """Kill a primary and promote its standby while threads add to a workshop."""
    both_servers = as_server(address_of(primary, standby, database=NAME))
    with open_databases(both_servers, 1) as (database,):
        before = DatabaseLog(database, workshop).identity
    with phones_adding(both_servers, workshop) as phones:
        wait_for_more(phones, random.randint(1, 400))
        primary.kill()
        time.sleep(random.uniform(0, 0.5))
        standby.promote()
        wait_for_more(phones, 50)
    check_union(standby, workshop, phones)
    with open_databases(both_servers, 1) as (database,):
        after = DatabaseLog(database, workshop).identity
    assert after.log_id == before.log_id
    assert after.generation != before.generation, "so that phones compare what they have with what is there"


def test_a_commit_whose_wait_for_the_standby_is_broken_off_is_not_acknowledged(server: Postgres, workshop: int) -> None:
    with standby_of(server) as standby, open_databases(as_server(server.address(NAME)), 1) as (database,):
        log = DatabaseLog(database, workshop)
        entries = [stored()]
        assert log.add(entries)[0].answer == STORED
        standby.stop()
        unconfirmed = [stored()]
        outcomes: list[object] = []

        def add() -> None:
            try:
                outcomes.append(log.add(unconfirmed))
            except LogFault as fault:
                outcomes.append(fault)

        thread = threading.Thread(target=add)
        thread.start()
        waiting_query = "select pid from pg_stat_activity where wait_event = 'SyncRep' and usename = %s"
        with server.connect() as connection:
            wait_until(lambda: connection.execute(waiting_query, [SERVER]).fetchone() is not None)
            connection.execute(f"select pg_cancel_backend(pid) from ({waiting_query}) as waiting", [SERVER])
        thread.join(30)
        assert [type(outcome) for outcome in outcomes] == [Unfinished]
        standby.start()
        (again,) = DatabaseLog(database, workshop).add(unconfirmed)
        assert again.entry["id"] == unconfirmed[0]["id"]
        assert [row["id"] for row in log.after(0, 10)[0]] == [entries[0]["id"], unconfirmed[0]["id"]]
