"""Guessing over the network gets nowhere, and whoever has a token is served throughout."""

import json
import secrets
import threading
from collections.abc import Callable, Iterator
from http.client import HTTPSConnection
from pathlib import Path

import pytest
from flask import Flask

from server.lan import TRACKSIDE, Door
from server.lan.files.register import FolderGuesses
from server.lan.pacing import FREE_GUESSES, GUESSES_WITHIN_S, MOST_WAITING, Pacing
from server.lan.pairing import CODE_ALPHABET, CODE_LENGTH, MOST_WRONG

from .lan_server import LanServer, serve_lan
from .lan_visitors import Visitor, paired_phone
from .sample_logs import entry, new_id

pytestmark = pytest.mark.about_files("`serve --lan` serves a folder, with a certificate of its own")

GUESSES = 1000
# More than may wait for their answers at a time.
GUESSERS = MOST_WAITING + 4


@pytest.fixture
def server(tmp_path: Path) -> Iterator[LanServer]:
    with serve_lan(tmp_path / "data") as running:
        yield running


def guess_all(server: LanServer, ask: Callable[[HTTPSConnection, int], int]) -> list[int]:
    """What all guesses were answered, of several guessers at once, each over one connection."""
    answers: list[int] = []

    def guess(first: int) -> None:
        connection = HTTPSConnection("localhost", server.port, context=server.tls_context, timeout=60)
        for number in range(first, GUESSES, GUESSERS):
            answers.append(ask(connection, number))
        connection.close()

    threads = [threading.Thread(target=guess, args=(first,)) for first in range(GUESSERS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return answers


def guessed_token(connection: HTTPSConnection, _: int) -> int:
    connection.request("GET", "/api/units", headers={"Authorization": f"Bearer {secrets.token_urlsafe(32)}"})
    answer = connection.getresponse()
    answer.read()
    return answer.status


def guessed_code(connection: HTTPSConnection, number: int) -> int:
    # As a stranger elsewhere on the network asks: with no token that is known.
    headers = {"Content-Type": "application/json", "Authorization": "Bearer x"}
    code = "".join(
        CODE_ALPHABET[number // len(CODE_ALPHABET) ** place % len(CODE_ALPHABET)] for place in range(CODE_LENGTH)
    )
    connection.request("POST", "/api/pair", json.dumps({"code": code, "name": "Guesser"}), headers)
    answer = connection.getresponse()
    answer.read()
    return answer.status


class Worker:
    """A phone that goes on with its work while others guess."""

    def __init__(self, server: LanServer) -> None:
        self.server = server
        self.token = server.pair("trackside", "Jo's phone")
        self.stored = 0
        self.wrong_answers: list[object] = []
        self.stops = threading.Event()
        self.thread = threading.Thread(target=self.work)

    def work(self) -> None:
        while not self.stops.is_set():
            note = entry("note", id=new_id())
            status, answer = self.server.ask("POST", "/api/log", {"entries": [note]}, self.token)
            if status != 200 or answer["answers"][0]["answer"] != "stored":
                self.wrong_answers.append(answer)
                return
            self.stored += 1

    def __enter__(self) -> "Worker":
        self.thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self.stops.set()
        self.thread.join()


def test_a_thousand_guessed_tokens_let_nobody_in_and_keep_nobody_out(server: LanServer) -> None:
    with Worker(server) as worker:
        answers = guess_all(server, guessed_token)
    assert answers == [401] * GUESSES
    assert worker.wrong_answers == []
    assert worker.stored > 10
    assert server.ask("GET", "/api/health")[1]["log"] == worker.stored


def test_a_thousand_guessed_codes_let_nobody_in_and_keep_nobody_out(server: LanServer) -> None:
    with Worker(server) as worker:
        status, code_answer = server.ask("POST", "/api/pairing", {"role": "bench"})
        assert status == 200
        answers = guess_all(server, guessed_code)
    assert sorted(answers) == [422] * (MOST_WRONG - 1) + [429] * (GUESSES - MOST_WRONG + 1)
    assert server.ask("POST", "/api/pair", {"code": code_answer["code"], "name": "Late"})[0] == 429
    assert worker.wrong_answers == [], "whoever is in is not locked out with them"
    assert worker.stored > 10
    assert [device["name"] for device in server.ask("GET", "/api/devices")[1]["devices"]] == ["Jo's phone"]


def test_a_few_wrong_guesses_are_answered_at_once_and_many_are_not() -> None:
    now = [1000.0]
    pacing = Pacing(FolderGuesses(lambda: now[0]), 0)
    assert [pacing.count_guess() for _ in range(FREE_GUESSES + 2)] == [False] * FREE_GUESSES + [True] * 2
    now[0] += GUESSES_WITHIN_S
    assert not pacing.count_guess()


def test_while_guesses_wait_whoever_is_let_in_does_not(
    lan: tuple[Flask, Door], monkeypatch: pytest.MonkeyPatch
) -> None:
    app, door = lan
    phone, bench = paired_phone(app, TRACKSIDE), Visitor(app, "127.0.0.1")
    code = bench.ask("POST", "/api/pairing", json={"role": TRACKSIDE}).json["code"]
    waited: list[float] = []
    monkeypatch.setattr("server.lan.pacing.time.sleep", waited.append)
    door.pacing.pause_s = 7
    guesses = door.pacing.guesses
    assert isinstance(guesses, FolderGuesses)
    guesses.clock = lambda: guesses.counting_since
    guesser = Visitor(app, token="x" * 43)
    assert [guesser.ask("GET", "/api/units").status_code for _ in range(FREE_GUESSES + 1)] == [401] * (FREE_GUESSES + 1)
    assert waited == [7]
    # A good token, whatever it is answered; the PC itself; a stranger who guesses nothing; the right code.
    answers = [
        phone.ask("GET", "/api/units"),
        phone.ask("POST", "/api/log", json={"entries": [entry("note")]}),
        phone.ask("GET", "/api/devices"),
        phone.ask("GET", "/api/units/nothing"),
        phone.ask("POST", "/api/log", json={"entries": 1}),
        bench.ask("GET", "/api/devices"),
        Visitor(app).ask("GET", "/api/units"),
        Visitor(app).pair(code),
    ]
    assert [answer.status_code for answer in answers] == [200, 200, 403, 404, 422, 200, 401, 200]
    assert waited == [7], "only the guess"
    assert phone.pair("2222-2222").status_code == 422, "a code is guessed with a good token too"
    assert waited == [7, 7]


def test_so_many_guesses_wait_at_a_time_and_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    guesses = FolderGuesses()
    guesses.guesses = FREE_GUESSES
    pacing = Pacing(guesses, 60)
    goes_on, waiting = threading.Event(), []

    def wait(seconds: float) -> None:
        waiting.append(seconds)
        goes_on.wait(30)

    monkeypatch.setattr("server.lan.pacing.time.sleep", wait)
    threads = [threading.Thread(target=pacing.delay_guess) for _ in range(MOST_WAITING)]
    for thread in threads:
        thread.start()
    while len(waiting) < MOST_WAITING:
        goes_on.wait(0.01)
    pacing.delay_guess()
    assert waiting == [60] * MOST_WAITING, "this one was answered at once"
    goes_on.set()
    for thread in threads:
        thread.join()
    pacing.delay_guess()
    assert len(waiting) == MOST_WAITING + 1
