"""Writes files so that a kill, a power cut or a full disk leaves the old file or the new one, never half of one."""

import os
import secrets
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from .faults import Unfinished, fault_of

# A kill may leave a file with this ending behind; it is never read.
UNFINISHED = ".writing"
# Files are compared in blocks of this many bytes.
BLOCK = 64 * 1024


class Mark(NamedTuple):
    """By these a file is known again that nobody has changed since: which it is, its size, and when it was written."""

    inode: int
    size: int
    modified_ns: int


def mark_of(handle: int) -> Mark:
    """The mark of an open file."""
    status = os.fstat(handle)
    return Mark(status.st_ino, status.st_size, status.st_mtime_ns)


class Generations(NamedTuple):
    """Where the earlier generations of a file are kept when it is replaced.

    Attributes
    ----------
    earlier : Path
        The generation before the present one.
    spare : Path
        The generation before `earlier`. Nobody reads it; the next generation is written over it, which takes a disk
        half the time of finding new space and freeing the old.
    """

    earlier: Path
    spare: Path


def write(
    path: Path,
    data: bytes,
    generations: Generations | None = None,
    appended: bytes = b"",
    named: bool = True,
    known: Mapping[Mark, int] | None = None,
) -> Mark:
    """Replace a file by new content, durable on return.

    Parameters
    ----------
    path : Path
        File to replace; its folder exists.
    data : bytes
        Its new content.
    generations : Generations, optional
        Where the replaced file is kept; those folders exist on the same disk.
    appended : bytes
        Content that follows `data`.
    named : bool
        Whether the file's new name is durable on return too; otherwise it is after `sync_names`.
    known : mapping, optional
        As for `write_over`.

    Returns
    -------
    Mark
        Of the new file.

    Raises
    ------
    LogFault
        It failed and the old file is unchanged.
    Unfinished
        It failed with the new file in place, perhaps not durably.
    """
    unfinished = generations.spare if generations else path.with_name(path.name + UNFINISHED)
    oldest = generations.earlier.with_name(path.name + UNFINISHED) if generations else None
    try:
        mark = write_over(unfinished, data, appended, known=known)
        if generations and oldest:
            keep_earlier(path, generations.earlier, oldest)
        os.replace(unfinished, path)
    except OSError as failure:
        with suppress(OSError):
            unfinished.unlink(missing_ok=True)
        if generations and oldest:
            with suppress(OSError):
                os.replace(oldest, generations.earlier)
        raise fault_of(failure, "write the log") from failure
    if named:
        sync_names([path])
    if generations and oldest:
        with suppress(OSError):
            os.replace(oldest, generations.spare)
    return mark


def sync_names(paths: Iterable[Path]) -> None:
    """Wait until the names of replaced files are on the disk, once for each of their folders.

    Raises
    ------
    Unfinished
        They are in place, perhaps not durably.
    """
    try:
        for folder in {path.parent for path in paths}:
            sync_folder(folder)
    except OSError as failure:
        raise Unfinished(
            f"The disk did not confirm the write ({failure.strerror}): check it, then restart."
        ) from failure


def keep_earlier(path: Path, earlier: Path, oldest: Path) -> None:
    """Move the earlier generation aside and give the present file its name, besides its own."""
    if earlier.exists():
        os.replace(earlier, oldest)
    if path.exists():
        add_second_name(path, earlier)


def add_second_name(path: Path, name: Path) -> None:
    """Give a file a second name."""
    try:
        os.link(path, name)
    except OSError:
        # Some file systems, such as those of memory cards and sticks, have no hard links.
        write_over(name, path.read_bytes())


def write_over(
    path: Path, data: bytes, appended: bytes = b"", synced: bool = True, known: Mapping[Mark, int] | None = None
) -> Mark:
    """Write `data` and `appended` over a file, or into a new one; waits for the disk if `synced`.

    Bytes of `data` that the file begins with already are not written again: a log that grew has a long beginning in
    common with its spare generation. How long it is, is read, unless `known` says it of a file with this mark.
    """
    handle = open_to_overwrite(path)
    try:
        common = known.get(mark_of(handle)) if known else None
        start = count_common_bytes(handle, data) if common is None else min(common, len(data))
        os.lseek(handle, start, os.SEEK_SET)
        unwritten = memoryview(data[start:] + appended)
        while unwritten:
            unwritten = unwritten[os.write(handle, unwritten) :]
        os.ftruncate(handle, len(data) + len(appended))
        if synced:
            os.fsync(handle)
        return mark_of(handle)
    finally:
        os.close(handle)


def count_common_bytes(handle: int, data: bytes) -> int:
    """Count the bytes, in whole blocks, that a file and `data` both begin with."""
    start = 0
    while (block := os.read(handle, BLOCK)) and data.startswith(block, start):
        start += len(block)
    return start


def open_to_overwrite(path: Path) -> int:
    """Open a file to write over it; where its content has another name too, open a new file, so that it stays there."""
    flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0)
    handle = os.open(path, flags, 0o666)
    if os.fstat(handle).st_nlink == 1:
        return handle
    os.close(handle)
    path.unlink()
    return os.open(path, flags, 0o666)


def publish(unfinished: Path, path: Path, replacing: bool = False) -> None:
    """Give a finished file its name; unless `replacing`, never in the place of another that was made meanwhile.

    Raises
    ------
    FileExistsError
        There is such a file, and it is untouched.
    """
    with open(unfinished, "rb+") as file:
        os.fsync(file.fileno())
    if replacing:
        os.replace(unfinished, path)
    else:
        try:
            os.link(unfinished, path)
        except FileExistsError:
            raise
        except OSError:
            # Without hard links the name is taken first, and then replaced.
            os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
            os.replace(unfinished, path)
        else:
            unfinished.unlink()
    sync_folder(path.resolve().parent)


def name_beside(path: Path) -> Path:
    """A name beside a file for writing it, which nothing else has."""
    return path.with_name(f"{path.name}.{secrets.token_hex(4)}{UNFINISHED}")


def sync_folder(folder: Path) -> None:
    """Wait until a folder's file names are on the disk; Windows does so by itself and cannot be asked."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
