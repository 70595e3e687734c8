"""Which log a data folder holds: its identity, its generation, and the key of its receipts.

A phone may meet several logs at one address, and the same log again after a restore. By the identity it tells logs
apart; by the generation it knows that the log may lack what it once had, so that both have to be compared.
"""

import json
import secrets
from datetime import UTC, datetime
from typing import Any, NamedTuple, Self
from uuid import UUID, uuid4

IDENTITY_MARK = "slipbook_log"
# Far more than an identity ever has; a damaged file is no reason to read a gigabyte.
LARGEST_IDENTITY = 1_000_000
# More than a workshop writes between two backups; and more than it writes in a second, so that the numbers after a
# restore are higher than those after an earlier one, of which an old backup knows nothing.
ROOM_FOR_LOST, NUMBERS_A_SECOND = 10_000, 10
EPOCH = datetime(2025, 1, 1, tzinfo=UTC)


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
        Runs of numbers, first and last, whose entries were known to be missing when this generation began.
    skipped : list of [int, int]
        Runs of numbers that are given to no new entry: at a restore those of entries that were written after the
        backup, which keep them when they come back.
    """

    log_id: str
    generation: str
    key: str
    name: str
    demo: bool
    gaps: list[list[int]]
    skipped: list[list[int]]

    @classmethod
    def new(cls, name: str, demo: bool = False) -> Self:
        """The identity of a new log."""
        return cls(str(uuid4()), str(uuid4()), secrets.token_hex(32), name, demo, [], [])

    def next_generation(self, gaps: list[list[int]]) -> Self:
        """The same log, which may lack what it once had."""
        return self._replace(generation=str(uuid4()), gaps=gaps)

    def restored(self, last: int) -> Self:
        """The same log after a restore from a backup whose newest entry has the number `last`.

        Its new entries have higher numbers than any that was lost, so that no number ever means two entries.
        """
        seconds = int((datetime.now(UTC) - EPOCH).total_seconds())
        last_skipped = max(last + ROOM_FOR_LOST, seconds * NUMBERS_A_SECOND)
        return self.next_generation(self.gaps)._replace(skipped=[*self.skipped, [last + 1, last_skipped]])

    @property
    def floor(self) -> int:
        """The number above which new entries get theirs."""
        return max((last for _, last in self.skipped), default=0)

    def encode(self) -> bytes:
        """The content of its file."""
        return (json.dumps({IDENTITY_MARK: 1, **self._asdict()}, ensure_ascii=False, indent=1) + "\n").encode()


def decode(data: bytes) -> Identity:
    """An identity out of the content of its file.

    Raises
    ------
    ValueError
        It is not what was written.
    """
    content: Any = json.loads(data)
    if not isinstance(content, dict) or content.get(IDENTITY_MARK) != 1:
        raise ValueError("This is not the identity of a log.")
    try:
        # What an older version has written knows of no numbers that were skipped.
        content = {"skipped": [], **content}
        identity = Identity(**{name: content[name] for name in Identity._fields})
        UUID(identity.log_id), UUID(identity.generation), bytes.fromhex(identity.key)
        gaps = [[int(first), int(last)] for first, last in identity.gaps]
        skipped = [[int(first), int(last)] for first, last in identity.skipped]
    except (KeyError, TypeError, AttributeError) as fault:
        raise ValueError("This identity of a log is not whole.") from fault
    return identity._replace(name=str(identity.name), demo=bool(identity.demo), gaps=gaps, skipped=skipped)
