"""Where everything lies in a data folder.

units/<unit>.json      one file a unit
shop.json              entries of no unit, such as the kit
earlier/, newest/      the generation before, and a second copy of what was written last
damaged/               files that were set aside, each with a note on what was wrong
in-use.lock            held by the one Slipbook that writes here
"""

import re
from contextlib import suppress
from pathlib import Path

from .durable import UNFINISHED, Generations, settle

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
        self.lock = root / "in-use.lock"

    def make(self) -> None:
        """Make what is missing, and clear away what a kill left half-written."""
        for folder in (self.units, self.earlier, self.newest, self.spare, self.damaged):
            folder.mkdir(parents=True, exist_ok=True)
        for folder in (self.root, self.units, self.earlier, self.newest):
            for left in folder.glob("*" + UNFINISHED):
                left.unlink()
        # New folders have to survive a power cut, and so has what was in place, not yet settled, when a kill came.
        settle(self.units)
        settle(self.root)
        with suppress(OSError):
            settle(self.root.resolve().parent)

    def file(self, unit: str) -> Path:
        """The file of a unit, or the shop's."""
        return self.units / f"{unit}.json" if unit else self.root / "shop.json"

    def copies(self, unit: str) -> tuple[Path, Path]:
        """The generation before, and the second copy of what was written last."""
        name = self.file(unit).name
        return self.earlier / name, self.newest / name

    def generations(self, unit: str) -> Generations:
        """Where the file of a unit goes when the next one takes its place."""
        name = self.file(unit).name
        return Generations(self.earlier / name, self.spare / name)

    def known_units(self) -> list[str]:
        """Every unit that has a file, or had one of which copies are left; the shop first."""
        names = {
            path.stem
            for folder in (self.units, self.earlier, self.newest)
            if folder.is_dir()
            for path in folder.glob("*.json")
        }
        return [SHOP] + sorted(name for name in names if UNIT_NAME.fullmatch(name))

    def notes(self) -> list[str]:
        """What is known of damaged files, oldest first."""
        if not self.damaged.is_dir():
            return []
        return [path.read_text("utf-8").strip() for path in sorted(self.damaged.glob("*.txt"))]
