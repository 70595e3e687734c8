"""Where marked parts were in a unit, from when to when, how much they ran there and what was found of them.

A place is exchanged by a rebuild that names it among its marked parts, fits something else into it, or says that its
part was replaced. Between two exchanges one part sits there: that which the first says went in, or the last says came
out. Where both say it and differ, each of the two marks is told of.
"""

from typing import Any

from ..doubt.verdict import WORDS
from ..records.marked_exchange import are_exchanged, rows_in
from ..request.letters import trimmed, with_capital
from ..request.sorting import in_order
from ..unit.features import FEATURE_PARTS, USED
from ..unit.marked_parts import IN_STACK, INSPECTED_AS, MARKED, key_of, name_of, place_in
from ..unit.stack import RING, SPRING
from .gauged import has_other_spring, newest_rows
from .tightened import Tightened, is_counted
from .timeline import by_device_time, of_kind
from .used import Life, used_lives

# Tables of measurements in which a part of the stack is found by its place: kind of entry, table, column of the name.
TABLES = {
    SPRING: ("spring_check", "springs", "name"),
    RING: ("ring_check", "rings", "name"),
    "friction": ("plate_check", "plates", "slot"),
    "separator": ("plate_check", "plates", "slot"),
}


class Book:
    """A unit's entries that stand, as its marked parts are followed through them.

    Parameters
    ----------
    live : list of dict
        In order of time.
    defined : dict or None
        The definition in SI.
    """

    def __init__(self, live: list[dict[str, Any]], defined: dict[str, Any] | None) -> None:
        defined = defined or {}
        self.live = live
        self.chain: list[dict[str, Any]] = defined.get("chain") or []
        self.features: list[dict[str, Any]] = defined.get("features") or []
        self.marked: list[dict[str, Any]] = defined.get("marked_parts") or []
        self.rebuilds = in_order(of_kind(live, "rebuild"), by_device_time)
        self.counts: dict[str, Tightened] = {}
        self.lives: list[Life] | None = None

    def places(self) -> list[tuple[str, str]]:
        """Part and place of every part that ever had a mark, in order."""
        found: list[tuple[str, str]] = []
        rows = self.marked + [row for rebuild in self.rebuilds for row in rows_in(rebuild["body"])]
        for row in rows:
            at = (row["part"], place_in(row["part"], row["place"], self.chain))
            if row["part"] in MARKED and at not in found:
                found.append(at)
        return sorted(found)

    def row_in(self, rebuild: dict[str, Any], part: str, place: str) -> dict[str, Any] | None:
        """The row of a rebuild's marked parts that is about a place."""
        for row in rows_in(rebuild["body"]):
            if row["part"] == part and place_in(part, row["place"], self.chain) == place:
                return row
        return None

    def exchanges(self, rebuild: dict[str, Any], part: str, place: str) -> bool:
        """Whether a rebuild exchanged the part in a place."""
        if self.row_in(rebuild, part, place) is not None:
            return True
        if part == SPRING:
            return has_other_spring(rebuild["body"]) and not are_exchanged(rebuild["body"], part)
        if part in IN_STACK:
            fitted = [key_of(row["slot"]) for row in rebuild["shown"].get("fitted") or []]
            # A place that nobody named may be any of those of its kind.
            of_kind = [key_of(item["slot"]) for item in self.chain if item["part"] == part]
            if place in fitted or (not place and any(slot in fitted for slot in of_kind)):
                return True
        return not are_exchanged(rebuild["body"], part) and self.is_replaced(rebuild, part, place)

    def is_replaced(self, rebuild: dict[str, Any], part: str, place: str) -> bool:
        """Whether a rebuild says of an inspected feature of a part that it was replaced."""
        replaced = rebuild["body"].get("replaced") or []
        kind = INSPECTED_AS.get(part, part)
        return any(
            feature["name"] in replaced
            and feature["part"] == kind
            and (part != "other" or key_of(feature["name"]) == place)
            for feature in self.features
        )

    def intervals(self, part: str, place: str) -> list[tuple[int, int]]:
        """From which rebuild to which one part sat in a place, by their numbers; -1 is the beginning, past all now."""
        ends = [number for number, rebuild in enumerate(self.rebuilds) if self.exchanges(rebuild, part, place)]
        starts = [-1] + ends
        return list(zip(starts, ends + [len(self.rebuilds)]))

    def between(self, start: int, end: int) -> list[dict[str, Any]]:
        """The entries from one rebuild to another, in order of time."""
        first = self.rebuilds[start] if start >= 0 else None
        last = self.rebuilds[end] if end < len(self.rebuilds) else None
        return [
            entry
            for entry in self.live
            if (first is None or by_device_time(entry) > by_device_time(first))
            and (last is None or by_device_time(entry) < by_device_time(last))
        ]

    def lives_between(self, start: int, end: int) -> list[Life]:
        """What the unit ran between two rebuilds."""
        if self.lives is None:
            self.lives = used_lives(self.live)
        return self.lives[start + 1 : end + 1]

    def tightened(self, counted: str) -> Tightened:
        """When screws were tightened."""
        if counted not in self.counts:
            self.counts[counted] = Tightened(self.live, counted)
        return self.counts[counted]


def found_in(entries: list[dict[str, Any]], part: str, place: str) -> list[dict[str, Any]]:
    """What was found of a part in some entries, in order of time.

    Returns
    -------
    list of dict
        name of the feature, blank for a part of the stack; verdict, reason, at, at_s and id of the entry; stands,
        whether it is what these entries say of it last.
    """
    rows: list[dict[str, Any]] = []
    if part in TABLES:
        rows += found_rows(entries, TABLES[part], lambda row: not place or key_of(row[TABLES[part][2]]) == place, True)
    if part == "cross_pins":
        table = ("ring_check", "pins", "name")
        rows += found_rows(entries, table, lambda row: not place or key_of(row["name"]) == place, False)
    kind = INSPECTED_AS.get(part, part)
    if kind in FEATURE_PARTS:
        table = ("inspection", "features", "name")
        rows += found_rows(
            entries,
            table,
            lambda row: row.get("part") == kind and (part != "other" or key_of(row["name"]) == place),
            False,
        )
    return in_order(rows, lambda row: (row["at_s"], row["id"], row["name"]))


def found_rows(
    entries: list[dict[str, Any]], table: tuple[str, str, str], is_it: Any, in_stack: bool
) -> list[dict[str, Any]]:
    """The rows of one table that are of a part."""
    kind, name_of_table, column = table
    checks = of_kind(entries, kind)
    newest = newest_rows(checks, name_of_table, column)
    rows = []
    for entry in checks:
        for row in entry["shown"].get(name_of_table) or []:
            if is_it(row):
                rows.append(
                    {
                        "name": "" if in_stack else row[column],
                        "verdict": row["verdict"],
                        "reason": row["reason"],
                        "at": entry["at"],
                        "at_s": entry["when"].at,
                        "id": entry["id"],
                        "stands": newest.get(row[column], {}).get("id") == entry["id"],
                    }
                )
    return rows


def used_in(lives: list[Life]) -> dict[str, Any]:
    """What a unit ran in some of its lives: see `stays_of`."""
    telling = [life for life in lives if life.telling]
    counted = sum(life.outings for life in telling)
    return {
        "outings": counted if telling else None,
        "hours": sum(life.hours for life in lives),
        "untimed": counted - sum(life.timed for life in lives),
        # A life of which nothing tells may have had outings.
        "untold": len(lives) - len(telling),
    }


def uses_in_stay(book: Book, place: str, start: int, end: int, row: dict[str, Any] | None) -> int | None:
    """How often screws were tightened by the end of a stay, as far as the log counts them; None where it does not."""
    counted = [
        feature
        for feature in book.features
        if feature["part"] == "screws" and feature["measure"] == USED and is_counted(feature)
    ]
    of_place = [feature for feature in counted if key_of(feature["name"]) == place]
    counted = of_place or counted
    if len(counted) != 1:
        return None
    first = book.rebuilds[start] if start >= 0 else None
    last = book.rebuilds[end] if end < len(book.rebuilds) else None
    return (row["uses"] if row else 0) + book.tightened(counted[0]["counted"]).between(first, last)


def time_and_id(entry: dict[str, Any] | None) -> tuple[str | None, float | None, str | None]:
    """When a rebuild was, in words and seconds since 1970, and its id; None where there is none."""
    return (None, None, None) if entry is None else (entry["at"], entry["when"].at, entry["id"])


def stays_at(book: Book, part: str, place: str) -> list[dict[str, Any]]:
    """The stays of marked parts in one place of a unit, in order: see `stays_of`."""
    rows = []
    for start, end in book.intervals(part, place):
        first = book.rebuilds[start] if start >= 0 else None
        last = book.rebuilds[end] if end < len(book.rebuilds) else None
        came = None if first is None else book.row_in(first, part, place)
        went = None if last is None else book.row_in(last, part, place)
        began = came["mark"] if came else ""
        if first is None:
            marked = [
                row for row in book.marked if (row["part"], place_in(part, row["place"], book.chain)) == (part, place)
            ]
            began = marked[0]["mark"] if marked else ""
        ended = went["out_mark"] if went else ""
        marks = [mark for mark in (began, ended) if key_of(mark)]
        differ = len(marks) == 2 and key_of(marks[0]) != key_of(marks[1])
        says = ""
        if differ and last is not None:
            since = "when it was added" if first is None else f"from the rebuild of {first['at'][:10]} on"
            says = (
                f"{with_capital(name_of(part, began))} was in it {since}, but the rebuild of {last['at'][:10]} says "
                f"that {trimmed(ended)} came out: correct the one that is wrong."
            )
        for mark in marks if differ else marks[:1]:
            stay: dict[str, Any] = {"part": part, "place": place, "mark": trimmed(mark), "key": key_of(mark)}
            stay["from_at"], stay["from_s"], stay["from_id"] = time_and_id(first)
            stay["to_at"], stay["to_s"], stay["to_id"] = time_and_id(last)
            stay["to"] = went["out_to"] if went and key_of(mark) == key_of(ended or mark) else None
            stay["says"] = says
            stay.update(used_in(book.lives_between(start, end)))
            row = came if came and key_of(came["mark"]) == key_of(mark) else None
            stay["uses"] = uses_in_stay(book, place, start, end, row) if part == "screws" else None
            stay["uses_before"] = row["uses"] if row and stay["uses"] is not None else 0
            stay["found"] = found_in(book.between(start, end), part, place)
            stay["brought"] = row["found"] if row else []
            rows.append(stay)
    return rows


def stays_of(live: list[dict[str, Any]], defined: dict[str, Any] | None) -> list[dict[str, Any]]:
    """The stays of every marked part in a unit.

    Parameters
    ----------
    live : list of dict
        Entries that stand, in order of time.
    defined : dict or None
        The definition in SI.

    Returns
    -------
    list of dict
        part, place and mark, and key, the mark as it is compared; from_at, from_s and from_id of the rebuild that put
        it in, None where it was in it when it was added; to_at, to_s and to_id of the rebuild by which it came out,
        None while it is there; to, where it went, None where that is not said; says, that the log contradicts itself
        here, else blank; outings (None where nothing tells), hours as logged, untimed (outings without their hours) and
        untold (how many builds say nothing of outings); uses, how often screws were tightened, None where that is not
        counted, and uses_before, how many of these the rebuild says were before; found, see `found_in`; brought, what
        the rebuild says was found of it elsewhere.
    """
    book = Book(live, defined)
    return [stay for part, place in book.places() for stay in stays_at(book, part, place)]


def brought_now(stays: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What was found of the parts in a unit before they came into it, as long as nobody looked at that again here.

    Returns
    -------
    list of dict
        part, place, mark, name of the feature, verdict, reason, and at and id of the rebuild that put it in.
    """
    rows = []
    for stay in stays:
        if stay["to_at"] is not None:
            continue
        looked = [row["name"] for row in stay["found"]]
        for found in stay["brought"]:
            feature = found.get("feature") or ""
            if feature in looked:
                continue
            where = f" in {found['unit_name']}" if found.get("unit_name") else ""
            when = f" on {found['day']}" if found.get("day") else ""
            text = (
                f"{with_capital(name_of(stay['part'], stay['mark']))} was judged {WORDS[found['verdict']]}{where}{when}"
            )
            text += ", and nobody looked at that here since"
            text += f": {found['reason']}" if found.get("reason") else "."
            row = {name: stay[name] for name in ("part", "place", "mark")}
            row.update({"name": feature, "verdict": found["verdict"], "reason": text})
            row.update({"at": stay["from_at"], "id": stay["from_id"]})
            rows.append(row)
    return rows
