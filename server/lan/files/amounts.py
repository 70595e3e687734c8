"""How much each device has sent today, kept in memory: it is forgotten when the server starts anew."""

import threading
from collections import defaultdict
from datetime import date

from ..register import MOST_BYTES_A_DAY, utc_now


class FolderSentAmounts:
    """What each device has sent today; forgotten when the server starts anew."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.day: date | None = None
        self.sent_bytes: dict[tuple[str, str], int] = defaultdict(int)

    def count(self, device_id: str, target: str, size: int) -> bool:
        """Count what a device sends; returns False if that would be more than it may send in a day."""
        with self.lock:
            today = utc_now().date()
            if today != self.day:
                self.day = today
                self.sent_bytes.clear()
            if target in MOST_BYTES_A_DAY and self.sent_bytes[device_id, target] + size > MOST_BYTES_A_DAY[target]:
                return False
            self.sent_bytes[device_id, target] += size
            return True
