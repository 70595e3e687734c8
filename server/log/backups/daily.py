"""A backup a day, written by itself into a folder that is named: a stick, a share, another disk."""

import re
import tempfile
import threading
from contextlib import suppress
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from ..durable import UNFINISHED
from ..faults import LogFault
from ..store import Log
from .backup import back_up_log, restore

KEPT_DAYS, KEPT_MONTHS = 7, 12
# How often it is looked whether a backup is due, in seconds: a stick may be plugged in at any time.
EVERY_S = 300.0


class DailyBackups:
    """The backups of one log in one folder: a new one each day, each checked, the old ones thinned out.

    Parameters
    ----------
    log : Log
        The log.
    target : Path
        Where the backups go. It is never made: a stick that is not plugged in must not become a folder of this disk.

    Attributes
    ----------
    made : str
        When the last good backup was made, in ISO 8601; empty if there is none.
    problem : str
        Why there is no newer one, in a sentence; empty if all is well.

    Raises
    ------
    LogFault
        The folder is in the data folder, and would be lost with it.
    """

    def __init__(self, log: Log, target: Path) -> None:
        if log.would_lose(target):
            raise LogFault(f"{target} is in the data folder and would be lost with it: name a folder elsewhere.")
        self.log, self.target = log, target
        # Several logs may share a stick.
        self.prefix = f"slipbook-{log.identity.log_id[:8]}-"
        self.last_made_at = ""
        self.problem = ""
        self.checked: set[str] = set()
        self.stopping = threading.Event()

    def start(self) -> None:
        """Begin to look every few minutes, in a thread of its own."""
        threading.Thread(target=self.make_until_stopped, daemon=True).start()

    def make_until_stopped(self) -> None:
        """Make the backups that become due until stopped."""
        while not self.stopping.is_set():
            self.make_due(date.today())
            self.stopping.wait(EVERY_S)

    def stop(self) -> None:
        """Make no more backups."""
        self.stopping.set()

    def files(self) -> list[Path]:
        """The backups of this log that are there, the oldest first."""
        name = re.compile(re.escape(self.prefix) + r"\d{4}-\d\d-\d\d\.zip")
        return sorted(
            path for path in self.target.glob(f"{self.prefix}*.zip") if name.fullmatch(path.name) and path.is_file()
        )

    def make_due(self, today: date) -> None:
        """Make and check today's backup unless that was done; notes in `last_made_at` and `problem` how it stands."""
        try:
            if not self.target.is_dir():
                raise LogFault(f"The folder {self.target} for backups is not there: plug it in, or name another.")
            self.find_last_good()
            file = self.target / f"{self.prefix}{today.isoformat()}.zip"
            if file.name not in self.checked:
                self.make_checked(file)
                self.thin_out()
        except (LogFault, OSError) as failure:
            self.problem = str(failure)
        else:
            self.problem = ""

    def make_checked(self, file: Path) -> None:
        """Write a backup and check it; one that is no good is kept apart under another name."""
        self.remove_unfinished()
        back_up_log(self.log, file)
        if not self.is_good(file):
            raise LogFault(f"The backup in {self.target} could not be restored: check the stick or the disk.")
        self.note_good(file)

    def find_last_good(self) -> None:
        """Check the newest backups that no start has checked yet, until one is good."""
        for file in reversed(self.files()):
            if file.name in self.checked:
                return
            if self.is_good(file):
                self.note_good(file)
                return

    def is_good(self, file: Path) -> bool:
        """Whether a backup can be restored; one that cannot is set aside."""
        with tempfile.TemporaryDirectory(prefix="slipbook-check-") as folder:
            try:
                restore(file, Path(folder) / "log")
            except LogFault:
                with suppress(OSError):
                    file.replace(file.with_name(file.name + ".damaged"))
                return False
        return True

    def note_good(self, file: Path) -> None:
        """Remember that a backup is good, and when it was made."""
        self.checked.add(file.name)
        made_at = datetime.fromtimestamp(file.stat().st_mtime, UTC).isoformat(timespec="seconds")
        self.last_made_at = max(self.last_made_at, made_at)

    def remove_unfinished(self) -> None:
        """Remove what a backup that was killed has left."""
        for leftover in self.target.glob(f"{self.prefix}*{UNFINISHED}"):
            leftover.unlink(missing_ok=True)

    def thin_out(self) -> None:
        """Keep the last seven backups and the last of each of twelve months; delete the others."""
        files = self.files()
        last_of_month = {file.name[: len(self.prefix) + len("2026-11")]: file for file in files}
        months = [last_of_month[month] for month in sorted(last_of_month)[-KEPT_MONTHS:]]
        for file in files:
            if file not in files[-KEPT_DAYS:] and file not in months:
                file.unlink(missing_ok=True)

    def as_answer(self) -> dict[str, Any]:
        """What devices are told."""
        days = (datetime.now(UTC) - datetime.fromisoformat(self.last_made_at)).days if self.last_made_at else None
        return {"made": self.last_made_at or None, "days": days, "problem": self.problem}
