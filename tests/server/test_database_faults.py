"""Servers and databases that are killed, cut off, full or replaced while phones upload. More with --rounds.

Nothing that was acknowledged is lost or there twice, nothing else is acknowledged, and phones go on by themselves.
"""

import os
import random
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

import pytest

from tests.cutting import Cutting, Where
from tests.postgres import PATIENCE_S, Postgres, address_of, new_server, small_disk, standby_of, wait_until

from .database_made import SERVER, as_server
from .uploads import Phone, acknowledged, wait_for_more
from .workshops_served import FEW, MANY, NAME, Workshops, kill_and_promote, killed_and_serving_again, serving

# What leaves a disk of `SMALL_MB` with little room beside an empty database.
SMALL_MB, ROOM_MB = 96, 1


@pytest.fixture
def server() -> Iterator[Postgres]:
    with new_server() as server:
        yield server


def test_killed_server_processes(server: Postgres, rounds: int) -> None:
    workshops = Workshops(server)
    address = as_server(server.address(NAME))
    # What serves again does so until the phones have stopped.
    with ExitStack() as running:
        first = running.enter_context(serving(address))
        with workshops.uploading(first.port) as phones:
            running.enter_context(killed_and_serving_again(address, first, phones, rounds))
    workshops.check(phones, server)


def test_a_database_that_is_killed_and_started_again(server: Postgres, rounds: int) -> None:
    workshops = Workshops(server)
    with serving(as_server(server.address(NAME))) as processes, workshops.uploading(processes.port) as phones:
        for _ in range(rounds):
            server.kill()
            time.sleep(random.uniform(0, 0.3))
            server.start()
            wait_for_more(phones, random.randint(1, 60))
        assert any("503" in failure for phone in phones for failure in phone.failures), "they are told to send again"
    workshops.check(phones, server)


def test_connections_that_are_cut_around_a_commit(server: Postgres, rounds: int) -> None:
    workshops = Workshops(server)
    chance = random.Random()
    # A server that is cut off as it begins does not begin.
    is_cutting = False

    def is_cut() -> Where | None:
        if not is_cutting or chance.random() > 0.1:
            return None
        return chance.choice(("before commit", "before answer"))

    with (
        Cutting(server, is_cut) as cutting,
        serving(cutting.address(NAME, SERVER)) as processes,
        workshops.uploading(processes.port) as phones,
    ):
        is_cutting = True
        wait_until(lambda: cutting.cuts >= 8 * rounds, PATIENCE_S * max(1, rounds / 5))
        is_cutting = False
    workshops.check(phones, server)


@contextmanager
def nearly_full() -> Iterator[tuple[Path, Path]]:
    """A small disk, and a file on it that takes up room until it is removed."""
    try:
        with small_disk(SMALL_MB) as disk:
            yield disk, disk / "ballast"
    except PermissionError as failure:
        pytest.skip(str(failure))


def fill_up(disk: Path, ballast: Path) -> None:
    """Leave little room on a disk."""
    space = os.statvfs(disk)
    free = space.f_bavail * space.f_frsize
    ballast.write_bytes(bytes(max(0, free - ROOM_MB * 1024 * 1024)))


def test_a_full_disk_for_data(rounds: int) -> None:
    with nearly_full() as (disk, ballast), new_server(data_disk=disk, autovacuum="off") as server:
        workshops = Workshops(server)
        with serving(as_server(server.address(NAME))) as processes, workshops.uploading(processes.port) as phones:
            for _ in range(min(rounds, 3)):
                fill_up(disk, ballast)
                wait_until_full(phones)
                ballast.unlink()
                wait_for_more(phones, FEW)
        workshops.check(phones, server)


def wait_until_full(phones: list[Phone]) -> None:
    """Wait until each phone is told anew that the disk is full."""
    before = [len(phone.failures) for phone in phones]

    def is_full() -> bool:
        return all(any("full" in text for text in phone.failures[count:]) for phone, count in zip(phones, before))

    wait_until(is_full)


def test_a_full_disk_for_the_write_ahead_log(rounds: int) -> None:
    with nearly_full() as (disk, ballast), new_server(wal_disk=disk, max_wal_size="64MB") as server:
        workshops = Workshops(server)
        with serving(as_server(server.address(NAME))) as processes, workshops.uploading(processes.port) as phones:
            for _ in range(min(rounds, 3)):
                fill_up(disk, ballast)
                # Such a server breaks down, and cannot start while there is no room.
                with server.connect() as connection:
                    connection.execute("create table if not exists filling (text text)")
                with pytest.raises(Exception, match=r"."), server.connect() as connection:
                    connection.execute("insert into filling select repeat('x', 500) from generate_series(1, 200000)")
                wait_until(lambda: server.process is not None and server.process.poll() is not None)
                ballast.unlink()
                server.process = None
                server.start()
                wait_for_more(phones, FEW)
        workshops.check(phones, server)


def test_nothing_is_acknowledged_while_the_standby_that_is_asked_for_is_gone(server: Postgres, rounds: int) -> None:
    workshops = Workshops(server)
    with standby_of(server) as standby:
        with serving(as_server(server.address(NAME))) as processes, workshops.uploading(processes.port) as phones:
            for _ in range(min(rounds, 3)):
                standby.stop()
                # What the standby had already may still be answered.
                time.sleep(0.5)
                before = acknowledged(phones)
                time.sleep(1.5)
                assert acknowledged(phones) == before
                standby.start()
                wait_for_more(phones, FEW)
        workshops.check(phones, server)


def test_a_standby_takes_the_place_of_a_killed_primary(rounds: int) -> None:
    # Each time with servers of its own, which takes long: more often only at full size.
    for _ in range(max(1, rounds // 5)):
        with new_server() as primary:
            workshops = Workshops(primary)
            with standby_of(primary) as standby:
                take_over(workshops, primary, standby)


def take_over(workshops: Workshops, primary: Postgres, standby: Postgres) -> None:
    """Kill a primary and promote its standby while many phones upload."""
    both_servers = as_server(address_of(primary, standby, database=NAME))
    with serving(both_servers) as processes, workshops.uploading(processes.port, range(MANY)) as phones:
        kill_and_promote(primary, standby, phones, 400)
    workshops.check(phones, standby)
