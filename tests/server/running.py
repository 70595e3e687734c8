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

ROOT = Path(__file__).resolve().parent.parent.parent


class Running:
    """A server process that answers at `port`."""

    def __init__(self, *arguments: str) -> None:
        # A file, since a pipe that nobody reads would stop the server once it is full.
        self.told = tempfile.TemporaryFile("w+")  # noqa: SIM115
        self.process = subprocess.Popen(
            [sys.executable, "-m", "server.cli", *arguments, "--port", "0"],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            stderr=self.told,
            text=True,
        )
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        found = re.search(r"http://\S+", line)
        if found is None:
            self.process.wait()
            raise AssertionError(f"The server did not start: {line}{self.errors()}")
        self.port = urlsplit(found[0]).port

    def stop(self, how: signal.Signals = signal.SIGTERM) -> int:
        """End the process; answers its exit code."""
        self.process.send_signal(how)
        self.process.communicate(timeout=30)
        return self.process.returncode

    def errors(self) -> str:
        """What the server has said on standard error."""
        self.told.seek(0)
        return self.told.read()

    def ask(self, method: str, path: str, body: Any = None) -> Any:
        """One request and its answer; OSError or HTTPException if the server is gone."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        try:
            text = None if body is None else json.dumps(body)
            connection.request(method, path, text, {"Content-Type": "application/json"})
            answer = connection.getresponse()
            data = answer.read()
            assert answer.status == 200, f"{data.decode()} {self.errors()}"
            return json.loads(data)
        finally:
            connection.close()


@contextlib.contextmanager
def running(*arguments: str) -> Iterator[Running]:
    """A server process that is stopped at the end, whatever happens."""
    server = Running(*arguments)
    try:
        yield server
    finally:
        if server.process.poll() is None:
            server.stop()


def serve(folder: Path) -> contextlib.AbstractContextManager[Running]:
    """A server over a data folder."""
    return running("serve", "--folder", str(folder))
