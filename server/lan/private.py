"""Writes files that only the owner of the data folder may read: keys and the list of devices."""

import os
from contextlib import suppress
from pathlib import Path

from ..log import durable
from ..log.faults import fault_of

FOLDER_MODE = 0o700
FILE_MODE = 0o600


def make_folder(path: Path) -> None:
    """Make a folder that only its owner may enter.

    Raises
    ------
    LogFault
        It cannot be made.
    """
    try:
        path.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
        path.chmod(FOLDER_MODE)
    except OSError as failure:
        raise fault_of(failure, f"use {path}") from failure


def write(path: Path, data: bytes) -> None:
    """Replace a file by `data`, readable by its owner alone, durable on return.

    Raises
    ------
    LogFault
        It cannot be written; the old file is unchanged.
    """
    unfinished = path.with_name(path.name + durable.UNFINISHED)
    try:
        # A new file each time, since one that a kill left behind may have other rights.
        unfinished.unlink(missing_ok=True)
        os.close(os.open(unfinished, os.O_WRONLY | os.O_CREAT | os.O_EXCL, FILE_MODE))
        durable.write_over(unfinished, data)
        os.replace(unfinished, path)
        durable.sync_folder(path.parent)
    except OSError as failure:
        with suppress(OSError):
            unfinished.unlink(missing_ok=True)
        raise fault_of(failure, f"write {path}") from failure
