"""The interface's figure: a verdict over HTTP beside an echo over the same server."""

import json
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager

from tests.engine.checks import BREAKAWAY
from tests.server import processes

from .figures import Figure, median
from .sizes import Sizes


@contextmanager
def echoing() -> Iterator[int]:
    """The bare application in a process of its own; its port."""
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.bench.served", "echo"], cwd=processes.ROOT, stdout=subprocess.PIPE, text=True
    )
    try:
        assert process.stdout is not None
        found = re.search(r":(\d+)/", process.stdout.readline())
        assert found is not None
        yield int(found[1])
    finally:
        process.send_signal(signal.SIGTERM)
        process.communicate(timeout=30)


def rate(port: int, path: str, length: float) -> float:
    """Requests a second over some seconds."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.load", str(port), path, str(length)],
        cwd=processes.ROOT,
        input=json.dumps(BREAKAWAY).encode(),
        capture_output=True,
        check=True,
    )
    return float(done.stdout)


def answering(sizes: Sizes) -> Iterator[Figure]:
    """Verdicts a second and echoes a second, taking turns."""
    length = 0.5 if sizes.quick else 2
    ours, theirs = [], []
    with processes.serve_folder(sizes.folder / "answering") as server, echoing() as bare:
        for _ in range(sizes.rounds // 2):
            ours.append(rate(server.port or 0, "/api/calc/breakaway", length))
            theirs.append(rate(bare, "/echo", length))
    # Each pair was measured within seconds, so what else the machine did weighs on both alike.
    ratio = median([our_time / their_time for our_time, their_time in zip(ours, theirs, strict=True)])
    yield Figure(
        "POST /api/calc/breakaway",
        f"{median(ours):.0f} a second",
        f"bare Flask route echoing the same JSON: {median(theirs):.0f} a second",
        f"{ratio:.2f}x",
        ">= 0.4x",
        ratio >= 0.4,
        f"four connections from the same machine, {len(ours)} turns of {length} s each, median of the turns' ratios",
    )
