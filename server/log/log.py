"""The log: entries that are only ever added, each durable before it is answered for."""

import os
import threading
import zlib
from collections import OrderedDict
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Any, NamedTuple, Self

from filelock import FileLock, Timeout

from . import durable
from .faults import Damage, FolderInUse, LogFault, Unfinished, fault_of
from .folder import Folder
from .index import Index
from .layout import TAIL, Line, encode, read_line, write_file, write_line
from .recovery import load, recover
from .unit_file import UnitFile, Written

# A file stays open with its text, so that nobody has to read it again before the next entry goes to its end.
OPEN_FILES = 256
OPEN_BYTES = 64 * 1024 * 1024
# What the server adds to an entry; all else is the device's and never changes.
ADDED = ("seq", "received", "judged", "agrees", "clock_off_s")

STORED = "stored"
ALREADY_THERE = "already_there"
REFUSED = "refused"


class Answer(NamedTuple):
    """What became of one entry: stored, already there or refused, and the entry that the log now has under its id."""

    answer: str
    entry: dict[str, Any]


class Log:
    """The log of one data folder; safe to use from several threads.

    Parameters
    ----------
    root : Path
        The data folder; made if missing.

    Attributes
    ----------
    problems : list of str
        What the user must be told of damage, one sentence or two each.

    Raises
    ------
    FolderInUse
        Another Slipbook has it open.
    LogFault
        It cannot be read or written.
    """

    def __init__(self, root: Path) -> None:
        self.folder = Folder(root)
        self.guard = threading.RLock()
        self.index = Index()
        self.files: OrderedDict[str, UnitFile] = OrderedDict()
        # CRC-32 of each file up to its last entry, as it was when last seen.
        self.marks: dict[str, int] = {}
        self.stopped: str | None = None
        try:
            root.mkdir(parents=True, exist_ok=True)
            self.lock = FileLock(self.folder.lock, thread_local=False)
            self.lock.acquire(timeout=0)
        except Timeout:
            raise FolderInUse(
                f"{root} is in use by another Slipbook: stop that one, or choose another folder."
            ) from None
        except OSError as failure:
            raise fault_of(failure, f"use {root}") from failure
        try:
            self.folder.make()
            self.problems = self.folder.notes()
            self._load()
        except OSError as failure:
            self.lock.release()
            raise fault_of(failure, f"use {root}") from failure
        except LogFault:
            self.lock.release()
            raise

    def __enter__(self) -> Self:  # noqa: D105
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, at: TracebackType | None) -> None:  # noqa: D105
        self.close()

    def close(self) -> None:
        """Let another Slipbook have the folder; nothing is waiting to be written."""
        with self.guard:
            self.stopped = self.stopped or "Slipbook is stopping: send again when it runs."
            self.lock.release()

    @property
    def last(self) -> int:
        """Number of the newest entry; 0 in an empty log."""
        return self.index.last

    def units(self) -> list[str]:
        """Every unit that has entries."""
        with self.guard:
            return sorted(unit for unit, seqs in self.index.by_unit.items() if unit and seqs)

    def last_of(self, unit: str) -> int:
        """Number of a unit's newest entry; 0 if it has none."""
        with self.guard:
            seqs = self.index.by_unit.get(unit)
            return seqs[-1] if seqs else 0

    def of_unit(self, unit: str) -> list[dict[str, Any]]:
        """All entries of a unit in the order in which they arrived; those of no unit for ""."""
        with self.guard:
            return [seen(line) for line in self._lines(unit)]

    def find(self, name: str) -> dict[str, Any] | None:
        """The entry with this id, if the log has it."""
        with self.guard:
            seq = self.index.number(name)
            found = [] if seq is None else self._read([seq])
            return found[0] if found else None

    def after(self, seq: int, most: int) -> tuple[list[dict[str, Any]], bool]:
        """The next entries after number `seq`, at most `most`, and whether there are more."""
        with self.guard:
            numbers = self.index.after(seq, most + 1)
            return self._read(numbers[:most]), len(numbers) > most

    def add(self, entries: list[dict[str, Any]]) -> list[Answer]:
        """Add entries, durable on return.

        Parameters
        ----------
        entries : list of dict
            Each with a valid id and unit, and what the server adds except seq.

        Returns
        -------
        list of Answer
            One for each, in order. Refused means that the id belongs to another entry.

        Raises
        ------
        LogFault
            Not all of them could be written. Sending all of them again is safe.
        """
        with self.guard:
            if self.stopped:
                raise LogFault(self.stopped)
            known: dict[str, dict[str, Any]] = {}
            new: dict[str, dict[str, Any]] = {}
            for entry in entries:
                name = entry["id"]
                found = self.find(name)
                if found is not None:
                    known[name] = found
                else:
                    new.setdefault(name, entry)
            known.update(self._write(new))
            answers = []
            for entry in entries:
                there = known[entry["id"]]
                if new.pop(entry["id"], None) is not None:
                    answers.append(Answer(STORED, there))
                else:
                    answers.append(
                        Answer(ALREADY_THERE if from_device(there) == from_device(entry) else REFUSED, there)
                    )
            return answers

    def _write(self, entries: dict[str, dict[str, Any]]) -> dict[str, dict[str, Any]]:
        """Write new entries, one durable write a unit, and answer them as stored."""
        by_unit: dict[str, list[dict[str, Any]]] = {}
        for entry in entries.values():
            by_unit.setdefault(entry["unit"], []).append(entry)
        stored = {}
        for unit, group in by_unit.items():
            numbered = [in_layout(entry, self.last + place) for place, entry in enumerate(group, 1)]
            try:
                self.index.put(self._file(unit).add(numbered))
            except Unfinished as fault:
                # Whether these are durable cannot be known, so nothing more is promised until a restart has looked.
                self.stopped = fault.reason
                raise
            stored.update({entry["id"]: whole(entry) for entry in numbered})
        return stored

    def _file(self, unit: str) -> UnitFile:
        """A unit's file, open for adding; the few used last stay open."""
        if unit not in self.files:
            self.files[unit] = UnitFile(self.folder, unit, self._written(unit))
        self.files.move_to_end(unit)
        while len(self.files) > OPEN_FILES or (self._open_bytes() > OPEN_BYTES and len(self.files) > 1):
            closed, file = self.files.popitem(last=False)
            self.marks[closed] = file.mark
        return self.files[unit]

    def _open_bytes(self) -> int:
        """How much text the open files hold."""
        return sum(file.end for file in self.files.values())

    def _written(self, unit: str) -> Written:
        """What a unit's file holds, checked: all at once if the file was seen before, which is quicker."""
        with suppress(OSError), open(self.folder.file(unit), "rb") as file:
            text = file.read(max(0, os.fstat(file.fileno()).st_size - len(TAIL)))
            mark = zlib.crc32(text)
            if mark == self.marks.get(unit) and file.read() == TAIL:
                return Written(self.index.by_unit[unit], text, mark)
        lines = self._lines(unit)
        text = write_file(line.written for line in lines)[: -len(TAIL)]
        return Written([line.seq for line in lines], text, zlib.crc32(text))

    def _lines(self, unit: str) -> list[Line]:
        """The lines of a unit's file, healed first if it is damaged."""
        try:
            found = load(self.folder, unit)[0]
        except Damage as damage:
            self._heal(unit, damage)
            found = load(self.folder, unit)[0]
        if not found and self.index.by_unit.get(unit):
            # A stick that was pulled out, say. An empty answer would pass for a unit that nobody ever looked at.
            raise LogFault(f"{self.folder.file(unit)} is gone, with all its copies: put it back, then restart.")
        return found

    def _read(self, seqs: list[int]) -> list[dict[str, Any]]:
        """The entries with these numbers, in this order, each read from its own place."""
        found: dict[int, dict[str, Any]] = {}
        for unit in {self.index.places[seq].unit for seq in seqs}:
            wanted = [seq for seq in seqs if self.index.places[seq].unit == unit]
            try:
                with open(self.folder.file(unit), "rb") as file:
                    for seq in wanted:
                        place = self.index.places[seq]
                        file.seek(place.start)
                        line = read_line(file.read(place.length))
                        if line is None or line.seq != seq:
                            raise Damage("was altered")
                        found[seq] = seen(line)
            except (OSError, Damage):
                found.update({line.seq: seen(line) for line in self._lines(unit)})
        return [found[seq] for seq in seqs if seq in found]

    def _heal(self, unit: str, damage: Damage) -> None:
        """Put a damaged file right, tell of it, and look again where its entries lie."""
        self.files.pop(unit, None)
        self.marks.pop(unit, None)
        self.problems.append(recover(self.folder, unit, damage))
        self.index.replace(unit, load(self.folder, unit)[0])

    def _load(self) -> None:
        """Find every entry's place."""
        clashing = []
        for unit in self.folder.known_units():
            try:
                lines, data = load(self.folder, unit)
            except Damage as damage:
                self.problems.append(recover(self.folder, unit, damage))
                lines, data = load(self.folder, unit)
            if lines and len(data) != lines[-1].start + len(lines[-1].written) + len(TAIL):
                # Somebody has laid the file out anew, and places hold only in our own layout.
                durable.write(self.folder.file(unit), write_file(one.written for one in lines))
            fresh = [line for line in lines if line.seq not in self.index.places]
            if len(fresh) < len(lines):
                clashing.append(unit)
            else:
                self.marks[unit] = zlib.crc32(memoryview(data)[: -len(TAIL)])
            self.index.put(fresh)
        self.index.sort()
        for unit in clashing:
            self._renumber(unit)
        if self.index.gaps():
            self.problems.append(told_of_gaps(self.index.gaps()))

    def _renumber(self, unit: str) -> None:
        """Give the entries of a file that was copied in from another data folder numbers of this log."""
        lines: list[bytes | memoryview] = []
        new = 0
        for line in self._lines(unit):
            place = self.index.places[line.seq]
            if (place.unit, place.start) == (unit, line.start):
                lines.append(line.written)
            else:
                new += 1
                lines.append(write_line(self.last + new, encode({**line.entry, "seq": self.last + new})))
        durable.write(self.folder.file(unit), write_file(lines), self.folder.generations(unit))
        self.index.replace(unit, self._lines(unit))
        self.problems.append(f"The file of unit {unit} came from another data folder: {new} entries got new numbers.")


def told_of_gaps(gaps: list[tuple[int, int]]) -> str:
    """What to tell of numbers that no entry has."""
    count = sum(high - low + 1 for low, high in gaps)
    runs = ", ".join(str(low) if low == high else f"{low} to {high}" for low, high in gaps[:5])
    more = " and more" if len(gaps) > 5 else ""
    return f"The log lacks {count} entries (number {runs}{more}): if a file was taken out of units, put it back."


def in_layout(entry: dict[str, Any], seq: int) -> dict[str, Any]:
    """An entry as its file holds it; a verdict that the server shares is not written twice."""
    first = {"seq": seq, "id": entry["id"], "unit": entry["unit"]}
    rest = {name: value for name, value in entry.items() if name not in first}
    if rest.get("judged") == rest.get("shown"):
        rest.pop("judged", None)
    return {**first, **rest}


def whole(entry: dict[str, Any]) -> dict[str, Any]:
    """An entry as the log answers it: with the server's verdict, also where that is the one shown."""
    if "judged" not in entry and "agrees" in entry:
        return {**entry, "judged": entry["shown"]}
    return entry


def seen(line: Line) -> dict[str, Any]:
    """The entry on a line, whole."""
    return whole(line.entry)


def from_device(entry: dict[str, Any]) -> dict[str, Any]:
    """What the device made of an entry, which never changes."""
    return {name: value for name, value in entry.items() if name not in ADDED}
