"""What is done at intervals: oil, a torque check, plates; each by outings, hours or days, whichever comes first."""

from typing import Any

from ..request.dates import day_number, day_of
from ..request.letters import listed
from ..request.rounded import fixed
from ..request.sorting import in_order
from .stale import USUAL_DAYS, known_from
from .used import Life, place_of, time_of, used_since
from .used import day_of as day_done
from .used_now import outings_in_words

OIL = "oil"
CHECK = "check"
PLATES = "plates"
# What is to be done, in the order in which it is shown.
TASKS = {OIL: "Change the oil", CHECK: "Check the torque", PLATES: "Measure the plates"}

OUTINGS = "outings"
HOURS = "hours"
DAYS = "days"
MEASURES = (OUTINGS, HOURS, DAYS)

# What was done last where a torque check was.
CHECKED = "checked"

# A difference of hours below this is none.
TINY = 1e-9


class Begun:
    """The beginning of an interval: the day, what was done then in words, and what is later."""

    def __init__(self, day: str, words: str, key: Any, since: Any) -> None:
        self.day = day
        self.words = words
        self.key = key
        self.since = since

    def is_before(self, entry: dict[str, Any]) -> bool:
        """Whether an entry was made after it; everything was that is logged of a unit, whatever day it was on."""
        return self.since is None or bool(self.key(entry) > self.since)


def last_done(live: list[dict[str, Any]], name: str, taken_in: str) -> Begun:
    """Where an interval of oil or checks begins: when that was done last, or with the day on which it was taken in.

    Whoever opens a unit fills it afresh and checks it (common practice, no source), so a rebuild begins both anew.
    """
    done, words = None, ""
    for entry in in_order(live, place_of):
        if entry["kind"] == "rebuild":
            done, words = entry, "rebuilt"
        elif name == OIL and entry["kind"] == "service" and entry["body"].get("oil_changed"):
            done, words = entry, "changed"
        elif name == CHECK and entry["kind"] == "torque_check":
            done, words = entry, CHECKED
    if done is None:
        return Begun(taken_in, "unit added", place_of, None)
    return Begun(day_done(done), words, place_of, place_of(done))


def plates_known(plates: dict[str, Any] | None) -> Begun | None:
    """Where the interval of the plates begins: `plates` is what of them is known longest."""
    if plates is None:
        return None
    is_measured = "corrected_at" in plates
    return Begun(plates["at"][:10], "last measured" if is_measured else "rebuilt", time_of, known_from(plates))


def amount_of(measure: str, value: float) -> str:
    """An amount of use in words.

    >>> amount_of("outings", 1), amount_of("hours", 2.5), amount_of("days", 12)
    ('1 outing', '2.5 hours', '12 days')
    """
    if measure == OUTINGS:
        return outings_in_words(int(value))
    if measure == HOURS:
        return f"{fixed(value, 1)} hours"
    return f"{int(value)} {'day' if value == 1 else 'days'}"


def measure_row(measure: str, every: float, used: float) -> dict[str, Any]:
    """One interval with what of it is used up."""
    return {"measure": measure, "every": every, "used": used, "left": every - used}


def is_over(row: dict[str, Any]) -> bool:
    """Whether an interval is over; its last day still belongs to it, as with a calibration."""
    left: float = row["left"]
    return left < 0 if row["measure"] == DAYS else left <= TINY


def row_text(name: str, rows: list[dict[str, Any]], since: str, untimed: int, due_on: str | None) -> str:
    """What is left until a task is due, or by how much it is over."""
    over = [row for row in rows if is_over(row)]
    if over:
        used = [amount_of(row["measure"], row["used"]) for row in over]
        allowed = [amount_of(row["measure"], row["every"]) for row in over]
        text = f"{TASKS[name]}: {since}, {listed(used)} since; allowed: {listed(allowed)}."
    else:
        left = [f"in {amount_of(row['measure'], row['left'])}" for row in rows if row["measure"] != DAYS]
        left += [f"by {due_on}"] if due_on else []
        first = ", whichever comes first" if len(left) > 1 else ""
        text = f"{TASKS[name]} {' or '.join(left)}{first}; {since}."
    if untimed and any(row["measure"] == HOURS for row in rows):
        text += f" Hours leave out {outings_in_words(untimed)} without a time."
    return text


def task_row(
    name: str, every: dict[str, float], begun: Begun, used: dict[str, Any], today: str | None
) -> dict[str, Any] | None:
    """One task with its intervals, and what was used since they began; None where none can be said without a day."""
    day = begun.day
    done = {OUTINGS: used["outings"] or 0, HOURS: used["hours"]}
    if today is not None:
        done[DAYS] = day_number(today) - day_number(day)
    rows = [measure_row(name, every[name], done[name]) for name in MEASURES if name in every and name in done]
    if not rows:
        return None
    due_on = day_of(day_number(day) + int(every[DAYS])) if DAYS in every else None
    # Of equal shares the first in order: MicroPython keeps no order of its own.
    shares = [(row["used"] / row["every"], -place) for place, row in enumerate(rows)]
    return {
        "name": name,
        "since": day,
        "measures": rows,
        "first": rows[-max(shares)[1]]["measure"],
        "due": any(is_over(row) for row in rows),
        "due_on": due_on,
        "text": row_text(name, rows, f"{begun.words} on {day}", used["untimed"], due_on),
    }


def intervals_of(definition: dict[str, Any] | None, name: str) -> dict[str, float]:
    """The intervals of a task that a unit's definition gives, by measure."""
    service = (definition or {}).get("service") or {}
    given = {measure: service.get(f"{name}_every_{measure}") for measure in MEASURES}
    return {measure: every for measure, every in given.items() if every is not None}


def upkeep_of(
    live: list[dict[str, Any]],
    lives: list[Life],
    definition: dict[str, Any] | None,
    plates: dict[str, Any] | None,
    taken_in: str,
    today: str | None,
) -> list[dict[str, Any]]:
    """What is done at intervals, as far as the unit's definition gives any; plates and checks at least once a season.

    Parameters
    ----------
    live : list of dict
        The unit's entries that stand, by time.
    lives : list of Life
        As `used_lives` gives them.
    definition : dict or None
        The unit's definition, in SI.
    plates : dict or None
        What of its plates is known longest, as `oldest_of` gives it.
    taken_in : str
        The day of its first entry.
    today : str or None
        The day to judge by.

    Returns
    -------
    list of dict
        Of each task: name; since, the day on which it was done last; measures, of each interval measure, every, used
        and left (below 0 where it is over); first, the measure that by now is used up furthest; due; due_on, the last
        day by the calendar, or None; text.
    """
    rows = []
    for name in (OIL, CHECK, PLATES):
        every = intervals_of(definition, name)
        begun = None
        if name == PLATES:
            # By days alone `stale_plates` says it.
            if OUTINGS in every or HOURS in every:
                every[DAYS] = every.get(DAYS, USUAL_DAYS)
                begun = plates_known(plates)
        elif every:
            begun = last_done(live, name, taken_in)
        if begun is not None:
            row = task_row(name, every, begun, used_since(lives, begun.is_before), today)
            rows += [] if row is None else [row]
        elif name == CHECK:
            rows += old_check(live, lives, taken_in, today)
    return rows


def old_check(live: list[dict[str, Any]], lives: list[Life], taken_in: str, today: str | None) -> list[dict[str, Any]]:
    """The task of checking a torque that was checked longer ago than a season, where the unit gives no interval.

    A unit that lay loses torque too, by rust and by oil that ran off its plates (common practice, no source).
    """
    begun = last_done(live, CHECK, taken_in)
    if begun.words != CHECKED:
        return []
    row = task_row(CHECK, {DAYS: USUAL_DAYS}, begun, used_since(lives, begun.is_before), today)
    return [row] if row is not None and row["due"] else []
