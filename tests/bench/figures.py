"""What a measurement comes to, and how it is shown."""

import statistics
import time
from collections.abc import Callable, Iterable
from typing import NamedTuple


class Figure(NamedTuple):
    """One row of the table.

    Attributes
    ----------
    name : str
        What was measured.
    measured, against, ratio, bar : str
        The figure, what it is compared with in the same run, how they relate, and what was set as the bar; each as
        shown, empty where there is none.
    kept : bool
        Whether the bar was kept.
    note : str
        What the figures alone do not say.
    proposed : str
        A bar that a floor measured in the same run leaves possible, where that floor stops the bar that was set.
    """

    name: str
    measured: str
    against: str
    ratio: str
    bar: str
    kept: bool
    note: str = ""
    proposed: str = ""


def missed(name: str, bar: str, why: str) -> Figure:
    """A figure that could not be had: never counted as kept."""
    return Figure(name, "not measured", "", "", bar, False, why)


def seconds(run: Callable[[], object]) -> float:
    """How long a call takes."""
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def median(values: Iterable[float]) -> float:
    """The middle one."""
    return statistics.median(values)


def percentile(values: Iterable[float], percent: int) -> float:
    """The smallest value that at least this share of the values does not exceed.

    >>> percentile(range(1, 101), 95)
    95
    """
    ordered = sorted(values)
    return ordered[max(0, -(-len(ordered) * percent // 100) - 1)]


def ms(value: float) -> str:
    """Seconds as shown in milliseconds.

    >>> ms(0.01234), ms(1.5), ms(0.00042)
    ('12.3 ms', '1500 ms', '0.420 ms')
    """
    amount = 1000 * value
    digits = 0 if amount >= 100 else 1 if amount >= 10 else 3
    return f"{amount:.{digits}f} ms"


def proposal(row: Figure) -> str:
    """What another bar would be, in words."""
    return f". Proposed instead: {row.proposed}" if row.proposed else ""


def table(rows: list[Figure]) -> str:
    """All figures as a table in Markdown, notes below it."""
    head = ["figure", "measured", "compared with", "ratio", "bar", ""]
    cells = [
        [row.name, row.measured, row.against or "-", row.ratio or "-", row.bar, "kept" if row.kept else "MISSED"]
        for row in rows
    ]
    widths = [max(len(row[place]) for row in [head, *cells]) for place in range(len(head))]
    lines = [
        "| " + " | ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) + " |"
        for row in [head, ["-" * width for width in widths], *cells]
    ]
    notes = [f"- {row.name}: {row.note}{proposal(row)}" for row in rows if row.note]
    return "\n".join([*lines, "", *notes])
