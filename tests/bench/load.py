"""Asks one address over and over: `python -m tests.bench.load PORT PATH SECONDS`, the body on standard input.

In a process of its own, so that the asking does not take its time from whoever measures.
"""

import http.client
import sys
import threading
import time

CONNECTIONS = 4


def ask(port: int, path: str, body: bytes, until: float, counts: list[int]) -> None:
    """Ask over one connection that stays open."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    count = 0
    while time.perf_counter() < until:
        connection.request("POST", path, body, {"Content-Type": "application/json"})
        answer = connection.getresponse()
        answer.read()
        if answer.status != 200:
            raise SystemExit(f"{path} answered {answer.status}")
        count += 1
    connection.close()
    counts.append(count)


def main(port: int, path: str, length: float) -> None:
    """Print how many requests a second were answered."""
    body = sys.stdin.buffer.read()
    counts: list[int] = []
    start = time.perf_counter()
    threads = [
        threading.Thread(target=ask, args=(port, path, body, start + length, counts)) for _ in range(CONNECTIONS)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if len(counts) < CONNECTIONS:
        raise SystemExit("a connection broke")
    print(sum(counts) / (time.perf_counter() - start))


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2], float(sys.argv[3]))
