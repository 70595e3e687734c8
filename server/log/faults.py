"""What can go wrong with a data folder, each fault in a sentence that says what to do."""

import errno


class LogFault(Exception):
    """The log cannot do what was asked; acknowledged entries are not touched.

    Attributes
    ----------
    reason : str
        One sentence that says what to do about it.
    full : bool
        Whether the disk is full.
    """

    def __init__(self, reason: str, full: bool = False) -> None:
        super().__init__(reason)
        self.reason = reason
        self.full = full


class FolderInUse(LogFault):
    """Another Slipbook writes to the data folder."""


class Unfinished(LogFault):
    """A write failed so late that only a restart can show whether it is durable."""


class Damage(Exception):
    """A file's content is not what was once written to it.

    Attributes
    ----------
    reason : str
        What is wrong, to complete a sentence that begins with the file's name.
    """

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


def fault_of(failure: OSError, task: str, reading: bool = False) -> LogFault:
    """The fault, with its sentence, for a failure of the operating system during a task such as "write the log".

    Where one file is only read, `reading` says so: that it may not be read says nothing about its folder.

    >>> fault_of(OSError(errno.EROFS, ""), "write the log").reason
    'Cannot write the log: the folder is read-only. Make it writable, then send again.'
    """
    if failure.errno in (errno.ENOSPC, errno.EDQUOT):
        return LogFault(f"Cannot {task}: the disk is full. Make room, then send again.", full=True)
    if reading and failure.errno in (errno.EACCES, errno.EPERM):
        return LogFault(f"Cannot {task}: you have no right to read this file. Change its permissions, then try again.")
    if failure.errno in (errno.EROFS, errno.EACCES, errno.EPERM):
        return LogFault(f"Cannot {task}: the folder is read-only. Make it writable, then send again.")
    if failure.errno == errno.ENOENT:
        return LogFault(f"Cannot {task}: its folder is not there. Put it back, or name another.")
    if failure.errno in (errno.EEXIST, errno.ENOTDIR):
        return LogFault(f"Cannot {task}: there is a file where a folder should be. Name another folder.")
    return LogFault(f"Cannot {task}: {failure.strerror or failure}. Check the disk, then send again.")
