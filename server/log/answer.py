"""What the log answers to an entry that it is handed, and what of an entry is its device's."""

from typing import Any, NamedTuple

from .erasing import ERASED, MARKS
from .receipts import RECEIPT

# The fields that the server adds to an entry; all others are the device's and never change.
ADDED = (
    *("seq", "received", "judged", "agrees", "clock_off_s", "clock_checked", "clock_fell_s", "received_unsure"),
    *(ERASED, MARKS),
)

STORED = "stored"
ALREADY_THERE = "already_there"
REFUSED = "refused"


class Answer(NamedTuple):
    """What the log did with one entry: stored, already there or refused; and the entry that it now has under its id."""

    answer: str
    entry: dict[str, Any]


def from_device(entry: dict[str, Any]) -> dict[str, Any]:
    """The part of an entry that the device made, which never changes; a field that is left empty is not there."""
    added = {*ADDED, RECEIPT}
    return {name: value for name, value in entry.items() if name not in added and value is not None and value != ""}


def is_same(stored: dict[str, Any], arrived: dict[str, Any]) -> bool:
    """Whether two entries of one id are the same, but for what an erasure took out of either."""
    stored_fields, arrived_fields = from_device(stored), from_device(arrived)
    if stored.get(ERASED) or arrived.get(ERASED):
        for entry in (stored_fields, arrived_fields):
            for name in ("body", "shown", "imported"):
                entry.pop(name, None)
    return stored_fields == arrived_fields
