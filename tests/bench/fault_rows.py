"""The faults: each group of tests with more rounds than in the daily run, and with many more if that is asked for."""

import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from pathlib import Path

from tests.server.processes import ROOT

from .figures import Figure
from .sizes import Sizes

# What is tried, the tests, and the rounds of a long run, of a usual one and of a quick one.
GROUPS: list[tuple[str, list[str], int, int, int]] = [
    ("kill -9 while entries arrive; 20 devices over a bad network", ["tests/server/test_faults.py"], 200, 15, 5),
    (
        "full disk, read-only folder, truncated and bit-flipped files",
        ["tests/server/test_crashes.py", "tests/server/test_log.py", "tests/server/test_union.py"],
        20,
        3,
        2,
    ),
    (
        "20 phones over TLS among slow and half-open ones",
        ["tests/server/test_lan_crowd.py", "tests/server/test_lan_dawdlers.py"],
        40,
        4,
        3,
    ),
    (
        "made-up requests over the whole document",
        ["tests/server/test_document.py"],
        20,
        3,
        2,
    ),
    ("browser killed, offline, new version, storage full", ["tests/phone/test_faults.py"], 15, 2, 2),
]


def tried(files: list[str], rounds: int, report: Path) -> tuple[int, list[str], float]:
    """(tests, what went wrong with those that did not pass, seconds) of a run of pytest."""
    order = [sys.executable, "-m", "pytest", "-q", *files, "--rounds", str(rounds), f"--junit-xml={report}"]
    subprocess.run(order, cwd=ROOT, capture_output=True, timeout=3600)
    cases = ElementTree.parse(report).getroot().findall(".//testcase")
    bad = [
        f"{case.get('name')}: {' '.join(fault.get('message', '').split())[:300]}"
        for case in cases
        for fault in case
        if fault.tag in ("error", "failure", "skipped")
    ]
    return len(cases), bad, sum(float(case.get("time", 0)) for case in cases)


def faults(sizes: Sizes) -> Iterator[Figure]:
    """Every fault, tried many times."""
    for number, (name, files, *rounds_of) in enumerate(GROUPS):
        rounds = dict(zip(("long", "usual", "quick"), rounds_of, strict=True))[sizes.length]
        count, bad, took = tried(files, rounds, sizes.folder / f"faults {number}.xml")
        yield Figure(
            f"faults: {name}",
            f"{count - len(bad)} of {count} tests passed",
            "",
            "",
            "all",
            count > 0 and not bad,
            "; ".join([f"{rounds} rounds in {took:.0f} s", *bad]),
        )
