"""How often screws were tightened, as the log tells: each time that a cover was closed, or a unit put back.

What was not logged is taken from what followed: a unit that ran or was checked had been closed, and so had one that was
opened after a rebuild. It is the least number that explains what is known.
"""

from typing import Any

from ..request.sorting import in_order
from ..unit.features import CLOSING, COUNTED, REFIT, outside_of
from .used import place_of

# Side of an entry on which something happened: before it, or with it.
BEFORE, WITH = 0, 1

# What uses loose screws once more.
NEXT_USE = {CLOSING: " before it is closed", REFIT: " before the unit goes back"}

# What shows that a unit is closed.
SHOWS_CLOSED = ("torque_check", "outing", "refit")


def did_screws(entry: dict[str, Any]) -> bool:
    """Whether a strip or a close got as far as the screws."""
    return "screws" in (entry["body"].get("done") or [])


class Tightened:
    """When the screws of a unit were tightened.

    Parameters
    ----------
    live : list of dict
        Its entries that stand.
    counted : str
        A key of `COUNTED`.

    Attributes
    ----------
    times : list of tuple
        Places in order, as `used.place_of` has them, each with the side of the entry.
    began_closed : bool
        Whether they were tight when it was added: once at least, and how often before nobody knows.
    is_open : bool
        Whether they are loose now.
    """

    def __init__(self, live: list[dict[str, Any]], counted: str) -> None:
        self.times: list[tuple[Any, int]] = []
        self.began_closed, self.is_open = True, False
        # Whether it was rebuilt since it was opened, and whether a closing that nobody logged was counted last.
        self.rebuilt = self.unlogged = False
        self.begun = False
        for entry in in_order(live, place_of):
            if counted == REFIT:
                self.refit(entry)
            else:
                self.closing(entry)

    def tighten(self, entry: dict[str, Any], side: int) -> None:
        """Count once."""
        self.times.append((place_of(entry), side))
        self.is_open = self.rebuilt = False
        self.unlogged = side == BEFORE

    def refit(self, entry: dict[str, Any]) -> None:
        """What an entry tells of screws that are tightened as the unit goes back into its axle."""
        if entry["kind"] == "refit":
            self.tighten(entry, WITH)
        elif entry["kind"] == "rebuild" or (entry["kind"] == "strip" and did_screws(entry)):
            self.is_open = True

    def closing(self, entry: dict[str, Any]) -> None:
        """What an entry tells of screws that are tightened as the cover is closed."""
        kind = entry["kind"]
        if kind == "rebuild" or (kind == "strip" and did_screws(entry)):
            if self.is_open and self.rebuilt:
                self.tighten(entry, BEFORE)
            self.rebuilt = kind == "rebuild"
            self.is_open = True
        elif kind == "close" and did_screws(entry):
            # One that follows a check or an outing of the same opening is signed late.
            if self.is_open or not self.unlogged:
                self.tighten(entry, WITH)
            self.unlogged = False
            if not self.begun:
                self.began_closed = False
        elif kind in SHOWS_CLOSED:
            if self.is_open:
                self.tighten(entry, BEFORE)
        else:
            return
        self.begun = True

    def between(self, first: dict[str, Any] | None, last: dict[str, Any] | None) -> int:
        """How often from one entry up to another, which may be None for no end; without a first from the beginning."""
        count = sum(
            (first is None or (place_of(first), BEFORE) < each) and (last is None or each <= (place_of(last), BEFORE))
            for each in self.times
        )
        return count + (1 if first is None and self.began_closed else 0)


def times(count: int) -> str:
    """So many times.

    >>> times(1), times(3)
    ('once', '3 times')
    """
    return "once" if count == 1 else f"{count} times"


def counted_row(
    feature: dict[str, Any],
    tightened: Tightened,
    fitted: dict[str, Any] | None,
    before: int,
    inspected: dict[str, Any] | None,
    typed: int | None,
) -> dict[str, Any]:
    """What stands of screws that the log counts.

    Parameters
    ----------
    feature : dict
        Of the definition.
    tightened : Tightened
        When they were tightened.
    fitted : dict or None
        The rebuild that fitted them; None where they are those that it was added with.
    before : int
        How often they had been used when they were fitted.
    inspected, typed : dict and int, or None
        The inspection that stands of them since, and how often they had been used by it.

    Returns
    -------
    dict
        verdict, reason, uses; at_closing, a sentence for whoever closes it, blank as long as they may be used again.
    """
    name, most, is_open = feature["name"], feature["most_uses"], tightened.is_open
    count = before + tightened.between(fitted, None)
    # Whether nobody knows how often they were used before the log.
    is_least = fitted is None and tightened.began_closed and typed is None
    differs = ""
    if inspected is not None and typed is not None:
        since = tightened.between(inspected, None)
        by_then = count - since
        if typed < by_then:
            differs = f" The inspection of {inspected['at'][:10]} says {typed}, and the log counts {by_then} by then."
        count = max(count, typed + since)
    used = f"{name}: used {'at least ' if is_least else ''}{times(count)}"
    row: dict[str, Any] = {"uses": count, "verdict": None, "at_closing": ""}
    if most is None:
        row["reason"] = f"{used}. Not judged: it has no limit."
    elif count > most or (is_open and count == most):
        row["verdict"] = outside_of(feature)
        when = NEXT_USE[feature["counted"]] if is_open else ""
        row["reason"] = f"{used}, and may be used {times(most)} in all: fit new ones{when}."
    elif count == most:
        row["verdict"] = None if is_least else "go"
        row["reason"] = f"{used}, the last time that is allowed: fit new ones when it is next opened."
    else:
        row["verdict"] = None if is_least else "go"
        row["reason"] = f"{used}, and may be used {times(most)} in all."
    if is_least:
        row["reason"] += " How often before it was added is not known: an inspection can say."
    row["reason"] += differs
    if most is not None and count >= most:
        row["at_closing"] = row["reason"]
    return row


def is_counted(feature: dict[str, Any]) -> bool:
    """Whether the log counts how often a feature was used."""
    return feature.get("counted") in COUNTED
