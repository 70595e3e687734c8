"""The log's figures: one durable entry, start and memory, over a workshop of 100 000 entries."""

import json
import os
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

from server.log.files import FolderLog
from server.log.layout import encode_entry
from tests.server import processes

from .figures import Figure, median, ms, seconds
from .sizes import Sizes
from .workshop import Workshop, as_stored

# Run in a process of its own: stock TinyDB needs more memory than all the rest together.
STOCK = """
import json, sys, time
from tinydb import TinyDB
from tinydb.storages import JSONStorage
file, entries = sys.argv[1], json.load(sys.stdin)
with TinyDB(file, storage=JSONStorage, ensure_ascii=False) as database:
    table = database.table("entries")
    for entry in entries:
        start = time.perf_counter()
        table.insert(entry)
        print(time.perf_counter() - start, flush=True)
"""


class Appending:
    """A file to whose end lines are added, each durable."""

    def __init__(self, path: Path) -> None:
        self.handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND)

    def add(self, entry: dict[str, Any]) -> None:
        """Append one line and have the disk keep it."""
        os.write(self.handle, encode_entry(entry) + b"\n")
        os.fsync(self.handle)


def durable(sizes: Sizes) -> Iterator[Figure]:
    """One entry into logs large and small, beside a bare append; the four take turns."""
    small = {"5 units of 200": Workshop(5, 2), "40 units of 25": Workshop(40, 3)}
    shops = {"large": sizes.large, **small}
    for name, shop in small.items():
        shop.write(sizes.folder / name, 1000)
    sizes.whole()
    logs = {name: FolderLog(sizes.folder / name) for name in shops}
    appending = Appending(sizes.folder / "appended")
    # After two passes every file has its earlier generations, as after some use; the third is measured.
    passes, count = 3, sizes.rounds * 8
    for shop in shops.values():
        shop.units = shop.units[:count]
    fresh = {name: [as_stored(entry) for entry in shop.fresh(passes * count)] for name, shop in shops.items()}
    times: dict[str, list[float]] = {name: [] for name in [*shops, "append"]}
    for place in range(passes * count):
        for name, log in logs.items():
            times[name].append(seconds(partial(log.add, [fresh[name][place]])))
        times["append"].append(seconds(partial(appending.add, fresh["large"][place])))
    for log in logs.values():
        log.close()
    middle = {name: median(taken[-count:]) for name, taken in times.items()}
    title = f"one durable entry into a log of {sizes.entries} ({sizes.units} units)"
    ratio = middle["large"] / middle["append"]
    yield Figure(
        title,
        ms(middle["large"]),
        f"append a line and fsync: {ms(middle['append'])}",
        f"{ratio:.1f}x",
        "<= 12x",
        ratio <= 12,
        f"medians of {count}, taking turns with the other logs, on the disk of the temporary folder",
    )
    for name in small:
        ratio = middle["large"] / middle[name]
        yield Figure(
            title,
            ms(middle["large"]),
            f"a log of 1 000 ({name}): {ms(middle[name])}",
            f"{ratio:.2f}x",
            "<= 1.3x",
            ratio <= 1.3,
        )
    yield stock(sizes, title, middle["large"])


def stock(sizes: Sizes, title: str, ours: float) -> Figure:
    """The same with everything in one file of TinyDB's own JSONStorage."""
    file = sizes.folder / "stock.json"
    with open(file, "wb") as out:
        out.write(b'{"entries": {')
        between = b""
        for path in sorted((sizes.whole() / "units").glob("*.json")):
            for row in json.loads(path.read_bytes())["entries"].values():
                out.write(between + b'"%d": ' % row["entry"]["seq"] + encode_entry(row["entry"]))
                between = b", "
        out.write(b"}}")
    entries = [as_stored(entry) for entry in sizes.large.fresh(2)]
    done = subprocess.run(
        [sys.executable, "-c", STOCK, str(file)], input=json.dumps(entries), text=True, capture_output=True, check=True
    )
    file.unlink()
    theirs = median([float(line) for line in done.stdout.split()])
    ratio = theirs / ours
    return Figure(
        title,
        ms(ours),
        f"stock TinyDB JSONStorage, one file of {sizes.entries}: {theirs:.2f} s",
        f"{ratio:.0f}x faster",
        ">= 100x faster",
        ratio >= 100,
        "the stock storage does not even wait for the disk",
    )


@contextmanager
def started(root: Path) -> Iterator[tuple[processes.ServerProcess, float]]:
    """A server over a data folder, and how long it took until it answered; as a user starts it, of no other process."""
    start = time.perf_counter()
    with processes.running_server("serve", "--folder", str(root), warm=False) as server:
        server.ask("GET", "/api/health")
        yield server, time.perf_counter() - start


def resident(process: int) -> float:
    """A process's memory that is really there, in MB."""
    line = re.search(r"VmRSS:\s+(\d+) kB", Path(f"/proc/{process}/status").read_text())
    assert line is not None
    return int(line[1]) / 1000


def start_and_memory(sizes: Sizes) -> Iterator[Figure]:
    """How long the server takes to start over the large log, and what it then holds in memory."""
    root = sizes.whole()
    took: list[float] = []
    before = after = 0.0
    for turn in range(3 if sizes.quick else 5):
        with started(root) as (server, waited):
            took.append(waited)
            if turn == 0:
                before = resident(server.process.pid)
                server.ask("GET", "/api/units")
                for start in range(0, sizes.entries, sizes.entries // 10):
                    server.ask("GET", f"/api/log?after={start}&most=500")
                after = resident(server.process.pid)
    middle = median(took)
    yield Figure(
        f"server start over {sizes.entries} entries",
        f"{middle:.2f} s",
        "",
        "",
        "<= 3 s",
        middle <= 3,
        f"until it answers, Python's own start included; median of {len(took)}, slowest {max(took):.2f} s",
    )
    yield Figure(
        f"resident memory over {sizes.entries} entries",
        f"{after:.0f} MB",
        "",
        "",
        "<= 250 MB",
        after <= 250,
        f"after the list of units and ten pages of 500 were asked for; {before:.0f} MB before that",
    )
