"""Uploads, adds to a log or inserts bare rows, over and over: `python -m tests.bench.uploading`, what as JSON to it.

In a process of its own, so that the asking does not take its time from whoever measures. Prints how many a second.
"""

import http.client
import json
import os
import sys
import threading
import time
import uuid
from collections.abc import Callable
from typing import Any

import psycopg

from server.log import STORED
from server.log.postgres import Database
from server.log.postgres.log import DatabaseLog

from .workshop import as_stored

INSERT = "insert into bare (id, said) values (%s, %s)"


def new_id() -> str:
    """A UUID of version 7 for now."""
    number = int(time.time() * 1000) << 80 | int.from_bytes(os.urandom(10))
    number = number & ~(0xF << 76) | 7 << 76
    return str(uuid.UUID(int=number & ~(0x3 << 62) | 2 << 62))


def upload(task: dict[str, Any], place: int) -> Callable[[], None]:
    """Uploads a batch at each call, over one connection that stays open."""
    connection = http.client.HTTPConnection("127.0.0.1", task["port"], timeout=60)
    headers = {"Content-Type": "application/json", "Authorization": f"Bearer {task['tokens'][place]}"}

    def run() -> None:
        entries = [{**task["entry"], "id": new_id()} for _ in range(task["batch"])]
        connection.request("POST", "/api/log", json.dumps({"entries": entries}), headers)
        answer = connection.getresponse()
        data = answer.read()
        if answer.status != 200 or data.count(b'"stored"') != len(entries):
            raise SystemExit(f"{answer.status} {data[:300]!r}")

    return run


def add(task: dict[str, Any], place: int) -> Callable[[], None]:
    """Adds a batch to a workshop's log at each call, without a server before it."""
    database = Database(task["address"], most=1)
    entry = as_stored(task["entry"])
    log = DatabaseLog(database, task["numbers"][place])

    def run() -> None:
        answers = log.add([{**entry, "id": new_id()} for _ in range(task["batch"])])
        if any(answer.answer != STORED for answer in answers):
            raise SystemExit("not all were stored")

    return run


def insert(task: dict[str, Any], _: int) -> Callable[[], None]:
    """Inserts and commits a batch at each call."""
    connection = psycopg.connect(task["address"])

    def run() -> None:
        text = json.dumps(task["entry"])
        rows = [(new_id(), text) for _ in range(task["batch"])]
        with connection.cursor() as cursor:
            cursor.executemany(INSERT, rows)
        connection.commit()

    return run


def main() -> None:
    """Do the task for so many seconds, in as many threads as it says."""
    task = json.load(sys.stdin)
    make = {"upload": upload, "add": add, "insert": insert}[task["what"]]
    rates: list[float] = []
    # What comes before the first batch, such as connecting, is no part of it.
    runs = [make(task, place) for place in range(task["threads"])]
    for run in runs:
        run()

    def work(run: Callable[[], None]) -> None:
        start, count = time.perf_counter(), 0
        while time.perf_counter() < start + task["seconds"]:
            run()
            count += 1
        rates.append(count / (time.perf_counter() - start))

    threads = [threading.Thread(target=work, args=[run]) for run in runs]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if len(rates) < task["threads"]:
        raise SystemExit("a connection broke")
    print(sum(rates))


if __name__ == "__main__":
    main()
