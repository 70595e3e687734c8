"""When an entry can have been made, by what is known of its device's clock: the earliest and the latest time.

A device notes with each entry when it last met the workshop's PC, and by how much their clocks differed then; the PC
measures that again as the entry arrives. Between the two a clock may have been set, once or often. One that was set
back is noticed by the device, which counts by how much; one that was set forward looks like a night's sleep.
"""

from typing import Any

from ..request.dates import seconds_at

# A clock that differs by no more than this many seconds counts as right.
NEAR_S = 300.0

EVER = (float("-inf"), float("inf"))

# How well a clock is known: compared by the PC as the entry came, or not since its device last met the PC.
MEASURED = 2
BELIEVED = 1


def time_of(at: str) -> float:
    """A time with offset, in seconds since 1970."""
    return seconds_at(at)


def is_old(entry: dict[str, Any]) -> bool:
    """Whether an older Slipbook wrote an entry, which noted nothing but the time."""
    return entry.get("knows") is None and entry.get("clock") is None


def shown_time(entry: dict[str, Any]) -> float:
    """What the device's clock showed, in seconds since 1970; of old entries corrected by what it was off on arrival."""
    if is_old(entry):
        return seconds_at(entry["at"], entry.get("clock_off_s") or 0.0)
    return time_of(entry["at"])


def meetings_about(entry: dict[str, Any]) -> tuple[float, float]:
    """Between which times an entry was made whatever its clock showed: since the last meeting, before its arrival."""
    if is_old(entry):
        return EVER
    first, last = EVER
    clock = entry.get("clock") or {}
    if clock.get("met"):
        first = time_of(clock["met"]) + (clock.get("off_s") or 0.0) - NEAR_S
    if entry.get("received") and not entry.get("received_unsure"):
        last = time_of(entry["received"]) + NEAR_S
    return (first, last) if first <= last else EVER


class Facts:
    """What is known of the clock that dated an entry.

    Attributes
    ----------
    before, after : float or None
        By how many seconds it was slow when its device last met the PC, and when the entry arrived; None if unknown.
    fell_before, fell_after : float
        By how many seconds it was seen to fall between that meeting and the entry, and between the entry and its
        arrival.
    """

    def __init__(self, entry: dict[str, Any]) -> None:
        clock = entry.get("clock") or {}
        self.before = (clock.get("off_s") or 0.0) if clock.get("met") else None
        self.after = (entry.get("clock_off_s") or 0.0) if entry.get("clock_checked") else None
        self.fell_before = max(0.0, (clock.get("fell_s") or 0.0) - (clock.get("met_fell_s") or 0.0))
        self.fell_after = entry.get("clock_fell_s") or 0.0

    def offsets(self) -> tuple[float, float] | None:
        """The least and the most that the clock can have been slow as the entry was made; None where nobody knows.

        Falls make a clock slower and are seen; setting it forward makes it less so and is not. Where the falls
        that were seen make up the whole difference between the two meetings, it was not set forward in between.
        """
        before, after = self.before, self.after
        fell = self.fell_before + self.fell_after
        if after is None:
            # It may have been set forward since it was last compared.
            return None if self.fell_before or before is None else (EVER[0], before)
        if before is None:
            return None if self.fell_after else (after, EVER[1])
        if fell == 0.0:
            return (min(before, after), max(before, after))
        if after - before >= fell - NEAR_S:
            if self.fell_before and self.fell_after:
                first, last = before + self.fell_before, after - self.fell_after
                return (min(first, last), max(first, last))
            return (after, after) if self.fell_before else (before, before)
        # It was set forward as well, at a time that nobody knows.
        if self.fell_before and self.fell_after:
            return None
        return (after, EVER[1]) if self.fell_before else (EVER[0], before)


def claim_of(entry: dict[str, Any], shown: float) -> tuple[float, float, int] | None:
    """The earliest and latest time at which an entry was made by what its clock showed, and how well that is known.

    None where its clock says nothing: nobody compared it ever, or it fell and was set at an unknown time.
    """
    if is_old(entry):
        return (shown, shown, BELIEVED)
    facts = Facts(entry)
    offsets = facts.offsets()
    if offsets is None:
        return None
    known = BELIEVED if facts.after is None else MEASURED
    return (shown + offsets[0] - NEAR_S, shown + offsets[1] + NEAR_S, known)
