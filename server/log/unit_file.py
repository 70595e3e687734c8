"""One unit's entries in one TinyDB file. Nothing else in the house knows TinyDB.

TinyDB hands its storage the whole database at every write. Entries never change, so the file's text up to its last
entry is kept as it is: a write adds to its end, and an entry that is there is never taken apart.
"""

import zlib
from typing import Any, Final, NamedTuple

from tinydb import TinyDB
from tinydb.storages import Storage
from tinydb.table import Document

from . import durable
from .durable import Generations
from .folder import Folder
from .layout import BETWEEN, HEAD, TABLE, TAIL, Line, encode, read_line, write_file, write_line

# Stands for every entry that is in the file already: whoever adds looks into none of them.
KEPT: Final[dict[str, Any]] = {}
# Putting a long text together anew costs more than writing so many bytes of it once more.
MUCH = 16 * 1024


class Written(NamedTuple):
    """What a unit's file holds, checked: the numbers of its entries, its text up to the last one, the text's CRC-32."""

    numbers: list[int]
    text: bytes
    mark: int


class UnitStorage(Storage):
    """A TinyDB storage to whose end entries are added, and in which a write either happens whole or not at all."""

    def __init__(self, folder: Folder, unit: str, written: Written) -> None:
        self.path = folder.file(unit)
        self.generations: Generations = folder.generations(unit)
        self.kept: dict[Any, dict[str, Any]] = dict.fromkeys(written.numbers, KEPT)
        self.text = written.text
        # What was added since, with all that stands before its first line, and the lines of the last write.
        self.more = b""
        self.lines: list[bytes] = []

    def read(self) -> dict[str, dict[str, Any]] | None:
        """What stands for each entry, by its number."""
        return {TABLE: self.kept} if self.kept else None

    def write(self, data: dict[str, dict[str, Any]]) -> None:
        """Make the entries that are new in `data` durable; if that fails, what was stored before still is."""
        new = {int(number): one for number, one in data[TABLE].items() if one is not KEPT}
        if len(new) + len(self.kept) != len(data[TABLE]):
            raise ValueError("Entries are only ever added.")
        lines = [write_line(number, encode(one)) for number, one in new.items()]
        more = self.more + (BETWEEN if self.kept else b"") + BETWEEN.join(lines)
        durable.write(self.path, self.text, self.generations, more + TAIL)
        self.more, self.lines = more, lines
        self.kept.update(dict.fromkeys(new, KEPT))
        if len(more) > MUCH:
            self.text, self.more = self.text + more, b""


class UnitFile:
    """The file of one unit, open for adding entries to its end.

    Parameters
    ----------
    folder : Folder
        Where the file lies, and with it the generation before and a second copy of what was written last: with these
        two, nothing is lost if the file is damaged.
    unit : str
        The unit; empty for the shop's own entries.
    written : Written
        What is in the file.

    Attributes
    ----------
    mark : int
        CRC-32 of the file up to its last entry.
    """

    def __init__(self, folder: Folder, unit: str, written: Written) -> None:
        self.newest = folder.copies(unit)[1]
        self.storage = UnitStorage(folder, unit, written)
        self.table = TinyDB(storage=lambda: self.storage).table(TABLE)
        self.end = len(written.text)
        self.mark = written.mark

    def _reckon(self, line: bytes) -> None:
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
        lines = self.storage.lines
        try:
            durable.put(self.newest, write_file(lines), settled=False)
        except OSError:
            # The entries are durable; what failed is their second copy, which the next write makes anew.
            self.newest.unlink(missing_ok=True)
        added = []
        for piece in lines:
            line = read_line(piece)
            assert line is not None
            self._reckon(piece)
            added.append(line._replace(start=self.end - len(piece)))
        return added
