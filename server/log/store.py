"""What a store can do: hold a log, to which entries are only ever added, each durable before it is acknowledged.

`files` keeps a log in a folder, one readable file a unit; `postgres` keeps many logs in a database. All else goes by
what is said here, and the same tests hold for both.
"""

from collections.abc import Hashable, Iterable
from pathlib import Path
from types import TracebackType
from typing import Any, Protocol, Self

from .answer import Answer
from .clock import PcClock
from .contents import Contents
from .identity import Identity
from .photos import Photos
from .returned import Returned

# How much text a page of entries has at most, in bytes, unless a single entry has more.
PAGE_BYTES = 4 * 1000 * 1000


class Log(Protocol):
    """The log of one workshop; safe to use from several threads. What it cannot do it says by a `LogFault`.

    Entries are handed out with the server's verdict, as `read_entry` makes them. Who opens a log that only one may have
    open, while another has it, gets `FolderInUse`.
    """

    def __enter__(self) -> Self: ...  # noqa: D105

    def __exit__(  # noqa: D105
        self, kind: type[BaseException] | None, value: BaseException | None, at: TracebackType | None
    ) -> bool | None: ...

    def close(self) -> None:
        """Let the log go; everything is written already."""

    @property
    def clock(self) -> PcClock:
        """The PC's clock, and whether it may be gone by; it began with the newest entries that were there."""

    @property
    def photos(self) -> Photos:
        """The photos that its entries name."""

    @property
    def identity(self) -> Identity:
        """Which log it is."""

    @property
    def problems(self) -> list[str]:
        """Damage that the user must know of, also entries that are missing; one or two sentences each."""

    @property
    def returned(self) -> Returned:
        """What came back to it that it had lost."""

    @property
    def erased(self) -> Hashable:
        """Another value whenever something was erased: what was worked out before is out of date."""

    @property
    def last(self) -> int:
        """Number of the newest entry; 0 in an empty log."""

    def units(self) -> list[str]:
        """Every unit that has entries, in the order of their ids."""

    def states(self) -> dict[str, Hashable]:
        """Of each unit, and of the shop under "", that has entries: another value whenever entries of it came."""

    def of_unit(self, unit: str) -> list[dict[str, Any]]:
        """All entries of a unit, for "" those that belong to none; by arrival or by number: no reader may mind."""

    def find(self, entry_id: str) -> dict[str, Any] | None:
        """The entry with this id, or None."""

    def known(self, entry_ids: Iterable[str]) -> set[str]:
        """Those of these ids under which the log has entries. By this alone nothing may be acknowledged."""

    def id_of(self, seq: int) -> str:
        """The id of the entry with this number; empty if there is none."""

    def after(self, seq: int, most: int) -> tuple[list[dict[str, Any]], bool]:
        """The next entries after number `seq`, at most `most` and no more than a page holds; whether more follow."""

    def add(self, entries: list[dict[str, Any]]) -> list[Answer]:
        """Add entries, durable on return.

        Parameters
        ----------
        entries : list of dict
            Each with a valid id and unit, and with the server's fields except seq; one that comes back has its seq
            too, which it keeps unless another entry has it by now. The others are numbered in any order. One whose id
            is known is only compared, and may be anything but for its id.

        Returns
        -------
        list of Answer
            One for each entry, in order, with what the log has under its id once all are added. Refused means that the
            id belongs to another entry.

        Raises
        ------
        LogFault
            Not all of them could be written, or it is unknown whether they were. Sending all of them again is safe.
        """

    def digests(self) -> dict[str, str]:
        """Of each unit, and of the shop under "", also where it has none, a digest of its entries' ids and numbers."""

    def ids_of(self, unit: str) -> list[tuple[str, int]]:
        """Id and number of each of a unit's entries."""

    def adopt(self, identity: Identity) -> None:
        """Become another log, of which a backup is brought back.

        Raises
        ------
        LogFault
            This log has entries of its own.
        """

    def note_returned(self, source: str, entries: int = 0, photos: int = 0) -> None:
        """Note what a device brought back, in this generation, and tell anew in `problems` what is still missing."""

    def contents(self) -> Contents:
        """What it holds, read anew as a whole, with what is found damaged or missing on the way."""

    def would_lose(self, path: Path) -> bool:
        """Whether what is kept at this path would be lost with the log itself."""
