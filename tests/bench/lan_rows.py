"""The network's figures: how a phone that is let in fares while others guess tokens and codes."""

import json
import subprocess
import sys
from collections.abc import Iterator
from http.client import HTTPSConnection

from tests.engine.checks import BREAKAWAY
from tests.server import processes
from tests.server.lan_server import LanServer

from .figures import Figure, median, ms, seconds
from .guess import GUESSERS
from .sizes import Sizes

GUESSES = 1000


class Phone:
    """A paired phone, whose connection stays open."""

    def __init__(self, server: LanServer) -> None:
        self.connection = HTTPSConnection("localhost", server.port, context=server.tls_context, timeout=60)
        token = server.pair("trackside")
        self.headers = {"Authorization": f"Bearer {token}", "Content-Type": "application/json"}
        self.body = json.dumps(BREAKAWAY)

    def ask(self) -> None:
        """One verdict."""
        self.connection.request("POST", "/api/calc/breakaway", self.body, self.headers)
        answer = self.connection.getresponse()
        answer.read()
        assert answer.status == 200, answer.status


def while_guessing(server: LanServer, phone: Phone, what: str, count: int) -> list[float]:
    """The phone's times for as long as the guesses last."""
    order = [sys.executable, "-m", "tests.bench.guess", str(server.port), str(server.authority), what, str(count)]
    with subprocess.Popen(
        order, cwd=processes.ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as guesses:
        assert guesses.stdout is not None
        assert guesses.stderr is not None
        guesses.stdout.readline()
        times = []
        while guesses.poll() is None:
            times.append(seconds(phone.ask))
        wrong = guesses.stderr.read()
    if wrong or guesses.returncode or not times:
        raise AssertionError(f"the guesses were not answered as they should: {wrong}")
    return times


def guessing(sizes: Sizes) -> Iterator[Figure]:
    """A phone's request with and without guesses, taking turns."""
    count = GUESSES // 10 if sizes.quick else GUESSES
    server = LanServer(sizes.folder / "guessing")
    try:
        phone = Phone(server)
        for _ in range(50):
            phone.ask()
        for what in ("token", "code"):
            during, without = [], []
            for _ in range(sizes.rounds // 4):
                without.append(median([seconds(phone.ask) for _ in range(200)]))
                during.append(median(while_guessing(server, phone, what, count)))
            ratio = median([loaded / quiet for loaded, quiet in zip(during, without, strict=True)])
            yield Figure(
                f"a paired phone's request while {GUESSERS} others guess {what}s",
                ms(median(during)),
                f"nobody guesses: {ms(median(without))}",
                f"{ratio:.2f}x",
                "<= 2x",
                ratio <= 2,
                f"POST /api/calc/breakaway over TLS, {len(during)} turns of {count} guesses as fast as they are "
                "answered, guessers on the same machine; median of the turns' medians",
            )
    finally:
        server.stop()
