"""What a unit was used since each rebuild: outings and hours as they were logged, and outings that only checks tell of.

An outing counts from the day on which it was run. Written on a later day, it is taken for the last thing of its own
day. A torque check may say how many outings the unit had. It says more than was logged: some were not logged, and the
count goes on from what it says. It says less: the two contradict each other, the log's own count stands, and that is
told. An outing that was written after a check of the same day may have been run before it, and is taken for one of
those that the check counted as long as one is missing there. So a count never falls, and is the least that explains
what is known. In a life of which nothing was logged yet, a check's own figure stands as it was typed.
"""

from typing import Any

from ..records.kinds import KINDS
from ..request.dates import instant, seconds_of
from ..request.sorting import in_order
from .outings import outings_typed

# After everything else of its day.
LAST = 1 << 30


def day_of(entry: dict[str, Any]) -> str:
    """The day on which something was done, as the clock showed it there; none later than that on which it was said."""
    written: str = entry["at"][:10]
    kind = KINDS.get(entry["kind"])
    day = entry["body"].get("day") if kind is not None and kind.is_dated else None
    return min(day, max(written, entry.get("rewritten", ""))) if isinstance(day, str) and day else written


def time_of(entry: dict[str, Any]) -> str:
    """When it was done, in UTC: what was written on a later day, at the end of its own day."""
    day = day_of(entry)
    if day == entry["at"][:10]:
        text: str = entry["when"].text
        return text
    zone = "Z" if entry["at"].endswith("Z") else entry["at"][-6:]
    return instant(f"{day}T23:59:59.999{zone}")


def place_of(entry: dict[str, Any]) -> tuple[float, int, str]:
    """Order in which things were done, as `by_device_time` has it for those that were written as they were done."""
    when = entry["when"]
    if day_of(entry) == entry["at"][:10]:
        return (when.at, when.count, entry["id"])
    return (seconds_of(time_of(entry)), LAST, entry["id"])


class Life:
    """A unit from one rebuild up to the next.

    Parameters
    ----------
    rows : list of dict
        Its entries in the order in which things were done, without the rebuild.

    Attributes
    ----------
    outings, logged, unlogged : int
        Outings, those of them that were logged, and those that only checks tell of.
    minutes, km : float
        Of those that were logged, as far as they say.
    timed : int
        Logged outings that say how long they were.
    telling : list of dict
        Outings, and checks that say how many there were.
    at : dict
        By entry: outings and hours when it was written, as far as they are logged (see `at_entry`).
    less, more : list of tuple
        Checks that say less than the count, and more than it, each with its figure and the count.
    steps : list of tuple
        Entry at which the count changed, by how many outings, and their minutes, None where not known.
    """

    def __init__(self, rows: list[dict[str, Any]]) -> None:
        self.outings = self.logged = self.unlogged = self.timed = 0
        self.minutes = self.km = 0.0
        self.telling: list[dict[str, Any]] = []
        self.at: dict[str, dict[str, Any]] = {}
        self.less: list[tuple[dict[str, Any], int, int]] = []
        self.more: list[tuple[dict[str, Any], int, int]] = []
        self.steps: list[tuple[dict[str, Any], int, float | None]] = []
        self.counted: set[str] = set()
        for place, entry in enumerate(rows):
            if entry["kind"] == "outing" and entry["id"] not in self.counted:
                self.run(entry, entry)
            elif entry["kind"] == "torque_check":
                self.check(entry, rows[place + 1 :])
            elif entry["kind"] == "plate_check":
                self.at_entry(entry, None)

    def run(self, outing: dict[str, Any], until: dict[str, Any]) -> None:
        """Count an outing that was run up to an entry, which may be itself."""
        shown = outing["shown"]
        self.counted.add(outing["id"])
        self.outings, self.logged = self.outings + 1, self.logged + 1
        self.telling.append(until)
        hours = shown.get("hours")
        minutes = None if hours is None else 60.0 * hours
        if minutes is not None:
            self.minutes, self.timed = self.minutes + minutes, self.timed + 1
        self.km += shown.get("km") or 0.0
        self.steps.append((until, 1, minutes))

    def check(self, check: dict[str, Any], later: list[dict[str, Any]]) -> None:
        """Hold a check's own figure against the count."""
        typed = outings_typed(check)
        if typed is not None:
            for entry in later:
                if self.outings >= typed:
                    break
                is_waiting = entry["kind"] == "outing" and entry["id"] not in self.counted
                if is_waiting and day_of(entry) == day_of(check):
                    self.run(entry, check)
            if typed < self.outings and self.logged:
                self.less.append((check, typed, self.outings))
            if typed > self.outings:
                missing = typed - self.outings
                self.more.append((check, typed, self.outings))
                self.outings, self.unlogged = typed, self.unlogged + missing
                self.steps.append((check, missing, None))
            self.telling.append(check)
        self.at_entry(check, typed)

    def at_entry(self, entry: dict[str, Any], typed: int | None) -> None:
        """Note the count at an entry, once anything was logged."""
        if self.logged:
            self.at[entry["id"]] = {"outings": self.outings, "hours": self.hours if self.every_hour else None}

    @property
    def hours(self) -> float:
        """Hours that were logged."""
        return self.minutes / 60.0

    @property
    def every_hour(self) -> bool:
        """Whether every outing that is counted says how long it was."""
        return not self.unlogged and self.timed == self.logged


def used_lives(live: list[dict[str, Any]]) -> list[Life]:
    """The lives of a unit, the first before any rebuild, from its entries that stand."""
    rows: list[list[dict[str, Any]]] = [[]]
    for entry in in_order(live, place_of):
        if entry["kind"] == "rebuild":
            rows.append([])
        else:
            rows[-1].append(entry)
    return [Life(each) for each in rows]


def used_since(lives: list[Life], is_since: Any) -> dict[str, Any]:
    """What a unit was used from some time on.

    Parameters
    ----------
    lives : list of Life
        As `used_lives` gives them.
    is_since : callable
        Says of an entry whether it was done after that time.

    Returns
    -------
    dict
        outings, or None where nothing that was written since tells of any; hours that were logged; untimed, outings
        that are counted without their hours.
    """
    outings, untimed, minutes = 0, 0, 0.0
    for life in lives:
        for entry, count, ran in life.steps:
            if is_since(entry):
                outings += count
                if ran is None:
                    untimed += count
                else:
                    minutes += ran
    tells = any(is_since(entry) for life in lives for entry in life.telling)
    return {"outings": outings if tells else None, "hours": minutes / 60.0, "untimed": untimed}


def with_counts(live: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The same entries, those of checks with what is counted in the log by then; unchanged where nothing is logged."""
    if not any(entry["kind"] == "outing" for entry in live):
        return live
    at: dict[str, dict[str, Any]] = {}
    for life in used_lives(live):
        at.update(life.at)
    entries = []
    for entry in live:
        if entry["id"] in at:
            entry = entry.copy()
            entry["counted"] = at[entry["id"]]
        entries.append(entry)
    return entries
