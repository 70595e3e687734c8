"""Erasures in the files of a log: the line of an entry is written anew, with its number and a checksum of its own."""

from collections.abc import Iterable, Iterator
from contextlib import suppress
from typing import Any

from .. import durable
from ..erasing import KIND, MARKS, Erasures
from ..layout import Line, encode_entry, encode_file, encode_line, salvage
from .folder import Folder


def entries_with(lines: Iterable[Line], erasure: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Entries in which an erasure may find something; others are not even read."""
    body = erasure["body"]
    names = [*(body.get("ids") or []), *(cut["entry"] for cut in body.get("cuts") or [])]
    marks = [name.encode() for name in names]
    for line in lines:
        if any(mark in line.text for mark in marks):
            yield line.entry


def learn_erasures(erasures: Erasures, new: Iterable[dict[str, Any]], lines: Iterable[Line]) -> bool:
    """Go by the erasures among new entries, each with its marks of these and of lines; whether there are any."""
    new_entries = list(new)
    new_erasures = [entry for entry in new_entries if entry["kind"] == KIND]
    held_lines = list(lines) if any(MARKS not in entry for entry in new_erasures) else []
    for entry in new_erasures:
        if MARKS not in entry:
            entry[MARKS] = erasures.marks_for(entry, (*new_entries, *entries_with(held_lines, entry)))
        erasures.learn(entry)
    return bool(new_erasures)


def without_erased(line: Line, erasures: Erasures) -> bytes | None:
    """A line without what was erased; None where nothing has to be changed."""
    if not erasures.may_touch(line.text, line.unit):
        return None
    entry = line.entry
    changed = erasures.apply_to(entry)
    return None if changed is entry else encode_line(line.seq, encode_entry(changed))


def erase_in(folder: Folder, unit: str, lines: list[Line], erasures: Erasures) -> bool:
    """Write a unit's file without what was erased; whether anything had to be changed.

    In its copies nothing stays that was erased either; the file comes first, so that a kill at any moment leaves one
    that is whole.
    """
    changed = [without_erased(line, erasures) for line in lines]
    is_changed = any(line is not None for line in changed)
    if is_changed:
        data = encode_file(line.data if new is None else new for line, new in zip(lines, changed))
        durable.write(folder.file(unit), data)
    for copy in (*folder.copies(unit), folder.generations(unit).spare):
        with suppress(OSError):
            if any(without_erased(line, erasures) is not None for line in salvage(copy.read_bytes())):
                if copy == folder.copies(unit)[0]:
                    durable.write(copy, folder.file(unit).read_bytes())
                else:
                    copy.unlink()
    return is_changed
