"""What a batch that is added to the database costs in processor time, beside a bare insert of the same batch."""

import json
import os
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import psycopg

from server.log.postgres import Database
from server.log.postgres.log import DatabaseLog
from server.log.postgres.texts import text_of

from .uploading import INSERT, new_id
from .workshop import as_stored

BATCHES = 20


class Cost(NamedTuple):
    """Milliseconds of a processor for a batch: of who adds it, and of the database."""

    client: float
    database: float

    @property
    def whole(self) -> float:
        """Both."""
        return self.client + self.database


def processor_s(process: int) -> float:
    """The processor time that a process has had so far, in seconds; on Linux alone."""
    fields = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def cost_of(add: Callable[[], Any], backend: int) -> Cost:
    """What a batch costs that `add` adds over the connection which this process of the database serves."""
    add()
    before = time.process_time(), processor_s(backend)
    for _ in range(BATCHES):
        add()
    after = time.process_time(), processor_s(backend)
    client, database = ((late - early) / BATCHES * 1000 for early, late in zip(before, after))
    return Cost(client, database)


def shares(owner: str, server: str, workshop: int, entry: dict[str, Any], size: int) -> str:
    """What a batch costs, ours and bare, and so at most which ratio busy processors allow, in a sentence."""
    stored = as_stored(entry)
    database = Database(server, most=1)
    log = DatabaseLog(database, workshop)
    with database.nowhere() as connection:
        backend = connection.info.backend_pid
    ours = cost_of(lambda: log.add([{**stored, "id": new_id()} for _ in range(size)]), backend)
    database.close()
    with psycopg.connect(owner) as bare:

        def insert() -> None:
            text = json.dumps(entry)
            with bare.cursor() as cursor:
                cursor.executemany(INSERT, [(new_id(), text) for _ in range(size)])
            bare.commit()

        theirs = cost_of(insert, bare.info.backend_pid)
    start = time.process_time()
    for _ in range(BATCHES * size):
        text_of(stored)
    text_ms = (time.process_time() - start) / BATCHES * 1000
    return (
        f"a batch takes {ours.client:.0f} ms of a processor, {text_ms:.0f} of them for each entry's own text, and "
        f"{ours.database:.0f} ms of the database; bare {theirs.client:.0f} ms, with one text for all, and "
        f"{theirs.database:.0f} ms: where no processor is free that is {theirs.whole / ours.whole:.2f}x at most"
    )
