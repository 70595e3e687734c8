"""The command `slipbook`."""

import argparse
import io
import logging
import sys
import tempfile
from collections import Counter
from pathlib import Path
from typing import Any

from flask import Flask

from . import demo, exporting, hosting, importing, labelling, serving
from .app import close_app, create_app
from .exporting import DAMAGED, count, print_problems
from .lan import Door
from .log import ALREADY_THERE, STORED, Log, LogFault
from .log import REFUSED as REFUSED_ENTRY
from .log.answer import from_device
from .log.backups.backup import restore
from .log.backups.bring_back import OpenedBackup, describe_preview
from .log.backups.daily import DailyBackups
from .log.clock import PcClock
from .log.directions import closed
from .log.files import FolderLog
from .log.gaps import count_entries
from .log.intake import receive
from .log.patterns_in_file import patterns_of_units
from .log.photos_in_file import take_photos
from .log.strict_json import parse
from .places import FolderPlace, add_place, place_of

PORT = 8127
WELCOME_PORT = 8128
REFUSED = 2
# The exit code of shells for a program that Ctrl+C ended.
INTERRUPTED = 130
BATCH = 100
# How often bringing back a backup notes how far it is.
AT_ONCE_S = 10.0
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
    command.add_argument("--folder", type=Path, help="data folder; made if missing")
    command.add_argument(
        "--backups", type=Path, metavar="FOLDER", help="write a backup a day into this folder, on a stick or a share"
    )
    command.add_argument(
        "--clock-is-right", action="store_true", help="trust the PC's clock, even where entries are dated later"
    )
    add_port(command)
    add_lan(command)
    hosting.add_serving(command)
    command = add_command("check", "Check a data folder for damage; exits with 1 if there is any.", run_check)
    add_place(command)
    command = add_command("backup", "Write the whole log to a zip file, also while Slipbook runs.", run_backup)
    command.add_argument("file", type=Path, metavar="FILE.zip", help="the file to make")
    add_place(command)
    command = add_command("restore", "Make a data folder, or a workshop of a database, from a backup.", run_restore)
    command.add_argument("file", type=Path, metavar="FILE.zip", help="what `slipbook backup` made")
    add_place(command, folder="a new or empty folder", workshop="with --database: the name of a new workshop")
    command = add_command(
        "bring-back", "Add what a log lacks of a backup of it; shown first, done with --accept.", run_bring_back
    )
    command.add_argument("file", type=Path, metavar="FILE.zip", help="what `slipbook backup` made")
    add_place(command)
    command.add_argument("--accept", action="store_true", help="do it; without this it is only shown")
    command = add_command("take-in", "Import an outbox, or a unit, that was saved to a file.", run_take_in)
    command.add_argument("file", type=Path, metavar="FILE", help="the saved outbox, unit or export")
    add_place(command)
    command = add_command(
        "import-history", "Show what a history in a spreadsheet holds, CSV or XLSX, and import it.", importing.run
    )
    command.add_argument("file", type=Path, metavar="FILE", help="the spreadsheet")
    add_place(command)
    importing.add_options(command)
    command = add_command("export", "Write the log, or one unit of it, for other programs.", exporting.run)
    add_place(command)
    exporting.add_options(command)
    command = add_command("sheet", "Draw a unit's sheet as a PDF of one page.", exporting.run_sheet)
    command.add_argument("unit", metavar="UNIT", help="its name or id")
    add_place(command)
    exporting.add_sheet_options(command)
    command = add_command("labels", "Draw labels of units, plate bags and tools as a PDF.", labelling.run)
    add_place(command)
    labelling.add_options(command)
    command = add_command("calendar", "Write what is due as an iCalendar file.", exporting.run_calendar)
    add_place(command)
    exporting.add_calendar_options(command)
    command = add_command("prepare", "Make or change the tables of a database for many workshops.", hosting.run_prepare)
    hosting.add_prepare(command)
    command = add_command("workshop", "Make, list and remove the workshops of a database.", hosting.run_list)
    hosting.add_actions(command)
    command = add_command("move", "Move a log from a folder into a database, or back into a folder.", hosting.run_move)
    hosting.add_move(command)
    return parser


def add_lan(command: argparse.ArgumentParser) -> None:
    """Add the options that open Slipbook to the workshop's network."""
    command.add_argument("--lan", action="store_true", help="let paired phones on the network in, over TLS")
    command.add_argument(
        "--welcome-port",
        type=read_port,
        default=WELCOME_PORT,
        help=f"with --lan: port of the page that hands phones the certificate ({WELCOME_PORT})",
    )
    command.add_argument(
        "--address", default=serving.EVERYWHERE, help="with --lan: listen at this address of this PC only"
    )
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
    if options.database is not None:
        return hosting.run_serve(options)
    hosting.refuse_without_database(options)
    PcClock.is_trusted = options.clock_is_right
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
    log = FolderLog(folder, demo=with_demo)
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
    log = FolderLog(options.folder)
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
        only_address = None if options.address == serving.EVERYWHERE else options.address
        door.announce(lambda sentence: print(sentence, flush=True), only_address)

    try:
        serving.serve_lan(app, door, options.address, options.port, options.welcome_port, ready)
    finally:
        close_app(app)
        door.close()
    return 0


def run_check(options: argparse.Namespace) -> int:
    """Print what a data folder holds and what is damaged."""
    with place_of(options).whole() as (contents, photos):
        units = sum(1 for unit in contents.lines if unit)
        print(f"{describe_contents(contents.entries, units)}, numbered up to {contents.last}.")
        return report(contents.faults + photos.find_faults())


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
    contents = place_of(options).back_up(options.file)
    print(f"{options.file} holds {count_entries(contents.entries)}, numbered up to {contents.last}.")
    return report(contents.faults)


def run_restore(options: argparse.Namespace) -> int:
    """Make a data folder, or a workshop of a database, from a backup."""
    place = place_of(options)
    if isinstance(place, FolderPlace):
        contents = restore(options.file, place.root)
    else:
        contents = hosting.restore_workshop(options.file, options.database, options.workshop)
    print(f"{closed(place.name)} now holds {count_entries(contents.entries)}, numbered up to {contents.last}.")
    return report(contents.faults)


def run_bring_back(options: argparse.Namespace) -> int:
    """Show what a backup would bring back, and do so if that is accepted."""
    place = place_of(options).opened("bring the backup back on its Backup screen")
    with place as log, tempfile.TemporaryDirectory(prefix="slipbook-backup-") as scratch:
        opened = OpenedBackup(log, options.file, Path(scratch))
        look = opened.look()
        if look.refusal:
            raise LogFault(look.refusal)
        for sentence in describe_preview(look, log.identity.name):
            print(sentence)
        if not options.accept:
            print("Nothing was written: add --accept to bring it back.")
            return 0
        done = opened.progress
        while not done.finished:
            done = opened.go_on(AT_ONCE_S, f"the backup {options.file.name}")
    print(
        f"Entries that came: {done.stored}, there already: {done.there}, refused: {done.refused}. "
        f"Photos that came: {done.photos}."
    )
    return DAMAGED if done.refused else 0


def run_take_in(options: argparse.Namespace) -> int:
    """Import a saved outbox or unit; prints why entries were refused, which stay in the file."""
    entries, packed_photos = read_outbox(options.file)
    with place_of(options).opened("import the file on its Outbox screen") as log:
        answers = [
            answer
            for start in range(0, len(entries), BATCH)
            for answer in receive(log, entries[start : start + BATCH], source=f"the file {options.file.name}")
        ]
        logged = [entry for entry, answer in zip(entries, answers, strict=True) if answer["answer"] != REFUSED_ENTRY]
        new, damaged = take_photos(log.photos, packed_photos, logged)
    counts = Counter(answer["answer"] for answer in answers)
    print(
        f"Entries stored: {counts[STORED]}, there already: {counts[ALREADY_THERE]}, refused: {counts[REFUSED_ENTRY]}."
    )
    for number, answer in enumerate(answers, 1):
        for error in answer.get("errors", []):
            print(f"Entry {number} ({answer['id']}), {error['field'] or 'as a whole'}: {error['reason']}")
    if new:
        print(f"{count(new, 'photo')} {'was' if new == 1 else 'were'} new.")
    if damaged:
        are = "is" if damaged == 1 else "are"
        print(f"{count(damaged, 'photo')} in the file {are} damaged: save the unit again on the device it is from.")
    return DAMAGED if counts[REFUSED_ENTRY] or damaged else 0


def read_outbox(file: Path) -> tuple[list[Any], Any]:
    """The entries of a saved outbox, or of the units in an export, and its photos, not checked yet.

    Kit and shelf of an export belong to another workshop and are left out; the patterns of its units come along.
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
        groups = [unit for unit in content["units"] if isinstance(unit, dict) and isinstance(unit.get("entries"), list)]
        entries = [entry for unit in groups if unit.get("unit") for entry in unit["entries"]]
        shop = [entry for unit in groups if not unit.get("unit") for entry in unit["entries"]]
        entries = [*patterns_of_units(entries, shop), *entries]
        return [from_device(entry) if isinstance(entry, dict) else entry for entry in entries], content.get("photos")
    is_outbox = isinstance(content, dict) and content.get("slipbook_outbox") == 1
    if not is_outbox or not isinstance(content.get("entries"), list):
        raise LogFault(f"{file} is not an outbox or a unit that Slipbook saved: save it again on the phone.")
    return list(content["entries"]), None


if __name__ == "__main__":
    sys.exit(main())
