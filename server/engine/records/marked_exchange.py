"""Marked parts that a rebuild took out of a unit or put in, and what was known of them then.

What was found of a part in another unit goes with it, as its limit goes with a plate from the shelf: so the unit that
gets a worn part can say so by its own entries alone.
"""

from typing import Any

from ..doubt.verdict import MEASURE_AGAIN, REPLACE, REWORK, WORDS
from ..request.errors import BadInput, inside
from ..request.fields import Choice, Group, Listing, Text, Whole
from ..request.letters import with_capital
from ..unit.marked_parts import (
    LONGEST_MARK,
    MARKED,
    MOST_MARKED,
    check_marked,
    key_of,
    name_of,
    part_field,
    place_field,
)

STOCK, SCRAP, AWAY = "stock", "scrap", "away"
OUT_TO = {STOCK: "kept in stock", SCRAP: "scrapped", AWAY: "left for another workshop"}

# Rows of what was found of one part in another unit, and letters of each.
MOST_FOUND = 20
LONGEST_REASON = 1000

# A go is not brought along: what goes in is measured or it is not known.
BROUGHT = {verdict: WORDS[verdict] for verdict in (MEASURE_AGAIN, REWORK, REPLACE)}

USES = Whole(0, 1000, "how often it was tightened before, for screws", default=None, label="Times used before")

FOUND = Group(
    {
        "feature": Text(60, "feature that was inspected; blank for a part of the stack", default=""),
        "verdict": Choice(BROUGHT, "how it was judged"),
        "reason": Text(LONGEST_REASON, "why, as it was said then", default=""),
        "day": Text(10, "day on which it was found", default=""),
        "unit_name": Text(80, "unit in which it was found", default=""),
    },
    "what was found of a part in another unit",
)

EXCHANGED = Listing(
    Group(
        {
            "part": part_field(),
            "place": place_field(),
            "out_mark": Text(LONGEST_MARK, "mark of what came out", default="", label="Mark of what came out"),
            "out_to": Choice(OUT_TO, "where that went", default=STOCK, label="It is"),
            "mark": Text(
                LONGEST_MARK,
                "mark of what went in; blank where that has none",
                default="",
                label="Mark of what went in",
            ),
            "uses": USES,
            "found": Listing(
                FOUND, 0, MOST_FOUND, "what was found of what went in, where that was no go", default=[], nouns="rows"
            ),
        },
        "a marked part that came out or went in",
    ),
    0,
    MOST_MARKED,
    "marked parts that came out or went in",
    default=[],
    nouns="marked parts",
)


def refuse_unmarked(rows: list[dict[str, Any]], path: str) -> None:
    """Refuse a row without any mark, a part that came out and went in, and a place or a mark that stands twice.

    Raises
    ------
    BadInput
        At the field.
    """
    for number, row in enumerate(rows):
        at = inside(path, number)
        out, into = key_of(row["out_mark"]), key_of(row["mark"])
        if not out and not into:
            raise BadInput(inside(at, "mark"), "Type the mark of what went in, or of what came out.")
        if out == into:
            marked_part = with_capital(name_of(row["part"], row["mark"]))
            raise BadInput(
                inside(at, "mark"), f"{marked_part} came out and went in: correct a mark, or remove this line."
            )
        if row["part"] != "screws" and row["uses"] is not None:
            raise BadInput(inside(at, "uses"), "Only screws are counted: leave this empty.")
    check_marked(rows, path, ("out_mark", "mark"))


def rows_in(body: dict[str, Any]) -> list[dict[str, Any]]:
    """The marked parts of a rebuild as it was typed, each with every field; what only a newer engine knows is left out.

    >>> rows_in({"marked_parts": [{"part": "spring", "mark": "14"}]})[0]["out_to"]
    'stock'
    """
    rows = []
    for row in body.get("marked_parts") or []:
        if isinstance(row, dict) and row.get("part") in MARKED:
            full = {name: row.get(name) or "" for name in ("place", "out_mark", "mark")}
            full["part"] = row["part"]
            full["out_to"] = row["out_to"] if row.get("out_to") in OUT_TO else STOCK
            full["uses"] = uses_in(row)
            full["found"] = [each for each in row.get("found") or [] if each.get("verdict") in BROUGHT]
            rows.append(full)
    return rows


def uses_in(row: dict[str, Any]) -> int:
    """How often what went in was tightened before, as it was typed; 0 where that was not said."""
    if row.get("uses") in (None, ""):
        return 0
    try:
        return int(USES.read(row["uses"], "uses"))
    except BadInput:
        return 0


def are_exchanged(body: dict[str, Any], part: str) -> bool:
    """Whether a rebuild names marked parts of a kind: then those places of that kind are exchanged that it names."""
    return any(row["part"] == part for row in rows_in(body))


def is_exchanged(body: dict[str, Any], part: str, place: str, alone: bool) -> bool:
    """Whether a rebuild names a place among its marked parts; `alone` where the unit has one such place."""
    keys = [key_of(row["place"]) for row in rows_in(body) if row["part"] == part]
    return key_of(place) in keys or (alone and "" in keys)
