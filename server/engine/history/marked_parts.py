"""Marked parts of all units: where each is, what it ran, what stands of it, and where the log disagrees."""

from typing import Any

from ..doubt.verdict import ORDER
from ..records.marked_exchange import AWAY, BROUGHT, LONGEST_REASON, MOST_FOUND, OUT_TO, SCRAP, STOCK
from ..request.fields import Checked, Group, Listing, Text
from ..request.letters import with_capital
from ..request.rounded import fixed
from ..request.sorting import in_order
from ..unit.marked_parts import LONGEST_MARK, MARKED, MOST_MARKED, key_of, name_of, part_field
from .later import badness
from .tightened import times
from .used_now import outings_in_words

FORM = Group(
    {
        "stays": Listing(
            Checked(
                "a stay, as `standing` has it under marked_parts, with unit and unit_name, id and name of the unit"
            ),
            0,
            100000,
            "every stay of a marked part in any unit",
        ),
        "asked": Listing(
            Group(
                {
                    "part": part_field(),
                    "mark": Text(LONGEST_MARK, "its mark, as somebody wrote it", default=""),
                },
                "a mark that is looked up",
            ),
            0,
            MOST_MARKED,
            "marks that are looked up, as a rebuild has them",
            default=[],
            nouns="marks",
        ),
    },
    "the marked parts of all units",
)

UNIT, UNKNOWN = "unit", "unknown"
WHERE = {UNIT: "in a unit"}
WHERE.update(OUT_TO)
WHERE[UNKNOWN] = "not known"

# A part that is moved is often written down later on the same day, or by a clock that is off: seconds.
A_DAY = 86400.0

# Of so many contradictions each is told; a mark that hundreds of units have was copied.
MOST_SAID = 30

# So many figures of a number in a mark are put in order by their size.
LONGEST_NUMBER = 12


def marked_parts(request: dict[str, Any]) -> dict[str, Any]:
    """Where every marked part is, and what is known of its life.

    Parameters
    ----------
    request : dict
        Checked by `FORM`: what `standing` says of each unit.

    Returns
    -------
    dict
        parts, by kind and mark: part, mark, key (the mark as it is compared) and name; where, a key of `WHERE`, with
        unit and unit_name (None and blank outside one), place and since (None where nobody knows); text, the same in a
        sentence; outings (None where nothing tells of any) and hours in all, exact, whether nothing of these is
        missing, and used, the same in words; uses, how often screws were tightened, or None; verdict and reason of what
        was found of it last (None and blank where nothing was judged), and found_in, the unit; says, where the log
        contradicts itself; for_rebuild, what a rebuild that puts it in takes along (uses, found); stays, the newest
        first: unit, unit_name, place, from_at, to_at, to, text, used and found, the newest first. asked, for each mark
        that was looked up, in order: key of its part, None where nobody has heard of it.

    Notes
    -----
    What stands of a part is the worst of what was found last of each of its features, in whatever unit; of a part of
    the stack, of its last measurement. A part that is in two units at once counts where it was put in last, and what it
    ran counts in both until one of them is corrected: rather too much than too little.
    """
    stays: dict[tuple[str, str], list[dict[str, Any]]] = {}
    for stay in request["stays"]:
        row = stay.copy()
        row["unit_name"] = row["unit_name"] or "a unit"
        stays.setdefault((row["part"], row["key"]), []).append(row)
    keys = [(row["part"], key_of(row["mark"])) for row in request["asked"]]
    return {
        "parts": [part_of(stays[key]) for key in in_order(stays, by_mark)],
        "asked": [{"key": key[1] if key in stays else None} for key in keys],
    }


def by_mark(key: tuple[str, str]) -> tuple[int, str]:
    """Order of marked parts: by kind, then by mark, numbers in it by their size."""
    part, mark = key
    kinds = sorted(MARKED)
    text, number = "", ""
    for letter in mark + " ":
        if "0" <= letter <= "9":
            number += letter
        else:
            text += "0" * (LONGEST_NUMBER - len(number)) + number if number else ""
            text, number = text + letter, ""
    return (kinds.index(part) if part in kinds else len(kinds), text)


def began(stay: dict[str, Any]) -> float:
    """When a stay began, in seconds since 1970; before everything where it was in the unit when that was added."""
    return float("-inf") if stay["from_s"] is None else float(stay["from_s"])


def ended(stay: dict[str, Any]) -> float:
    """When a stay ended; after everything while it lasts."""
    return float("inf") if stay["to_s"] is None else float(stay["to_s"])


def in_time(stay: dict[str, Any]) -> tuple[Any, ...]:
    """Order of stays: as they began, and those that last after those that ended then."""
    return (began(stay), ended(stay), stay["unit_name"], stay["unit"], stay["place"])


def part_of(stays: list[dict[str, Any]]) -> dict[str, Any]:
    """One marked part, from its stays in all units."""
    stays = in_order(stays, in_time)
    last = now_of(stays)
    name = name_of(last["part"], last["mark"])
    row = {field: last[field] for field in ("part", "mark", "key")}
    row["name"] = name
    row.update(where_of(last, with_capital(name)))
    row.update(total_of(stays))
    row.update(found_of(stays))
    row["says"] = said_of(stays, with_capital(name))
    row["for_rebuild"] = {"uses": row["uses"], "found": brought_of(stays)}
    row["stays"] = [stay_row(stay) for stay in reversed(stays)]
    return row


def now_of(stays: list[dict[str, Any]]) -> dict[str, Any]:
    """The stay that says where a part is: the last that began of those that last, else the last that ended.

    Of two that ended together the one counts that says where it went.
    """
    lasting = [stay for stay in stays if stay["to_s"] is None]
    return (
        lasting[-1] if lasting else sorted(stays, key=lambda stay: (ended(stay), bool(stay["to"]), in_time(stay)))[-1]
    )


def in_place(stay: dict[str, Any]) -> str:
    """The unit of a stay, and the place in it."""
    return f"{stay['unit_name']}, {stay['place']}" if stay["place"] else str(stay["unit_name"])


def where_of(last: dict[str, Any], name: str) -> dict[str, Any]:
    """Where a part is, from the stay that says so."""
    if last["to_s"] is None:
        since = "since it was added" if last["from_at"] is None else f"since {last['from_at'][:10]}"
        text = f"{name} is in {in_place(last)}, {since}."
        found = {"where": UNIT, "unit": last["unit"], "unit_name": last["unit_name"], "place": last["place"]}
        found.update({"since": last["from_at"], "text": text})
        return found
    where, day = last["to"] or UNKNOWN, last["to_at"][:10]
    came = f"It came out of {last['unit_name']} on {day}"
    texts = {
        STOCK: f"{name} is in stock. {came}.",
        SCRAP: f"{name} was scrapped. {came}.",
        AWAY: f"{name} left for another workshop. {came}.",
        UNKNOWN: f"Nobody said where {name[:1].lower()}{name[1:]} is. {came}, and another part went into its place.",
    }
    return {"where": where, "unit": None, "unit_name": "", "place": "", "since": last["to_at"], "text": texts[where]}


def used_in_words(outings: int | None, hours: float, untold: int, untimed: int) -> str:
    """What a part ran, at least where something is missing.

    >>> used_in_words(3, 1.25, 0, 0), used_in_words(4, 0.5, 1, 2), used_in_words(4, 0.0, 0, 4)
    ('3 outings, 1.2 h', 'at least 4 outings, at least 0.5 h', '4 outings, hours not known')
    >>> used_in_words(None, 0.0, 1, 0)
    'no outing is logged'
    """
    if outings is None:
        return "no outing is logged"
    text = ("at least " if untold else "") + outings_in_words(outings)
    if not outings:
        return text
    if not hours:
        return f"{text}, hours not known"
    return f"{text}, {'at least ' if untold or untimed else ''}{fixed(hours, 1)} h"


def total_of(stays: list[dict[str, Any]]) -> dict[str, Any]:
    """What a part ran in all, and how often screws were tightened."""
    counted = [stay for stay in stays if stay["outings"] is not None]
    outings = sum(stay["outings"] for stay in counted) if counted else None
    hours = sum(stay["hours"] for stay in stays)
    untold, untimed = sum(stay["untold"] for stay in stays), sum(stay["untimed"] for stay in stays)
    uses = uses_of(stays)
    used = used_in_words(outings, hours, untold, untimed)
    if uses is not None:
        used += f"; used {times(uses)}"
    exact = not untold and not untimed
    return {"outings": outings, "hours": hours, "exact": exact, "uses": uses, "used": with_capital(used) + "."}


def uses_of(stays: list[dict[str, Any]]) -> int | None:
    """How often screws were tightened, from stay to stay; None where nothing counts them.

    What a rebuild says of before counts where it is more than the log has: rather too many than too few.
    """
    uses = None
    for stay in in_order(stays, in_time):
        if stay["uses"] is not None:
            before = stay.get("uses_before") or 0
            uses = max(uses or 0, before) + stay["uses"] - before
    return uses


def by_time(row: dict[str, Any]) -> tuple[float, int, str]:
    """Order of what was found: by time, and what is worse after what is better."""
    return (row["at_s"], badness(row["verdict"]), row["id"])


def stands_of(stays: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What was found last of each feature of a part, with its unit, in order of the features."""
    newest: dict[str, dict[str, Any]] = {}
    for stay in stays:
        for found in stay["found"]:
            if found["stands"]:
                row = found.copy()
                row["unit_name"] = stay["unit_name"]
                before = newest.get(row["name"])
                if before is None or by_time(row) > by_time(before):
                    newest[row["name"]] = row
    return [newest[name] for name in sorted(newest)]


def found_of(stays: list[dict[str, Any]]) -> dict[str, Any]:
    """What stands of a part: the worst of what was found last of its features."""
    judged = [row for row in stands_of(stays) if row["verdict"] in ORDER]
    if not judged:
        return {"verdict": None, "reason": "", "found_in": "", "found_at": None}
    worst = max(judged, key=lambda row: (ORDER.index(row["verdict"]), row["at_s"], row["id"]))
    found = {"verdict": worst["verdict"], "reason": worst["reason"], "found_in": worst["unit_name"]}
    found["found_at"] = worst["at"]
    return found


def brought_of(stays: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What a rebuild that puts a part in takes along of what was found of it: all but go."""
    return [
        {
            "feature": row["name"],
            "verdict": row["verdict"],
            "reason": row["reason"][:LONGEST_REASON],
            "day": row["at"][:10],
            "unit_name": row["unit_name"],
        }
        for row in stands_of(stays)
        if row["verdict"] in BROUGHT
    ][:MOST_FOUND]


def said_of(stays: list[dict[str, Any]], name: str) -> list[str]:
    """Where the log contradicts itself about a part."""
    says: list[str] = []
    for stay in stays:
        text = f"{stay['unit_name']}: {stay['says'][:1].lower()}{stay['says'][1:]}"
        if stay["says"] and text not in says:
            says.append(text)
    for number, stay in enumerate(stays):
        for later in stays[number + 1 :]:
            # What contradicts itself in one place is told already.
            same = (stay["unit"], stay["place"]) == (later["unit"], later["place"])
            overlap = min(ended(stay), ended(later)) - max(began(stay), began(later))
            if not same and overlap > A_DAY:
                text = f"{name} is in two places at once: {in_place(stay)} and {in_place(later)}"
                if later["from_at"] is not None:
                    text += f", from {later['from_at'][:10]} on"
                if len(says) >= MOST_SAID:
                    return says + [f"{name} is in more places at once: one mark was given to more than one part."]
                says.append(
                    f"{text}. Say in a rebuild that it came out of one of them, or correct the mark; until then what "
                    "it ran counts in both."
                )
    return says


def stay_row(stay: dict[str, Any]) -> dict[str, Any]:
    """A stay as the answer has it."""
    row = {name: stay[name] for name in ("unit", "unit_name", "place", "from_at", "to_at", "to", "from_id", "to_id")}
    since = "since it was added" if stay["from_at"] is None else f"from {stay['from_at'][:10]}"
    until = " until now" if stay["to_at"] is None else f" to {stay['to_at'][:10]}"
    gone = f", then {OUT_TO[stay['to']]}" if stay["to"] else ""
    row["text"] = f"{in_place(stay)}: {since}{until}{gone}."
    row["used"] = with_capital(used_in_words(stay["outings"], stay["hours"], stay["untold"], stay["untimed"])) + "."
    found = [{name: each[name] for name in ("id", "at", "name", "verdict", "reason")} for each in stay["found"]]
    row["found"] = found[::-1]
    return row
