"""What came back to a log that had lost it: how many entries and photos, from which device, when."""

from datetime import UTC, datetime, timedelta
from typing import Any

# Far more than a workshop has devices.
MOST_ROWS = 200
NEWS_DAYS = 31


class Returned:
    """The book of what came back, one row for each device and generation.

    Attributes
    ----------
    rows : list of dict
        Of each: generation, source, entries, photos, and when the last of it came.
    total : int
        How many entries came back in all, so that a phone knows that more are there under numbers that it has passed.
    """

    def __init__(self, rows: list[dict[str, Any]], total: int) -> None:
        self.rows = rows
        self.total = total

    def recent(self) -> list[dict[str, Any]]:
        """The rows that are still news: those of the last month."""
        month_ago = (datetime.now(UTC) - timedelta(days=NEWS_DAYS)).isoformat(timespec="seconds")
        return [row for row in self.rows if row["at"] >= month_ago]
