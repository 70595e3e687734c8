"""What was wrong with the clock that dated an entry, and what was done about it, in a mechanic's words."""

from typing import Any

from ..request.dates import in_zone_of
from ..request.rounded import fixed
from .clocks import EVER, NEAR_S, Facts, is_old

SET_RIGHT = " Set that clock right."
UNITS = ((86400, "day"), (3600, "hour"), (60, "minute"))


def duration(seconds: float) -> str:
    """A length of time in words, to the larger unit that fits it.

    >>> duration(43200 * 60), duration(5400), duration(360), duration(86400), duration(10)
    ('30 days', '1.5 hours', '6 minutes', '1 day', '0 minutes')
    """
    size = abs(seconds)
    length, word = UNITS[-1]
    for seconds_each, name in UNITS:
        if size >= seconds_each * 1.5 or size == seconds_each:
            length, word = seconds_each, name
            break
    count = size / length
    text = str(int(count + 0.5)) if word == "minute" or count >= 10 else fixed(count, 1)
    text = text[:-2] if text.endswith(".0") else text
    return f"{text} {word}{'' if text == '1' else 's'}"


def lag(seconds: float) -> str:
    """How far off a clock is, in words; above 0 it is slow.

    >>> lag(7200), lag(-600)
    ('2 hours slow', '10 minutes fast')
    """
    return f"{duration(seconds)} {'slow' if seconds > 0 else 'fast'}"


def local(seconds: float, entry: dict[str, Any]) -> str:
    """A time as the entry's own clock would show it, if it were right."""
    at = in_zone_of(entry["at"], seconds)
    return f"{at[:10]} {at[11:16]}"


def clock_note(entry: dict[str, Any]) -> str:
    """What was wrong with the clock of a placed entry; empty where nothing was."""
    fault = fault_of(entry)
    if fault is None:
        return ""
    whose = f"The clock of {entry['who']}'s device" if entry.get("who") else "The clock of the device"
    return f"{whose} {fault[0]}this entry counts as made {made_when(entry)}.{fault[1]}"


def fault_of(entry: dict[str, Any]) -> tuple[str, str] | None:
    """What was wrong with the clock of a placed entry, and what to do about it; None where nothing was."""
    when = entry["when"]
    off = entry.get("clock_off_s") or 0.0
    if is_old(entry):
        if when.at != when.shown:
            return "cannot have been right: ", ""
        return (f"was {lag(off)} when this entry arrived; ", SET_RIGHT) if off else None
    facts = Facts(entry)
    offsets = facts.offsets()
    showed = f"It showed {entry['at'][:10]} {entry['at'][11:16]}; "
    if not when.believed:
        return f"disagrees with what was known when this was written, so it was not used. {showed}", ""
    fell = max(facts.fell_before, facts.fell_after)
    is_bounded = offsets is not None and EVER[0] < offsets[0] and offsets[1] < EVER[1]
    if fell and not is_bounded:
        return f"fell back by {duration(fell)} and was set at a time that nobody knows. {showed}", ""
    if offsets is not None and is_bounded and offsets[1] - offsets[0] > NEAR_S:
        return f"was set, and nobody knows whether before this entry or after. {showed}", ""
    if abs(when.at - when.shown) <= NEAR_S:
        return None
    off = offset_of(offsets)
    if off is not None and abs(off) > NEAR_S:
        return f"was {lag(off)} against the workshop's PC. {showed}", SET_RIGHT
    return f"cannot have been right. {showed}", SET_RIGHT


def made_when(entry: dict[str, Any]) -> str:
    """When a placed entry counts as made, in words: a time, or two between which it lies."""
    when = entry["when"]
    first, last = when.first + NEAR_S, when.last - NEAR_S
    if last - first <= NEAR_S:
        return f"on {local(when.at, entry)}"
    if first == EVER[0] and last == EVER[1]:
        return "after those that it knew"
    if last == EVER[1]:
        return f"after {local(first, entry)}"
    return f"before {local(last, entry)}" if first == EVER[0] else f"from {local(first, entry)} to {local(last, entry)}"


def offset_of(offsets: tuple[float, float] | None) -> float | None:
    """By how much a clock was slow when it was compared; None where it was not, or lost its power."""
    if offsets is None:
        return None
    return offsets[0] if offsets[0] > EVER[0] else offsets[1]


def clock_notes(entries: list[dict[str, Any]]) -> dict[str, str]:
    """By id, what was wrong with the clocks that dated placed entries."""
    notes = {}
    for entry in entries:
        note = clock_note(entry)
        if note:
            notes[entry["id"]] = note
    return notes
