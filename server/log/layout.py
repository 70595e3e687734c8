"""The format of a unit's file: readable JSON, one entry a line, a checksum before each.

    {"entries": {
    "17": {"crc32": "9a3f1c22", "entry": {"seq": 17, "id": "...", "unit": "...", ...}},
    "21": {"crc32": "0b77e0d1", "entry": {...}}
    }}

Behind its unit an entry has no spaces between names and values; in files of older versions it has them there too.

An entry never changes, and new entries go to the end. So a line keeps its place in the file, and each line can be
checked and read without its neighbours. The checksum is the CRC-32 of the entry's text in UTF-8, as in ISO 3309.
"""

import json
import re
import zlib
from collections.abc import Iterable
from contextlib import suppress
from typing import Any, NamedTuple

import orjson

from .faults import Damage

TABLE = "entries"
HEAD = b'{"entries": {\n'
BETWEEN = b",\n"
TAIL = b"\n}}\n"

LINE_HEAD = re.compile(
    rb'"(\d{1,15})": \{"crc32": "([0-9a-f]{8})", "entry": '
    rb'(?=\{"seq": (\d{1,15}), "id": "([0-9a-f-]{36})", "unit": "([0-9a-f-]{0,36})", )'
)


# How an entry begins as orjson writes it.
ENTRY_HEAD = re.compile(rb'\{"seq":(\d{1,15}),"id":"([0-9a-f-]{36})","unit":"([0-9a-f-]{0,36})",')


class Line(NamedTuple):
    """One entry as its file holds it.

    Attributes
    ----------
    seq, id, unit
        The entry's own.
    data : memoryview
        The line, without what separates it from the next.
    start : int
        Where in the file the line begins.
    text_start : int
        Where in the line the entry's text begins.
    """

    seq: int
    id: str
    unit: str
    data: memoryview
    start: int
    text_start: int

    @property
    def text(self) -> bytes:
        """The entry's text, whose checksum the line holds."""
        return bytes(self.data[self.text_start : -1])

    @property
    def entry(self) -> dict[str, Any]:
        """The entry itself."""
        entry: dict[str, Any] = orjson.loads(self.text)
        return entry


def encode_entry(entry: dict[str, Any]) -> bytes:
    """An entry's text; `entry` begins with seq, id and unit, in this order."""
    with suppress(orjson.JSONEncodeError):
        text = orjson.dumps(entry)
        head = ENTRY_HEAD.match(text)
        if head is not None:
            return b'{"seq": %s, "id": "%s", "unit": "%s", %s' % (*head.groups(), text[head.end() :])
    return encode_with_spaces(entry)


def encode_with_spaces(entry: dict[str, Any]) -> bytes:
    """An entry's text as older versions wrote it."""
    return json.dumps(entry, ensure_ascii=False, allow_nan=False).encode()


def encode_line(seq: int, text: bytes) -> bytes:
    """The line for an entry's text."""
    return b'"%d": {"crc32": "%08x", "entry": %s}' % (seq, zlib.crc32(text), text)


def encode_file(lines: Iterable[bytes | memoryview]) -> bytes:
    """The content of a file with these lines."""
    return HEAD + BETWEEN.join(lines) + TAIL


def decode_line(data: bytes, start: int = 0, end: int | None = None) -> Line | None:
    """The line from `start` to `end` of `data`, or None if it is damaged."""
    end = len(data) if end is None else end
    head = LINE_HEAD.match(data, start, end)
    if head is None or data[end - 1 : end] != b"}" or head[1] != head[3]:
        return None
    # A view, since copying every entry costs as much as checking it.
    line = memoryview(data)[start:end]
    text_start = head.end() - start
    if int(head[2], 16) != zlib.crc32(line[text_start:-1]):
        return None
    return Line(int(head[1]), head[4].decode(), head[5].decode(), line, start, text_start)


def decode_file(data: bytes, unit: str) -> list[Line]:
    """Every line of a file, each checked.

    Parameters
    ----------
    data : bytes
        The content of the file.
    unit : str
        The unit whose entries it holds; empty for the shop's own.

    Raises
    ------
    Damage
        The file, or any entry in it, is not what was written.
    """
    if not (data.startswith(HEAD) and data.endswith(TAIL)):
        return decode_reformatted(data, unit)
    lines = []
    start, last = len(HEAD), len(data) - len(TAIL)
    while start < last:
        end = data.find(BETWEEN, start, last)
        line = decode_line(data, start, end if end >= 0 else last)
        if line is None:
            return decode_reformatted(data, unit)
        lines.append(line)
        start = start + len(line.data) + len(BETWEEN)
    check_lines(lines, unit)
    return lines


def decode_reformatted(data: bytes, unit: str) -> list[Line]:
    """The lines of a file that a person or a program has reformatted, placed as `encode_file` would place them."""
    lines = []
    start = len(HEAD)
    for key, document in find_documents(data):
        line_data = encode_document(key, document)
        line = decode_line(line_data)
        if line is None:
            raise Damage(f"holds an entry that was altered, number {key}")
        lines.append(line._replace(start=start))
        start += len(line_data) + len(BETWEEN)
    check_lines(lines, unit)
    return lines


def find_documents(data: bytes) -> list[tuple[str, Any]]:
    """What a file holds under each number; also twice under one, since JSON allows that."""
    try:
        content = json.loads(data, object_pairs_hook=keep_repeated_names)
    except (ValueError, RecursionError):
        raise Damage("is cut short or is not JSON") from None
    documents = content.get(TABLE) if isinstance(content, dict) else None
    if isinstance(documents, dict) and len(content) == 1:
        return list(documents.items())
    if isinstance(documents, RepeatedNames) and len(content) == 1:
        return documents
    raise Damage("does not hold entries")


class RepeatedNames(list[tuple[str, Any]]):
    """Names and values of a JSON object that has a name twice."""


def keep_repeated_names(pairs: list[tuple[str, Any]]) -> dict[str, Any] | RepeatedNames:
    """A JSON object, of which nothing is dropped."""
    named = dict(pairs)
    return named if len(named) == len(pairs) else RepeatedNames(pairs)


def encode_document(key: str, document: Any) -> bytes:
    """The line for what a reformatted file holds under a number."""
    try:
        entry, checksum = document["entry"], document["crc32"].encode()
        texts = [encode_entry(entry), encode_with_spaces(entry)]
        text = next((text for text in texts if b"%08x" % zlib.crc32(text) == checksum), texts[0])
        return b'"%s": {"crc32": "%s", "entry": %s}' % (key.encode(), checksum, text)
    except (TypeError, KeyError, AttributeError, ValueError):
        raise Damage(f"holds something other than an entry at {key!r}") from None


def check_lines(lines: list[Line], unit: str) -> None:
    """Refuse lines that cannot all belong in one file of `unit`.

    Raises
    ------
    Damage
        One is of another unit, or two have the same number or id.
    """
    if any(line.unit != unit for line in lines):
        raise Damage("holds entries of another unit")
    if len({line.seq for line in lines}) != len(lines) or len({line.id for line in lines}) != len(lines):
        raise Damage("holds an entry twice")


def salvage(data: bytes) -> list[Line]:
    """Every undamaged line of a file, of whatever unit; of one that was reformatted too, as far as it is JSON."""
    pieces = re.split(rb"\n", data)
    lines = [line for piece in pieces if (line := decode_line(piece.strip().removesuffix(b",")))]
    if lines:
        return lines
    with suppress(Damage):
        for key, document in find_documents(data):
            with suppress(Damage):
                line = decode_line(encode_document(key, document))
                if line is not None:
                    lines.append(line)
    return lines
