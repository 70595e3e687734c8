"""Splits off the processes that serve a database, a new one for each that dies, and stops them all.

This process reads every module once and then does nothing but watch: it has one thread, no connection to the database
and no lock, so that it can split off another process at any time.
"""

import contextlib
import gc
import json
import logging
import os
import select
import signal
import sys
import time
import traceback
from collections.abc import Callable
from typing import Any

from . import serving, worker
from .lan.addresses import host_in_url
from .log import LogFault
from .worker import Settings

MOST = 64
# How soon a worker that died is started anew, in seconds: not at once, where each dies at its start.
PAUSE_S = 1.0
PATIENCE_S = 2.0 * serving.PATIENCE


class Worker:
    """A process that serves, and ends by itself once nobody holds it any more.

    Parameters
    ----------
    settings : Settings
        What it is told.
    others : list of Worker
        Those that run already: what holds them is not this one's to have.

    Attributes
    ----------
    says : file
        What it tells, a line of JSON each; at its end the process has ended.
    """

    def __init__(self, settings: Settings, others: "list[Worker]") -> None:
        told, tells = os.pipe()
        held, self.holds = os.pipe()
        self.says = os.fdopen(told)
        self.said: dict[str, object] = {}
        self.code: int | None = None
        # What is not written yet would be written by both.
        sys.stdout.flush()
        sys.stderr.flush()
        self.pid = os.fork()
        if self.pid == 0:
            for other in [*others, self]:
                other.let_go()
            work(settings, tells, held)
        os.close(tells)
        os.close(held)

    def hear(self) -> bool:
        """Wait for what it says next; False if it has ended."""
        line = self.says.readline()
        if line:
            self.said = json.loads(line)
            return True
        if self.code is None:
            self.code = os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])
        return False

    @property
    def fault(self) -> str:
        """Why it ended."""
        return str(self.said.get("fault", f"A process that serves has ended ({self.code})."))

    def wait_until_ready(self) -> None:
        """Wait until it answers requests.

        Raises
        ------
        LogFault
            It cannot.
        """
        if not self.hear() or "fault" in self.said:
            raise LogFault(self.fault)

    def let_go(self) -> None:
        """Hold it no longer: it ends by itself then, once it has answered what it began with."""
        with contextlib.suppress(OSError):
            os.close(self.holds)
        self.holds = -1

    def wait(self) -> None:
        """Wait until it has ended."""
        until = time.monotonic() + PATIENCE_S
        while self.code is None:
            if not select.select([self.says], [], [], max(0.0, until - time.monotonic()))[0]:
                os.kill(self.pid, signal.SIGKILL)
            self.hear()
        self.says.close()


def work(settings: Settings, tells: int, held: int) -> None:
    """Serve as a process that was split off, and end it."""
    code = 1
    try:
        # Until it serves, a signal ends it; it is not the others that are meant.
        for name in (signal.SIGINT, signal.SIGTERM):
            signal.signal(name, signal.SIG_DFL)
        code = worker.main(settings, tells, held)
    except BaseException:
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        # Without what the process from which this was split off does at its end.
        os._exit(code)


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
    woken, wakes = os.pipe()
    for name in (signal.SIGINT, signal.SIGTERM):
        signal.signal(name, lambda *_: os.write(wakes, b"!"))
    with serving.reserved(settings.address, settings.port) as port:
        settings = settings._replace(port=port)
        worker.read_modules()
        # What is there now stays, and is shared by all.
        gc.freeze()
        workers: list[Worker] = []
        try:
            for _ in range(count):
                workers.append(Worker(settings, workers))
            for one in workers:
                one.wait_until_ready()
            ready(f"http://{host_in_url(settings.address)}:{settings.port}/")
            watch(settings, workers, woken)
        finally:
            for one in workers:
                one.let_go()
            for one in workers:
                one.wait()


def watch(settings: Settings, workers: list[Worker], woken: int) -> None:
    """Split off a new process for each that ends, until told to stop."""
    while True:
        waits: list[Any] = [woken, *(one.says for one in workers)]
        heard = select.select(waits, [], [])[0]
        if woken in heard:
            return
        for ended in [one for one in workers if one.says in heard and not one.hear()]:
            # Ctrl+C reaches every process, and then those that serve may end first.
            if ended.code:
                logging.getLogger("slipbook").error("%s", ended.fault)
            ended.let_go()
            ended.wait()
            if select.select([woken], [], [], PAUSE_S)[0]:
                return
            workers.remove(ended)
            workers.append(Worker(settings, workers))
