"""Phones that upload while things break, and what has to be in the log in the end."""

import contextlib
import http.client
import itertools
import json
import random
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any

from server.engine import calc
from server.log import LogFault

from .sample_logs import OTHER_UNIT, UNIT_ID, entry

Send = Callable[[list[dict[str, Any]]], list[dict[str, Any]]]
SHOWN = calc("note", {"text": "x"})
MOST_AT_ONCE = 100
PATIENCE_S = 60.0
# A phone waits longer after each failure in a row; these are shorter than a real phone's.
FIRST_PAUSE_S, LONGEST_PAUSE_S = 0.02, 0.5


class NotDelivered(Exception):
    """The workshop was not reached, or said that it could not store anything now."""


class Phone(threading.Thread):
    """Writes notes and delivers them, again and again until each is acknowledged, whatever happens meanwhile.

    Parameters
    ----------
    send : callable
        Sends entries; returns an answer for each, or raises `NotDelivered` or `LogFault`.
    pause_s : float
        How long it rests between batches.

    Attributes
    ----------
    written : set of str
        Ids of everything that it wrote.
    acknowledged : dict
        Number of each entry that was acknowledged, by its id.
    failures : list of str
        Why a delivery failed, each time.
    wrong : list
        Answers that none of its entries should have got.
    """

    def __init__(self, send: Send, pause_s: float = 0.0) -> None:
        super().__init__(daemon=True)
        self.send = send
        self.pause_s = pause_s
        self.written: set[str] = set()
        self.acknowledged: dict[str, int] = {}
        self.failures: list[str] = []
        self.wrong_answers: list[Any] = []
        self.writes = True

    def run(self) -> None:
        outbox: list[dict[str, Any]] = []
        pause_s = FIRST_PAUSE_S
        deadline = None
        while self.writes or outbox:
            if not self.writes:
                deadline = deadline or time.monotonic() + PATIENCE_S
                if time.monotonic() > deadline:
                    return
            elif not outbox:
                units = [random.choice((UNIT_ID, OTHER_UNIT)) for _ in range(random.randint(1, 6))]
                outbox = [entry("note", unit, shown=SHOWN) for unit in units]
                self.written |= {entry["id"] for entry in outbox}
            try:
                answers = self.send(outbox[:MOST_AT_ONCE])
            except (NotDelivered, LogFault) as failure:
                self.failures.append(str(failure))
                time.sleep(pause_s * random.random())
                pause_s = min(2 * pause_s, LONGEST_PAUSE_S)
                continue
            pause_s = FIRST_PAUSE_S
            for answer in answers:
                if answer["answer"] in ("stored", "already_there"):
                    self.acknowledged[answer["id"]] = answer["seq"]
                else:
                    self.wrong_answers.append(answer)
            outbox = [entry for entry in outbox if entry["id"] not in self.acknowledged]
            time.sleep(self.pause_s)


@contextlib.contextmanager
def uploading(sends: list[Send], pause_s: float = 0.0) -> Iterator[list[Phone]]:
    """Phones that upload meanwhile; at the end each writes no more, and delivers what it has."""
    phones = [Phone(send, pause_s) for send in sends]
    for phone in phones:
        phone.start()
    try:
        yield phones
    finally:
        for phone in phones:
            phone.writes = False
        for phone in phones:
            phone.join(2 * PATIENCE_S)


def acknowledged(phones: list[Phone]) -> int:
    """How many entries were acknowledged so far."""
    return sum(len(phone.acknowledged) for phone in phones)


def wait_for_more(phones: list[Phone], count: int = 1) -> None:
    """Wait until so many more entries were acknowledged."""
    count_wanted = acknowledged(phones) + count
    deadline = time.monotonic() + PATIENCE_S
    while acknowledged(phones) < count_wanted:
        assert time.monotonic() < deadline, (
            f"Nothing is acknowledged any more: {[phone.failures[-1:] for phone in phones]}"
        )
        time.sleep(0.005)


def check_all_is_there(phones: list[Phone], log: Any, after: int = 0) -> None:
    """All that phones wrote is in the log, once, under the number that was acknowledged, and no number is left out.

    Parameters
    ----------
    phones : list of Phone
        All that wrote into the log, and have ended.
    log : Log
        The log.
    after : int
        The log's last number before they wrote.
    """
    entries: list[dict[str, Any]] = []
    has_more = True
    while has_more:
        page, has_more = log.after(entries[-1]["seq"] if entries else after, 500)
        entries += page
    ids = Counter(entry["id"] for entry in entries)
    assert [name for name, times in ids.items() if times > 1] == [], "nothing is there twice"
    seqs = [entry["seq"] for entry in entries]
    # A log whose server was replaced begins far higher, and says which numbers it left out for that.
    left_out = [[low + 1, high - 1] for low, high in itertools.pairwise([after, *seqs]) if high != low + 1]
    assert left_out == log.identity.skipped, "no other number is left out"
    numbers = {entry["id"]: entry["seq"] for entry in entries}
    for phone in phones:
        assert phone.wrong_answers == []
        lost = {name: seq for name, seq in phone.acknowledged.items() if numbers.get(name) != seq}
        assert lost == {}, "what was acknowledged is there, under its number"
        assert set(phone.acknowledged) == phone.written, f"all was delivered in the end: {phone.failures[-3:]}"
    assert set(numbers) == set().union(*(phone.written for phone in phones)), "and nothing else is there"


def sender_by_http(port: int, token: str | None) -> Send:
    """Sends over HTTP to a server on this machine, each time on a new connection."""
    headers = {"Content-Type": "application/json"} | ({"Authorization": f"Bearer {token}"} if token else {})

    def send(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
        try:
            connection.request("POST", "/api/log", json.dumps({"entries": entries}), headers)
            answer = connection.getresponse()
            status, data = answer.status, answer.read()
            if status != 200:
                raise NotDelivered(f"{status} {data[:300]!r}")
            answers: list[dict[str, Any]] = json.loads(data)["answers"]
            return answers
        except (OSError, http.client.HTTPException, ValueError) as failure:
            raise NotDelivered(repr(failure)) from failure
        finally:
            connection.close()

    return send
