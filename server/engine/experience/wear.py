"""Wear over use from what the log has shown: of the torque since a rebuild, and of each kind of plate.

Both go by lines of several lives, each drawn towards the others as far as its own readings are few: see `pooled` and
`band`. The torque of a life has a level of its own, whatever others were set to, and a rise; what a plate has lost
begins at nothing and has a rise alone.
"""

import math
from typing import Any

from ..request.letters import listed
from ..request.rounded import fixed
from ..request.units import say
from ..request.written_in import WrittenIn
from .band import Band
from .pooled import FREE, NONE
from .torque_line import in_count

# What a check differs from the next alike one before any was seen, as a share of the torque, and a plate's loss, mm:
# common practice, no source.
CHECK_SHARE = 0.03
PLATE_MM = 0.01

# Nothing is said of a use more than so many times the longest that was seen.
SIGHT = 2.0

# Two-sided share that leaves 1 of 20 on one side.
ONE_SIDED = 0.90

POINTS = 25
STEPS = 24


def first_past(is_past: Any, start: float, end: float) -> float | None:
    """The first use from `start` to `end` at which something is past; None where it is not by then.

    >>> round(first_past(lambda use: use >= 3, 0.0, 10.0), 3)
    3.0
    """
    if is_past(start):
        return start
    if not is_past(end):
        return None
    low, high = start, end
    for _ in range(STEPS):
        middle = (low + high) / 2
        if is_past(middle):
            high = middle
        else:
            low = middle
    return high


def rests_on(own: int, lives: int, others: int) -> str:
    """What a prediction rests on, in words.

    >>> rests_on(1, 2, 0), rests_on(0, 1, 3)
    ('1 check since the rebuild and 2 earlier builds', '1 earlier build and 3 of other units of its pattern')
    """
    parts = []
    if own:
        parts.append(f"{in_count(own, 'check')} since the rebuild")
    if lives:
        parts.append(in_count(lives, "earlier build"))
    if others:
        builds = str(others) if lives else in_count(others, "build")
        parts.append(f"{builds} of other units of its pattern")
    return listed(parts)


def torque_wear(
    own: list[tuple[float, float]],
    earlier: list[list[tuple[float, float]]],
    others: list[list[tuple[float, float]]],
    reading: float,
    low: float | None,
    written_in: WrittenIn,
    so_far: float = 0.0,
) -> dict[str, Any] | None:
    """When the torque will come down to its limit, from the first check after a rebuild on.

    Parameters
    ----------
    own : list of (float, float)
        Use and torque, N·m, of the checks since the rebuild, once bedded in, by use; one at least.
    earlier, others : list of list of (float, float)
        The same of this unit's earlier builds, and of other units of its pattern.
    reading : float
        Standard uncertainty of a check, N·m.
    low : float or None
        The lowest torque at which it may run, N·m.
    written_in : WrittenIn
        Units to write in.
    so_far : float
        Use until today, where it is more than that of the last check.

    Returns
    -------
    dict or None
        per_use_nm, what the torque changes by for each outing, and per_use_within_nm, 95 %; likely_use, where the line
        meets the limit, and due_use, where a reading below it has a chance of 5 %, each None where not in sight;
        left_use; checks (use, torque_nm) and curve with its two-sided 95 % band; text. None where no other build was
        ever checked twice.
    """
    # A life that was looked at once says nothing of wear.
    earlier, others = ([life for life in lives if len({use for use, _ in life}) > 1] for lives in (earlier, others))
    if not own or not earlier + others:
        return None
    lives = [own] + earlier + others
    torques = [torque for life in lives for _, torque in life]
    middle = sum(torques) / len(torques)
    # What a build was set to says nothing of the next one's torque.
    band = Band(lives, 0, math.sqrt((CHECK_SHARE * middle) ** 2 + reading * reading), levels=FREE)
    now, longest = max(own[-1][0], so_far), max(use for life in lives for use, _ in life)
    end = max(SIGHT * longest, now + 1.0)
    due = likely = None
    if low:
        due = first_past(lambda use: band.value(use) - band.half(use, ONE_SIDED) <= low, now, end)
        likely = first_past(lambda use: band.value(use) <= low, now, end)
    known = [use for use in (due, likely) if use is not None]
    last = max(known + [min(end, now + 5.0)])
    within = band.slope_half()
    return {
        "per_use_nm": band.slope,
        "per_use_within_nm": within,
        "likely_use": likely,
        "due_use": due,
        "left_use": None if due is None else due - now,
        "checks": [{"use": use, "torque_nm": torque} for use, torque in own],
        "curve": curve_of(band, own[0][0], last),
        "text": torque_text(
            (band.slope, within), now, due, likely, rests_on(len(own), len(earlier), len(others)), written_in
        ),
    }


def torque_text(
    per_use: tuple[float, float],
    now: float,
    due: float | None,
    likely: float | None,
    ground: str,
    written_in: WrittenIn,
) -> str:
    """The prediction in words; `per_use` is what an outing changes, and how far off that may be, N·m."""
    change, within = (say(abs(figure), "nm", written_in.nm) for figure in per_use)
    word = "loses" if per_use[0] <= 0 else "gains"
    text = f"From {ground}: it {word} {change} an outing, give or take {within}."
    if due is None:
        return f"{text} No limit is in sight."
    if due <= now:
        return f"{text} A reading below the limit is possible now: check it before it runs again."
    more = "likely much later" if likely is None else f"likely after {fixed(likely - now, 0)}"
    return f"{text} The limit may be met after {math.floor(due - now):d} more outings at the earliest, {more}."


def curve_of(band: Band, first: float, last: float) -> list[dict[str, float]]:
    """The line and its two-sided 95 % band, ready to draw."""
    rows = []
    for place in range(POINTS):
        use = first + (last - first) * place / (POINTS - 1)
        value, half = band.value(use), band.half(use)
        rows.append({"use": use, "value_nm": value, "low_nm": max(0.0, value - half), "high_nm": value + half})
    return rows


def first_at_limit(band: Band, plates: list[dict[str, Any]], sight: float) -> float | None:
    """Outings since the rebuild at which the first plate may be at its limit; None where none is by `sight` more."""

    def after(room: float) -> float | None:
        return first_past(lambda use: band.value(use) + band.half(use, ONE_SIDED) >= room, 0.0, sight)

    ends = []
    for plate in plates:
        ahead = after(plate["mm"] - plate["minimum_mm"])
        if ahead is not None:
            ends.append(plate["at"] + ahead)
    return min(ends) if ends else None


def plate_wear(
    part: str,
    own: list[tuple[float, float]],
    others: list[list[tuple[float, float]]],
    plates: list[dict[str, Any]],
    since: float,
    written_in: WrittenIn,
) -> dict[str, Any] | None:
    """What a kind of plate loses for each outing, and when the first of those in the unit will come to its limit.

    Parameters
    ----------
    part : str
        The kind of plate.
    own, others : list of (float, float)
        Use and loss, mm, of each build of this unit, the mean of its plates of this kind; and of each other unit.
    plates : list of dict
        Those in the unit: mm, minimum_mm and at, the outings that it had when they were so thick.
    since : float
        Outings since the rebuild so far.
    written_in : WrittenIn
        Units to write in.

    Returns
    -------
    dict or None
        part; per_use_mm and per_use_within_mm, 95 %; due_use, the outings since the rebuild at which a plate may first
        be at its limit with a chance of 5 %, None where not in sight; text. None where nothing was measured twice.
    """
    known = [unit for unit in others if unit]
    if not own and not known:
        return None
    band = Band([own] + known, 0, PLATE_MM, levels=NONE)
    longest = max(use for unit in [own] + known for use, _ in unit)
    due = first_at_limit(band, plates, SIGHT * longest)
    half = band.slope_half()
    builds = len(own) + sum(len(unit) for unit in known)
    text = (
        f"From {in_count(builds, 'build')}: a {part} plate loses {say(band.slope, 'mm', written_in.mm)} an outing, "
        f"give or take {say(half, 'mm', written_in.mm)}."
    )
    if due is not None:
        left = max(0, math.floor(due - since))
        text += (
            f" The first may be at its limit after {left} more outings at the earliest: open it and measure by then."
        )
    return {"part": part, "per_use_mm": band.slope, "per_use_within_mm": half, "due_use": due, "text": text}
