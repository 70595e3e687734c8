"""How the entries of one unit are written in its file: readable JSON, one entry a line, a checksum before each.

    {"entries": {
    "17": {"crc32": "9a3f1c22", "entry": {"seq": 17, "id": "...", "unit": "...", ...}},
    "21": {"crc32": "0b77e0d1", "entry": {...}}
    }}

An entry never changes, and new ones go to the end: so a line keeps its place in the file for good, and each can be
checked and read without its neighbours. The checksum is the CRC-32 of the entry's text in UTF-8, as in ISO 3309.
"""

import json
import re
import zlib
from collections.abc import Iterable
from typing import Any, NamedTuple

from .faults import Damage

TABLE = "entries"
HEAD = b'{"entries": {\n'
BETWEEN = b",\n"
TAIL = b"\n}}\n"

LINE_HEAD = re.compile(
    rb'"(\d{1,15})": \{"crc32": "([0-9a-f]{8})", "entry": '
    rb'(?=\{"seq": (\d{1,15}), "id": "([0-9a-f-]{36})", "unit": "([0-9a-f-]{0,36})", )'
)


class Line(NamedTuple):
    """One entry as it stands in its file."""

    seq: int
    id: str
    unit: str
    written: memoryview
    start: int
    head: int

    @property
    def text(self) -> bytes:
        """The entry's text, of which the line has the checksum."""
        return bytes(self.written[self.head : -1])

    @property
    def entry(self) -> dict[str, Any]:
        """The entry itself."""
        found: dict[str, Any] = json.loads(self.text)
        return found


def encode(entry: dict[str, Any]) -> bytes:
    """An entry's text; `entry` begins with seq, id and unit, in this order."""
    return json.dumps(entry, ensure_ascii=False, allow_nan=False).encode()


def write_line(seq: int, text: bytes) -> bytes:
    """The line that holds an entry's text."""
    return b'"%d": {"crc32": "%08x", "entry": %s}' % (seq, zlib.crc32(text), text)


def write_file(lines: Iterable[bytes | memoryview]) -> bytes:
    """A file of these lines."""
    return HEAD + BETWEEN.join(lines) + TAIL


def read_line(data: bytes, start: int = 0, end: int | None = None) -> Line | None:
    """The entry on the line that is this part of `data`, or None if it is not what was written."""
    end = len(data) if end is None else end
    head = LINE_HEAD.match(data, start, end)
    if head is None or data[end - 1 : end] != b"}" or head[1] != head[3]:
        return None
    # A view, since copying every entry costs as much as checking it.
    written = memoryview(data)[start:end]
    begin = head.end() - start
    if int(head[2], 16) != zlib.crc32(written[begin:-1]):
        return None
    return Line(int(head[1]), head[4].decode(), head[5].decode(), written, start, begin)


def read_file(data: bytes, unit: str) -> list[Line]:
    """Every entry of a file, each checked.

    Parameters
    ----------
    data : bytes
        The file as it was found.
    unit : str
        The unit whose entries it holds; empty for the shop's own.

    Raises
    ------
    Damage
        The file, or any entry in it, is not what was written.
    """
    if not (data.startswith(HEAD) and data.endswith(TAIL)):
        return read_reformatted(data, unit)
    lines = []
    start, last = len(HEAD), len(data) - len(TAIL)
    while start < last:
        end = data.find(BETWEEN, start, last)
        line = read_line(data, start, end if end >= 0 else last)
        if line is None:
            return read_reformatted(data, unit)
        lines.append(line)
        start = start + len(line.written) + len(BETWEEN)
    return checked(lines, unit)


def read_reformatted(data: bytes, unit: str) -> list[Line]:
    """The same for a file that a person or a program has laid out anew; places are those in a rewritten file."""
    try:
        found = json.loads(data)
    except (ValueError, RecursionError):
        raise Damage("is cut short or is not JSON") from None
    documents = found.get(TABLE) if isinstance(found, dict) else None
    if not isinstance(documents, dict) or len(found) != 1:
        raise Damage("does not hold entries")
    lines = []
    start = len(HEAD)
    for key, document in documents.items():
        try:
            written = b'"%s": {"crc32": "%s", "entry": %s}' % (
                key.encode(),
                document["crc32"].encode(),
                encode(document["entry"]),
            )
        except (TypeError, KeyError, AttributeError, ValueError):
            raise Damage(f"holds something else than an entry at {key!r}") from None
        line = read_line(written)
        if line is None:
            raise Damage(f"holds an entry that was altered, number {key}")
        lines.append(line._replace(start=start))
        start += len(written) + len(BETWEEN)
    return checked(lines, unit)


def checked(lines: list[Line], unit: str) -> list[Line]:
    """`lines`, unless they cannot all belong in one file of `unit`."""
    if any(line.unit != unit for line in lines):
        raise Damage("holds entries of another unit")
    if len({line.seq for line in lines}) != len(lines) or len({line.id for line in lines}) != len(lines):
        raise Damage("holds an entry twice")
    return lines


def salvage(data: bytes, unit: str) -> list[Line]:
    """Every line of a damaged file that is still whole."""
    pieces = re.split(rb"\n", data)
    lines = (read_line(piece.strip().removesuffix(b",")) for piece in pieces)
    return [line for line in lines if line is not None and line.unit == unit]
