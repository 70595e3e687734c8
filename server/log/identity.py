"""Which log a data folder holds: its identity, its generation, and the key of its receipts.

A phone may meet several logs at one address, and the same log again after a restore. By the identity it tells logs
apart; by the generation it knows that the log may lack what it once had, so that both have to be compared.
"""

import json
import secrets
from contextlib import suppress
from typing import Any, NamedTuple, Self
from uuid import UUID, uuid4

from . import durable
from .faults import LogFault, fault_of
from .folder import Folder

MARK = "slipbook_log"
# Far more than an identity ever has; a damaged file is no reason to read a gigabyte.
LARGEST = 1_000_000


class Identity(NamedTuple):
    """Who a log is.

    Attributes
    ----------
    log_id : str
        UUID, made with the data folder; a restore keeps it.
    generation : str
        UUID; a new one after a restore, and whenever entries are found to be missing.
    key : str
        Key of the receipts, 64 hexadecimal digits.
    name : str
        What people call the log: the name of its first folder.
    demo : bool
        Whether it holds invented units and is not meant to last.
    gaps : list of [int, int]
        Runs of numbers, first and last, that no entry had when this generation began.
    """

    log_id: str
    generation: str
    key: str
    name: str
    demo: bool
    gaps: list[list[int]]

    @classmethod
    def new(cls, name: str, demo: bool = False) -> Self:
        """The identity of a new log."""
        return cls(str(uuid4()), str(uuid4()), secrets.token_hex(32), name, demo, [])

    def next_generation(self, gaps: list[list[int]]) -> Self:
        """The same log, which may lack what it once had."""
        return self._replace(generation=str(uuid4()), gaps=gaps)

    def encode(self) -> bytes:
        """The content of its file."""
        return (json.dumps({MARK: 1, **self._asdict()}, ensure_ascii=False, indent=1) + "\n").encode()


def decode(data: bytes) -> Identity:
    """An identity out of the content of its file.

    Raises
    ------
    ValueError
        It is not what was written.
    """
    content: Any = json.loads(data)
    if not isinstance(content, dict) or content.get(MARK) != 1:
        raise ValueError("This is no identity of a log.")
    try:
        found = Identity(**{name: content[name] for name in Identity._fields})
        UUID(found.log_id), UUID(found.generation), bytes.fromhex(found.key)
        gaps = [[int(first), int(last)] for first, last in found.gaps]
    except (KeyError, TypeError, AttributeError) as fault:
        raise ValueError("This identity of a log is not whole.") from fault
    return found._replace(name=str(found.name), demo=bool(found.demo), gaps=gaps)


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
                return decode(file.read(LARGEST))
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
    found = read_identity(folder)
    identity = found or Identity.new("Demonstration" if demo else folder.root.resolve().name, demo)
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
