"""The command's import of a history from a spreadsheet: it shows what it would write, and writes it when told to."""

import argparse
from datetime import datetime
from typing import Any

from .engine import BadInput, calc
from .engine.request.fields import Group
from .engine.request.units import unit_labels
from .engine.unit.held import HELD
from .exporting import DAMAGED, count
from .log import STORED, Log, LogFault
from .office import history
from .office.cell_words import DAYS, DECIMALS
from .office.history_entries import Units
from .office.history_form import MEANINGS, SETTINGS, read_request
from .office.spreadsheet import as_text
from .places import place_of

# A workbook with ten thousand rows has a tenth of it.
LARGEST = 20_000_000
LISTED = 50


def add_options(command: argparse.ArgumentParser) -> None:
    """Add how a history is read."""
    command.add_argument("--who", default="", help="who imports it, and did what no column says who did")
    command.add_argument("--sheet", default="", help="the sheet of a workbook (the first)")
    command.add_argument("--heading-row", type=int, help="the row of headings (the one that looks like it)")
    command.add_argument(
        "--column",
        action="append",
        metavar="N=MEANING[:PLACE]",
        help=f"what column N means, where its heading does not say so: {', '.join(MEANINGS)}",
    )
    command.add_argument("--unit", help="name or id of the unit that all rows are about")
    command.add_argument("--called", action="append", metavar="NAME=UNIT", help="a unit that the file calls NAME")
    command.add_argument("--torque-unit", choices=list(unit_labels("nm")), help="unit of torques that name none")
    command.add_argument("--length-unit", choices=list(unit_labels("mm")), help="unit of thicknesses that name none")
    command.add_argument("--decimal", choices=list(DECIMALS), default="either", help="the decimal sign (either)")
    command.add_argument(
        "--days", choices=list(DAYS), help="; ".join(f"{name}: {words}" for name, words in DAYS.items())
    )
    command.add_argument("--held", choices=list(HELD), help="how the unit was held for its torque checks")
    command.add_argument("--wrench", help="the wrench of the kit that the torques were read with, by its name")
    command.add_argument(
        "--micrometer", help="the micrometer of the kit that the plates were measured with, by its name"
    )
    command.add_argument("--hidden", action="store_true", help="read hidden rows too")
    command.add_argument("--accept", action="store_true", help="write it; without this it is only looked at")


def run(options: argparse.Namespace) -> int:
    """Show what a history holds, and import it if that is accepted."""
    try:
        if options.file.stat().st_size > LARGEST:
            raise LogFault(f"{options.file} has more than {LARGEST // 10**6} MB: split it into several files.")
        data = options.file.read_bytes()
    except OSError as failure:
        raise LogFault(f"Cannot read {options.file}: {failure.strerror}. Check the name.") from failure
    try:
        with place_of(options).opened("import the history on its screen") as log:
            looked = history.look(log, settings(options, log), data, datetime.now().astimezone())
            print_look(looked)
            if not options.accept or looked.asks:
                if not looked.asks:
                    print("Nothing was written: add --accept to import it.")
                return DAMAGED if looked.asks else 0
            answers = history.write(log, looked, looked.preview, f"the file {options.file.name}")
    except BadInput as refusal:
        raise LogFault(refusal.reason) from refusal
    print(f"Entries stored: {sum(answer['answer'] == STORED for answer in answers)}.")
    return 0


def settings(options: argparse.Namespace, log: Log) -> dict[str, Any]:
    """The options as a checked request."""
    called = [text.rpartition("=") for text in options.called or []]
    typed: dict[str, Any] = {
        name: getattr(options, name)
        for name in ("sheet", "torque_unit", "length_unit", "decimal", "days", "held", "hidden", "who", "heading_row")
        if getattr(options, name) is not None
    }
    typed["names"] = [{"called": name, "unit": find_unit(log, unit)} for name, _, unit in called]
    if options.unit:
        typed["unit"] = find_unit(log, options.unit)
    if options.column:
        typed["columns"] = [read_column(text) for text in options.column]
    for tool in ("wrench", "micrometer"):
        if name := getattr(options, tool):
            typed[tool] = find_tool(log, tool, name)
    return {**read_request(Group(SETTINGS), typed), "file": options.file.name[:200]}


def read_column(text: str) -> dict[str, Any]:
    """A column of the command line.

    >>> read_column("4=thickness:A2")
    {'number': 4, 'means': 'thickness', 'place': 'A2'}
    """
    number, _, rest = text.partition("=")
    means, _, place = rest.partition(":")
    if not number.strip().isdigit() or means not in MEANINGS:
        raise LogFault(f"Write a column as NUMBER=MEANING, for example 3=torque; got {text!r}.")
    return {"number": int(number), "means": means, "place": place}


def find_unit(log: Log, name: str) -> str:
    """The id of a unit by its name or id."""
    units = Units(log, [], datetime.now().date())
    found = units.find(name)
    if found is None:
        names = ", ".join(sorted(units.name(unit) for unit in units.ids))
        raise LogFault(f"There is no unit {name!r}, or more than one. Choose one of: {names}.")
    return found


def find_tool(log: Log, tool: str, name: str) -> dict[str, Any]:
    """A tool of the kit by its name."""
    today = datetime.now().date().isoformat()
    kit = calc("kit_standing", {"entries": log.of_unit(""), "today": today})["tools"]
    tools = [row for row in kit if row["tool"] == tool]
    for row in tools:
        if row["name"].casefold() == name.casefold():
            return dict(row["body"][tool])
    known = ", ".join(row["name"] for row in tools) or "none"
    raise LogFault(f"There is no {tool} {name!r} in the kit. There: {known}.")


def print_look(looked: history.Look) -> None:
    """Print what a file holds."""
    sheet, headings = looked.sheet, looked.headings
    print(f"{sheet.written_in}; headings in row {headings.number}; {count(sheet.empty, 'empty row')}.")
    for column in looked.columns:
        at = column["number"] - 1
        heading = as_text(headings.cells[at]) if at < len(headings.cells) else ""
        place = f" of {column['place']}" if column["place"] else ""
        print(f"Column {column['number']}, {heading}: {MEANINGS[column['means']]}{place}.")
    for found in [found for found in looked.found if not found.there][:LISTED]:
        print(f"Row {found.row}: {found.entry['at'][:10]}, {found.name}: {found.says}")
    for left in looked.left_out[:LISTED]:
        print(f"Row {left.row} is left out. {left.reason}")
    for mistake in looked.mistakes[:LISTED]:
        print(f"Row {mistake.row}, {mistake.column}: {mistake.reason}")
    new = len(looked.new)
    print(
        f"New: {new}, there already: {len(looked.found) - new}, rows left out: {len(looked.left_out)}, "
        f"mistakes: {len(looked.mistakes)}."
    )
    for name in looked.asks:
        option = "column" if name == "columns" else name.replace("_", "-")
        print(f"{history.ASKS[name]} (--{option})")
