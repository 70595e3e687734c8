"""Phones that come home, each at its time: `python -m tests.bench.coming_home`, and JSON on standard input says which.

In a process of its own, so that the asking does not take its time from whoever measures. Prints, as JSON, how long each
kind of request took, and how late each phone was through beside the time at which it came.
"""

import hashlib
import http.client
import json
import queue
import random
import sys
import threading
import time
from collections import defaultdict
from typing import Any

from .uploading import new_id

BATCH = 100
PIECE_BYTES = 256 * 1024
# A photo of 1600 pixels at the quality at which phones send it.
PHOTO_BYTES = 300_000
PADDING = random.Random(1).randbytes(PHOTO_BYTES)


class Home:
    """One server, the phones that come to it, and how long it took them."""

    def __init__(self, task: dict[str, Any]) -> None:
        self.port: int = task["port"]
        self.contents: list[dict[str, Any]] = task["contents"]
        self.took: dict[str, list[float]] = defaultdict(list)
        self.failed: list[str] = []
        self.lock = threading.Lock()

    def deliver(self, phone: dict[str, Any]) -> None:
        """All that a phone does: asks how the server is, sends entries and photos, and reads what is new."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        authorization = {"Authorization": f"Bearer {phone['token']}"}

        def ask(kind: str, method: str, path: str, body: bytes | None = None, media: str = "application/json") -> Any:
            start = time.perf_counter()
            connection.request(method, path, body, {**authorization, "Content-Type": media})
            answer = connection.getresponse()
            data = answer.read()
            with self.lock:
                self.took[kind].append(time.perf_counter() - start)
                if answer.status != 200:
                    self.failed.append(f"{method} {path.split('?')[0]}: {answer.status} {data[:200]!r}")
            return json.loads(data)

        try:
            before = ask("health", "GET", "/api/health")
            for start in range(0, phone["entries"], BATCH):
                count = min(BATCH, phone["entries"] - start)
                entries = [{**random.choice(self.contents), "id": new_id()} for _ in range(count)]
                ask("entries", "POST", "/api/log", json.dumps({"entries": entries}).encode())
            for _ in range(phone["photos"]):
                photo = b"\xff\xd8\xff" + new_id().encode() + PADDING
                name = hashlib.sha256(photo).hexdigest()
                for at in range(0, len(photo), PIECE_BYTES):
                    path = f"/api/photos/{name}?at={at}&total={len(photo)}"
                    ask("photo piece", "PUT", path, photo[at : at + PIECE_BYTES], "application/octet-stream")
            ask("page", "GET", f"/api/log?after={before['log']}&most=500")
        except (OSError, http.client.HTTPException) as failure:
            with self.lock:
                self.failed.append(repr(failure))
        finally:
            connection.close()


def main() -> None:
    """Let each phone come at its time, however long the others take."""
    task = json.load(sys.stdin)
    home = Home(task)
    waiting: queue.SimpleQueue[dict[str, Any] | None] = queue.SimpleQueue()
    start = time.perf_counter()

    def work() -> None:
        while (phone := waiting.get()) is not None:
            home.deliver(phone)
            with home.lock:
                home.took["whole delivery"].append(time.perf_counter() - start - phone["at_s"])

    threads = [threading.Thread(target=work) for _ in range(task["threads"])]
    for thread in threads:
        thread.start()
    for phone in task["phones"]:
        time.sleep(max(0.0, start + phone["at_s"] - time.perf_counter()))
        waiting.put(phone)
    for _ in threads:
        waiting.put(None)
    for thread in threads:
        thread.join()
    json.dump({"took": home.took, "failed": home.failed, "length_s": time.perf_counter() - start}, sys.stdout)


if __name__ == "__main__":
    main()
