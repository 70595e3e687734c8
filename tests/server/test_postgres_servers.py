"""The servers that tests of the store on PostgreSQL run against do what these tests count on."""

import os
import shutil
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest

from tests.cutting import Cutting, Where
from tests.linux import children_of
from tests.postgres import Postgres, address_of, new_server, small_disk, standby_of, wait_until

MAKE = "create table said (text text)"
SAY = "insert into said values (%s)"


def answers_of(address: str) -> list[str]:
    with psycopg.connect(address, autocommit=True) as connection:
        return [row[0] for row in connection.execute("select text from said order by text")]


def test_every_test_has_an_empty_database_of_its_own(pg: str, postgres: Postgres) -> None:
    with psycopg.connect(pg, autocommit=True) as connection:
        assert connection.execute("select count(*) from pg_class where relname = 'said'").fetchone() == (0,)
        connection.execute(MAKE)
        assert connection.execute("show listen_addresses").fetchone() == ("",)
    assert pg != postgres.address()
    with postgres.connect() as connection:
        assert connection.execute("select count(*) from pg_class where relname = 'said'").fetchone() == (0,)


def test_what_was_committed_is_there_after_a_kill() -> None:
    with new_server() as server:
        with server.connect() as connection:
            connection.execute(MAKE)
            connection.execute(SAY, ["kept"])
        assert server.process is not None
        processes = [server.process.pid, *children_of(server.process.pid)]
        assert len(processes) > 3
        with server.connect() as connection, connection.transaction(force_rollback=True):
            connection.execute(SAY, ["never committed"])
            server.kill()
            with pytest.raises(psycopg.OperationalError):
                connection.execute("select 1")
        wait_until(lambda: not any(Path(f"/proc/{pid}/stat").exists() for pid in processes))
        server.start()
        assert answers_of(server.address()) == ["kept"]
        folder = server.folder
    assert not folder.exists()


def test_a_standby_takes_over_with_all_that_was_acknowledged() -> None:
    with new_server() as primary:
        with primary.connect() as connection:
            connection.execute(MAKE)
        with standby_of(primary) as standby:
            both_servers = address_of(standby, primary)
            with psycopg.connect(both_servers, autocommit=True) as connection:
                # The first of the two takes no writes, and so is passed over.
                connection.execute(SAY, ["before"])
            assert answers_of(standby.address()) == ["before"]
            primary.kill()
            standby.promote()
            with psycopg.connect(both_servers, autocommit=True) as connection:
                connection.execute(SAY, ["later"])
            assert answers_of(standby.address()) == ["before", "later"]


def test_nothing_is_acknowledged_while_the_standby_is_gone() -> None:
    with new_server() as primary:
        with primary.connect() as connection:
            connection.execute(MAKE)
        with standby_of(primary) as standby:
            standby.stop()
            answered = threading.Event()

            def say() -> None:
                with primary.connect() as connection:
                    connection.execute(SAY, ["waits"])
                    answered.set()

            speaker = threading.Thread(target=say)
            speaker.start()
            assert not answered.wait(0.3)
            standby.start()
            assert answered.wait(30)
            speaker.join()
            assert answers_of(primary.address()) == ["waits"]


def test_a_small_disk_fills_up(small: Path) -> None:
    with new_server(data_disk=small) as server:
        with server.connect() as connection:
            connection.execute(MAKE)
            connection.execute(SAY, ["kept"])
            with pytest.raises(psycopg.errors.DiskFull):
                connection.execute("insert into said select repeat(n::text, 40) from generate_series(1, 900000) n")
        assert answers_of(server.address()) == ["kept"]


def test_a_full_disk_for_the_write_ahead_log_stops_the_server(small: Path) -> None:
    with new_server(wal_disk=small, max_wal_size="1GB") as server, server.connect() as connection:
        connection.execute(MAKE)
        with pytest.raises(psycopg.OperationalError):
            connection.execute("insert into said select repeat(n::text, 40) from generate_series(1, 900000) n")
        assert "No space left on device" in server.log()


@pytest.mark.parametrize("cut_at", ["before commit", "before answer"])
def test_a_connection_is_cut_around_a_commit(postgres: Postgres, pg: str, cut_at: Where) -> None:
    name = pg.split("/")[3].split("?")[0]
    with psycopg.connect(pg, autocommit=True) as connection:
        connection.execute(MAKE)
    cuts = iter([None, cut_at])
    with Cutting(postgres, lambda: next(cuts, None)) as cutting:
        with psycopg.connect(cutting.address(name)) as connection:
            connection.execute(SAY, ["passes"])
            connection.commit()
            connection.execute(SAY, ["cut"])
            with pytest.raises(psycopg.OperationalError) as failure:
                connection.commit()
            assert failure.value.sqlstate is None, "whether it was committed cannot be told"
        with psycopg.connect(cutting.address(name)) as connection:
            connection.execute("select 1")
        assert cutting.cuts == 1
    wait_until(lambda: answers_of(pg) == (["cut", "passes"] if cut_at == "before answer" else ["passes"]))


@pytest.fixture
def small() -> Iterator[Path]:
    """A disk of 48 MB."""
    try:
        with small_disk(48) as folder:
            yield folder
    except PermissionError as failure:
        pytest.skip(str(failure))


def test_a_server_ends_with_the_tests_that_started_it() -> None:
    program = "from tests.postgres import new_server, template; s = new_server(); "
    tell = "print(s.process.pid, s.folder, template().parent, flush=True); import os; os.kill(os.getpid(), 9)"
    finished = subprocess.run(
        [sys.executable, "-c", program + tell],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": os.getcwd()},
    )
    pid, folder, template = finished.stdout.split()
    try:
        wait_until(lambda: not Path(f"/proc/{pid}").exists() or not Path(folder, "data", "postmaster.pid").exists())
    finally:
        # Whoever is killed leaves its folders behind.
        shutil.rmtree(folder, ignore_errors=True)
        shutil.rmtree(template, ignore_errors=True)
