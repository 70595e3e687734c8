"""Writes a file so that a kill, a power cut or a full disk leaves the old one or the new one, never half of each."""

import os
from pathlib import Path

from .faults import Unfinished, fault_of

# Left behind by a kill, and never read.
UNFINISHED = ".writing"


def write(path: Path, data: bytes, earlier: Path | None = None) -> None:
    """Replace `path` by `data`, durable on return.

    Parameters
    ----------
    path : Path
        File to replace; its folder exists.
    data : bytes
        All of its new content.
    earlier : Path, optional
        Where the file that is replaced is kept.

    Raises
    ------
    LogFault
        It failed and the old file stands.
    Unfinished
        It failed with the new file in place, perhaps not durably.
    """
    beside = path.with_name(path.name + UNFINISHED)
    try:
        put(beside, data)
        if earlier is not None:
            keep(path, earlier)
        os.replace(beside, path)
    except OSError as failure:
        beside.unlink(missing_ok=True)
        raise fault_of(failure, "write the log") from failure
    try:
        settle(path.parent)
    except OSError as failure:
        raise Unfinished(f"The disk would not settle ({failure.strerror}): check it, then restart.") from failure


def put(path: Path, data: bytes, settled: bool = True) -> None:
    """Write a new file; on the disk itself if `settled`."""
    with open(path, "wb", buffering=0) as file:
        view = memoryview(data)
        while view:
            view = view[file.write(view) :]
        if settled:
            os.fsync(file.fileno())


def keep(path: Path, earlier: Path) -> None:
    """Make `earlier` a second name of `path`, if there is one."""
    earlier.unlink(missing_ok=True)
    try:
        os.link(path, earlier)
    except FileNotFoundError:
        return
    except OSError:
        # Some disks, such as those of cameras and sticks, know no second names.
        put(earlier, path.read_bytes(), settled=False)


def settle(folder: Path) -> None:
    """Bring a folder's names to the disk; Windows does so on its own and cannot be asked."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
