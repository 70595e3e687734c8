"""The command `slipbook`."""

import argparse
import json
import logging
import sys
import tempfile
from collections import Counter
from pathlib import Path
from typing import Any

from . import demo, serving
from .app import close_app, create_app
from .lan import Door
from .log import ALREADY_THERE, STORED, FolderInUse, Log, LogFault
from .log import REFUSED as REFUSED_ENTRY
from .log.backup import back_up, restore
from .log.export import as_csv, as_json, find_unit_names
from .log.intake import receive
from .log.log import from_device
from .log.photos import Photos
from .log.photos_in_file import pack_photos, photos_shown_by, take_photos
from .log.strict_json import parse
from .log.survey import Survey, survey

PORT = 8127
WELCOME_PORT = 8128
EVERYWHERE = "0.0.0.0"
DAMAGED = 1
REFUSED = 2
# As shells tell that a program was ended by Ctrl+C.
INTERRUPTED = 130
BATCH = 100


def main(arguments: list[str] | None = None) -> int:
    """Do what the command line asks; the answer is the program's exit code."""
    asked = parser().parse_args(arguments)
    logging.basicConfig(format="%(message)s", level=logging.WARNING)
    try:
        code: int = asked.do(asked)
        return code
    except LogFault as fault:
        print(fault.reason, file=sys.stderr)
        return REFUSED
    except KeyboardInterrupt:
        print("Stopped before the end. Nothing that was stored is lost; the same may be asked again.", file=sys.stderr)
        return INTERRUPTED


def parser() -> argparse.ArgumentParser:
    """Every command and its options."""
    whole = argparse.ArgumentParser(
        prog="slipbook", description="Set up, check and service plate-type limited-slip differentials."
    )
    commands = whole.add_subparsers(title="commands", required=True, metavar="COMMAND")

    def command(name: str, help: str, do: object) -> argparse.ArgumentParser:
        one = commands.add_parser(name, help=help, description=help)
        one.set_defaults(do=do)
        return one

    def with_port(one: argparse.ArgumentParser) -> None:
        one.add_argument("--port", type=port, default=PORT, help=f"port on this machine; 0 for a free one ({PORT})")

    one = command("demo", "Try it with invented units, in a folder that is thrown away.", run_demo)
    one.add_argument("--folder", type=Path, help="keep the folder: a new or empty one")
    with_port(one)
    one = command("serve", "Serve a workshop's log to this machine, or to the phones on its network.", run_serve)
    one.add_argument("--folder", type=Path, required=True, help="data folder; made if missing")
    with_port(one)
    with_lan(one)
    one = command("check", "Say whether a data folder is whole; exits with 1 if anything is damaged.", run_check)
    with_folder(one)
    one = command("backup", "Write the whole log to a zip file, also while Slipbook runs.", run_backup)
    one.add_argument("file", type=Path, metavar="FILE.zip", help="the file to make")
    with_folder(one)
    one = command("restore", "Make a data folder from a backup.", run_restore)
    one.add_argument("file", type=Path, metavar="FILE.zip", help="what `slipbook backup` made")
    one.add_argument("--folder", type=Path, required=True, help="a new or empty folder")
    one = command("take-in", "Take in an outbox, or a unit, that was saved to a file.", run_take_in)
    one.add_argument("file", type=Path, metavar="FILE", help="the saved outbox, unit or export")
    with_folder(one)
    one = command("export", "Write the log, or one unit of it, for other programs.", run_export)
    with_folder(one)
    one.add_argument("--format", choices=["json", "csv"], default="json", help="all of it, or a table (json)")
    one.add_argument("--unit", help="only the unit with this name or id")
    one.add_argument("--to", type=Path, metavar="FILE", help="the file to write (standard output)")
    return whole


def with_folder(one: argparse.ArgumentParser) -> None:
    """The option that find_unit_names an existing data folder."""
    one.add_argument("--folder", type=Path, required=True, help="data folder, as given to `slipbook serve`")


def with_lan(one: argparse.ArgumentParser) -> None:
    """The options that open Slipbook to the workshop's network."""
    one.add_argument("--lan", action="store_true", help="let paired phones on the network in, over TLS")
    one.add_argument(
        "--welcome-port",
        type=port,
        default=WELCOME_PORT,
        help=f"with --lan: port of the page that hands phones the certificate ({WELCOME_PORT})",
    )
    one.add_argument("--address", default=EVERYWHERE, help="with --lan: listen at this address of this PC only")
    one.add_argument(
        "--no-announce", action="store_true", help="with --lan: do not tell the network a name to find this PC by"
    )


def port(text: str) -> int:
    """A port from the command line."""
    if text.isascii() and text.isdigit() and int(text) <= 65535:
        return int(text)
    raise argparse.ArgumentTypeError(f"type a port from 0 to 65535; got {text!r}")


def run_demo(asked: argparse.Namespace) -> int:
    """Serve a fresh copy of the demonstration units."""
    if asked.folder is not None:
        if asked.folder.exists() and (not asked.folder.is_dir() or any(asked.folder.iterdir())):
            raise LogFault(f"{asked.folder} is not empty: name a new or empty folder for the demonstration.")
        return serve_folder(asked.folder, asked.port, with_demo=True)
    with tempfile.TemporaryDirectory(prefix="slipbook-demo-") as folder:
        return serve_folder(Path(folder), asked.port, with_demo=True)


def run_serve(asked: argparse.Namespace) -> int:
    """Serve a data folder."""
    if asked.lan:
        return serve_folder_lan(asked)
    return serve_folder(asked.folder, asked.port, with_demo=False)


def serve_folder(folder: Path, at: int, with_demo: bool) -> int:
    """Serve a data folder until the program is stopped."""
    app = create_app(folder)
    log = app.extensions["slipbook_log"]

    def ready(address: str) -> None:
        for told in log.problems:
            print(told, file=sys.stderr)
        units = len(log.units())
        print(f"Slipbook is at {address} with {held(log.last, units)}; Ctrl+C stops it.", flush=True)

    try:
        if with_demo:
            demo.load(log)
        serving.serve(app, at, ready)
    finally:
        close_app(app)
    return 0


def serve_folder_lan(asked: argparse.Namespace) -> int:
    """Serve a data folder to the workshop's network until the program is stopped."""
    # The folder is locked first: of two that start at once only one may make an authority.
    log = Log(asked.folder)
    try:
        door = Door(asked.folder, announce=not asked.no_announce)
    except BaseException:
        log.close()
        raise
    app = create_app(asked.folder, door=door, log=log)

    def ready() -> None:
        for told in log.problems:
            print(told, file=sys.stderr)
        print(f"On this PC: https://localhost:{door.port}/")
        for url in door.urls():
            print(f"For phones: {url}")
        print(f"A phone's first visit: {door.welcome_url()} hands it the certificate to trust.")
        print(f"Its SHA-256 fingerprint: {door.credentials.authority.fingerprint}")
        print("Pair phones on this PC under Settings, Devices. Ctrl+C stops it.", flush=True)
        door.announce(lambda told: print(told, flush=True), None if asked.address == EVERYWHERE else asked.address)

    try:
        serving.serve_lan(app, door, asked.address, asked.port, asked.welcome_port, ready)
    finally:
        close_app(app)
        door.close()
    return 0


def run_check(asked: argparse.Namespace) -> int:
    """Say what a data folder holds and what is wrong with it."""
    found = survey(asked.folder)
    units = sum(1 for unit in found.lines if unit)
    print(f"{held(found.entries, units)}, numbered up to {found.last}.")
    return tell(found.faults + Photos(asked.folder).find_faults())


def held(entries: int, units: int) -> str:
    """What a log holds, in words.

    >>> held(1, 1), held(12, 3)
    ('1 entry of 1 unit', '12 entries of 3 units')
    """
    return f"{entries} {'entry' if entries == 1 else 'entries'} of {counted(units, 'unit')}"


def tell(faults: list[str]) -> int:
    """Say what is damaged, if anything."""
    for told in faults:
        print(told)
    print("Damage was found." if faults else "Everything is whole.")
    return DAMAGED if faults else 0


def run_backup(asked: argparse.Namespace) -> int:
    """Write a backup."""
    found = back_up(asked.folder, asked.file)
    print(f"{asked.file} holds {found.entries} entries, numbered up to {found.last}.")
    return tell(found.faults)


def run_restore(asked: argparse.Namespace) -> int:
    """Make a data folder from a backup."""
    found = restore(asked.file, asked.folder)
    print(f"{asked.folder} holds {found.entries} entries again, numbered up to {found.last}.")
    return tell(found.faults)


def run_take_in(asked: argparse.Namespace) -> int:
    """Take in a saved outbox or unit; what is refused is told and stays in the file."""
    entries, given = read_outbox(asked.file)
    try:
        with Log(asked.folder) as log:
            answers = [
                answer
                for start in range(0, len(entries), BATCH)
                for answer in receive(log, entries[start : start + BATCH])
            ]
    except FolderInUse as fault:
        raise FolderInUse(f"{fault} Or leave it running, and take the file in on its Outbox screen.") from fault
    counts = Counter(answer["answer"] for answer in answers)
    print(
        f"{counts[STORED]} entries were stored, {counts[ALREADY_THERE]} were there already, "
        f"{counts[REFUSED_ENTRY]} were refused."
    )
    for place, answer in enumerate(answers, 1):
        for error in answer.get("errors", []):
            print(f"Entry {place} ({answer['id']}), {error['field'] or 'as a whole'}: {error['reason']}")
    kept = [entry for entry, answer in zip(entries, answers, strict=True) if answer["answer"] != REFUSED_ENTRY]
    new, damaged = take_photos(Photos(asked.folder), given, kept)
    if new:
        print(f"{counted(new, 'photo')} {'was' if new == 1 else 'were'} new.")
    if damaged:
        are = "is" if damaged == 1 else "are"
        print(f"{counted(damaged, 'photo')} in the file {are} damaged: save the unit again on the device it is from.")
    return DAMAGED if counts[REFUSED_ENTRY] or damaged else 0


def counted(number: int, name: str) -> str:
    """A number of things.

    >>> counted(1, "photo"), counted(2, "photo")
    ('1 photo', '2 photos')
    """
    return f"{number} {name}{'' if number == 1 else 's'}"


def read_outbox(file: Path) -> tuple[list[Any], Any]:
    """The entries of a saved outbox, or of the units in an export, and what it has for pictures.

    Kit and shelf of an export are another workshop's, and stay out.
    """
    try:
        found = parse(file.read_bytes())
    except OSError as failure:
        raise LogFault(f"Cannot read {file}: {failure.strerror}. Check the name.") from failure
    except ValueError as failure:
        raise LogFault(f"{file} cannot be read: {failure}") from failure
    if isinstance(found, dict) and found.get("slipbook_export") == 1 and isinstance(found.get("units"), list):
        units = [one for one in found["units"] if isinstance(one, dict) and one.get("unit")]
        entries = [entry for one in units if isinstance(one.get("entries"), list) for entry in one["entries"]]
        return [from_device(entry) if isinstance(entry, dict) else entry for entry in entries], found.get("photos")
    if not isinstance(found, dict) or found.get("slipbook_outbox") != 1 or not isinstance(found.get("entries"), list):
        raise LogFault(f"{file} is no outbox and no unit that Slipbook saved: save it again on the phone.")
    return list(found["entries"]), None


def run_export(asked: argparse.Namespace) -> int:
    """Write the log for other programs."""
    found = survey(asked.folder)
    unit = named_unit(found, asked.unit) if asked.unit else None
    if asked.format == "csv":
        text = as_csv(found, unit)
    else:
        text = json.dumps(whole_json(found, unit, Photos(asked.folder)), ensure_ascii=False, indent=1) + "\n"
    if asked.to is None:
        sys.stdout.write(text)
    else:
        try:
            # Spreadsheets know by the mark at the start that a table is in UTF-8.
            asked.to.write_text(text, encoding="utf-8-sig" if asked.format == "csv" else "utf-8", newline="")
        except OSError as failure:
            raise LogFault(f"Cannot write {asked.to}: {failure.strerror}. Name another file.") from failure
    for told in found.faults:
        print(told, file=sys.stderr)
    return DAMAGED if found.faults else 0


def whole_json(found: Survey, unit: str | None, photos: Photos) -> dict[str, Any]:
    """The log as JSON; with photos only if it is one unit's, since those of all units would make too large a file."""
    content = as_json(found, unit)
    entries = [entry for one in content["units"] for entry in one["entries"]]
    if unit is None:
        if photos_shown_by(entries):
            print(
                "Photos are left out: they come with the export of one unit (--unit) and with `slipbook backup`.",
                file=sys.stderr,
            )
        return content
    packed, missing = pack_photos(photos, entries)
    if missing:
        are = "is" if missing == 1 else "are"
        print(f"{counted(missing, 'photo')} {are} missing or damaged, and {are} not in the file.", file=sys.stderr)
    return {**content, "photos": packed} if packed else content


def named_unit(found: Survey, wanted: str) -> str:
    """The id of the one unit with this id or name."""
    known = find_unit_names(found)
    fitting = [unit for unit in found.lines if unit and wanted in (unit, known.get(unit))]
    if len(fitting) == 1:
        return fitting[0]
    if fitting:
        raise LogFault(f"{len(fitting)} units are called {wanted!r}: give the id of one: {', '.join(sorted(fitting))}.")
    raise LogFault(f"There is no unit {wanted!r}. Choose one of: {', '.join(sorted(known.values()))}.")


if __name__ == "__main__":
    sys.exit(main())
