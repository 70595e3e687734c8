"""Guesses over TLS: `python -m tests.bench.guess PORT AUTHORITY.pem token|code COUNT`, in a process of its own."""

import json
import secrets
import ssl
import sys
import threading
from http.client import HTTPSConnection

GUESSERS = 2


def guess(connection: HTTPSConnection, what: str) -> int:
    """One guess; the answer's status."""
    if what == "token":
        connection.request("GET", "/api/units", headers={"Authorization": f"Bearer {secrets.token_urlsafe(32)}"})
    else:
        headers = {"Content-Type": "application/json", "Authorization": "Bearer x"}
        body = {"code": f"{secrets.randbelow(10**8):08}", "name": "Guesser"}
        connection.request("POST", "/api/pair", json.dumps(body), headers)
    answer = connection.getresponse()
    answer.read()
    return answer.status


def run(port: int, trust: ssl.SSLContext, what: str, count: int) -> None:
    """Guess so many times over one connection."""
    connection = HTTPSConnection("localhost", port, context=trust, timeout=60)
    for _ in range(count):
        status = guess(connection, what)
        if status not in (401, 422, 429):
            print(f"a guess was answered {status}", file=sys.stderr)
            return
    connection.close()


def main(port: int, authority: str, what: str, count: int) -> None:
    """Guess with several guessers at once, and say when it began."""
    trust = ssl.create_default_context(cafile=authority)
    threads = [threading.Thread(target=run, args=(port, trust, what, count // GUESSERS)) for _ in range(GUESSERS)]
    for thread in threads:
        thread.start()
    print("guessing", flush=True)
    for thread in threads:
        thread.join()


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2], sys.argv[3], int(sys.argv[4]))
