"""Reads a whole data folder without changing it, also while a Slipbook writes there."""

from pathlib import Path

from ..contents import Contents
from ..faults import Damage, LogFault
from ..gaps import describe_gaps, without_skipped
from ..layout import Line
from .folder import Folder
from .identity_file import read_identity
from .index import Index
from .recovery import gather_lines, load


def survey(root: Path) -> Contents:
    """What a data folder holds.

    Raises
    ------
    LogFault
        It is not a data folder, or cannot be read.
    """
    folder = Folder(root)
    if not folder.units.is_dir():
        raise LogFault(f"{root} is not a data folder of Slipbook: name the one that `slipbook serve` uses.")
    faults = folder.notes()
    damages: dict[str, str] = {}
    # Numbers are given in the order in which entries become durable. So a second reading finds every entry up to the
    # highest number of the first, whatever is written meanwhile.
    first_reading = read_units(folder, damages)
    last = max((line.seq for lines in first_reading.values() for line in lines), default=0)
    second_reading = read_units(folder, damages)
    by_unit = {unit: [line for line in lines if line.seq <= last] for unit, lines in second_reading.items()}
    index = Index()
    for lines in by_unit.values():
        index.add(lines)
    index.sort()
    faults += damages.values()
    if index.repeats():
        faults.append(
            "Two files use the same numbers: one came from another data folder. Start Slipbook, which corrects it."
        )
    gaps = without_skipped(index.gaps(), skipped_in(folder))
    if gaps:
        faults.append(describe_gaps(gaps))
    return Contents(last, {unit: lines for unit, lines in by_unit.items() if lines}, faults)


def skipped_in(folder: Folder) -> list[list[int]]:
    """Runs of numbers that a restore gave to no entry."""
    try:
        identity = read_identity(folder)
    except LogFault:
        return []
    return identity.skipped if identity else []


def read_units(folder: Folder, damages: dict[str, str]) -> dict[str, list[Line]]:
    """Every undamaged line by unit; puts a sentence for each damaged file into `damages`."""
    by_unit = {}
    for unit in folder.known_units():
        try:
            by_unit[unit] = load(folder, unit)[0]
        except Damage as damage:
            intact, lost = gather_lines(folder, unit)
            name = folder.file(unit).relative_to(folder.root).as_posix()
            rest = f" and {len(lost)} cannot" if lost else ""
            damages[unit] = (
                f"{name} {damage.reason}. {len(intact)} of its entries can be brought back{rest}: start Slipbook, "
                "which does so and keeps the damaged file."
            )
            by_unit[unit] = intact
    return by_unit
