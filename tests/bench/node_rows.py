"""What one node carries: the busiest ten minutes of ten thousand workshops' season, through the interface, sped up."""

import json
import os
import subprocess
import sys
import threading
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import psycopg

from server.lan.register import hash_token
from server.log.postgres.texts import text_of
from tests.linux import children_of
from tests.server.processes import ROOT

from .database_rows import FILL, Bench, bench
from .figures import Figure, percentile
from .season import WORKSHOPS, Delivery, amount, busiest, season
from .sizes import Sizes
from .workshop import Workshop, as_stored

LENGTH_S = 600.0
# Of how many workshops, and how many times faster the ten minutes pass: so many times the workshops.
SCALES = {"quick": (500, (20,)), "usual": (2_000, (20,)), "long": (WORKSHOPS, (5, 10, 20))}
WORKERS = 2
THREADS = 48
# Entries that each workshop has before.
BEFORE = 20
TICKS = os.sysconf("SC_CLK_TCK")

WORKSHOP_ROWS = """
    insert into workshop (name, log_id, generation, receipt_key, timeline)
    select 'Workshop ' || number, gen_random_uuid(), gen_random_uuid(), known.receipt_key, known.timeline
    from generate_series(2, %s) as number, (select * from workshop order by id limit 1) as known
"""
DEVICE = """
    insert into device (workshop, id, name, role, token_sha256, paired, seen)
    values (%s, %s, 'Phone', 'bench', %s, now(), now())
"""


class Node:
    """A database of many workshops, with a token for each phone that comes."""

    def __init__(self, made: Bench, workshops: int, deliveries: list[Delivery]) -> None:
        self.made = made
        texts = [text_of(as_stored(entry)) for entry in Workshop(40, 7).fresh(100)]
        with psycopg.connect(made.owner, options="-c search_path=slipbook", autocommit=True) as owner:
            owner.execute(WORKSHOP_ROWS, [workshops])
            numbers = [row[0] for row in owner.execute("select id from workshop order by id")]
            fill = FILL.replace("%(workshop)s", "workshop.id").replace(
                "from generate_series", "from workshop, generate_series"
            )
            owner.execute(fill, {"texts": texts, "many": len(texts), "count": BEFORE})
            owner.execute("update workshop set top = %s", [BEFORE])
            self.phones: list[dict[str, Any]] = []
            for row in deliveries:
                token = f"{row.workshop}-{row.phone}-{len(self.phones)}"
                owner.execute(DEVICE, [numbers[row.workshop], uuid.uuid4(), hash_token(token)])
                self.phones.append({"token": token, "entries": row.entries, "photos": row.photos, "at_s": row.at_s})
            owner.execute("vacuum analyze")

    def replay(self, speed: int, port: int | None) -> dict[str, Any]:
        """Let the phones come, so many times faster."""
        task = {
            "port": port,
            "threads": THREADS,
            "contents": Workshop(40, 9).fresh(60),
            "phones": [{**phone, "at_s": phone["at_s"] / speed} for phone in self.phones],
        }
        order = [sys.executable, "-m", "tests.bench.coming_home"]
        done = subprocess.run(order, cwd=ROOT, input=json.dumps(task), text=True, capture_output=True)
        if done.returncode:
            raise RuntimeError(done.stderr[-300:])
        outcome: dict[str, Any] = json.loads(done.stdout)
        if outcome["failed"]:
            raise RuntimeError(f"{len(outcome['failed'])} failed, as {outcome['failed'][0]}")
        return outcome


def cpu_s(pids: list[int]) -> float:
    """Seconds of processor time that processes, and those that they waited for, have used."""
    total = 0
    for pid in pids:
        fields = Path(f"/proc/{pid}/stat").read_text(errors="replace").rpartition(")")[2].split()
        total += sum(map(int, fields[11:15]))
    return total / TICKS


class Use:
    """What the node used meanwhile: processor time, write-ahead log and connections."""

    def __init__(self, made: Bench, server: int) -> None:
        self.made = made
        self.server = server
        self.connections = 0
        self.stops = threading.Event()
        self.thread = threading.Thread(target=self.watch, daemon=True)

    def read(self) -> tuple[float, float, int]:
        """Processor seconds of the server and of the database, and bytes of write-ahead log, so far."""
        assert self.made.server.process is not None
        postmaster = self.made.server.process.pid
        with self.made.server.connect() as connection:
            row = connection.execute("select pg_wal_lsn_diff(pg_current_wal_lsn(), '0/0')::bigint").fetchone()
        assert row is not None
        servers = [self.server, *children_of(self.server)]
        return cpu_s(servers), cpu_s([postmaster, *children_of(postmaster)]), row[0]

    def watch(self) -> None:
        """See how many connections there are at most."""
        with self.made.server.connect() as connection:
            while not self.stops.wait(0.5):
                row = connection.execute("select count(*) from pg_stat_activity where usename like 'slipbook%'")
                self.connections = max(self.connections, (row.fetchone() or (0,))[0])

    @contextmanager
    def measured(self) -> Iterator[None]:
        """Measure what happens inside."""
        before = self.read()
        self.thread.start()
        yield
        self.stops.set()
        self.thread.join()
        self.server_s, self.database_s, self.wal = (now - then for now, then in zip(self.read(), before))


def node(sizes: Sizes) -> Iterator[Figure]:
    """The busiest ten minutes of a season, passing faster and faster."""
    workshops, speeds = SCALES[sizes.length]
    deliveries = busiest(season(workshops), LENGTH_S)
    whole = amount(deliveries)
    with bench(1) as made:
        phones = Node(made, workshops, deliveries)
        for speed in speeds:
            with made.serving(WORKERS) as server:
                use = Use(made, server.process.pid)
                with use.measured():
                    outcome = phones.replay(speed, server.port)
            late = percentile(outcome["took"]["whole delivery"], 95)
            took = {kind: percentile(times, 95) for kind, times in outcome["took"].items()}
            length = LENGTH_S / speed
            yield Figure(
                f"busiest ten minutes of {workshops} workshops in {length:.0f} s, {WORKERS} server processes",
                f"{late:.2f} s until a phone is through, 95th percentile",
                "",
                f"{outcome['length_s'] / length:.2f}x the time",
                "<= 10 s" if speed == speeds[0] else "",
                late <= 10 or speed != speeds[0],
                f"{whole.deliveries} phones, {whole.entries} entries, {whole.photos} photos; at the 95th percentile "
                + ", ".join(f"{kind} {1000 * value:.0f} ms" for kind, value in took.items() if kind != "whole delivery")
                + f"; processor time of the servers {use.server_s:.0f} s, of the database {use.database_s:.0f} s; "
                f"{use.wal / 1e6:.0f} MB of write-ahead log, {use.connections} connections",
            )
