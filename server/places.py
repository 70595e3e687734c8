"""Where a command finds a workshop's log: in a folder, or among those of a database."""

import argparse
import contextlib
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, Protocol

from .log import FolderInUse, Log, LogFault
from .log.backups.backup import back_up, back_up_log
from .log.contents import Contents
from .log.files import FolderLog, FolderPhotos
from .log.files.folder import Folder
from .log.files.identity_file import read_identity
from .log.files.survey import survey
from .log.identity import Identity
from .log.photos import Photos

if TYPE_CHECKING:
    from .log.postgres import Database

NO_LIBRARY = "A database needs more than Slipbook alone: run `pip install 'slipbook[postgres]'`, then this again."
NAME_ONE = "Name the log: a folder with --folder, or a database with --database and the workshop in it with --workshop."


class Whole(NamedTuple):
    """All that a log holds, as it is read without being changed."""

    contents: Contents
    photos: Photos


class Place(Protocol):
    """Where a log is."""

    @property
    def name(self) -> str:
        """What the place is called in a sentence."""

    def whole(self) -> contextlib.AbstractContextManager[Whole]:
        """All that the log holds, also while a Slipbook writes there."""

    def identity(self) -> Identity | None:
        """Which log it is; None for one of an early version, which does not say."""

    def back_up(self, file: Path) -> Contents:
        """Write the whole log to a zip file."""

    def opened(self, instead: str) -> contextlib.AbstractContextManager[Log]:
        """The log, open for adding; `instead` says what to do if another Slipbook has a folder open."""

    def refuse(self, file: Path) -> None:
        """Refuse to write a file that would become part of the log."""


class FolderPlace:
    """A data folder."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.name = str(root)

    @contextlib.contextmanager
    def whole(self) -> Iterator[Whole]:
        """All that the folder holds."""
        yield Whole(survey(self.root), FolderPhotos(self.root))

    def identity(self) -> Identity | None:
        """Which log the folder holds."""
        return read_identity(Folder(self.root))

    def back_up(self, file: Path) -> Contents:
        """Write all that the folder holds to a zip file."""
        return back_up(self.root, file)

    @contextlib.contextmanager
    def opened(self, instead: str) -> Iterator[Log]:
        """The folder's log, which nobody else may have open."""
        try:
            log = FolderLog(self.root)
        except FolderInUse as fault:
            raise FolderInUse(f"{fault} Or leave it running, and {instead}.") from fault
        with log:
            yield log

    def refuse(self, file: Path) -> None:
        """Refuse to write over the log's own files."""
        if self.root.resolve() in file.resolve().parents:
            raise LogFault(f"{file} is in the data folder itself: name a file outside of it.")


class DatabasePlace:
    """A workshop of a database."""

    def __init__(self, url: str, workshop: str) -> None:
        self.url = url
        self.name = workshop

    @contextlib.contextmanager
    def whole(self) -> Iterator[Whole]:
        """All that the workshop's log holds."""
        with self.opened("") as log:
            yield Whole(log.contents(), log.photos)

    def identity(self) -> Identity:
        """Which log the workshop has."""
        with self.opened("") as log:
            return log.identity

    def back_up(self, file: Path) -> Contents:
        """Write all of the workshop's log to a zip file."""
        with self.opened("") as log:
            return back_up_log(log, file)

    @contextlib.contextmanager
    def opened(self, instead: str) -> Iterator[Log]:
        """The workshop's log; others may have it open too."""
        with database_at(self.url) as database:
            from .log.postgres import DatabaseLog, workshops

            yield DatabaseLog(database, workshops.find(database, self.name))

    def refuse(self, file: Path) -> None:
        """A file is never part of a database."""


@contextlib.contextmanager
def database_at(url: str) -> "Iterator[Database]":
    """A database, as who owns its tables.

    Raises
    ------
    LogFault
        It cannot be reached, or the role only serves; or the library is not installed.
    """
    require_library()
    from .log.postgres import Database, workshops

    with contextlib.closing(Database(url)) as database:
        workshops.check_owner(database)
        yield database


def require_library() -> None:
    """Refuse a database where what reaches one is not installed.

    Raises
    ------
    LogFault
        It is not.
    """
    try:
        from .log import postgres as postgres
    except ImportError as failure:
        raise LogFault(NO_LIBRARY) from failure


def add_place(
    command: argparse.ArgumentParser,
    folder: str = "data folder, as given to `slipbook serve`",
    workshop: str = "with --database: which workshop's log",
) -> None:
    """Add the options that name a log, with what is said of them."""
    command.add_argument("--folder", type=Path, help=folder)
    add_database(command, required=False)
    command.add_argument("--workshop", metavar="NAME", help=workshop)


def add_database(command: argparse.ArgumentParser, required: bool = True) -> None:
    """Add the option that names a database."""
    command.add_argument(
        "--database",
        required=required,
        metavar="URL",
        help="a database of PostgreSQL, such as postgresql://OWNER@HOST/NAME, as the role that owns the tables",
    )


def place_of(options: argparse.Namespace) -> Place:
    """The place that a command's options name.

    Raises
    ------
    LogFault
        They name none, or two.
    """
    if options.folder is not None and options.database is None and options.workshop is None:
        return FolderPlace(options.folder)
    if options.folder is None and options.database is not None and options.workshop is not None:
        return DatabasePlace(options.database, options.workshop)
    raise LogFault(NAME_ONE)
