"""The commands for many workshops: a database is prepared, workshops are made in it, moved and served."""

import argparse
import contextlib
import ipaddress
import tempfile
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from . import serving, workers
from .exporting import print_problems
from .lan import is_loopback
from .log import LogFault
from .log.backups.backup import back_up_log, refuse_existing, restore
from .log.backups.moving import carry
from .log.contents import Contents
from .log.directions import closed
from .log.files import FolderLog
from .log.files.folder import Folder
from .log.gaps import count_entries
from .places import database_at, require_library
from .worker import Settings

if TYPE_CHECKING:
    from .log.postgres import Database

BENCH = "bench"
WAITING = (
    "What still waits on a device is kept under the old address: save its outbox there to a file, and import that file "
    "at the new one."
)


def add_actions(command: argparse.ArgumentParser) -> None:
    """Add what can be done with a database's workshops."""
    actions = command.add_subparsers(title="actions", required=True, metavar="ACTION")
    for name, help, run in (
        ("add", "Make a workshop, and print a code by which its first device is paired for the bench.", run_add),
        ("code", "Print a new code, where no device is paired for the bench any more.", run_code),
        ("list", "List the workshops and what their logs hold.", run_list),
        ("remove", "Remove a workshop with its log, after a backup.", run_remove),
    ):
        action = actions.add_parser(name, help=help, description=help)
        action.set_defaults(run=run)
        if name != "list":
            action.add_argument("name", metavar="NAME", help="the workshop's name")
        if name == "remove":
            action.add_argument("--backup", type=Path, required=True, metavar="FILE.zip", help="made first")
        action.add_argument("--database", required=True, metavar="URL", help="as the role that owns the tables")


def add_prepare(command: argparse.ArgumentParser) -> None:
    """Add how a database is prepared."""
    command.add_argument("--database", required=True, metavar="URL", help="as the role that shall own the tables")
    command.add_argument("--server-role", required=True, metavar="ROLE", help="the role that `slipbook serve` has")


def add_move(command: argparse.ArgumentParser) -> None:
    """Add from where to where a log is moved."""
    command.add_argument("--folder", type=Path, help="the data folder whose log is moved into the database")
    command.add_argument("--to-folder", type=Path, metavar="FOLDER", help="the new folder that the log is moved to")
    command.add_argument("--database", required=True, metavar="URL", help="as the role that owns the tables")
    command.add_argument("--workshop", required=True, metavar="NAME", help="the workshop's name")


def add_serving(command: argparse.ArgumentParser) -> None:
    """Add how a database is served."""
    command.add_argument(
        "--database", metavar="URL", help="instead of a folder: a database with many workshops, as the role that serves"
    )
    command.add_argument("--workers", type=read_workers, metavar="N", help="with --database: how many processes (1)")
    command.add_argument(
        "--behind-proxy",
        metavar="ADDRESS",
        type=read_ip,
        help="with --database: the IP address of the proxy that has the certificate; its headers alone are believed",
    )


def read_workers(text: str) -> int:
    """A number of processes from the command line."""
    if text.isascii() and text.isdigit() and 1 <= int(text) <= workers.MOST:
        return int(text)
    raise argparse.ArgumentTypeError(f"type a number from 1 to {workers.MOST}; got {text!r}")


def read_ip(text: str) -> str:
    """An IP address from the command line, as connections have it."""
    try:
        return str(ipaddress.ip_address(text))
    except ValueError:
        raise argparse.ArgumentTypeError(f"type the IP address from which the proxy comes; got {text!r}") from None


def refuse_without_database(options: argparse.Namespace) -> None:
    """Refuse to serve a folder with what only a database has, or without a folder.

    Raises
    ------
    LogFault
        That was asked for.
    """
    if options.folder is None:
        raise LogFault("Name what to serve: a data folder with --folder, or a database with --database.")
    if options.workers is not None or options.behind_proxy is not None:
        raise LogFault(
            "A data folder is served by one process, to this network: leave --workers and --behind-proxy out."
        )


def run_serve(options: argparse.Namespace) -> int:
    """Serve the workshops of a database until the program is stopped."""
    if options.folder is not None:
        raise LogFault("Name one thing to serve: a data folder with --folder, or a database with --database.")
    if options.lan:
        raise LogFault("A database is served behind a proxy that has a certificate: give --behind-proxy, not --lan.")
    if options.backups is not None:
        raise LogFault("A backup a day is made of a data folder: for a database have `slipbook backup` run each day.")
    require_library()
    address = options.address or serving.LOOPBACK
    if not options.behind_proxy and not is_loopback(address):
        raise LogFault("Without a certificate only this machine is served: add --behind-proxy, or leave --address out.")
    count = options.workers or 1
    proxy = options.behind_proxy or ""
    settings = Settings(options.database, address, options.port, proxy, options.clock_is_right)

    def ready(url: str) -> None:
        by = f" by {count} processes" if count > 1 else ""
        print(f"Slipbook is at {url}{by}, for the devices of every workshop; Ctrl+C stops it.", flush=True)

    workers.serve(settings, count, ready)
    return 0


def run_prepare(options: argparse.Namespace) -> int:
    """Make or change the tables of a database."""
    require_library()
    from .log.postgres.schema import prepare

    run = prepare(options.database, options.server_role)
    print(f"Changes made: {', '.join(run) or 'none, since all were made before'}.")
    print(f"The role {options.server_role} may serve it. Make a workshop with `slipbook workshop add`.")
    return 0


def new_code(database: "Database", workshop: int) -> str:
    """A code by which a device is paired with a workshop, for its bench."""
    from .lan.postgres import open_code

    with database.workshop(workshop) as connection:
        return open_code(connection, workshop, BENCH)


def run_add(options: argparse.Namespace) -> int:
    """Make a workshop."""
    with database_at(options.database) as database:
        from .log.postgres import workshops

        code = new_code(database, workshops.add(database, options.name))
    name = closed(options.name)
    print(f"The workshop {name} is made. Pair its first device, for the bench, by {code} within ten minutes.")
    print("That device makes codes for others, under Settings, Devices.")
    return 0


def run_code(options: argparse.Namespace) -> int:
    """Print a new code for a workshop's bench."""
    with database_at(options.database) as database:
        from .log.postgres import workshops

        code = new_code(database, workshops.find(database, options.name))
    print(f"A device is paired with {closed(options.name)} for the bench by {code}, within ten minutes.")
    return 0


def run_list(options: argparse.Namespace) -> int:
    """List the workshops."""
    with database_at(options.database) as database:
        from .log.postgres import workshops

        rows = workshops.listed(database)
    for row in rows:
        units = f"{row.units} {'unit' if row.units == 1 else 'units'}"
        print(f"{closed(row.name)}: {count_entries(row.entries)} of {units}, made {row.made}, log {row.log_id}")
    print(f"Workshops: {len(rows)}.")
    return 0


def run_remove(options: argparse.Namespace) -> int:
    """Remove a workshop, after it was asked for twice and backed up."""
    refuse_existing(options.backup)
    with database_at(options.database) as database:
        from .log.postgres import DatabaseLog, workshops

        workshop = workshops.find(database, options.name)
        log = DatabaseLog(database, workshop)
        name = closed(options.name)
        print(f"{name} has {count_entries(log.contents().entries)}, and its phones can send to it no more.")
        if ask(f"Type its name to remove it: {name}") not in (options.name, name):
            raise LogFault("Nothing was removed.")
        # First, so that nothing is acknowledged that the backup does not hold.
        workshops.close_for(database, workshop, f"the backup {options.backup.name}")
        try:
            contents = back_up_log(log, options.backup)
            print(f"{options.backup} holds {count_entries(contents.entries)}, numbered up to {contents.last}.")
            for fault in contents.faults:
                print(fault)
            if ask("Type yes to remove it now") != "yes":
                raise LogFault("Nothing was removed; the backup stays.")
            workshops.remove(database, workshop)
        except BaseException:
            workshops.close_for(database, workshop, "")
            raise
    print(f"{name} was removed.")
    return 0


def ask(question: str) -> str:
    """What a person types; empty at the end of the input."""
    try:
        return input(f"{question}: ").strip()
    except EOFError:
        return ""


def run_move(options: argparse.Namespace) -> int:
    """Move a log from a folder into a database, or back."""
    if (options.folder is None) == (options.to_folder is None):
        raise LogFault("Name one folder: the log's with --folder, or a new one for it with --to-folder.")
    if options.folder is not None:
        return move_in(options.folder, options.database, options.workshop)
    return move_out(options.database, options.workshop, options.to_folder)


def move_in(folder: Path, url: str, name: str) -> int:
    """Move a folder's log into a new workshop."""
    if not Folder(folder).units.is_dir():
        raise LogFault(f"{folder} is not a data folder of Slipbook: name the one that `slipbook serve` uses.")
    with database_at(url) as database, FolderLog(folder) as source:
        from .log.postgres import DatabaseLog, workshops

        target = DatabaseLog(database, workshops.for_carrying(database, name, source.identity.log_id, may_go_on=True))
        carried = carry(source, target)
        source.folder.note_moved(f"the workshop {name} of a database on {date.today().isoformat()}")
    held = f"{count_entries(carried.entries)} and {carried.photos} photos"
    print(f"The workshop {closed(name)} has {held}, as {folder} had.")
    print(f"{folder} is no longer served: keep it as a copy. Pair the devices at the new address.")
    print(WAITING)
    print_problems(carried.faults)
    return 0


def move_out(url: str, name: str, folder: Path) -> int:
    """Move a workshop's log into a new folder."""
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())) and not Folder(folder).units.is_dir():
        raise LogFault(f"{folder} is not empty: name a new or empty folder.")
    with database_at(url) as database, FolderLog(folder) as target:
        from .log.postgres import DatabaseLog, workshops

        workshop = workshops.find(database, name)
        # First, so that nobody adds to it meanwhile.
        workshops.close_for(database, workshop, f"the folder {folder.name} on {date.today().isoformat()}")
        try:
            carried = carry(DatabaseLog(database, workshop), target)
        except BaseException:
            workshops.close_for(database, workshop, "")
            raise
    held = f"{count_entries(carried.entries)} and {carried.photos} photos"
    print(f"{folder} has {held}, as the workshop {closed(name)} had.")
    print(
        f"{closed(name)} takes nothing in any more: remove it with `slipbook workshop remove`. Pair the devices anew."
    )
    print(WAITING)
    print_problems(carried.faults)
    return 0


def restore_workshop(file: Path, url: str, name: str) -> Contents:
    """Make a workshop from a backup."""
    with tempfile.TemporaryDirectory(prefix="slipbook-restore-") as scratch, database_at(url) as database:
        from .log.postgres import DatabaseLog, workshops

        contents = restore(file, Path(scratch) / "log")
        with FolderLog(Path(scratch) / "log") as source:
            workshop = workshops.for_carrying(database, name, source.identity.log_id)
            try:
                carry(source, DatabaseLog(database, workshop))
            except BaseException:
                with contextlib.suppress(LogFault):
                    workshops.remove(database, workshop)
                raise
    return contents
