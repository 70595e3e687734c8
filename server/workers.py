"""Starts the processes that serve a database, starts a new one for each that dies, and stops them all."""

import contextlib
import json
import logging
import queue
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable

from . import serving
from .lan.addresses import host_in_url
from .log import LogFault
from .worker import Settings

MOST = 64
# How soon a worker that died is started anew, in seconds: not at once, where each dies at its start.
PAUSE_S = 1.0
PATIENCE_S = 2.0 * serving.PATIENCE
MODULE = f"{__package__}.worker"


class Worker:
    """A process that serves."""

    def __init__(self, settings: Settings, ended: Callable[["Worker"], None]) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", MODULE], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        self.said: queue.SimpleQueue[dict[str, object]] = queue.SimpleQueue()
        assert self.process.stdin is not None
        with contextlib.suppress(OSError):
            self.process.stdin.write(json.dumps(settings._asdict()) + "\n")
            self.process.stdin.flush()
        threading.Thread(target=self.follow, args=[ended], daemon=True).start()

    def follow(self, ended: Callable[["Worker"], None]) -> None:
        """Read what it says until it ends."""
        assert self.process.stdout is not None
        for line in self.process.stdout:
            with contextlib.suppress(ValueError):
                self.said.put(json.loads(line))
        code = self.process.wait()
        self.said.put({"fault": f"A process that serves has ended ({code})."})
        ended(self)

    @property
    def fault(self) -> str:
        """Why it ended, as it said last."""
        said: dict[str, object] = {}
        while "fault" not in said:
            said = self.said.get()
        return str(said["fault"])

    def wait_until_ready(self) -> None:
        """Wait until it answers requests.

        Raises
        ------
        LogFault
            It cannot.
        """
        said = self.said.get()
        if "fault" in said:
            raise LogFault(str(said["fault"]))

    def stop(self) -> None:
        """Let it go: it ends by itself then, once it has answered what it began with."""
        assert self.process.stdin is not None
        with contextlib.suppress(OSError):
            self.process.stdin.close()

    def wait(self) -> None:
        """Wait until it has ended."""
        try:
            self.process.wait(PATIENCE_S)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()


def serve(settings: Settings, count: int, ready: Callable[[str], None]) -> None:
    """Serve a database by several processes until interrupted or terminated.

    Parameters
    ----------
    settings : Settings
        What each is told; port 0 for any that is free.
    count : int
        How many there are.
    ready : callable
        Called with the address once all of them answer.

    Raises
    ------
    LogFault
        One of them cannot begin.
    """
    endings: queue.SimpleQueue[Worker | None] = queue.SimpleQueue()
    for name in (signal.SIGINT, signal.SIGTERM):
        signal.signal(name, lambda *_: endings.put(None))
    with serving.reserved(settings.address, settings.port) as port:
        settings = settings._replace(port=port)
        workers = [Worker(settings, endings.put) for _ in range(count)]
        try:
            for worker in workers:
                worker.wait_until_ready()
            ready(f"http://{host_in_url(settings.address)}:{settings.port}/")
            watch(settings, workers, endings)
        finally:
            for worker in workers:
                worker.stop()
            for worker in workers:
                worker.wait()


def watch(settings: Settings, workers: list[Worker], endings: "queue.SimpleQueue[Worker | None]") -> None:
    """Start a new process for each that ends, until told to stop."""
    while True:
        try:
            # Wakes every second, since on some systems a thread that only waits gets no signals.
            ended = endings.get(timeout=1)
        except queue.Empty:
            continue
        if ended is None:
            return
        # Ctrl+C reaches every process, and then those that serve may end first.
        if ended.process.returncode:
            logging.getLogger("slipbook").error("%s", ended.fault)
        time.sleep(PAUSE_S)
        workers[workers.index(ended)] = Worker(settings, endings.put)
