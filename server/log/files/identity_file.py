"""The file of a data folder that says which log it holds, and its copy."""

from contextlib import suppress

from .. import durable
from ..faults import LogFault, fault_of
from ..identity import LARGEST_IDENTITY, Identity, decode
from .folder import Folder


def read_identity(folder: Folder) -> Identity | None:
    """A folder's identity, from its file or else from the copy; None if it has none.

    Raises
    ------
    LogFault
        It is there and cannot be read.
    """
    damaged = False
    for path in (folder.identity, folder.earlier / folder.identity.name):
        try:
            with open(path, "rb") as file:
                return decode(file.read(LARGEST_IDENTITY))
        except FileNotFoundError:
            continue
        except OSError as failure:
            raise fault_of(failure, f"read {path.name}") from failure
        except ValueError:
            damaged = True
    if damaged:
        raise LogFault(
            f"{folder.identity} and its copy are damaged, so that phones would not know this log: put the file back "
            "from a backup. Deleted, it is made anew, and phones take the log for another."
        )
    return None


def write_identity(folder: Folder, identity: Identity) -> None:
    """Keep an identity, durable on return, with a copy of the same content."""
    data = identity.encode()
    durable.write(folder.identity, data)
    # Without the copy the file is still there, and it is made at the next start.
    with suppress(LogFault):
        durable.write(folder.earlier / folder.identity.name, data)


def open_identity(folder: Folder, demo: bool = False) -> Identity:
    """A folder's identity, made if it has none yet; file and copy are put right where one of them is not."""
    identity = read_identity(folder) or Identity.new("Demonstration" if demo else folder.root.resolve().name, demo)
    data = identity.encode()
    for path in (folder.identity, folder.earlier / folder.identity.name):
        try:
            if path.read_bytes() == data:
                continue
        except OSError:
            pass
        write_identity(folder, identity)
        break
    return identity
