"""The log for other programs: everything as JSON, or a table for a spreadsheet."""

import csv
import io
from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

from .log import seen
from .survey import Survey

COLUMNS = [
    *("seq", "at", "who", "unit_name", "kind", "verdict", "reason"),
    *("value_nm", "guard_nm", "low_nm", "high_nm"),
    *("slot", "lowest_mm", "minimum_mm", "text", "agrees", "replaces", "id", "unit", "device", "received"),
]


def as_json(found: Survey, unit: str | None = None) -> dict[str, Any]:
    """All that the log holds, or holds of one unit; without pictures, which `pictures_of` adds.

    Parameters
    ----------
    found : Survey
        The log.
    unit : str, optional
        The one unit wanted.
    """
    known = names(found)
    return {
        "slipbook_export": 1,
        "made": datetime.now(UTC).isoformat(timespec="seconds"),
        "units": [
            {"unit": one, "name": known.get(one, ""), "entries": [seen(line) for line in lines]}
            for one, lines in sorted(found.lines.items())
            if unit is None or one == unit
        ],
    }


def as_csv(found: Survey, unit: str | None = None) -> str:
    """One row an entry, and one row a plate where plates were measured; figures in SI."""
    out = io.StringIO()
    table = csv.DictWriter(out, COLUMNS, extrasaction="ignore")
    table.writeheader()
    known = names(found)
    wanted = [line for one, lines in found.lines.items() if unit is None or one == unit for line in lines]
    for line in sorted(wanted, key=lambda line: line.seq):
        entry = seen(line)
        for row in rows(entry):
            row["unit_name"] = known.get(entry["unit"], "")
            table.writerow({name: harmless(value) for name, value in row.items()})
    return out.getvalue()


def rows(entry: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """An entry's rows."""
    shown = entry["shown"]
    row = {**entry, **shown, "text": entry["body"].get("text", ""), "id": entry["id"], "unit": entry["unit"]}
    plates = shown.get("plates") if entry["kind"] == "plate_check" else None
    for plate in plates or [{}]:
        yield {**row, **plate}


def harmless(value: object) -> object:
    """Text that a spreadsheet would take for a formula, marked as text.

    >>> harmless("=1+1"), harmless(-1.5)
    ("'=1+1", -1.5)
    """
    return "'" + value if isinstance(value, str) and value[:1] in ("=", "+", "-", "@", "\t", "\r") else value


def names(found: Survey) -> dict[str, str]:
    """Each unit's name, as its newest definition has it."""
    known: dict[str, str] = {}
    for unit, lines in found.lines.items():
        for line in lines:
            if b'"kind": "unit"' in line.text:
                entry = line.entry
                if entry["kind"] == "unit":
                    known[unit] = str(entry["body"].get("name", ""))
    return known
