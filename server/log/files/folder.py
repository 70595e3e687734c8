"""Where the files of a data folder are.

units/<unit>.json      one file a unit
shop.json              entries that belong to no unit, such as the kit
earlier/, newest/      the previous generation of each file, and a second copy of the entries written last
spare/                 the generation before the previous one, whose space the next one reuses
damaged/               damaged files that were set aside, each with a note on what was wrong
identity.json          which log it is (see identity.py); a copy of it is in earlier
returned.json          what came back to it from which device
moved.txt              where the log went, if it was moved away: then it is opened here no more
in-use.lock            held by the Slipbook that writes here
"""

import re
from contextlib import suppress
from pathlib import Path

from ..durable import UNFINISHED, Generations, sync_folder, write
from ..faults import LogFault

SHOP = ""
UNIT_NAME = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")


class Folder:
    """The paths of one data folder."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.units = root / "units"
        self.earlier = root / "earlier"
        self.newest = root / "newest"
        self.spare = root / "spare"
        self.damaged = root / "damaged"
        self.identity = root / "identity.json"
        self.returned = root / "returned.json"
        self.moved = root / "moved.txt"
        self.lock = root / "in-use.lock"

    def make(self) -> None:
        """Make missing folders, and delete files that a kill left half-written.

        Raises
        ------
        LogFault
            The log was moved elsewhere.
        """
        with suppress(FileNotFoundError):
            where = self.moved.read_text("utf-8").strip()
            raise LogFault(
                f"The log of {self.root} was moved to {where}: serve it from there. To serve this copy all the same, "
                f"which phones would take for the same log, delete {self.moved.name}."
            )
        for folder in (self.units, self.earlier, self.newest, self.spare, self.damaged):
            folder.mkdir(parents=True, exist_ok=True)
        for folder in (self.root, self.units, self.earlier, self.newest):
            for unfinished in folder.glob("*" + UNFINISHED):
                unfinished.unlink()
        # New folders must survive a power cut, and so must files that a kill left in place but not yet synced.
        sync_folder(self.units)
        sync_folder(self.root)
        with suppress(OSError):
            sync_folder(self.root.resolve().parent)

    def note_moved(self, where: str) -> None:
        """Note where the log went: from now on it is not opened here."""
        write(self.moved, f"{where}\n".encode())

    def file(self, unit: str) -> Path:
        """The file of a unit; of the shop for ""."""
        return self.units / f"{unit}.json" if unit else self.root / "shop.json"

    def copies(self, unit: str) -> tuple[Path, Path]:
        """The previous generation of a unit's file, and the second copy of the entries written last."""
        name = self.file(unit).name
        return self.earlier / name, self.newest / name

    def generations(self, unit: str) -> Generations:
        """Where a unit's file is kept when the next generation replaces it."""
        name = self.file(unit).name
        return Generations(self.earlier / name, self.spare / name)

    def known_units(self) -> list[str]:
        """Every unit that has a file or copies of one, after the shop."""
        names = {
            path.stem
            for folder in (self.units, self.earlier, self.newest)
            if folder.is_dir()
            for path in folder.glob("*.json")
        }
        return [SHOP] + sorted(name for name in names if UNIT_NAME.fullmatch(name))

    def all_files(self) -> list[Path]:
        """Every file that holds entries, or held some before it was set aside or replaced."""
        folders = (self.units, self.newest, self.earlier, self.damaged)
        return [self.file(SHOP), *(path for folder in folders for path in sorted(folder.glob("*.json")))]

    def notes(self) -> list[str]:
        """The notes on damaged files, in the order of their names."""
        if not self.damaged.is_dir():
            return []
        return [path.read_text("utf-8").strip() for path in sorted(self.damaged.glob("*.txt"))]
