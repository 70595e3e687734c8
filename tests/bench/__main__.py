"""Takes every measure and prints one table: `python -m tests.bench [--only NAME] [--quick] [--long]`.

A whole run takes about twenty minutes, and half an hour at most: what could not begin by then is told as not measured.
`--long` has no such end, and tries each fault many times more.
"""

import argparse
import json
import os
import platform
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

from tests.__main__ import ROOT, install_web_tools

from . import (
    audit_rows,
    corner_rows,
    database_rows,
    delivery_rows,
    fault_rows,
    felt_rows,
    history_rows,
    lan_rows,
    list_rows,
    log_rows,
    node_rows,
    phone_rows,
    plan_rows,
    power_rows,
    server_rows,
)
from .figures import Figure, missed, table
from .pace import pace, told
from .sizes import Sizes

LATEST = Path(__file__).with_name("latest.json")
# Seconds after which no further measure begins: the last one may take up to two minutes.
LAST_BEGINNING_S = 1680
# The same as a table, for people.
TABLE = Path(__file__).with_name("latest.md")
ROWS: dict[str, Callable[[Sizes], Iterator[Figure]]] = {
    "cold": phone_rows.cold_start,
    "keys": phone_rows.key_press,
    "felt": felt_rows.felt,
    "bytes": delivery_rows.first_visit,
    "delivery": delivery_rows.delivery,
    "answering": server_rows.answering,
    "audit": audit_rows.audit,
    "list": list_rows.long_list,
    "corner": corner_rows.first_frame,
    "power": power_rows.power,
    "history": history_rows.long_history,
    "engine": phone_rows.engine,
    "plans": plan_rows.plans,
    "durable": log_rows.durable,
    "lan": lan_rows.guessing,
    "start": log_rows.start_and_memory,
    "faults": fault_rows.faults,
    "adding": database_rows.adding,
    "uploads": database_rows.uploads,
    "queued": database_rows.queued,
    "pages": database_rows.pages,
    "processes": database_rows.start_and_memory,
    "node": node_rows.node,
}


def machine() -> str:
    """What it was measured on, in words."""
    return f"{os.cpu_count()} cores, {platform.machine()}, {platform.system()}, Python {platform.python_version()}"


def take(name: str, sizes: Sizes) -> list[Figure]:
    """The figures of one measure; one that breaks is missed, and says why."""
    print(f"measuring {name} ...", file=sys.stderr, flush=True)
    begun = time.monotonic()
    try:
        rows = list(ROWS[name](sizes))
        print(f"... {time.monotonic() - begun:.0f} s", file=sys.stderr, flush=True)
        return rows
    except Exception as failure:
        reason = " ".join(f"{type(failure).__name__}: {failure}".split())
        return [missed(name, "", f"could not be measured: {reason[:300]}")]


def keep(rows: list[Figure], paces: list[float]) -> None:
    """Write what was measured so far, with the day and the machine, and how fast that was."""
    busy = f"load average {os.getloadavg()[2]:.1f} over a quarter of an hour, this measuring included"
    kept = {
        "day": date.today().isoformat(),
        "machine": f"{machine()}; {busy}; {told(paces)}",
        "figures": [row._asdict() for row in rows],
    }
    LATEST.write_text(json.dumps(kept, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


def write_table() -> None:
    """Bring the table beside this file up to date with what was kept."""
    kept = json.loads(LATEST.read_text("utf-8"))
    rows = [Figure(**row) for row in kept["figures"]]
    head = f"# What was measured\n\nThe last whole run of `python -m tests.bench`, on {kept['day']}: {kept['machine']}."
    TABLE.write_text(f"{head}\n\n{table(rows).strip()}\n", encoding="utf-8")


def main(arguments: list[str]) -> int:
    """Measure, print and keep; 0 only if every bar was kept."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--only", action="append", choices=list(ROWS), help="this measure alone; may be given again")
    parser.add_argument("--quick", action="store_true", help="a tenth of it, to see that it runs; nothing is kept")
    parser.add_argument("--long", action="store_true", help="each fault many times more, however long it takes")
    options = parser.parse_args(arguments)
    # Some of its servers serve the web files in their built form, as tests do.
    if not install_web_tools(ROOT / "webui"):
        return 1
    begun = time.monotonic()
    names = options.only or list(ROWS)
    rows: list[Figure] = []
    paces: list[float] = []
    with tempfile.TemporaryDirectory(prefix="slipbook-bench-") as folder:
        sizes = Sizes(Path(folder), options.quick, options.long)
        for name in names:
            paces.append(pace())
            late = not options.only and not options.long and time.monotonic() - begun > LAST_BEGINNING_S
            rows += [missed(name, "", "the time of a whole run was up")] if late else take(name, sizes)
            if not options.quick and not options.only:
                keep(rows, paces)
    print(f"Meanwhile {told(paces)}.\n\n{table(rows)}")
    if not options.quick and not options.only:
        write_table()
    return 0 if all(row.kept for row in rows) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
