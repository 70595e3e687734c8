"""One unit's entries in one TinyDB file. No other module knows TinyDB.

TinyDB reads and writes the whole database each time that something is added. Since entries never change, it is shown
none of them: the file's text up to its last entry stays as it is, and a write adds lines at the end.
"""

import zlib
from collections.abc import Sequence
from contextlib import suppress
from typing import Any, NamedTuple

from tinydb import TinyDB
from tinydb.storages import Storage
from tinydb.table import Document

from .. import durable
from ..durable import Generations, Mark
from ..layout import BETWEEN, HEAD, TABLE, TAIL, Line, decode_line, encode_entry, encode_file, encode_line
from .folder import Folder

# How many added bytes are kept beside the text before they are joined to it: joining copies the whole text.
MOST_APPENDED = 16 * 1024
# The file, the one before it, and the spare one.
GENERATIONS = 3


class FileContent(NamedTuple):
    """What a unit's file holds, checked.

    Attributes
    ----------
    numbers : sequence of int
        The numbers of its entries.
    text : bytes
        The file up to its last entry.
    checksum : int
        CRC-32 of `text`.
    mark : Mark, optional
        Of the file, if it holds just this text and `TAIL`.
    """

    numbers: Sequence[int]
    text: bytes
    checksum: int
    mark: Mark | None = None


class UnitStorage(Storage):
    """A TinyDB storage that only adds entries; a write succeeds as a whole or changes nothing."""

    def __init__(self, folder: Folder, unit: str, content: FileContent) -> None:
        self.path = folder.file(unit)
        self.generations: Generations = folder.generations(unit)
        self.numbers = set(content.numbers)
        self.text = content.text
        # How many bytes of the text are in each of the last generations: a spare one need not be read then.
        self.known = {content.mark: len(content.text)} if content.mark else {}
        # What was added to the text since, and the lines of the last write.
        self.appended = b""
        self.last_lines: list[bytes] = []

    def read(self) -> dict[str, dict[str, Any]] | None:
        """Nothing, as of an empty file: adding needs none of what is there."""
        return None

    def write(self, data: dict[str, dict[str, Any]]) -> None:
        """Make the entries in `data` durable, but for the file's name; if that fails, the file is as it was."""
        new = {int(number): entry for number, entry in data[TABLE].items()}
        if not self.numbers.isdisjoint(new):
            raise ValueError("Entries are only ever added.")
        lines = [encode_line(number, encode_entry(entry)) for number, entry in new.items()]
        appended = self.appended + (BETWEEN if self.numbers else b"") + BETWEEN.join(lines)
        mark = durable.write(self.path, self.text, self.generations, appended + TAIL, False, self.known)
        self.known[mark] = len(self.text) + len(appended)
        if len(self.known) > GENERATIONS:
            del self.known[next(iter(self.known))]
        self.appended, self.last_lines = appended, lines
        self.numbers.update(new)
        if len(appended) > MOST_APPENDED:
            self.text, self.appended = self.text + appended, b""


class UnitFile:
    """The file of one unit, open for adding entries at its end.

    Parameters
    ----------
    folder : Folder
        Where the file is, with its previous generation and a second copy of the entries written last: with these two,
        no entry is lost if the file is damaged.
    unit : str
        The unit; empty for the shop's own entries.
    content : FileContent
        What is in the file.

    Attributes
    ----------
    end : int
        Where its last entry ends, in bytes.
    checksum : int
        CRC-32 of the file up to there.
    """

    def __init__(self, folder: Folder, unit: str, content: FileContent) -> None:
        self.newest = folder.copies(unit)[1]
        self.storage = UnitStorage(folder, unit, content)
        self.table = TinyDB(storage=lambda: self.storage).table(TABLE)
        self.end = len(content.text)
        self.checksum = content.checksum

    def _count_line(self, line: bytes) -> None:
        """Bring `end` and `checksum` up to date after a line was added."""
        if self.end > len(HEAD):
            self.checksum = zlib.crc32(BETWEEN, self.checksum)
            self.end += len(BETWEEN)
        self.checksum = zlib.crc32(line, self.checksum)
        self.end += len(line)

    def add(self, entries: list[dict[str, Any]]) -> list[Line]:
        """Add entries, each with its seq, in one write that is durable once the file's name is: `durable.sync_names`.

        Raises
        ------
        LogFault
            They could not be written, and none of them is there.
        """
        self.table.insert_multiple(Document(entry, doc_id=entry["seq"]) for entry in entries)
        added = []
        for data in self.storage.last_lines:
            line = decode_line(data)
            assert line is not None
            self._count_line(data)
            added.append(line._replace(start=self.end - len(data)))
        return added

    def copy_newest(self) -> None:
        """Write a second copy of what was added last, once that is durable."""
        try:
            durable.write_over(self.newest, encode_file(self.storage.last_lines), synced=False)
        except OSError:
            # Only the second copy failed, and the next write makes a new one. An older one that cannot be removed
            # either does no harm: its entries are in the file under the same ids.
            with suppress(OSError):
                self.newest.unlink(missing_ok=True)
