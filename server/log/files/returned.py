"""The file of what came back to a log that had lost it; the oldest rows make room for new ones."""

import json
from datetime import UTC, datetime

from .. import durable
from ..returned import MOST_ROWS, Returned
from .folder import Folder


class ReturnedFile(Returned):
    """The book of what came back, in a file of a data folder."""

    def __init__(self, folder: Folder) -> None:
        super().__init__([], 0)
        self.folder = folder
        try:
            content = json.loads(folder.returned.read_bytes())
            self.rows = [dict(row) for row in content["rows"]]
            self.total = int(content["total"])
        except (OSError, ValueError, KeyError, TypeError):
            # It only tells what happened; the entries themselves are in the log.
            return

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
