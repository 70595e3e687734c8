"""What came back to a log that had lost it: how many entries and photos, from which device, when."""

import json
from datetime import UTC, datetime, timedelta
from typing import Any

from . import durable
from .folder import Folder

# Far more than a workshop has devices.
MOST_ROWS = 200
NEWS_DAYS = 31


class Returned:
    """The book of what came back, one row for each device and generation; the oldest rows make room for new ones.

    Attributes
    ----------
    rows : list of dict
        Of each: generation, source, entries, photos, and when the last of it came.
    total : int
        How many entries came back in all, so that a phone knows that more are there under numbers that it has passed.
    """

    def __init__(self, folder: Folder) -> None:
        self.folder = folder
        self.rows: list[dict[str, Any]] = []
        self.total = 0
        try:
            content = json.loads(folder.returned.read_bytes())
            self.rows = [dict(row) for row in content["rows"]]
            self.total = int(content["total"])
        except (OSError, ValueError, KeyError, TypeError):
            # It only tells what happened; the entries themselves are in the log.
            return

    def recent(self) -> list[dict[str, Any]]:
        """The rows that are still news: those of the last month."""
        month_ago = (datetime.now(UTC) - timedelta(days=NEWS_DAYS)).isoformat(timespec="seconds")
        return [row for row in self.rows if row["at"] >= month_ago]

    def note(self, generation: str, source: str, entries: int, photos: int) -> None:
        """Add to what a device brought back.

        Raises
        ------
        LogFault
            It cannot be written.
        """
        row = next((row for row in self.rows if (row["generation"], row["source"]) == (generation, source)), None)
        if row is None:
            row = {"generation": generation, "source": source, "entries": 0, "photos": 0}
            self.rows = [*self.rows, row][-MOST_ROWS:]
        row["entries"] += entries
        row["photos"] += photos
        row["at"] = datetime.now(UTC).isoformat(timespec="seconds")
        self.total += entries
        content = {"rows": self.rows, "total": self.total}
        durable.write(self.folder.returned, (json.dumps(content, ensure_ascii=False, indent=1) + "\n").encode())
