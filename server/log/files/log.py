"""The log: entries are only ever added, and each is durable before it is acknowledged."""

import threading
import zlib
from collections import OrderedDict
from collections.abc import Hashable, Iterable
from contextlib import suppress
from itertools import count
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from .. import durable
from ..answer import ALREADY_THERE, REFUSED, STORED, Answer, is_same
from ..clock import NEWEST, PcClock
from ..contents import Contents
from ..digest import digest_of
from ..erasing import Erasures
from ..faults import Damage, LogFault, Unfinished, fault_of
from ..gaps import count_entries, describe_gaps, without_skipped
from ..identity import Identity
from ..layout import TAIL, Line, decode_line, encode_entry, encode_file, encode_line
from ..store import PAGE_BYTES
from ..stored_entry import as_written, read_entry, with_verdict
from .erasing import erase_in, learn_erasures
from .folder import Folder
from .holding import Hold
from .identity_file import open_identity, write_identity
from .index import Index
from .photos import FolderPhotos
from .recovery import load, recover
from .returned import ReturnedFile
from .survey import survey
from .unit_file import FileContent, UnitFile

# How many files stay open, and how much text they hold in all: an open file need not be read before the next entry.
OPEN_FILES = 256
OPEN_BYTES = 64 * 1024 * 1024


class FolderLog:
    """The log of one data folder; safe to use from several threads.

    Parameters
    ----------
    root : Path
        The data folder; made if missing.
    demo : bool
        Whether a log that is made here holds invented units and is not meant to last.

    Attributes
    ----------
    identity : Identity
        Which log it is.
    clock : PcClock
        The PC's clock, and whether it may be gone by.
    photos : FolderPhotos
        The photos that its entries name.
    problems : list of str
        Damage that the user must know of, one or two sentences each.

    Raises
    ------
    FolderInUse
        Another Slipbook has it open.
    LogFault
        It cannot be read or written.
    """

    def __init__(self, root: Path, demo: bool = False) -> None:
        self.folder = Folder(root)
        self.thread_lock = threading.RLock()
        self.index = Index()
        self.files: OrderedDict[str, UnitFile] = OrderedDict()
        # CRC-32 of each file up to its last entry, from when it was last read or written.
        self.checksums: dict[str, int] = {}
        # Why nothing can be added any more, as an answer says it; None while entries can be added.
        self.stop_reason: str | None = None
        self.returned = ReturnedFile(self.folder)
        self.photos = FolderPhotos(root)
        self.clock = PcClock()
        # How often something was erased since this log was opened: what was worked out before is out of date.
        self.erased = 0
        # What is told of missing entries, among `problems`; empty if none is missing.
        self.gap_problem = ""
        try:
            root.mkdir(parents=True, exist_ok=True)
            self.hold = Hold(root, self.folder.lock)
        except OSError as failure:
            raise fault_of(failure, f"use {root}") from failure
        try:
            self.folder.make()
            self.problems = self.folder.notes()
            self.identity: Identity = open_identity(self.folder, demo)
            self.erasures = Erasures(self.identity.key)
            self._load()
            self._erase()
            with suppress(LogFault):
                self.clock.start(self.after(max(0, self.last - NEWEST), NEWEST)[0])
        except OSError as failure:
            self.hold.release()
            raise fault_of(failure, f"use {root}") from failure
        except LogFault:
            self.hold.release()
            raise

    def __enter__(self) -> Self:  # noqa: D105
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, at: TracebackType | None) -> None:  # noqa: D105
        self.close()

    def close(self) -> None:
        """Release the folder for another Slipbook; everything is written already."""
        with self.thread_lock:
            self.stop_reason = self.stop_reason or "Slipbook is stopping: send again when it runs."
            self.hold.release()

    @property
    def last(self) -> int:
        """Number of the newest entry; 0 in an empty log."""
        return self.index.last

    def units(self) -> list[str]:
        """Every unit that has entries."""
        with self.thread_lock:
            return sorted(unit for unit, seqs in self.index.by_unit.items() if unit and seqs)

    def states(self) -> dict[str, Hashable]:
        """Of each unit that has entries, and of the shop under "", another value whenever entries of it came."""
        with self.thread_lock:
            return {unit: (len(seqs), seqs[-1]) for unit, seqs in sorted(self.index.by_unit.items()) if seqs}

    def of_unit(self, unit: str) -> list[dict[str, Any]]:
        """All entries of a unit in the order of arrival; for "", those that belong to no unit."""
        with self.thread_lock:
            return [read_entry(line) for line in self._lines(unit)]

    def find(self, entry_id: str) -> dict[str, Any] | None:
        """The entry with this id, or None."""
        with self.thread_lock:
            seq = self.index.number_of(entry_id)
            return next(iter([] if seq is None else self._read([seq])), None)

    def known(self, entry_ids: Iterable[str]) -> set[str]:
        """Those of these ids under which the log has entries."""
        with self.thread_lock:
            return {entry_id for entry_id in entry_ids if self.index.number_of(entry_id) is not None}

    def id_of(self, seq: int) -> str:
        """The id of the entry with this number; empty if there is none."""
        with self.thread_lock:
            return self.index.id_of(seq)

    def after(self, seq: int, most: int) -> tuple[list[dict[str, Any]], bool]:
        """The next entries after number `seq`, at most `most` and no more than a page holds; whether more follow."""
        with self.thread_lock:
            numbers = self.index.after(seq, most + 1)
            page = self.index.first_within(numbers[:most], PAGE_BYTES)
            return self._read(page), len(numbers) > len(page)

    def add(self, entries: list[dict[str, Any]]) -> list[Answer]:
        """Add entries, durable on return: see `Log.add`."""
        with self.thread_lock:
            self._check_hold()
            if self.stop_reason:
                raise LogFault(self.stop_reason)
            logged: dict[str, dict[str, Any]] = {}
            new: dict[str, dict[str, Any]] = {}
            for entry in entries:
                entry_id = entry["id"]
                earlier = self.find(entry_id)
                if earlier is not None:
                    logged[entry_id] = earlier
                else:
                    new.setdefault(entry_id, entry)
            erasing = self._learn(new.values())
            logged.update(self._write(new))
            if erasing:
                self._erase()
                logged.update({name: self.find(name) or entry for name, entry in logged.items()})
            answers = []
            for entry in entries:
                in_log = logged[entry["id"]]
                is_new = new.pop(entry["id"], None) is not None
                answer = STORED if is_new else ALREADY_THERE if is_same(in_log, entry) else REFUSED
                answers.append(Answer(answer, in_log))
            return answers

    def _learn(self, new: Iterable[dict[str, Any]]) -> bool:
        """Go by the erasures among new entries, each with its marks; whether there are any."""
        lines = (line for unit in self.units() for line in self._lines(unit))
        return learn_erasures(self.erasures, new, lines)

    def _erase(self) -> None:
        """Take out of the files what an erasure names and still stands there, in their copies too."""
        self.erasures.learn_all(self.of_unit(""))
        for unit in ("", *self.units()) if self.erasures.ids else ():
            if erase_in(self.folder, unit, self._lines(unit), self.erasures):
                self.files.pop(unit, None)
                self.checksums.pop(unit, None)
                self.index.replace(unit, self._lines(unit))
                self.erased += 1

    def _check_hold(self) -> None:
        """Notice if the folder is no longer this Slipbook's alone: then nothing is written any more."""
        if self.stop_reason is None:
            try:
                notice = self.hold.check()
            except LogFault as fault:
                self.stop_reason = fault.reason
            else:
                self.problems += [notice] if notice else []

    def _write(self, entries: dict[str, dict[str, Any]]) -> dict[str, dict[str, Any]]:
        """Write new entries, one durable write a unit and one wait for their names; returns them as stored, by id."""
        by_unit: dict[str, list[dict[str, Any]]] = {}
        for entry in entries.values():
            by_unit.setdefault(entry["unit"], []).append(entry)
        # Opened first: a damaged file is repaired then, and its entries may get numbers of their own.
        files = [self._file(unit) for unit in by_unit]
        numbers = iter(self._give_numbers([entry for group in by_unit.values() for entry in group]))
        stored, added = {}, []
        try:
            for file, group in zip(files, by_unit.values()):
                numbered = [as_written(self.erasures.apply_to(entry), next(numbers)) for entry in group]
                added.append((file, file.add(numbered)))
                stored.update({entry["id"]: with_verdict(entry) for entry in numbered})
        finally:
            self._confirm(added)
        return stored

    def _confirm(self, added: list[tuple[UnitFile, list[Line]]]) -> None:
        """Wait until the names of files are durable to which lines were added, and go by the lines only then."""
        try:
            durable.sync_names(file.storage.path for file, _ in added)
        except Unfinished as fault:
            # Whether these are durable is unknown, so nothing more is acknowledged until a restart has checked.
            self.stop_reason = fault.reason
            raise
        for file, lines in added:
            file.copy_newest()
            self.index.add_late(lines)

    def _give_numbers(self, entries: list[dict[str, Any]]) -> list[int]:
        """A number for each new entry: the next ones, and its own again for one that comes back."""
        own_numbers: dict[int, int] = {}
        for index, entry in enumerate(entries):
            seq = entry.get("seq")
            if seq is not None and self.index.unit_of(seq) is None and seq not in own_numbers.values():
                own_numbers[index] = seq
        new_numbers = count(max(self._top, *own_numbers.values(), 0) + 1)
        return [own_numbers[index] if index in own_numbers else next(new_numbers) for index in range(len(entries))]

    @property
    def _top(self) -> int:
        """The number above which new entries get theirs."""
        return max(self.last, self.identity.floor)

    def _file(self, unit: str) -> UnitFile:
        """A unit's file, open for adding; the files used last stay open."""
        self.files[unit] = self.files.get(unit) or UnitFile(self.folder, unit, self._read_content(unit))
        self.files.move_to_end(unit)
        while len(self.files) > OPEN_FILES or (
            len(self.files) > 1 and sum(file.end for file in self.files.values()) > OPEN_BYTES
        ):
            closed, file = self.files.popitem(last=False)
            self.checksums[closed] = file.checksum
        return self.files[unit]

    def _read_content(self, unit: str) -> FileContent:
        """What a unit's file holds, checked: by its checksum as a whole if that is known, which is quicker."""
        with suppress(OSError), open(self.folder.file(unit), "rb") as file:
            mark = durable.mark_of(file.fileno())
            text = file.read(max(0, mark.size - len(TAIL)))
            checksum = zlib.crc32(text)
            if checksum == self.checksums.get(unit) and file.read() == TAIL:
                return FileContent(self.index.by_unit.get(unit, ()), text, checksum, mark)
        lines = self._lines(unit)
        text = encode_file(line.data for line in lines)[: -len(TAIL)]
        return FileContent([line.seq for line in lines], text, zlib.crc32(text))

    def _lines(self, unit: str) -> list[Line]:
        """The lines of a unit's file, which is repaired first if it is damaged."""
        try:
            lines = load(self.folder, unit)[0]
        except Damage as damage:
            self._repair(unit, damage)
            lines = load(self.folder, unit)[0]
        if not lines and self.index.by_unit.get(unit):
            # A memory stick was pulled out, perhaps. An empty answer would look like a unit that was never checked.
            raise LogFault(f"{self.folder.file(unit)} is gone, with all its copies: put it back, then restart.")
        return lines

    def _read(self, seqs: list[int]) -> list[dict[str, Any]]:
        """The entries with these numbers, in this order, each read from its own place."""
        entries: dict[int, dict[str, Any]] = {}
        for unit, positions in self.index.positions_by_unit(seqs).items():
            try:
                with open(self.folder.file(unit), "rb") as file:
                    for seq, position in positions:
                        file.seek(position.start)
                        line = decode_line(file.read(position.length))
                        if line is None or line.seq != seq:
                            raise Damage("was altered")
                        entries[seq] = read_entry(line)
            except (OSError, Damage):
                entries.update({line.seq: read_entry(line) for line in self._lines(unit)})
        return [entries[seq] for seq in seqs if seq in entries]

    def _repair(self, unit: str, damage: Damage) -> None:
        """Repair a damaged file, report it, and index its entries anew."""
        self.files.pop(unit, None)
        self.checksums.pop(unit, None)
        self.problems.append(recover(self.folder, unit, damage))
        lines = load(self.folder, unit)[0]
        unclaimed = [line for line in lines if self.index.unit_of(line.seq) in (None, unit)]
        self.index.replace(unit, unclaimed)
        if len(unclaimed) < len(lines):
            self._renumber(unit)
        self._note_gaps()

    def _load(self) -> None:
        """Index every entry; repairs damaged files and rewrites reformatted ones on the way."""
        clashing = []
        taken: set[int] = set()
        for unit in self.folder.known_units():
            try:
                lines, data = load(self.folder, unit)
            except Damage as damage:
                self.problems.append(recover(self.folder, unit, damage))
                lines, data = load(self.folder, unit)
            if lines and len(data) != lines[-1].start + len(lines[-1].data) + len(TAIL):
                # Somebody has reformatted the file, and places are true in our own layout only.
                durable.write(self.folder.file(unit), encode_file(line.data for line in lines))
            unclaimed = [line for line in lines if line.seq not in taken]
            taken.update(line.seq for line in unclaimed)
            if len(unclaimed) < len(lines):
                clashing.append(unit)
            else:
                self.checksums[unit] = zlib.crc32(memoryview(data)[: -len(TAIL)])
            self.index.add(unclaimed)
        self.index.sort()
        for unit in clashing:
            self._renumber(unit)
        self._note_gaps()

    def digests(self) -> dict[str, str]:
        """Of each unit, and of the shop under "", a digest of its entries' ids and numbers."""
        digests = {}
        for unit in ("", *self.units()):
            # One at a time: a phone that saves need not wait for all of a long log.
            with self.thread_lock:
                digests[unit] = digest_of(self.index.ids_of(unit))
        return digests

    def ids_of(self, unit: str) -> list[tuple[str, int]]:
        """Id and number of each of a unit's entries."""
        with self.thread_lock:
            return self.index.ids_of(unit)

    def adopt(self, identity: Identity) -> None:
        """Become another log, of which a backup is brought back: see `Log.adopt`."""
        with self.thread_lock:
            if self.last:
                raise LogFault("This log has entries of its own, and logs are never mixed.")
            write_identity(self.folder, identity)
            self.identity = identity

    def note_returned(self, source: str, entries: int = 0, photos: int = 0) -> None:
        """Note what a device brought back."""
        with self.thread_lock:
            self.returned.note(self.identity.generation, source, entries, photos)
            self._tell_gaps()

    def contents(self) -> Contents:
        """What the folder holds, read anew as a whole, with what is found damaged on the way."""
        return survey(self.folder.root)

    def would_lose(self, path: Path) -> bool:
        """Whether what is kept at this path would be lost with the folder."""
        root = self.folder.root.resolve()
        return root == path.resolve() or root in path.resolve().parents

    def _tell_gaps(self) -> list[list[int]]:
        """Bring what is told of missing entries up to date; returns the runs of their numbers."""
        gaps = without_skipped(self.index.gaps(), self.identity.skipped)
        if self.gap_problem in self.problems:
            self.problems.remove(self.gap_problem)
        self.gap_problem = describe_gaps(gaps) if gaps else ""
        if gaps:
            self.problems.append(self.gap_problem)
        return [list(gap) for gap in gaps]

    def _note_gaps(self) -> None:
        """Begin a new generation if entries are found to be missing that were not known to be: phones have them."""
        gaps = self._tell_gaps()
        if gaps != self.identity.gaps:
            new = without_skipped([(first, last) for first, last in gaps], self.identity.gaps)
            identity = self.identity.next_generation(gaps) if new else self.identity._replace(gaps=gaps)
            write_identity(self.folder, identity)
            self.identity = identity

    def _renumber(self, unit: str) -> None:
        """Give new numbers to entries of a file from another data folder whose numbers this log uses already."""
        lines: list[bytes | memoryview] = []
        renumbered = 0
        for line in self._lines(unit):
            position = self.index.position_of(line.seq)
            if position and (position.unit, position.start) == (unit, line.start):
                lines.append(line.data)
            else:
                renumbered += 1
                seq = self._top + renumbered
                lines.append(encode_line(seq, encode_entry({**line.entry, "seq": seq})))
        durable.write(self.folder.file(unit), encode_file(lines), self.folder.generations(unit))
        self.index.replace(unit, self._lines(unit))
        self.problems.append(
            f"The file of unit {unit} came from another data folder: {count_entries(renumbered)} got new numbers."
        )
