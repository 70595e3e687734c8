"""The log for other programs: everything as JSON, or a table for a spreadsheet."""

import csv
import io
from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

from .log import read_entry
from .survey import Survey

COLUMNS = [
    *("seq", "at", "who", "unit_name", "kind", "verdict", "reason"),
    *("value_nm", "guard_nm", "low_nm", "high_nm"),
    *("slot", "lowest_mm", "minimum_mm", "text", "agrees", "replaces", "id", "unit", "device", "received"),
]


def as_json(contents: Survey, wanted_unit: str | None = None) -> dict[str, Any]:
    """The whole log, or one unit of it, as JSON; without photos, which `pack_photos` adds.

    Parameters
    ----------
    contents : Survey
        The log.
    wanted_unit : str, optional
        The id of the only unit to export.
    """
    names = find_unit_names(contents)
    return {
        "slipbook_export": 1,
        "made": datetime.now(UTC).isoformat(timespec="seconds"),
        "units": [
            {"unit": unit, "name": names.get(unit, ""), "entries": [read_entry(line) for line in lines]}
            for unit, lines in sorted(contents.lines.items())
            if wanted_unit is None or unit == wanted_unit
        ],
    }


def as_csv(contents: Survey, wanted_unit: str | None = None) -> str:
    """The whole log, or one unit of it, as a table: a row an entry, and one a plate in plate checks; figures in SI."""
    text = io.StringIO()
    table = csv.DictWriter(text, COLUMNS, extrasaction="ignore")
    table.writeheader()
    names = find_unit_names(contents)
    exported = [
        line for unit, lines in contents.lines.items() if wanted_unit is None or unit == wanted_unit for line in lines
    ]
    for line in sorted(exported, key=lambda line: line.seq):
        entry = read_entry(line)
        for row in make_rows(entry):
            row["unit_name"] = names.get(entry["unit"], "")
            table.writerow({column: escape_formula(value) for column, value in row.items()})
    return text.getvalue()


def make_rows(entry: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """An entry's rows: one for each plate of a plate check, one for any other entry."""
    shown = entry["shown"]
    row = {**entry, **shown, "text": entry["body"].get("text", ""), "id": entry["id"], "unit": entry["unit"]}
    plates = shown.get("plates") if entry["kind"] == "plate_check" else None
    for plate in plates or [{}]:
        yield {**row, **plate}


def escape_formula(value: object) -> object:
    """Mark text that a spreadsheet would take for a formula as text.

    >>> escape_formula("=1+1"), escape_formula(-1.5)
    ("'=1+1", -1.5)
    """
    return "'" + value if isinstance(value, str) and value[:1] in ("=", "+", "-", "@", "\t", "\r") else value


def find_unit_names(contents: Survey) -> dict[str, str]:
    """Each unit's name by its id, from its newest definition."""
    names: dict[str, str] = {}
    for unit, lines in contents.lines.items():
        for line in lines:
            # Reading an entry takes far longer than looking for its kind in the text.
            if b'"kind": "unit"' in line.text:
                entry = line.entry
                if entry["kind"] == "unit":
                    names[unit] = str(entry["body"].get("name", ""))
    return names
