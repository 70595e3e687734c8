"""The figures of the store on PostgreSQL: uploads beside bare inserts, pages in a large table, start and memory."""

import http.client
import json
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from functools import partial
from typing import Any

import psycopg

from server.lan import BENCH
from server.lan.postgres import DatabaseRegisters
from server.log.postgres import Database
from server.log.postgres.log import DatabaseLog
from server.log.postgres.texts import text_of
from tests.linux import children_of
from tests.postgres import Postgres, new_server
from tests.server.database_made import as_server, make_database
from tests.server.processes import ROOT, ServerProcess, running_server

from .batch_cost import shares
from .figures import Figure, median, ms, seconds
from .log_rows import resident
from .sizes import Sizes
from .workshop import Workshop, as_stored

NAME = "slipbook"
QUEUED, BATCH = 1000, 100
PAGE = 500
PROCESSES = (1, 2, 4)
# Seconds of each turn, and how many turns, by how much is measured; and how many workshops of 10 000 entries there are.
TURNS = {"quick": (1, 2), "usual": (1, 2), "long": (3, 5)}
LARGE = {"quick": 10, "usual": 20, "long": 100}
# Connections for each server process, each of a workshop of its own: nobody waits for another's log.
PHONES = 4
# How many entries each of them uploads at a time.
UPLOADED = 20
BARE = "create table bare (id uuid primary key, said text not null)"


class Bench:
    """A server of PostgreSQL that has its disk keep what it commits, with workshops and a phone of each."""

    def __init__(self, server: Postgres, workshops: int) -> None:
        self.server = server
        names = [f"Workshop {place}" for place in range(workshops)]
        self.owner = server.make_database(NAME)
        database, self.numbers = make_database(self.owner, *names)
        registers = DatabaseRegisters(database)
        self.tokens = [registers.register_of(number).devices.add("Phone", BENCH)[1] for number in self.numbers]
        database.close()
        with psycopg.connect(self.owner, autocommit=True) as connection:
            connection.execute(BARE)

    @property
    def address(self) -> str:
        """The database as the server uses it."""
        return as_server(self.owner)

    def serving(self, workers: int) -> Any:
        """So many server processes."""
        return running_server("serve", "--database", self.address, "--workers", str(workers))


@contextmanager
def bench(workshops: int) -> Iterator[Bench]:
    """PostgreSQL as it is meant to run: it waits for the disk."""
    with new_server(fsync="on", shared_buffers="256MB", max_wal_size="4GB") as server:
        yield Bench(server, workshops)


def rate(tasks: list[dict[str, Any]]) -> float:
    """How many batches are done in a second, each task by a process of its own at the same time."""
    order = [sys.executable, "-m", "tests.bench.uploading"]
    pipe = subprocess.PIPE
    processes = [subprocess.Popen(order, cwd=ROOT, text=True, stdin=pipe, stdout=pipe, stderr=pipe) for _ in tasks]
    with ThreadPoolExecutor(len(tasks)) as pool:
        done = list(pool.map(lambda process, task: process.communicate(json.dumps(task)), processes, tasks))
    if wrong := "".join(errors for _, errors in done):
        raise RuntimeError(wrong.strip()[-300:])
    return sum(float(printed) for printed, _ in done)


def adding(sizes: Sizes) -> Iterator[Figure]:
    """Entries that one, two and four processes add to logs of their own, beside bare inserts, in turns."""
    entry = Workshop(1).fresh(1)[0]
    length, turns = TURNS[sizes.length]
    with bench(max(PROCESSES)) as made:
        cost = shares(made.owner, made.address, made.numbers[0], entry, BATCH)
        for processes in PROCESSES:
            common = {"entry": entry, "seconds": length, "threads": 1, "batch": BATCH}
            ours = [
                {**common, "what": "add", "address": made.address, "numbers": [number]}
                for number in made.numbers[:processes]
            ]
            theirs = [{**common, "what": "insert", "address": made.owner}] * processes
            pairs = [(BATCH * rate(ours), BATCH * rate(theirs)) for _ in range(turns)]
            yield compared(
                f"entries that {in_words(processes)} to the database",
                pairs,
                f"batches of {BATCH}, a log each; {turns} turns of {length} s, median of their ratios; {cost}",
            )


def in_words(processes: int) -> str:
    """So many processes and what they do.

    >>> in_words(1), in_words(2)
    ('1 process adds', '2 processes add')
    """
    return "1 process adds" if processes == 1 else f"{processes} processes add"


def uploads(sizes: Sizes) -> Iterator[Figure]:
    """Uploads by one, two and four server processes, beside bare inserts with as many commits, in turns."""
    entry = Workshop(1).fresh(1)[0]
    length, turns = TURNS[sizes.length]
    with bench(max(PROCESSES) * PHONES) as made:
        for processes in PROCESSES:
            threads = processes * PHONES
            common = {"entry": entry, "seconds": length, "threads": threads, "batch": UPLOADED}
            with made.serving(processes) as server:
                upload = {**common, "what": "upload", "port": server.port, "tokens": made.tokens}
                insert = {**common, "what": "insert", "address": made.owner}
                pairs = [(UPLOADED * rate([upload]), UPLOADED * rate([insert])) for _ in range(turns)]
            yield compared(
                f"entries uploaded over HTTP, server processes: {processes}",
                pairs,
                f"{threads} connections each, {UPLOADED} torque checks at a time, {turns} turns of {length} s; each is "
                "checked and judged again, which a bare insert is not; asking, serving and database share the machine",
            )


def compared(name: str, pairs: list[tuple[float, float]], note: str) -> Figure:
    """The figure of some turns of ours and of bare inserts."""
    ratio = median([ours / theirs for ours, theirs in pairs])
    return Figure(
        name,
        f"{median([ours for ours, _ in pairs]):.0f} a second",
        f"bare inserts, committed as often: {median([theirs for _, theirs in pairs]):.0f} a second",
        f"{ratio:.2f}x",
        ">= 0.4x",
        ratio >= 0.4,
        note,
    )


def queue_home(server: ServerProcess, token: str | None, batches: list[list[dict[str, Any]]]) -> float:
    """Seconds until a phone's queue is acknowledged."""
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
    turns = 5 if sizes.length == "long" else 2
    workshop = Workshop(40, 5)
    pairs = []
    with (
        bench(1) as made,
        made.serving(2) as server,
        running_server("serve", "--folder", str(sizes.folder / "queued")) as files,
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
    """A page of 500 of a workshop in a large table, of a million entries in a long run, and of one in a small table."""
    workshops, each = LARGE[sizes.length], 10_000
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
        for turn in range(2 if sizes.quick else 3):
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
        f"until they answer; one process reads all modules, and they are split off from it; median of {len(took)}",
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
