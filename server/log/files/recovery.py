"""Restores a damaged file's entries from its copies, and keeps the damaged file for a person to look at."""

import re
from contextlib import suppress
from pathlib import Path

from .. import durable
from ..faults import Damage, fault_of
from ..layout import Line, decode_file, decode_line, encode_entry, encode_file, encode_line, salvage
from .folder import Folder

NUMBERED = re.compile(rb'^"(\d{1,15})": ', re.MULTILINE)


def load(folder: Folder, unit: str) -> tuple[list[Line], bytes]:
    """The lines of a unit's file, and its content.

    Raises
    ------
    Damage
        The file is not what was written, or is gone although copies of it are left.
    LogFault
        It cannot be read at all.
    """
    path = folder.file(unit)
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        if any(copy.exists() for copy in folder.copies(unit)):
            raise Damage("is gone") from None
        return [], b""
    except OSError as failure:
        raise fault_of(failure, f"read {path.name}", reading=True) from failure
    return decode_file(data, unit), data


def gather_lines(folder: Folder, unit: str) -> tuple[list[Line], set[int]]:
    """Every undamaged line of a file or of its copies, each entry once, and the numbers of the entries that are lost.

    An entry keeps the number that its own file has for it. Another that claims the same number gets a new one, so that
    what is written from these lines can be read again.
    """
    by_id: dict[str, Line] = {}
    unread: set[int] = set()
    newest_first = (folder.file(unit), *reversed(folder.copies(unit)))
    for path in (*newest_first, *find_strays(folder, unit, set(newest_first))):
        try:
            data = path.read_bytes()
        except OSError:
            continue
        lines = salvage(data)
        if path in newest_first:
            unread.update({int(number) for number in NUMBERED.findall(data)} - {line.seq for line in lines})
        for line in lines:
            if line.unit == unit:
                by_id.setdefault(line.id, line)
    lines = give_each_a_number(folder, list(by_id.values()))
    return lines, unread - {line.seq for line in lines}


def find_strays(folder: Folder, unit: str, own_files: set[Path]) -> list[Path]:
    """The other files that hold entries of a unit, as after somebody exchanged the names of two files."""
    unit_text = b'"unit": "%s"' % unit.encode()
    return [path for path in folder.all_files() if path not in own_files and contains(path, unit_text)]


def contains(path: Path, unit_text: bytes) -> bool:
    """Whether a file can be read and these bytes are in it."""
    try:
        return unit_text in path.read_bytes()
    except OSError:
        return False


def give_each_a_number(folder: Folder, lines: list[Line]) -> list[Line]:
    """Lines in the order of their numbers; those whose number another has already get new ones, above all others."""
    by_number: dict[int, Line] = {}
    clashing = []
    for line in lines:
        if by_number.setdefault(line.seq, line) is not line:
            clashing.append(line)
    if clashing:
        last = find_highest_number(folder)
        for number, line in enumerate(sorted(clashing), last + 1):
            by_number[number] = renumbered(line, number)
    return [by_number[seq] for seq in sorted(by_number)]


def find_highest_number(folder: Folder) -> int:
    """The highest number that any file of a data folder has for an entry."""
    highest = 0
    for path in folder.all_files():
        with suppress(OSError):
            highest = max([highest, *(int(number) for number in NUMBERED.findall(path.read_bytes()))])
    return highest


def renumbered(line: Line, seq: int) -> Line:
    """The same entry under another number."""
    decoded = decode_line(encode_line(seq, encode_entry({**line.entry, "seq": seq})))
    assert decoded is not None
    return decoded


def recover(folder: Folder, unit: str, damage: Damage) -> str:
    """Set a damaged file aside and write a repaired one in its place; returns what to tell the user.

    Raises
    ------
    LogFault
        The disk is full, or the folder cannot be written; the damaged file is still in its place.
    """
    path = folder.file(unit)
    lines, lost = gather_lines(folder, unit)
    name = path.relative_to(folder.root).as_posix()
    note = f"{name} {damage.reason}. {len(lines)} of its entries were brought back from copies"
    note += f"; {len(lost)} could not be." if lost else "."
    damaged_file = next(
        folder.damaged / f"{path.stem}.{number}.json"
        for number in range(1, 10**6)
        if not (folder.damaged / f"{path.stem}.{number}.txt").exists()
    )
    try:
        if path.exists():
            durable.add_second_name(path, damaged_file)
            note += f" The damaged file is kept as damaged/{damaged_file.name}."
        durable.write(damaged_file.with_suffix(".txt"), note.encode())
        # Also if nothing is left: a file that is there is not looked for among its copies again.
        durable.write(path, encode_file(line.data for line in lines))
    except OSError as failure:
        raise fault_of(failure, f"set the damaged {name} aside") from failure
    return note
