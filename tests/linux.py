"""Which processes run, and how, as Linux tells it."""

import contextlib
from pathlib import Path

# States of a process, as Linux writes them: stopped; ended, but not asked for its exit code yet; and ours for one that
# is no longer there.
STOPPED, ZOMBIE, ENDED = "T", "Z", ""
GONE = (ZOMBIE, ENDED)


def state_and_parent(process: int | str) -> tuple[str, int]:
    """A process's state, as Linux writes it, and the process that started it.

    Raises
    ------
    OSError
        There is no such process.
    """
    # A program's name, in brackets, may hold anything; its state and its parent follow.
    state, parent, *_ = Path(f"/proc/{process}/stat").read_text(errors="replace").rpartition(")")[2].split()
    return state, int(parent)


def state_of(process: int) -> str:
    """A process's state, as Linux writes it."""
    try:
        return state_and_parent(process)[0]
    except OSError:
        return ENDED


def children_of(parent: int) -> list[int]:
    """The processes that a process has started and that still run; on Linux alone."""
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            if state_and_parent(folder.name)[1] == parent:
                found.append(int(folder.name))
    return found
