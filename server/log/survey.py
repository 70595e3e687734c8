"""Looks through a data folder without touching it, also while a Slipbook writes there."""

from pathlib import Path
from typing import NamedTuple

from .faults import Damage, LogFault
from .folder import Folder
from .index import Index
from .layout import Line
from .log import told_of_gaps
from .recovery import gather, load


class Survey(NamedTuple):
    """What a data folder holds up to one moment.

    Attributes
    ----------
    last : int
        Number of the newest entry of that moment.
    lines : dict
        Unit -> its entries; "" for the shop's own.
    faults : list of str
        A sentence or two on each damage.
    """

    last: int
    lines: dict[str, list[Line]]
    faults: list[str]

    @property
    def entries(self) -> int:
        """How many entries there are."""
        return sum(map(len, self.lines.values()))


def survey(root: Path) -> Survey:
    """What a data folder holds.

    Raises
    ------
    LogFault
        It is no data folder, or cannot be read.
    """
    folder = Folder(root)
    if not folder.units.is_dir():
        raise LogFault(f"{root} is no data folder of Slipbook: name the one that `slipbook serve` uses.")
    faults = folder.notes()
    damages: dict[str, str] = {}
    # Numbers are given in the order in which entries become durable. So once the highest number was seen, a second
    # look finds all below it, whatever is written meanwhile.
    first = look(folder, damages)
    last = max((line.seq for lines in first.values() for line in lines), default=0)
    second = look(folder, damages)
    lines = {unit: [line for line in found if line.seq <= last] for unit, found in second.items()}
    index = Index()
    for found in lines.values():
        index.put(found)
    index.sort()
    faults += damages.values()
    if len(index.places) < len(index.in_order):
        faults.append("Two files use the same numbers: one came from another data folder. Starting Slipbook mends it.")
    if index.gaps():
        faults.append(told_of_gaps(index.gaps()))
    return Survey(last, {unit: found for unit, found in lines.items() if found}, faults)


def look(folder: Folder, damages: dict[str, str]) -> dict[str, list[Line]]:
    """Every whole entry by unit; notes what is damaged."""
    found = {}
    for unit in folder.known_units():
        try:
            found[unit] = load(folder, unit)[0]
        except Damage as damage:
            whole, lost = gather(folder, unit)
            name = folder.file(unit).relative_to(folder.root).as_posix()
            rest = f" and {len(lost)} cannot" if lost else ""
            damages[unit] = (
                f"{name} {damage.reason}. {len(whole)} of its entries can be brought back{rest}: start Slipbook, "
                "which does so and keeps the damaged file."
            )
            found[unit] = whole
    return found
