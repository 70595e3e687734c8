"""The command's export: what of the log, in which form, and where it goes, into a file that is whole or not there."""

import argparse
import contextlib
import io
import json
import sys
from datetime import date, datetime
from pathlib import Path
from typing import Any

from .engine import calc
from .engine.history.sheet import TEMPLATES
from .engine.request.units import UNITS
from .log import LogFault, durable
from .log.contents import Contents
from .log.export import as_json, as_table, find_unit_names
from .log.figures import UNIT_CHOICES
from .log.photos import Photos
from .log.photos_in_file import pack_photos, photos_shown_by
from .log.stored_entry import read_entry
from .log.table import PARTS, ROWS, write_csv
from .office.calendar import dates_of, write_calendar
from .office.sheet_pdf import PAPERS, NoLibrary, letterhead_of, write_sheet
from .office.workbook import write_workbook
from .places import Place, Whole, place_of

DAMAGED = 1

# Tables for a spreadsheet.
TABLES = ["csv", "xlsx"]


def add_options(command: argparse.ArgumentParser) -> None:
    """Add what may be chosen of an export."""
    command.add_argument(
        "--format", choices=["json", *TABLES], default="json", help="everything, or a table for a spreadsheet (json)"
    )
    meanings = "; ".join(f"{name}: {meaning}" for name, meaning in ROWS.items())
    command.add_argument("--rows", choices=list(ROWS), help=f"of a table: {meanings} ({PARTS})")
    command.add_argument("--unit", help="only the unit with this name or id")
    command.add_argument("--to", type=Path, metavar="FILE", help="the file to write (standard output)")
    command.add_argument("--force", action="store_true", help="with --to: replace the file if there is one")
    for name, si in UNIT_CHOICES.items():
        units = [unit for unit, _, _ in UNITS[si]]
        command.add_argument(f"--{name}", choices=units, help=f"of a table: unit of its {name} ({si})")


def add_sheet_options(command: argparse.ArgumentParser) -> None:
    """Add what may be chosen of a sheet."""
    command.add_argument("--to", type=Path, metavar="FILE.pdf", required=True, help="the file to write")
    command.add_argument("--force", action="store_true", help="replace the file if there is one")
    for name, meanings in (("template", TEMPLATES), ("paper", PAPERS)):
        words = "; ".join(f"{choice}: {meaning}" for choice, meaning in meanings.items())
        command.add_argument(f"--{name}", choices=list(meanings), default=next(iter(meanings)), help=words)
    for name, si in (("torque", "nm"), ("lengths", "mm")):
        command.add_argument(f"--{name}", choices=[unit for unit, _, _ in UNITS[si]], default=si, help=f"its {name}")
    command.add_argument("--address", default="", help="Slipbook's address, to which the code on it leads")


def run_sheet(options: argparse.Namespace) -> int:
    """Draw a unit's sheet."""
    place = place_of(options)
    refuse_target(options.to, place, options.force)
    with place.whole() as whole:
        contents = whole.contents
    unit = find_unit(contents, options.unit)
    entries = {name: [read_entry(line) for line in contents.lines.get(name, [])] for name in (unit, "")}
    settings = {"today": date.today().isoformat(), "template": options.template}
    settings |= {"write_in": options.torque, "write_lengths_in": options.lengths}
    sheet = calc("sheet", {"entries": entries[unit], "shop": entries[""], **settings})["sheet"]
    if sheet is None:
        raise LogFault("The definition of this unit has not arrived yet: there is nothing to put on a sheet.")
    try:
        address = f"{options.address.rstrip('/')}/#/unit/{unit}"
        data = write_sheet(sheet, options.paper, address, letterhead_of(entries[""]))
    except NoLibrary as lacking:
        raise LogFault(str(lacking)) from lacking
    write_exported(data, options.to, options.force)
    print_problems(contents.faults)
    return DAMAGED if contents.faults else 0


def add_calendar_options(command: argparse.ArgumentParser) -> None:
    """Add where a calendar goes."""
    command.add_argument("--to", type=Path, metavar="FILE.ics", help="the file to write (standard output)")
    command.add_argument("--force", action="store_true", help="with --to: replace the file if there is one")


def run_calendar(options: argparse.Namespace) -> int:
    """Write what is due as a calendar."""
    place = place_of(options)
    if options.to is not None:
        refuse_target(options.to, place, options.force)
    with place.whole() as whole:
        contents, identity = whole.contents, place.identity()
    entries = {unit: [read_entry(line) for line in lines] for unit, lines in contents.lines.items()}
    now = datetime.now().astimezone()
    name, log_id = (identity.name, identity.log_id) if identity else (Path(place.name).name, "slipbook")
    data = write_calendar(dates_of(entries, now.date()), name, log_id, now)
    if options.to is None:
        print_exported(data.decode())
    else:
        write_exported(data, options.to, options.force)
    print_problems(contents.faults)
    return DAMAGED if contents.faults else 0


def print_exported(text: str) -> None:
    """Print what was exported, in UTF-8 wherever a file or another program takes it."""
    if isinstance(sys.stdout, io.TextIOWrapper) and not sys.stdout.isatty():
        sys.stdout.flush()
        sys.stdout.buffer.write(text.encode())
    else:
        sys.stdout.write(text)


def refuse_target(file: Path, place: Place, force: bool) -> None:
    """Refuse to export over a file, unless that is wanted, and over the log's own files in any case.

    Raises
    ------
    LogFault
        The file must not be written.
    """
    place.refuse(file)
    if file.exists() and (not force or not file.is_file()):
        raise LogFault(f"{file} exists already: name another file, or add --force to replace it.")


def write_exported(data: bytes, file: Path, force: bool) -> None:
    """Write an export whole or not at all."""
    unfinished = durable.name_beside(file)
    try:
        unfinished.write_bytes(data)
        durable.publish(unfinished, file, replacing=force)
    except FileExistsError as failure:
        raise LogFault(f"{file} exists already: name another file, or add --force to replace it.") from failure
    except OSError as failure:
        raise LogFault(f"Cannot write {file}: {failure.strerror}. Name another file.") from failure
    finally:
        with contextlib.suppress(OSError):
            unfinished.unlink(missing_ok=True)


def print_problems(problems: list[str]) -> None:
    """Print damage where it does not mix with the command's output."""
    for problem in problems:
        print(problem, file=sys.stderr)


def count(number: int, noun: str) -> str:
    """A number of things in words.

    >>> count(1, "photo"), count(2, "photo")
    ('1 photo', '2 photos')
    """
    return f"{number} {noun}{'' if number == 1 else 's'}"


def run(options: argparse.Namespace) -> int:
    """Write the log for other programs."""
    choices = {name: getattr(options, name) for name in UNIT_CHOICES}
    if options.format not in TABLES and (any(choices.values()) or options.rows):
        raise LogFault("Only a table has rows and units: add --format csv or --format xlsx, or leave them out.")
    if options.format == "xlsx" and options.to is None:
        raise LogFault("A workbook is not text: name the file to write with --to FILE.xlsx.")
    place = place_of(options)
    if options.to is not None:
        refuse_target(options.to, place, options.force)
    with place.whole() as whole:
        return write_out(options, whole, choices)


def write_out(options: argparse.Namespace, whole: Whole, choices: dict[str, Any]) -> int:
    """Write what was chosen of a log."""
    contents = whole.contents
    unit = find_unit(contents, options.unit) if options.unit else None
    data: str | bytes
    if options.format in TABLES:
        table = as_table(contents, unit, choices, options.rows or PARTS)
        data = write_csv(table) if options.format == "csv" else write_workbook(table)
    else:
        exported = export_json(contents, unit, whole.photos)
        data = json.dumps(exported, ensure_ascii=False, indent=1) + "\n"
    if isinstance(data, bytes):
        write_exported(data, options.to, options.force)
    elif options.to is None:
        print_exported(data)
    else:
        # The mark at the start tells spreadsheets that a table is in UTF-8.
        write_exported(data.encode("utf-8-sig" if options.format == "csv" else "utf-8"), options.to, options.force)
    print_problems(contents.faults)
    return DAMAGED if contents.faults else 0


def export_json(contents: Contents, wanted_unit: str | None, photos: Photos) -> dict[str, Any]:
    """The log as JSON; with photos only if it is one unit's, since those of all units would make too large a file."""
    exported = as_json(contents, wanted_unit)
    entries = [entry for unit in exported["units"] for entry in unit["entries"]]
    if wanted_unit is None:
        if photos_shown_by(entries):
            print(
                "Photos are left out: they come with the export of one unit (--unit) and with `slipbook backup`.",
                file=sys.stderr,
            )
        return exported
    packed, missing = pack_photos(photos, entries)
    if missing:
        are = "is" if missing == 1 else "are"
        print(f"{count(missing, 'photo')} {are} missing or damaged, and {are} not in the file.", file=sys.stderr)
    return {**exported, "photos": packed} if packed else exported


def find_unit(contents: Contents, name_or_id: str) -> str:
    """The id of the unit with this id or name.

    Raises
    ------
    LogFault
        There is none, or more than one.
    """
    names = find_unit_names(contents)
    units = [unit for unit in contents.lines if unit and name_or_id in (unit, names.get(unit))]
    if len(units) == 1:
        return units[0]
    if units:
        ids = ", ".join(sorted(units))
        raise LogFault(f"{len(units)} units are called {name_or_id!r}: give the id of one: {ids}.")
    raise LogFault(f"There is no unit {name_or_id!r}. Choose one of: {', '.join(sorted(names.values()))}.")
