"""Carries a whole log from one store into another, with its ids, numbers, times, receipts and photos."""

from typing import NamedTuple

from ..answer import REFUSED
from ..contents import Contents
from ..faults import LogFault
from ..store import Log
from ..stored_entry import read_entry

BATCH = 500


class Carried(NamedTuple):
    """How many entries and photos a log has after it was carried, and what was found damaged before."""

    entries: int
    photos: int
    faults: list[str]


def carry(source: Log, target: Log) -> Carried:
    """Carry a log into another that is empty, or into which the same log was being carried when that broke off.

    Parameters
    ----------
    source : Log
        The log, to which nobody adds meanwhile.
    target : Log
        Becomes the same log.

    Raises
    ------
    LogFault
        The target is another log, or what arrived is not what was sent.
    """
    contents = source.contents()
    if target.identity.log_id != source.identity.log_id:
        target.adopt(source.identity)
    lines = sorted((line for lines in contents.lines.values() for line in lines), key=lambda line: line.seq)
    for start in range(0, len(lines), BATCH):
        for answer in target.add([read_entry(line) for line in lines[start : start + BATCH]]):
            if answer.answer == REFUSED:
                raise LogFault(f"Entry {answer.entry['id']} is there already with other content: it was not moved.")
    for name in source.photos.names():
        if not target.photos.progress(name).whole and (data := source.photos.read(name)) is not None:
            target.photos.put_whole(name, data)
    arrived = target.contents()
    if differ(contents, arrived) or source.photos.names() != target.photos.names():
        raise LogFault("What arrived is not what was sent: nothing was taken away; try again in a new place.")
    return Carried(arrived.entries, len(target.photos.names()), contents.faults)


def differ(source: Contents, target: Contents) -> bool:
    """Whether two logs hold other entries, byte for byte."""
    texts = [{line.seq: line.text for lines in log.lines.values() for line in lines} for log in (source, target)]
    return texts[0] != texts[1]
