"""How much is measured in one run, and the large log that several measures share."""

import os
from pathlib import Path

from tests.installed import Installed, install

from .workshop import Workshop


class Sizes:
    """How large the logs of one run are, and the workshop that fills them.

    Parameters
    ----------
    folder : Path
        Where they are made; on the disk that is measured.
    quick : bool
        Whether a tenth of everything is enough, to see that it runs.
    long : bool
        Whether each fault is tried as often as it takes to find a rare one, for a quarter of an hour.
    """

    def __init__(self, folder: Path, quick: bool, long: bool = False) -> None:
        self.folder = folder
        self.quick = quick
        self.length = "quick" if quick else "long" if long else "usual"
        self.entries = 10_000 if quick else 100_000
        self.units = 50 if quick else 500
        self.rounds = 5 if quick else 8
        self.large = Workshop(self.units)
        self.here: Installed | None = None

    def installed(self) -> Installed:
        """Slipbook as its users have it, web files in their built form; installed at the first call."""
        if self.here is None:
            self.here = install(self.folder / "installed")
        return self.here

    def whole(self) -> Path:
        """The data folder of the large workshop, made at the first call."""
        root = self.folder / "large"
        if not root.exists():
            self.large.write(root, self.entries)
            os.sync()
        return root
