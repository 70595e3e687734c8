"""Two workshops that several processes serve out of one database, and phones that upload to them."""

import os
import random
import signal
import time
from collections.abc import Iterator
from contextlib import contextmanager

from server.lan import TRACKSIDE
from server.lan.postgres import DatabaseRegisters
from server.log.postgres import Database, DatabaseLog
from tests.linux import children_of
from tests.postgres import Postgres, wait_until

from .database_made import as_server, make_database
from .processes import ServerProcess
from .uploads import Phone, check_all_is_there, sender_by_http, uploading, wait_for_more

NAME = "slipbook"
WORKERS = 2
FEW, MANY = 4, 20


class Workshops:
    """Two workshops in a database of their own, and phones of both in turn."""

    def __init__(self, server: Postgres) -> None:
        database, self.numbers = make_database(server.make_database(NAME), "Northgate", "Hillside")
        registers = DatabaseRegisters(database)
        self.tokens = [
            registers.register_of(self.numbers[place % 2]).devices.add(f"Phone {place}", TRACKSIDE)[1]
            for place in range(MANY)
        ]
        database.close()

    @contextmanager
    def uploading(self, port: int | None, places: range = range(FEW), pause_s: float = 0.0) -> Iterator[list[Phone]]:
        """Phones that upload to a server meanwhile, by turns to either workshop."""
        with uploading([sender_by_http(port or 0, self.tokens[place]) for place in places], pause_s) as phones:
            wait_for_more(phones, 2 * len(places))
            yield phones

    def check(self, phones: list[Phone], server: Postgres) -> None:
        """Each workshop has what its phones wrote, and nothing else."""
        database = Database(as_server(server.address(NAME)))
        try:
            for place, number in enumerate(self.numbers):
                check_all_is_there(phones[place::2], DatabaseLog(database, number))
        finally:
            database.close()


@contextmanager
def serving(address: str, port: int | None = 0) -> Iterator[ServerProcess]:
    """Server processes over a database; none is left in the end."""
    processes = ServerProcess("serve", "--database", address, "--workers", str(WORKERS), port=port or 0)
    try:
        yield processes
    finally:
        if processes.process.poll() is None:
            processes.stop()


def kill_all(processes: ServerProcess) -> None:
    """Kill a server with all its processes at once."""
    # One that died a moment ago is being replaced.
    wait_until(lambda: len(children_of(processes.process.pid)) >= WORKERS)
    pids = [processes.process.pid, *children_of(processes.process.pid)]
    for pid in pids:
        os.kill(pid, signal.SIGKILL)
    processes.process.wait(30)


@contextmanager
def killed_and_serving_again(
    address: str, first: ServerProcess, phones: list[Phone], rounds: int
) -> Iterator[ServerProcess]:
    """Kill one process after another while phones upload, then all at once; others serve at the same port then."""
    for _ in range(rounds):
        # Another takes its place.
        os.kill(random.choice(children_of(first.process.pid)), signal.SIGKILL)
        wait_for_more(phones, random.randint(1, 60))
    kill_all(first)
    with serving(address, first.port) as again:
        wait_for_more(phones, len(phones))
        yield again


def kill_and_promote(primary: Postgres, standby: Postgres, phones: list[Phone], most: int) -> None:
    """Kill a primary once up to `most` entries came, promote its standby, and wait until phones have gone on."""
    wait_for_more(phones, random.randint(1, most))
    primary.kill()
    time.sleep(random.uniform(0, 0.5))
    standby.promote()
    wait_for_more(phones, 2 * MANY)
