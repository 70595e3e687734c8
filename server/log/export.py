"""The log for other programs: everything as JSON, or a table for a spreadsheet."""

import re
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from typing import Any

from .contents import Contents
from .figures import ChosenUnits
from .patterns_in_file import patterns_of_units
from .stored_entry import read_entry
from .table import PARTS, Table, make_table

# Older versions wrote a space before the kind.
UNIT_KIND = re.compile(rb'"kind": ?"unit"')


def as_json(contents: Contents, only_unit: str | None = None) -> dict[str, Any]:
    """The whole log, or one unit of it with its patterns, as JSON; without photos, which `pack_photos` adds.

    Parameters
    ----------
    contents : Contents
        The log.
    only_unit : str, optional
        The id of the only unit to export.
    """
    names = find_unit_names(contents)
    units = [
        {"unit": unit, "name": names.get(unit, ""), "entries": [read_entry(line) for line in lines]}
        for unit, lines in sorted(contents.lines.items())
        if only_unit is None or unit == only_unit
    ]
    if only_unit:
        shop = [read_entry(line) for line in contents.lines.get("", [])]
        patterns = patterns_of_units([entry for unit in units for entry in unit["entries"]], shop)
        units += [{"unit": "", "name": "", "entries": patterns}] if patterns else []
    return {"slipbook_export": 1, "made": datetime.now(UTC).isoformat(timespec="seconds"), "units": units}


def as_table(
    contents: Contents,
    only_unit: str | None = None,
    choices: Mapping[str, str | None] | None = None,
    rows: str = PARTS,
) -> Table:
    """The whole log, or one unit of it, as a table.

    Parameters
    ----------
    contents : Contents
        The log.
    only_unit : str, optional
        The id of the only unit to export.
    choices : mapping, optional
        The units of its figures, as `ChosenUnits` takes them; SI where nothing is chosen.
    rows : str
        What has a row, one of `ROWS`.
    """
    exported = [
        line for unit, lines in contents.lines.items() if only_unit is None or unit == only_unit for line in lines
    ]
    exported.sort(key=lambda line: line.seq)

    def entries() -> Iterator[dict[str, Any]]:
        return (read_entry(line) for line in exported)

    return make_table(entries, find_unit_names(contents), ChosenUnits(choices or {}), rows)


def find_unit_names(contents: Contents) -> dict[str, str]:
    """Each unit's name by its id, from its newest definition."""
    names: dict[str, str] = {}
    for unit, lines in contents.lines.items():
        for line in lines:
            # Reading an entry takes far longer than looking for its kind in the text.
            if UNIT_KIND.search(line.text):
                entry = line.entry
                if entry["kind"] == "unit":
                    names[unit] = str(entry["body"].get("name", ""))
    return names
