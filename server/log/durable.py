"""Writes a file so that a kill, a power cut or a full disk leaves the old one or the new one, never half of each."""

import os
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from .faults import Unfinished, fault_of

# Left behind by a kill, and never read.
UNFINISHED = ".writing"
# A file is compared in pieces of this size.
BLOCK = 64 * 1024


class Generations(NamedTuple):
    """Where the generations of a file go when it is replaced.

    Attributes
    ----------
    earlier : Path
        The one before.
    spare : Path
        The one before that: nobody reads it, and the next one is written over it. A disk takes that in half the time
        that it needs to find new room and give the old room back.
    """

    earlier: Path
    spare: Path


def write(path: Path, data: bytes, generations: Generations | None = None, more: bytes = b"") -> None:
    """Replace `path` by `data`, durable on return.

    Parameters
    ----------
    path : Path
        File to replace; its folder exists.
    data : bytes
        All of its new content.
    generations : Generations, optional
        Where the file that is replaced is kept; their folders exist on the same disk.
    more : bytes
        What stands behind `data`.

    Raises
    ------
    LogFault
        It failed and the old file stands.
    Unfinished
        It failed with the new file in place, perhaps not durably.
    """
    beside = generations.spare if generations else path.with_name(path.name + UNFINISHED)
    oldest = generations.earlier.with_name(path.name + UNFINISHED) if generations else None
    try:
        put(beside, data, more)
        if generations and oldest:
            hand_down(path, generations.earlier, oldest)
        os.replace(beside, path)
    except OSError as failure:
        with suppress(OSError):
            beside.unlink(missing_ok=True)
        if generations and oldest:
            with suppress(OSError):
                os.replace(oldest, generations.earlier)
        raise fault_of(failure, "write the log") from failure
    try:
        settle(path.parent)
    except OSError as failure:
        raise Unfinished(f"The disk would not settle ({failure.strerror}): check it, then restart.") from failure
    if generations and oldest:
        with suppress(OSError):
            os.replace(oldest, generations.spare)


def hand_down(path: Path, earlier: Path, oldest: Path) -> None:
    """Put the earlier file out of the way and give the file of now its name beside its own."""
    if earlier.exists():
        os.replace(earlier, oldest)
    if path.exists():
        second_name(path, earlier)


def second_name(path: Path, name: Path) -> None:
    """Give a file a second name."""
    try:
        os.link(path, name)
    except OSError:
        # Some disks, such as those of cameras and sticks, know no second names.
        put(name, path.read_bytes())


def put(path: Path, data: bytes, more: bytes = b"", settled: bool = True) -> None:
    """Write a file of `data` and `more`, over whatever has its name; on the disk itself if `settled`.

    What the file holds of `data` already is not written again: a log that grew has a long beginning in common with its
    spare.
    """
    handle = open_over(path)
    try:
        same = common_beginning(handle, data)
        os.lseek(handle, same, os.SEEK_SET)
        view = memoryview(data[same:] + more)
        while view:
            view = view[os.write(handle, view) :]
        os.ftruncate(handle, len(data) + len(more))
        if settled:
            os.fsync(handle)
    finally:
        os.close(handle)


def common_beginning(handle: int, data: bytes) -> int:
    """How many bytes of a file are those of `data` already, block by block."""
    start = 0
    while (block := os.read(handle, BLOCK)) and data.startswith(block, start):
        start += len(block)
    return start


def open_over(path: Path) -> int:
    """Open a file to write over it, unless its content has another name, under which it has to stay as it is."""
    flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0)
    handle = os.open(path, flags, 0o666)
    if os.fstat(handle).st_nlink == 1:
        return handle
    os.close(handle)
    path.unlink()
    return os.open(path, flags, 0o666)


def settle(folder: Path) -> None:
    """Bring a folder's names to the disk; Windows does so on its own and cannot be asked."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
