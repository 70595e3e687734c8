"""Brings a damaged file's entries back from its copies, and keeps what was damaged for a person to look at."""

import re

from . import durable
from .faults import Damage, fault_of
from .folder import Folder
from .layout import Line, read_file, salvage, write_file

NUMBERED = re.compile(rb'^"(\d{1,15})": ', re.MULTILINE)


def load(folder: Folder, unit: str) -> tuple[list[Line], bytes]:
    """A unit's entries, and its file as found.

    Raises
    ------
    Damage
        The file is not what was written, or is gone while copies of it are left.
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
    return read_file(data, unit), data


def gather(folder: Folder, unit: str) -> tuple[list[Line], set[int]]:
    """Every entry that is whole in the file or in one of its copies, and the numbers of those that are lost."""
    whole: dict[int, Line] = {}
    named: set[int] = set()
    for path in (*folder.copies(unit), folder.file(unit)):
        try:
            data = path.read_bytes()
        except OSError:
            continue
        named.update(int(number) for number in NUMBERED.findall(data))
        try:
            lines = read_file(data, unit)
        except Damage:
            lines = salvage(data, unit)
        for line in lines:
            whole.setdefault(line.seq, line)
    return [whole[seq] for seq in sorted(whole)], named - whole.keys()


def recover(folder: Folder, unit: str, damage: Damage) -> str:
    """Set the damaged file aside and put a whole one in its place; answers what to tell the user.

    Raises
    ------
    LogFault
        There is no room, or no right, to do so; the damaged file is still where it was.
    """
    path = folder.file(unit)
    lines, lost = gather(folder, unit)
    name = path.relative_to(folder.root).as_posix()
    told = f"{name} {damage.reason}. {len(lines)} of its entries were brought back from copies"
    told += f"; {len(lost)} could not be." if lost else "."
    aside = next(
        folder.damaged / f"{path.stem}.{number}.json"
        for number in range(1, 10**6)
        if not (folder.damaged / f"{path.stem}.{number}.txt").exists()
    )
    try:
        if path.exists():
            durable.second_name(path, aside)
            told += f" The damaged file is kept as damaged/{aside.name}."
        durable.write(aside.with_suffix(".txt"), told.encode())
        if lines:
            durable.write(path, write_file(line.written for line in lines))
        else:
            path.unlink(missing_ok=True)
            for copy in folder.copies(unit):
                copy.unlink(missing_ok=True)
    except OSError as failure:
        raise fault_of(failure, f"set the damaged {name} aside") from failure
    return told
