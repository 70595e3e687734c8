"""A real server process, and a client that sends to it over real connections."""

import contextlib
import http.client
import json
import re
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from tests.warm import Program, WarmProcess

ROOT = Path(__file__).resolve().parent.parent.parent


COMMAND = ("-m", "server.cli")


class PythonProcess:
    """A Python program in a process of its own, whose standard error is kept; `slipbook` itself starts at once.

    Parameters
    ----------
    arguments : str
        The command line, without Python's own name.
    warm : bool
        Whether `slipbook` may split off a process that has read its modules already.
    program : callable, optional
        What such a process runs instead of `slipbook`, with all arguments.
    """

    def __init__(self, *arguments: str, warm: bool = True, program: Program | None = None) -> None:
        # A file, since a pipe that nobody reads would stop the server once it is full.
        self.error_file = tempfile.NamedTemporaryFile("w+")  # noqa: SIM115
        self.process: subprocess.Popen[str] | WarmProcess
        if program:
            self.process = WarmProcess(list(arguments), Path(self.error_file.name), program)
        elif warm and arguments[:2] == COMMAND:
            self.process = WarmProcess(list(arguments[2:]), Path(self.error_file.name))
        else:
            self.process = subprocess.Popen(
                [sys.executable, *arguments], cwd=ROOT, stdout=subprocess.PIPE, stderr=self.error_file, text=True
            )

    def next_line(self) -> str:
        """The next line on standard output; empty if there is none left."""
        assert self.process.stdout is not None
        return self.process.stdout.readline()

    def errors(self) -> str:
        """What the program has written to standard error."""
        self.error_file.seek(0)
        return self.error_file.read()

    def start_failure(self, output: str) -> AssertionError:
        """What to raise if the program did not start a server."""
        self.process.wait()
        return AssertionError(f"The server did not start: {output}{self.errors()}")

    def stop(self, how: signal.Signals = signal.SIGTERM) -> int:
        """End the process; returns its exit code."""
        self.process.send_signal(how)
        code = self.process.wait(timeout=30)
        assert self.process.stdout is not None
        self.process.stdout.close()
        return code


def exchange(
    connection: http.client.HTTPConnection, method: str, path: str, body: Any = None, token: str | None = None
) -> tuple[int, bytes]:
    """Send one request with a JSON body and close the connection; returns the status and the body of the answer."""
    headers = {"Content-Type": "application/json"}
    if token:
        headers["Authorization"] = f"Bearer {token}"
    try:
        connection.request(method, path, None if body is None else json.dumps(body), headers)
        answer = connection.getresponse()
        return answer.status, answer.read()
    finally:
        connection.close()


class ServerProcess(PythonProcess):
    """A server process that answers at `port`: any that is free, unless one is asked for."""

    def __init__(self, *arguments: str, warm: bool = True, port: int = 0) -> None:
        super().__init__(*COMMAND, *arguments, "--port", str(port), warm=warm)
        line = self.next_line()
        address = re.search(r"http://\S+", line)
        if address is None:
            raise self.start_failure(line)
        self.port = urlsplit(address[0]).port

    def ask(self, method: str, path: str, body: Any = None) -> Any:
        """One request and its answer; OSError or HTTPException if the server is gone."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        status, data = exchange(connection, method, path, body)
        assert status == 200, f"{data.decode()} {self.errors()}"
        return json.loads(data)


@contextlib.contextmanager
def running_server(*arguments: str, warm: bool = True) -> Iterator[ServerProcess]:
    """A server process that is stopped at the end, whatever happens."""
    server = ServerProcess(*arguments, warm=warm)
    try:
        yield server
    finally:
        if server.process.poll() is None:
            server.stop()


def serve_folder(folder: Path) -> contextlib.AbstractContextManager[ServerProcess]:
    """A server over a data folder."""
    return running_server("serve", "--folder", str(folder))
