"""Brings what a backup holds back into a log that is in use: what the log lacks is added, and nothing is taken away.

A log only grows, so two states of one log are brought together by putting their entries together. So this may break off
anywhere, be done again, and go on while phones deliver: an entry that is there already stays as it is.
"""

import hashlib
import json
import tempfile
import threading
import time
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

from ..answer import REFUSED, STORED
from ..contents import Contents
from ..export import find_unit_names
from ..faults import LogFault, fault_of
from ..files.folder import Folder
from ..files.identity_file import read_identity
from ..files.photos import FolderPhotos
from ..gaps import count_entries
from ..identity import Identity
from ..photos import is_intact
from ..store import Log
from ..stored_entry import read_entry
from .backup import LARGEST_MANIFEST, MANIFEST, read_member, restore

# Far more than a workshop's log has, photos and all.
LARGEST_BACKUP = 20 * 10**9
BATCH = 500
CHUNK = 1024 * 1024
OTHER_LOG = (
    "This is a backup of another log, {name}, and logs are never mixed. `slipbook restore FILE --folder NEW` makes a "
    "folder of its own from it, and `slipbook serve --folder NEW` serves that."
)


class WrongBackup(LogFault):
    """What came cannot be brought back; the reason says what to do."""


class UnitDifference(NamedTuple):
    """How a backup and the log differ in a unit, or in the shop under a blank id, in numbers of entries."""

    unit: str
    name: str
    new: int
    there: int
    only_here: int


class BackupPreview(NamedTuple):
    """What a backup holds, and what it would change.

    Attributes
    ----------
    accepted : str
        SHA-256 of the file, by which what was looked at is accepted.
    made, name : str
        When it was made, and what its log is called.
    entries, last : int
        How many entries it holds, and the highest number.
    units : list of UnitLook
        Each unit that differs, those with the most to come first.
    new, there, only_here : int
        How many entries would come, are there already, and are in the log alone.
    photos, new_photos : int
        How many photos it holds, and how many of them would come.
    adopts : bool
        Whether the log here is empty and would become the log of the backup.
    refusal : str
        Why it cannot be brought back here, and what to do; empty if it can.
    faults : list of str
        What is damaged in it.
    """

    accepted: str
    made: str
    name: str
    entries: int
    last: int
    units: list[UnitDifference]
    new: int
    there: int
    only_here: int
    photos: int
    new_photos: int
    adopts: bool
    refusal: str
    faults: list[str]


class BringBackProgress(NamedTuple):
    """How far a backup was brought back: entries and photos that came, entries that were there or refused, and how many
    entries and photos were looked at out of how many in all."""

    stored: int
    there: int
    refused: int
    photos: int
    looked_at: int
    all: int

    @property
    def finished(self) -> bool:
        """Whether that is all."""
        return self.looked_at == self.all


class OpenedBackup:
    """A backup that was unpacked and checked, beside the log that it may be brought into.

    Parameters
    ----------
    log : Log
        The log.
    file : Path
        The backup.
    scratch : Path
        An empty folder to unpack it in.

    Raises
    ------
    WrongBackup
        The file is no whole backup.
    LogFault
        The disk is full.
    """

    def __init__(self, log: Log, file: Path, scratch: Path) -> None:
        self.log, self.root = log, scratch / "log"
        self.contents: Contents = unpacked(file, self.root)
        self.identity: Identity | None = read_identity(Folder(self.root))
        self.accepted = digest_of(file)
        with zipfile.ZipFile(file) as archive:
            manifest = json.loads(read_member(archive, MANIFEST, LARGEST_MANIFEST))
        self.made = str(manifest.get("made", ""))
        self.photos = FolderPhotos(self.root)
        self.progress = BringBackProgress(0, 0, 0, 0, 0, self.contents.entries + len(self.photos.files()))
        self.steps = self.batches()

    def look(self) -> BackupPreview:
        """What it would change now."""
        log, lines = self.log, self.contents.lines
        names = find_unit_names(self.contents)
        units = []
        for unit in sorted({*lines, *log.units(), ""}):
            own_ids = {name for name, _ in log.ids_of(unit)}
            ids = {line.id for line in lines.get(unit, [])}
            units.append(
                UnitDifference(unit, names.get(unit, ""), len(ids - own_ids), len(ids & own_ids), len(own_ids - ids))
            )
        in_both = sum(row.there for row in units)
        own_photos, photos = set(log.photos.names()), self.photos.names()
        is_same = self.identity is not None and self.identity.log_id == log.identity.log_id
        is_empty = log.last == 0
        # A backup of an early version does not say whose it is; entries in common do.
        is_allowed = is_same or is_empty or (self.identity is None and in_both > 0)
        name = self.identity.name if self.identity else ""
        return BackupPreview(
            self.accepted,
            self.made,
            name,
            self.contents.entries,
            self.contents.last,
            sorted([row for row in units if row.new or row.only_here], key=lambda row: (-row.new, row.name, row.unit)),
            sum(row.new for row in units),
            in_both,
            sum(row.only_here for row in units),
            len(photos),
            sum(name not in own_photos for name in photos),
            is_empty and not is_same and self.identity is not None,
            "" if is_allowed else OTHER_LOG.format(name=f"“{name}”"),
            self.contents.faults,
        )

    def go_on(self, seconds: float, source: str) -> BringBackProgress:
        """Bring back what fits into so many seconds, at least one batch; to be called until it is finished.

        Raises
        ------
        WrongBackup
            It is of another log.
        LogFault
            It cannot be written. What came so far stays, and going on is safe.
        """
        preview = self.look()
        if preview.refusal:
            raise WrongBackup(preview.refusal)
        if preview.adopts and self.identity is not None:
            self.log.adopt(self.identity)
        before, deadline = self.progress, time.monotonic() + seconds
        try:
            for _ in self.steps:
                if time.monotonic() >= deadline:
                    break
        except LogFault:
            # Another time it begins anew: what came is there already then.
            self.progress, self.steps = BringBackProgress(0, 0, 0, 0, 0, before.all), self.batches()
            raise
        entries, photos = self.progress.stored - before.stored, self.progress.photos - before.photos
        if entries or photos:
            # By this phones know that more is there under numbers that they have passed.
            self.log.note_returned(source, entries, photos)
        return self.progress

    def batches(self) -> Iterator[None]:
        """A batch of entries or a photo at each step."""
        for lines in self.contents.lines.values():
            for start in range(0, len(lines), BATCH):
                self.add([read_entry(line) for line in lines[start : start + BATCH]])
                yield
        for path in self.photos.files():
            self.add_photo(path)
            yield

    def add(self, entries: list[dict[str, Any]]) -> None:
        """Add entries as they were stored, with their numbers."""
        answers = [answer.answer for answer in self.log.add(entries)]
        stored, refused, progress = answers.count(STORED), answers.count(REFUSED), self.progress
        self.progress = progress._replace(
            stored=progress.stored + stored,
            refused=progress.refused + refused,
            there=progress.there + len(answers) - stored - refused,
            looked_at=progress.looked_at + len(answers),
        )

    def add_photo(self, path: Path) -> None:
        """Put a photo beside the log's, if it has none of that name."""
        data = path.read_bytes()
        is_new = not self.log.photos.progress(path.stem).whole and is_intact(path.stem, data)
        if is_new:
            self.log.photos.put_whole(path.stem, data)
        self.progress = self.progress._replace(
            photos=self.progress.photos + is_new, looked_at=self.progress.looked_at + 1
        )


class IncomingBackup:
    """A backup that comes in pieces: one at a time, and forgotten when another begins or Slipbook ends.

    Parameters
    ----------
    log : Log
        The log that it may be brought into.
    """

    def __init__(self, log: Log) -> None:
        self.log = log
        self.lock = threading.Lock()
        self.scratch: tempfile.TemporaryDirectory[str] | None = None
        self.opened: OpenedBackup | None = None

    @property
    def file(self) -> Path:
        """Where what has come is kept."""
        if self.scratch is None:
            raise WrongBackup("No backup has come yet: choose the file again.")
        return Path(self.scratch.name) / "backup.zip"

    def add_piece(self, start: int, data: bytes) -> int:
        """Keep a piece that begins `at` so many bytes; returns how much there is, from where the device goes on."""
        with self.lock:
            if start == 0:
                self.forget()
                self.scratch = tempfile.TemporaryDirectory(prefix="slipbook-backup-")
                self.file.touch()
            file = self.file
            size = file.stat().st_size
            if start == size:
                if size + len(data) > LARGEST_BACKUP:
                    raise WrongBackup(
                        f"This file is larger than {LARGEST_BACKUP // 10**9} GB: restore it with `slipbook restore`."
                    )
                self.opened = None
                try:
                    with open(file, "ab") as backup_file:
                        backup_file.write(data)
                except OSError as failure:
                    raise fault_of(failure, "keep the backup that comes in") from failure
                size += len(data)
            return size

    def open(self) -> OpenedBackup:
        """The backup that has come, unpacked and checked."""
        if self.opened is None:
            file = self.file
            self.opened = OpenedBackup(self.log, file, Path(tempfile.mkdtemp(dir=file.parent)))
        return self.opened

    def look(self) -> BackupPreview:
        """What the backup that has come would change."""
        with self.lock:
            return self.open().look()

    def go_on(self, accepted: str, seconds: float, source: str) -> BringBackProgress:
        """Go on bringing back what was looked at."""
        with self.lock:
            opened = self.open()
            if opened.accepted != accepted:
                raise WrongBackup("This is not the backup that was looked at: choose the file again.")
            return opened.go_on(seconds, source)

    def forget(self) -> None:
        """Throw away what has come."""
        self.opened = None
        if self.scratch is not None:
            self.scratch.cleanup()
            self.scratch = None


def unpacked(file: Path, root: Path) -> Contents:
    """What `restore` makes of a backup; where the file is to blame, a person knows it by no path of this PC."""
    try:
        return restore(file, root)
    except LogFault as fault:
        if isinstance(fault.__cause__, OSError):
            raise
        raise WrongBackup(fault.reason.replace(str(file), "This file")) from fault


def digest_of(file: Path) -> str:
    """The SHA-256 of a file."""
    digest = hashlib.sha256()
    with open(file, "rb") as backup_file:
        while chunk := backup_file.read(CHUNK):
            digest.update(chunk)
    return digest.hexdigest()


def describe_preview(preview: BackupPreview, log_name: str) -> list[str]:
    """What a backup would change in the log that is called `here`, in sentences."""
    made_at = f"{preview.made[:10]} {preview.made[11:16]} UTC"
    sentences = [
        f"A backup of {preview.name or 'a log without a name'}, made {made_at}: {count_entries(preview.entries)}."
    ]
    if preview.refusal:
        return [*sentences, preview.refusal]
    if preview.adopts:
        sentences.append(f"This log is empty. It becomes {preview.name}, which phones that have been there know again.")
    coming = f"{count_entries(preview.new)} would come" if preview.new else "No entry would come"
    sentences.append(f"{coming}; {preview.there or 'none'} {'is' if preview.there == 1 else 'are'} here already.")
    if preview.new_photos:
        sentences.append(f"{preview.new_photos} of its {preview.photos} photos would come.")
    if preview.only_here:
        sentences.append(
            f"{count_entries(preview.only_here)} of {log_name} came after it or from elsewhere: they stay."
        )
    sentences.append("Nothing is taken away, and nothing that is here is changed.")
    return sentences + preview.faults
