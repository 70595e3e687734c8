"""Servers that start at once: a process that has read Slipbook's modules already splits in two for each of them."""

import io
import multiprocessing
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path
from types import ModuleType
from unittest.mock import patch

WARM = multiprocessing.get_context("forkserver")
WARM.set_forkserver_preload(["tests.warmed"])


Program = Callable[[list[str]], int]


def run(printed: Connection, errors: Path | None, arguments: list[str], program: Program | None) -> None:
    """Do what `slipbook`, or another program of ours, does with these arguments."""
    os.dup2(printed.fileno(), 1)
    if errors is None:
        os.dup2(1, 2)
    else:
        with open(errors, "a") as file:
            os.dup2(file.fileno(), 2)
    sys.stdout, sys.stderr = (
        io.TextIOWrapper(io.FileIO(stream, "w", closefd=False), "utf-8", line_buffering=True) for stream in (1, 2)
    )
    from server import cli

    sys.exit((program or cli.main)(arguments))


class WarmProcess:
    """`slipbook` in a process of its own, used like one of `subprocess.Popen`.

    Parameters
    ----------
    arguments : list of str
        The command line, without the program's name.
    errors : Path, optional
        The file that gets its standard error; without one that comes on `stdout` as well.
    program : callable, optional
        What is run instead of `slipbook`: a function of a module.
    """

    def __init__(self, arguments: list[str], errors: Path | None = None, program: Program | None = None) -> None:
        reading, writing = WARM.Pipe(duplex=False)
        self.process = WARM.Process(target=run, args=(writing, errors, arguments, program), daemon=True)
        # A server has no use for the program that runs the tests, which would be run once more in it.
        with patch.dict(sys.modules, __main__=ModuleType("__main__")):
            self.process.start()
        writing.close()
        self.stdout = os.fdopen(os.dup(reading.fileno()), encoding="utf-8")
        reading.close()

    @property
    def pid(self) -> int:
        assert self.process.pid is not None
        return self.process.pid

    def send_signal(self, how: signal.Signals) -> None:
        if self.poll() is None:
            os.kill(self.pid, how)

    def poll(self) -> int | None:
        return self.process.exitcode

    def wait(self, timeout: float | None = None) -> int:
        self.process.join(timeout)
        code = self.poll()
        if code is None:
            raise subprocess.TimeoutExpired("slipbook", timeout or 0)
        return code
