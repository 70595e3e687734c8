"""The figures of the store on PostgreSQL: uploads beside bare inserts, pages in a large table, start and memory."""

import json
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from typing import Any

import psycopg

from server.lan import BENCH
from server.lan.postgres import DatabaseRegisters
from server.log.postgres import Database
from server.log.postgres.log import DatabaseLog
from tests.postgres import Postgres, children_of, new_server
from tests.server.database_made import as_server, make_database
from tests.server.running import ROOT, Running, running

from .figures import Figure, median, ms, seconds
from .log_rows import resident
from .sizes import Sizes
from .workshop import Workshop

NAME = "slipbook"
QUEUED, BATCH = 1000, 100
PAGE = 500
# Connections for each server process, and their workshops: nobody waits for another's log.
PHONES = 4
BARE = "create table bare (id uuid primary key, said text not null)"


class Bench:
    """A server of PostgreSQL that has its disk keep what it commits, with workshops and a phone of each."""

    def __init__(self, server: Postgres, workshops: int) -> None:
        self.server = server
        names = [f"Workshop {place}" for place in range(workshops)]
        self.owner = server.make_database(NAME)
        database, self.numbers = make_database(self.owner, *names)
        registers = DatabaseRegisters(database)
        self.tokens = [registers.of(number).devices.add("Phone", BENCH)[1] for number in self.numbers]
        database.close()
        with psycopg.connect(self.owner, autocommit=True) as connection:
            connection.execute(BARE)

    @property
    def address(self) -> str:
        """The database as the server uses it."""
        return as_server(self.owner)

    def serving(self, workers: int) -> Any:
        """So many server processes."""
        return running("serve", "--database", self.address, "--workers", str(workers))


@contextmanager
def bench(workshops: int) -> Iterator[Bench]:
    """PostgreSQL as it is meant to run: it waits for the disk."""
    with new_server(fsync="on", shared_buffers="256MB", max_wal_size="4GB") as server:
        yield Bench(server, workshops)


def rate(task: dict[str, Any]) -> float:
    """How many of a task are done in a second, by a process of its own."""
    order = [sys.executable, "-m", "tests.bench.uploading"]
    done = subprocess.run(order, cwd=ROOT, input=json.dumps(task), text=True, capture_output=True)
    if done.returncode:
        raise RuntimeError(done.stderr.strip()[-300:])
    return float(done.stdout)


def uploads(sizes: Sizes) -> Iterator[Figure]:
    """Uploads a second with one, two and four server processes, and bare inserts with as many commits, in turns."""
    length = 1 if sizes.quick else 3
    turns = 2 if sizes.quick else 5
    entry = Workshop(1).fresh(1)[0]
    with bench(4 * PHONES) as made:
        for workers in (1, 2, 4):
            threads = workers * PHONES
            common = {"entry": entry, "seconds": length, "threads": threads}
            with made.serving(workers) as server:
                for batch in (1, 20):
                    upload = {**common, "batch": batch, "port": server.port, "tokens": made.tokens}
                    insert = {**common, "batch": batch, "address": made.owner}
                    pairs = [(rate(upload), rate(insert)) for _ in range(turns)]
                    yield compared(workers, batch, threads, pairs, length)


def compared(workers: int, batch: int, threads: int, pairs: list[tuple[float, float]], length: float) -> Figure:
    """The figure of some turns of uploads and bare inserts."""
    ratio = median([ours / theirs for ours, theirs in pairs])
    what = "one torque check" if batch == 1 else f"{batch} torque checks"
    return Figure(
        f"uploads of {what}, {workers} server process{'es' if workers > 1 else ''}",
        f"{median([ours for ours, _ in pairs]):.0f} a second",
        f"bare inserts, committed as often: {median([theirs for _, theirs in pairs]):.0f} a second",
        f"{ratio:.2f}x",
        ">= 0.4x",
        ratio >= 0.4,
        f"{threads} connections each, {len(pairs)} turns of {length} s, median of the turns' ratios; each upload is "
        "checked, judged again and let in by its token; asking, serving and database share the machine",
    )


def queue_home(server: Running, token: str | None, batches: list[list[dict[str, Any]]]) -> float:
    """Seconds until a phone's queue is acknowledged."""
    import http.client

    connection = http.client.HTTPConnection("127.0.0.1", server.port or 0, timeout=60)
    headers = {"Content-Type": "application/json"} | ({"Authorization": f"Bearer {token}"} if token else {})
    start = time.perf_counter()
    for batch in batches:
        connection.request("POST", "/api/log", json.dumps({"entries": batch}), headers)
        answer = connection.getresponse()
        stored = answer.read().count(b'"stored"')
        if stored != len(batch):
            raise RuntimeError(f"{answer.status}: {stored} of {len(batch)} were stored")
    took = time.perf_counter() - start
    connection.close()
    return took


def queued(sizes: Sizes) -> Iterator[Figure]:
    """A phone's queue of a thousand entries into the database, and into a folder, in turns."""
    turns = 2 if sizes.quick else 5
    workshop = Workshop(40, 5)
    pairs = []
    with (
        bench(1) as made,
        made.serving(2) as server,
        running("serve", "--folder", str(sizes.folder / "queued")) as files,
    ):
        for _ in range(turns):
            both = []
            for home, token in ((server, made.tokens[0]), (files, None)):
                entries = workshop.fresh(QUEUED)
                batches = [entries[start : start + BATCH] for start in range(0, QUEUED, BATCH)]
                both.append(queue_home(home, token, batches))
            pairs.append(both)
    ratio = median([theirs / ours for ours, theirs in pairs])
    yield Figure(
        f"{QUEUED} queued entries of one phone into the database",
        f"{median([ours for ours, _ in pairs]):.2f} s",
        f"into a folder: {median([theirs for _, theirs in pairs]):.2f} s",
        f"{ratio:.2f}x as fast",
        ">= 0.5x",
        ratio >= 0.5,
        f"over HTTP in batches of {BATCH}, {turns} turns, median of the turns' ratios",
    )


# As `add_entries` leaves rows; the text is one of some hundred real ones, with its own id.
FILL = """
    insert into entry (workshop, seq, id, unit, said)
    select %(workshop)s, seq, md5('w' || %(workshop)s || '-' || seq)::uuid, 'unit ' || seq %% 40,
    (%(texts)s::text[])[1 + seq %% %(many)s]
    from generate_series(1, %(count)s::bigint) as seq
"""


def pages(sizes: Sizes) -> Iterator[Figure]:
    """A page of 500 of a workshop in a table of a million entries, and of one in a small table."""
    from server.log.postgres.texts import text_of

    from .workshop import as_stored

    workshops, each = (10, 10_000) if sizes.quick else (100, 10_000)
    texts = [text_of(as_stored(entry)) for entry in Workshop(40, 7).fresh(100)]
    middle = {}
    for name, count in (("small", 1), ("large", workshops)):
        with bench(count) as made:
            with psycopg.connect(made.owner, options="-c search_path=slipbook", autocommit=True) as owner:
                for number in made.numbers:
                    values = {"workshop": number, "texts": texts, "many": len(texts), "count": each}
                    owner.execute(FILL, values)
                owner.execute("update workshop set top = %s", [each])
                owner.execute("vacuum analyze entry")
            database = Database(made.address)
            taken = []
            for turn in range(60 if sizes.quick else 200):
                log = DatabaseLog(database, made.numbers[turn * 7 % count])
                taken.append(seconds(partial(log.after, turn * 13 % (each - PAGE), PAGE)))
            database.close()
            middle[name] = median(taken)
    ratio = middle["large"] / middle["small"]
    yield Figure(
        f"page of {PAGE} in a table of {workshops * each} entries of {workshops} workshops",
        ms(middle["large"]),
        f"in a table of {each}: {ms(middle['small'])}",
        f"{ratio:.2f}x",
        "<= 1.5x",
        ratio <= 1.5,
        "read by the store, medians; another workshop each time",
    )


def start_and_memory(sizes: Sizes) -> Iterator[Figure]:
    """How long server processes take to start, and what each holds in memory after some work."""
    workers = 2
    entries = Workshop(40, 5).fresh(QUEUED)
    took = []
    memory = 0.0
    with bench(1) as made:
        for turn in range(2 if sizes.quick else 5):
            start = time.perf_counter()
            with made.serving(workers) as server:
                server.ask("GET", "/api/health")
                took.append(time.perf_counter() - start)
                if turn == 0:
                    queue_home(server, made.tokens[0], [entries[at : at + BATCH] for at in range(0, QUEUED, BATCH)])
                    memory = max(resident(pid) for pid in children_of(server.process.pid))
    yield Figure(
        f"start of {workers} server processes over a database",
        f"{median(took):.2f} s",
        "",
        "",
        "<= 3 s",
        median(took) <= 3,
        f"until they answer, split off a process that had read the modules; median of {len(took)}",
    )
    yield Figure(
        "resident memory of a server process over a database",
        f"{memory:.0f} MB",
        "",
        "",
        "<= 250 MB",
        memory <= 250,
        f"the larger of {workers} after {QUEUED} entries came",
    )
