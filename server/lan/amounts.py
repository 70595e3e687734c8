"""How much each device may send in a day, so that one that went wrong fills neither the log nor the disk."""

import threading
from collections import defaultdict
from datetime import UTC, date, datetime

# In bytes, by what is written to: far more than a busy day's entries, and some hundred photos.
A_DAY = {"log": 50 * 1000 * 1000, "photos": 500 * 1000 * 1000}


class Amounts:
    """What each device has sent today; forgotten when the server starts anew."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.day: date | None = None
        self.sent: dict[tuple[str, str], int] = defaultdict(int)

    def take(self, device_id: str, to: str, size: int) -> bool:
        """Count what a device sends; returns False if that would be more than it may send in a day, and counts nothing.

        Parameters
        ----------
        device_id : str
            The device.
        to : str
            What it writes to: "log" or "photos"; for anything else there is no limit.
        size : int
            How much it sends, in bytes.
        """
        with self.lock:
            today = datetime.now(UTC).date()
            if today != self.day:
                self.day = today
                self.sent.clear()
            if to in A_DAY and self.sent[device_id, to] + size > A_DAY[to]:
                return False
            self.sent[device_id, to] += size
            return True
