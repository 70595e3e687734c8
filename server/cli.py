"""The command `slipbook`."""

import argparse
import io
import json
import logging
import sys
import tempfile
from collections import Counter
from pathlib import Path
from typing import Any

from flask import Flask

from . import demo, serving
from .app import close_app, create_app
from .engine.request.units import UNITS
from .exporting import print_exported, refuse_target, write_exported
from .lan import Door
from .log import ALREADY_THERE, STORED, FolderInUse, Log, LogFault
from .log import REFUSED as REFUSED_ENTRY
from .log.backup import back_up, restore
from .log.daily import DailyBackups
from .log.export import as_csv, as_json, find_unit_names
from .log.figures import CHOICES
from .log.intake import receive
from .log.log import count_entries, from_device
from .log.photos import Photos
from .log.photos_in_file import pack_photos, photos_shown_by, take_photos
from .log.strict_json import parse
from .log.survey import Survey, survey

PORT = 8127
WELCOME_PORT = 8128
EVERYWHERE = "0.0.0.0"
DAMAGED = 1
REFUSED = 2
# The exit code of shells for a program that Ctrl+C ended.
INTERRUPTED = 130
BATCH = 100
# About 350 photos of one unit, or a hundred thousand entries.
LARGEST_TAKEN_IN = 200 * 10**6


def main(arguments: list[str] | None = None) -> int:
    """Run a command line; returns the program's exit code."""
    for stream in (sys.stdout, sys.stderr):
        # A console that lacks a letter shows its code, and the program goes on.
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    options = make_parser().parse_args(arguments)
    logging.basicConfig(format="%(message)s", level=logging.WARNING)
    try:
        code: int = options.run(options)
        return code
    except LogFault as fault:
        print(fault.reason, file=sys.stderr)
        return REFUSED
    except KeyboardInterrupt:
        print("Stopped before the end. Nothing that was stored is lost: run the command again.", file=sys.stderr)
        return INTERRUPTED


def make_parser() -> argparse.ArgumentParser:
    """Every command and its options."""
    parser = argparse.ArgumentParser(
        prog="slipbook", description="Set up, check and service plate-type limited-slip differentials."
    )
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")

    def add_command(name: str, help: str, run: object) -> argparse.ArgumentParser:
        command = commands.add_parser(name, help=help, description=help)
        command.set_defaults(run=run)
        return command

    def add_port(command: argparse.ArgumentParser) -> None:
        command.add_argument(
            "--port", type=read_port, default=PORT, help=f"port on this machine; 0 for a free one ({PORT})"
        )

    command = add_command("demo", "Try it with invented units, in a folder that is deleted afterwards.", run_demo)
    command.add_argument("--folder", type=Path, help="keep the folder: a new or empty one")
    add_port(command)
    command = add_command("serve", "Serve a workshop's log to this machine, or to phones on its network.", run_serve)
    command.add_argument("--folder", type=Path, required=True, help="data folder; made if missing")
    command.add_argument(
        "--backups", type=Path, metavar="FOLDER", help="write a backup a day into this folder, on a stick or a share"
    )
    add_port(command)
    add_lan(command)
    command = add_command("check", "Check a data folder for damage; exits with 1 if there is any.", run_check)
    add_folder(command)
    command = add_command("backup", "Write the whole log to a zip file, also while Slipbook runs.", run_backup)
    command.add_argument("file", type=Path, metavar="FILE.zip", help="the file to make")
    add_folder(command)
    command = add_command("restore", "Make a data folder from a backup.", run_restore)
    command.add_argument("file", type=Path, metavar="FILE.zip", help="what `slipbook backup` made")
    command.add_argument("--folder", type=Path, required=True, help="a new or empty folder")
    command = add_command("take-in", "Import an outbox, or a unit, that was saved to a file.", run_take_in)
    command.add_argument("file", type=Path, metavar="FILE", help="the saved outbox, unit or export")
    add_folder(command)
    command = add_command("export", "Write the log, or one unit of it, for other programs.", run_export)
    add_folder(command)
    command.add_argument("--format", choices=["json", "csv"], default="json", help="everything, or a table (json)")
    command.add_argument("--unit", help="only the unit with this name or id")
    command.add_argument("--to", type=Path, metavar="FILE", help="the file to write (standard output)")
    command.add_argument("--force", action="store_true", help="with --to: replace the file if there is one")
    for name, si in CHOICES.items():
        units = [unit for unit, _, _ in UNITS[si]]
        command.add_argument(f"--{name}", choices=units, help=f"with --format csv: unit of its {name} ({si})")
    return parser


def add_folder(command: argparse.ArgumentParser) -> None:
    """Add the option that names an existing data folder."""
    command.add_argument("--folder", type=Path, required=True, help="data folder, as given to `slipbook serve`")


def add_lan(command: argparse.ArgumentParser) -> None:
    """Add the options that open Slipbook to the workshop's network."""
    command.add_argument("--lan", action="store_true", help="let paired phones on the network in, over TLS")
    command.add_argument(
        "--welcome-port",
        type=read_port,
        default=WELCOME_PORT,
        help=f"with --lan: port of the page that hands phones the certificate ({WELCOME_PORT})",
    )
    command.add_argument("--address", default=EVERYWHERE, help="with --lan: listen at this address of this PC only")
    command.add_argument(
        "--no-announce", action="store_true", help="with --lan: do not announce a name for this PC on the network"
    )


def read_port(text: str) -> int:
    """A port from the command line."""
    if text.isascii() and text.isdigit() and int(text) <= 65535:
        return int(text)
    raise argparse.ArgumentTypeError(f"type a port from 0 to 65535; got {text!r}")


def run_demo(options: argparse.Namespace) -> int:
    """Serve a new copy of the demonstration units."""
    if options.folder is not None:
        if options.folder.exists() and (not options.folder.is_dir() or any(options.folder.iterdir())):
            raise LogFault(f"{options.folder} is not empty: name a new or empty folder for the demonstration.")
        return serve_folder(options.folder, options.port, with_demo=True)
    with tempfile.TemporaryDirectory(prefix="slipbook-demo-") as folder:
        return serve_folder(Path(folder), options.port, with_demo=True)


def run_serve(options: argparse.Namespace) -> int:
    """Serve a data folder."""
    if options.lan:
        return serve_folder_lan(options)
    return serve_folder(options.folder, options.port, with_demo=False, backups=options.backups)


def start_backups(app: Flask, log: Log, target: Path | None) -> None:
    """Begin to make backups by themselves, if a folder for them is named; if that cannot be, the log is let go."""
    if target is None:
        return
    try:
        backups = DailyBackups(log, target)
    except LogFault:
        close_app(app)
        raise
    app.extensions["slipbook_backups"] = backups
    backups.start()


def serve_folder(folder: Path, port: int, with_demo: bool, backups: Path | None = None) -> int:
    """Serve a data folder to this machine until the program is stopped."""
    log = Log(folder, demo=with_demo)
    app = create_app(folder, log=log)
    start_backups(app, log, backups)

    def ready(address: str) -> None:
        print_problems(log.problems)
        contents = describe_contents(log.last, len(log.units()))
        print(f"Slipbook is at {address} with {contents}; Ctrl+C stops it.", flush=True)

    try:
        if with_demo:
            demo.load(log)
        serving.serve(app, port, ready)
    finally:
        close_app(app)
    return 0


def serve_folder_lan(options: argparse.Namespace) -> int:
    """Serve a data folder to the workshop's network until the program is stopped."""
    # The folder is locked first: if two programs start at once, only one may make an authority.
    log = Log(options.folder)
    try:
        door = Door(options.folder, announce=not options.no_announce)
    except BaseException:
        log.close()
        raise
    app = create_app(options.folder, door=door, log=log)
    start_backups(app, log, options.backups)

    def ready() -> None:
        print_problems(log.problems)
        print(f"On this PC: https://localhost:{door.port}/")
        for url in door.urls():
            print(f"For phones: {url}")
        print(f"A phone's first visit: {door.welcome_url()} hands it the certificate to trust.")
        print(f"Its SHA-256 fingerprint: {door.credentials.authority.fingerprint}")
        print("Pair phones on this PC under Settings, Devices. Ctrl+C stops it.", flush=True)
        only_address = None if options.address == EVERYWHERE else options.address
        door.announce(lambda sentence: print(sentence, flush=True), only_address)

    try:
        serving.serve_lan(app, door, options.address, options.port, options.welcome_port, ready)
    finally:
        close_app(app)
        door.close()
    return 0


def print_problems(problems: list[str]) -> None:
    """Print damage where it does not mix with the command's output."""
    for problem in problems:
        print(problem, file=sys.stderr)


def run_check(options: argparse.Namespace) -> int:
    """Print what a data folder holds and what is damaged."""
    contents = survey(options.folder)
    units = sum(1 for unit in contents.lines if unit)
    print(f"{describe_contents(contents.entries, units)}, numbered up to {contents.last}.")
    return report(contents.faults + Photos(options.folder).find_faults())


def describe_contents(entries: int, units: int) -> str:
    """What a log holds, in words.

    >>> describe_contents(1, 1), describe_contents(12, 3)
    ('1 entry of 1 unit', '12 entries of 3 units')
    """
    return f"{count_entries(entries)} of {count(units, 'unit')}"


def report(faults: list[str]) -> int:
    """Print what is damaged, if anything; returns the exit code."""
    for fault in faults:
        print(fault)
    print("Damage was found." if faults else "No damage was found.")
    return DAMAGED if faults else 0


def run_backup(options: argparse.Namespace) -> int:
    """Write a backup."""
    contents = back_up(options.folder, options.file)
    print(f"{options.file} holds {count_entries(contents.entries)}, numbered up to {contents.last}.")
    return report(contents.faults)


def run_restore(options: argparse.Namespace) -> int:
    """Make a data folder from a backup."""
    contents = restore(options.file, options.folder)
    print(f"{options.folder} now holds {count_entries(contents.entries)}, numbered up to {contents.last}.")
    return report(contents.faults)


def run_take_in(options: argparse.Namespace) -> int:
    """Import a saved outbox or unit; prints why entries were refused, which stay in the file."""
    entries, packed_photos = read_outbox(options.file)
    try:
        with Log(options.folder) as log:
            answers = [
                answer
                for start in range(0, len(entries), BATCH)
                for answer in receive(log, entries[start : start + BATCH])
            ]
    except FolderInUse as fault:
        raise FolderInUse(f"{fault} Or leave it running, and import the file on its Outbox screen.") from fault
    counts = Counter(answer["answer"] for answer in answers)
    print(
        f"Entries stored: {counts[STORED]}, there already: {counts[ALREADY_THERE]}, refused: {counts[REFUSED_ENTRY]}."
    )
    for number, answer in enumerate(answers, 1):
        for error in answer.get("errors", []):
            print(f"Entry {number} ({answer['id']}), {error['field'] or 'as a whole'}: {error['reason']}")
    logged = [entry for entry, answer in zip(entries, answers, strict=True) if answer["answer"] != REFUSED_ENTRY]
    new, damaged = take_photos(Photos(options.folder), packed_photos, logged)
    if new:
        print(f"{count(new, 'photo')} {'was' if new == 1 else 'were'} new.")
    if damaged:
        are = "is" if damaged == 1 else "are"
        print(f"{count(damaged, 'photo')} in the file {are} damaged: save the unit again on the device it is from.")
    return DAMAGED if counts[REFUSED_ENTRY] or damaged else 0


def count(number: int, noun: str) -> str:
    """A number of things in words.

    >>> count(1, "photo"), count(2, "photo")
    ('1 photo', '2 photos')
    """
    return f"{number} {noun}{'' if number == 1 else 's'}"


def read_outbox(file: Path) -> tuple[list[Any], Any]:
    """The entries of a saved outbox, or of the units in an export, and its photos, not checked yet.

    Kit and shelf of an export belong to another workshop and are left out.
    """
    try:
        if file.exists() and not file.is_file():
            raise LogFault(f"{file} is not a file: name the one that was saved.")
        with open(file, "rb") as saved:
            data = saved.read(LARGEST_TAKEN_IN + 1)
        if len(data) > LARGEST_TAKEN_IN:
            most = LARGEST_TAKEN_IN // 10**6
            raise LogFault(f"{file} has more than {most} MB: save one unit at a time, or use `slipbook restore`.")
        content = parse(data)
    except OSError as failure:
        raise LogFault(f"Cannot read {file}: {failure.strerror}. Check the name.") from failure
    except ValueError as failure:
        raise LogFault(f"{file} cannot be read: {failure}") from failure
    if isinstance(content, dict) and content.get("slipbook_export") == 1 and isinstance(content.get("units"), list):
        units = [unit for unit in content["units"] if isinstance(unit, dict) and unit.get("unit")]
        entries = [entry for unit in units if isinstance(unit.get("entries"), list) for entry in unit["entries"]]
        return [from_device(entry) if isinstance(entry, dict) else entry for entry in entries], content.get("photos")
    is_outbox = isinstance(content, dict) and content.get("slipbook_outbox") == 1
    if not is_outbox or not isinstance(content.get("entries"), list):
        raise LogFault(f"{file} is not an outbox or a unit that Slipbook saved: save it again on the phone.")
    return list(content["entries"]), None


def run_export(options: argparse.Namespace) -> int:
    """Write the log for other programs."""
    choices = {name: getattr(options, name) for name in CHOICES}
    if options.format != "csv" and any(choices.values()):
        raise LogFault("Only a table can be written in other units: add --format csv, or leave the units out.")
    if options.to is not None:
        refuse_target(options.to, options.folder, options.force)
    contents = survey(options.folder)
    unit = find_unit(contents, options.unit) if options.unit else None
    if options.format == "csv":
        text = as_csv(contents, unit, choices)
    else:
        exported = export_json(contents, unit, Photos(options.folder))
        text = json.dumps(exported, ensure_ascii=False, indent=1) + "\n"
    if options.to is None:
        print_exported(text)
    else:
        # The mark at the start tells spreadsheets that a table is in UTF-8.
        data = text.encode("utf-8-sig" if options.format == "csv" else "utf-8")
        write_exported(data, options.to, options.force)
    print_problems(contents.faults)
    return DAMAGED if contents.faults else 0


def export_json(contents: Survey, wanted_unit: str | None, photos: Photos) -> dict[str, Any]:
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


def find_unit(contents: Survey, name_or_id: str) -> str:
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


if __name__ == "__main__":
    sys.exit(main())
