"""Restores a damaged file's entries from its copies, and keeps the damaged file for a person to look at."""

import re

from . import durable
from .faults import Damage, fault_of
from .folder import Folder
from .layout import Line, decode_file, encode_file, salvage

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
        raise fault_of(failure, f"read {path.name}") from failure
    return decode_file(data, unit), data


def gather(folder: Folder, unit: str) -> tuple[list[Line], set[int]]:
    """Every undamaged line of a file or of its copies, and the numbers of the entries that are lost."""
    intact: dict[int, Line] = {}
    numbers: set[int] = set()
    for path in (*folder.copies(unit), folder.file(unit)):
        try:
            data = path.read_bytes()
        except OSError:
            continue
        numbers.update(int(number) for number in NUMBERED.findall(data))
        try:
            lines = decode_file(data, unit)
        except Damage:
            lines = salvage(data, unit)
        for line in lines:
            intact.setdefault(line.seq, line)
    return [intact[seq] for seq in sorted(intact)], numbers - intact.keys()


def recover(folder: Folder, unit: str, damage: Damage) -> str:
    """Set a damaged file aside and write a repaired one in its place; returns what to tell the user.

    Raises
    ------
    LogFault
        The disk is full, or the folder cannot be written; the damaged file is still in its place.
    """
    path = folder.file(unit)
    lines, lost = gather(folder, unit)
    name = path.relative_to(folder.root).as_posix()
    note = f"{name} {damage.reason}. {len(lines)} of its entries were brought back from copies"
    note += f"; {len(lost)} could not be." if lost else "."
    aside = next(
        folder.damaged / f"{path.stem}.{number}.json"
        for number in range(1, 10**6)
        if not (folder.damaged / f"{path.stem}.{number}.txt").exists()
    )
    try:
        if path.exists():
            durable.add_second_name(path, aside)
            note += f" The damaged file is kept as damaged/{aside.name}."
        durable.write(aside.with_suffix(".txt"), note.encode())
        if lines:
            durable.write(path, encode_file(line.data for line in lines))
        else:
            path.unlink(missing_ok=True)
            for copy in folder.copies(unit):
                copy.unlink(missing_ok=True)
    except OSError as failure:
        raise fault_of(failure, f"set the damaged {name} aside") from failure
    return note
