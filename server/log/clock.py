"""The PC's own clock: whether it may be gone by, so that no phone is blamed for what the PC's clock did.

It may not while it shows a time before the newest entry came, or before this program was written; nor after it was set,
or fell, while Slipbook ran, which its ticks tell. It may again once it was set right, or once a clock that is not the
PC's own agrees with it.
"""

import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any, NamedTuple

from ..engine.history.clock_words import duration
from ..engine.history.clocks import NEAR_S

# This program is no older.
PROGRAM_DATE = datetime(2026, 11, 1, tzinfo=UTC)
# A PC that asks for the time in the network sets its clock by less than this many seconds.
JUMP_S = 120
# How many of the newest entries tell when the last one came.
NEWEST = 50
# The system's ticks, and whether they go on while the PC sleeps.
BOOT_TICKS = getattr(time, "CLOCK_BOOTTIME", None)


def wall() -> datetime:
    """What the PC's clock shows."""
    return datetime.now(UTC)


def ticks() -> float:
    """Seconds by a clock that nobody can set."""
    return time.monotonic() if BOOT_TICKS is None else time.clock_gettime(BOOT_TICKS)


class Reading(NamedTuple):
    """What the PC's clock shows, and whether it may be gone by."""

    at: datetime
    is_sound: bool


class PcClock:
    """Watches the PC's clock.

    Parameters
    ----------
    wall, ticks : callable, optional
        What the clock shows, and seconds that nobody can set.
    counts_sleep : bool, optional
        Whether the ticks go on while the PC sleeps; otherwise a night's sleep looks like a clock that was set forward.

    Attributes
    ----------
    is_trusted : bool
        Whether somebody said, for this run, that the clock is right, though an entry came at a later time.
    problem : str
        What is wrong with it and what to do, as it was last looked at; empty if nothing is.
    """

    is_trusted = False

    def __init__(
        self,
        wall: Callable[[], datetime] = wall,
        ticks: Callable[[], float] = ticks,
        counts_sleep: bool = BOOT_TICKS is not None,
    ) -> None:
        self.wall, self.ticks, self.counts_sleep = wall, ticks, counts_sleep
        self.newest = PROGRAM_DATE
        # Clock and ticks when it was last sound; None before that.
        self.last_sound: tuple[datetime, float] | None = None
        self.problem = ""

    def start(self, entries: list[dict[str, Any]]) -> None:
        """Begin, with the newest entries of the log in the order in which they came."""
        received = [row["received"] for row in entries if row.get("received") and not row.get("received_unsure")]
        self.newest = max(PROGRAM_DATE, datetime.fromisoformat(received[-1])) if received else PROGRAM_DATE
        if self.is_trusted:
            self.last_sound = (self.wall(), self.ticks())

    def look(self) -> Reading:
        """What it shows now, and whether it may be gone by."""
        now, ticks = self.wall(), self.ticks()
        self.problem = self.find_problem(now, ticks)
        if not self.problem:
            self.last_sound = (now, ticks)
        return Reading(now, not self.problem)

    def find_problem(self, now: datetime, ticks: float) -> str:
        """What is wrong with what it shows; empty if nothing is."""
        advice = "If it is right now, start Slipbook once with --clock-is-right. Until then it judges no other clock."
        shows = f"{now:%Y-%m-%d %H:%M} UTC"
        if self.last_sound is None:
            if now >= self.newest - timedelta(seconds=JUMP_S):
                return ""
            event = "this Slipbook was made" if self.newest == PROGRAM_DATE else "an entry came"
            return f"The PC's clock shows {shows}, but {event} on {self.newest:%Y-%m-%d}: set the PC's clock. {advice}"
        drift_s = (now - self.last_sound[0]).total_seconds() - (ticks - self.last_sound[1])
        if drift_s < -JUMP_S or (drift_s > JUMP_S and self.counts_sleep):
            direction = "back" if drift_s < 0 else "forward"
            return f"The PC's clock was set {direction} by {duration(drift_s)}, to {shows}: set it right. {advice}"
        return ""

    def compare(self, sent: datetime) -> None:
        """Note what a clock shows that is not the PC's own: if both agree, the PC's is right."""
        now, ticks = self.wall(), self.ticks()
        if self.find_problem(now, ticks) and now >= PROGRAM_DATE and abs((now - sent).total_seconds()) <= NEAR_S:
            self.last_sound = (now, ticks)
            self.problem = ""
