"""How much each device has sent today, kept in memory: it is forgotten when the server starts anew."""

import threading
from collections import defaultdict
from datetime import date

from ..register import A_DAY, utc_now


class FolderAmounts:
    """What each device has sent today; forgotten when the server starts anew."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.day: date | None = None
        self.sent: dict[tuple[str, str], int] = defaultdict(int)

    def take(self, device_id: str, to: str, size: int) -> bool:
        """Count what a device sends; returns False if that would be more than it may send in a day."""
        with self.lock:
            today = utc_now().date()
            if today != self.day:
                self.day = today
                self.sent.clear()
            if to in A_DAY and self.sent[device_id, to] + size > A_DAY[to]:
                return False
            self.sent[device_id, to] += size
            return True
