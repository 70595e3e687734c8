"""Holds a data folder, so that only one Slipbook writes to it.

The folder itself is locked, which nobody can delete from under its holder without deleting the log too. Windows and
some network drives cannot lock a folder; there, and for older versions of Slipbook, a file in it is locked as well.
"""

import os
import sys
from contextlib import suppress
from pathlib import Path

from filelock import FileLock, Timeout

from ..faults import FolderInUse, LogFault

if sys.platform != "win32":
    import fcntl

MOVED = "The data folder {root} was moved or deleted while Slipbook ran: put it back, then restart."
LOCK_GONE = "The file in-use.lock was deleted while Slipbook ran, and was made again: leave it in its place."
TAKEN_OVER = "The file in-use.lock was deleted, and another Slipbook uses {root} now: stop both, then start one."


class Hold:
    """A data folder that is held until `release`.

    Parameters
    ----------
    root : Path
        The folder, which exists.
    lock : Path
        The file in it that is locked as well.

    Raises
    ------
    FolderInUse
        Another Slipbook holds it.
    """

    def __init__(self, root: Path, lock: Path) -> None:
        self.root = root
        self.path = lock
        self.handle = lock_folder(root)
        try:
            self.file_lock, self.inode = self.lock_file()
        except BaseException:
            self.release_folder()
            raise

    def lock_file(self) -> tuple[FileLock, tuple[int, int]]:
        """Lock the file, made if missing; returns its lock, and which file it is."""
        file_lock = FileLock(self.path, thread_local=False)
        try:
            file_lock.acquire(timeout=0)
        except Timeout:
            raise in_use(self.root) from None
        return file_lock, identify(self.path)

    def check(self) -> str:
        """Notice whether what is held is still in its place; returns a sentence if the file had to be made again.

        Raises
        ------
        LogFault
            It is not, so that nothing may be written any more.
        """
        if self.handle is not None and identify(self.root) != identify(self.handle):
            raise LogFault(MOVED.format(root=self.root))
        if identify(self.path) == self.inode:
            return ""
        old_lock = self.file_lock
        try:
            self.file_lock, self.inode = self.lock_file()
        except FolderInUse as fault:
            raise LogFault(TAKEN_OVER.format(root=self.root)) from fault
        except OSError as failure:
            raise LogFault(MOVED.format(root=self.root)) from failure
        with suppress(OSError):
            old_lock.release()
        return LOCK_GONE

    def release_folder(self) -> None:
        """Let go of the folder, though not yet of the file."""
        if self.handle is not None:
            os.close(self.handle)
            self.handle = None

    def release(self) -> None:
        """Let the folder go."""
        self.file_lock.release()
        self.release_folder()


def in_use(root: Path) -> FolderInUse:
    """The fault that another Slipbook holds a folder."""
    return FolderInUse(f"{root} is in use by another Slipbook: stop it, or choose another folder.")


def identify(file: Path | int) -> tuple[int, int]:
    """Which file or folder a path or an open handle leads to; (0, 0) if to none."""
    with suppress(OSError):
        status = os.stat(file)
        return status.st_dev, status.st_ino
    return 0, 0


def lock_folder(root: Path) -> int | None:
    """Lock a folder itself; returns its handle, or None where the system cannot lock folders.

    Raises
    ------
    FolderInUse
        Another holds it.
    """
    if sys.platform == "win32":
        return None
    handle = os.open(root, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        os.close(handle)
        raise in_use(root) from None
    except OSError:
        os.close(handle)
        return None
    return handle
