"""One unit's entries in one TinyDB file. Nothing else in the house knows TinyDB.

TinyDB hands its storage the whole database at every write. Entries never change, so each keeps the text that it was
first given: a write joins texts, and an entry that nobody looks into is never decoded.
"""

import json
import zlib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from tinydb import TinyDB
from tinydb.storages import Storage
from tinydb.table import Document

from . import durable
from .durable import Generations
from .folder import Folder
from .layout import BETWEEN, HEAD, TABLE, Line, encode, read_line, write_file, write_line

# The number and the line of each entry of a file.
Written = list[tuple[int, memoryview]]


class Stored(Mapping[str, Any]):
    """An entry that is in the file already: its line, decoded only when somebody looks."""

    def __init__(self, line: bytes | memoryview) -> None:
        self.line = line

    @property
    def entry(self) -> dict[str, Any]:
        """The entry itself."""
        found: dict[str, Any] = json.loads(bytes(self.line).partition(b'"entry": ')[2][:-1])
        return found

    def __getitem__(self, name: str) -> Any:  # noqa: D105
        return self.entry[name]

    def __iter__(self) -> Iterator[str]:  # noqa: D105
        return iter(self.entry)

    def __len__(self) -> int:  # noqa: D105
        return len(self.entry)


class UnitStorage(Storage):
    """A TinyDB storage in which a write either happens whole or not at all."""

    def __init__(self, path: Path, generations: Generations, written: Written) -> None:
        self.path = path
        self.generations = generations
        self.stored: dict[str, Any] = {str(seq): Stored(line) for seq, line in written}

    def read(self) -> dict[str, dict[str, Any]] | None:
        """Every document by its number; TinyDB changes the dictionary, never the documents."""
        return {TABLE: self.stored} if self.stored else None

    def write(self, data: dict[str, dict[str, Any]]) -> None:
        """Make `data` durable; if that fails, what was stored before still is."""
        documents = {
            number: one if isinstance(one, Stored) else Stored(write_line(int(number), encode(one)))
            for number, one in data[TABLE].items()
        }
        durable.write(self.path, write_file(one.line for one in documents.values()), self.generations)
        self.stored = documents


class UnitFile:
    """The file of one unit, open for adding entries to its end.

    Parameters
    ----------
    folder : Folder
        Where the file lies, and with it the generation before and a second copy of what was written last: with these
        two, nothing is lost if the file is damaged.
    unit : str
        The unit; empty for the shop's own entries.
    written : list
        The number and the line of every entry in the file, checked.
    mark : int, optional
        CRC-32 of the file up to its last entry where it is known; reckoned where it is not.

    Attributes
    ----------
    mark : int
        CRC-32 of the file up to its last entry.
    """

    def __init__(self, folder: Folder, unit: str, written: Written, mark: int | None = None) -> None:
        self.newest = folder.copies(unit)[1]
        self.storage = UnitStorage(folder.file(unit), folder.generations(unit), written)
        self.table = TinyDB(storage=lambda: self.storage).table(TABLE)
        self.end = len(HEAD)
        self.mark = zlib.crc32(HEAD)
        if mark is None:
            for _, line in written:
                self._reckon(line)
        else:
            self.mark = mark
            self.end += sum(len(line) for _, line in written) + len(BETWEEN) * (len(written) - 1)

    def _reckon(self, line: bytes | memoryview) -> None:
        """Count a line that is now the last one."""
        if self.end > len(HEAD):
            self.mark = zlib.crc32(BETWEEN, self.mark)
            self.end += len(BETWEEN)
        self.mark = zlib.crc32(line, self.mark)
        self.end += len(line)

    def add(self, entries: list[dict[str, Any]]) -> list[Line]:
        """Add entries in one write, durable on return; each has its seq.

        Raises
        ------
        LogFault
            They could not be written, and none of them is there.
        """
        self.table.insert_multiple(Document(entry, doc_id=entry["seq"]) for entry in entries)
        lines = [self.storage.stored[str(entry["seq"])].line for entry in entries]
        try:
            durable.put(self.newest, write_file(lines), settled=False)
        except OSError:
            # The entries are durable; what failed is their second copy, which the next write makes anew.
            self.newest.unlink(missing_ok=True)
        added = []
        for piece in lines:
            line = read_line(bytes(piece))
            assert line is not None
            self._reckon(piece)
            added.append(line._replace(start=self.end - len(piece)))
        return added
