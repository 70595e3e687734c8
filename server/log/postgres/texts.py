"""An entry as the database holds it: its text as a folder's file has it, but for the number, which the row has."""

from typing import Any

import orjson

from ..faults import LogFault
from ..layout import Line, decode_line, encode_entry, encode_line
from ..stored_entry import as_written, with_verdict

UNNUMBERED = len('{"seq": 0, ')
DAMAGED = "Entry {seq} in the database is not what was once stored: restore the workshop from a backup."


def text_of(entry: dict[str, Any]) -> str:
    """The text for an entry that has no number yet."""
    return "{" + encode_entry(as_written(entry, 0))[UNNUMBERED:].decode()


def numbered(seq: int, text: str) -> bytes:
    """An entry's text with its number: the bytes that a folder's file would hold."""
    return b'{"seq": %d, %s' % (seq, text[1:].encode())


def entry_of(seq: int, text: str) -> dict[str, Any]:
    """The entry of a row, as the log hands it out."""
    try:
        entry: dict[str, Any] = orjson.loads(numbered(seq, text))
    except ValueError as failure:
        raise LogFault(DAMAGED.format(seq=seq)) from failure
    return with_verdict(entry)


def line_of(seq: int, text: str) -> Line | None:
    """The line of a row, as a folder's file would hold it; None if the text is no entry's."""
    return decode_line(encode_line(seq, numbered(seq, text)))
