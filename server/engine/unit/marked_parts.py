"""Parts with a number or mark of their own: such a piece can leave one unit and go into another.

A unit's definition says which were in it when it was added; what went in and came out since is said by rebuilds.
"""

from typing import Any

from ..request.errors import BadInput, inside
from ..request.fields import Choice, Group, Listing, Text
from ..request.letters import trimmed, with_capital
from .features import FEATURE_PARTS
from .stack import FRICTION, RING, SEPARATOR, SPRING

# What it is, as it is called before its mark: "spring 14". Parts of the stack have a place in it; the others are one
# set or one part of a unit each, unless their place says more.
MARKED = {
    SPRING: "spring",
    RING: "ramp ring",
    FRICTION: "friction plate",
    SEPARATOR: "separator plate",
    "bevel_gears": "bevel gear",
    "cross_pins": "cross pin",
    "thrust_washers": "thrust washer",
    "splines": "splined part",
    "case": "case",
    "cover": "cover",
    "journals": "bearing journal",
    "screws": "screw set",
    "other": "part",
}
IN_STACK = (SPRING, RING, FRICTION, SEPARATOR)

LONGEST_MARK = 40
LONGEST_PLACE = 60

MOST_MARKED = 60

# The inspected part that tells of a marked one, where they are called otherwise.
INSPECTED_AS = {RING: "rings"}
assert all(name in FEATURE_PARTS for name in MARKED if name not in IN_STACK)


def part_field() -> Choice:
    """What a marked part is, made anew so that it keeps its place on a form."""
    return Choice(MARKED, "what the part is", label="Kind of part")


def place_field() -> Text:
    """Where a marked part sits, made anew so that it keeps its place on a form."""
    return Text(
        LONGEST_PLACE,
        "its place in the stack, or which of several; may stay empty where the unit has one",
        default="",
        label="Its place",
    )


def marked_field() -> Listing:
    """The marked parts that a unit was added with, made anew so that it keeps its place on a form."""
    return Listing(
        Group(
            {
                "part": part_field(),
                "place": place_field(),
                "mark": Text(LONGEST_MARK, "number or mark on it", label="Mark"),
            },
            "a marked part",
        ),
        0,
        MOST_MARKED,
        "marked parts that were in it when it was added; rebuilds say what changed since",
        default=[],
        nouns="marked parts",
    )


def key_of(text: str) -> str:
    """A mark or a place as it is compared: spaces and small letters make no difference.

    Letters beyond ASCII are as they are, since MicroPython knows no others' capitals.

    >>> key_of(" s  14a"), key_of("S 14A")
    ('S 14A', 'S 14A')
    """
    words = " ".join([word for word in text.split(" ") if word])
    return "".join([chr(ord(letter) - 32) if "a" <= letter <= "z" else letter for letter in words])


def name_of(part: str, mark: str) -> str:
    """A marked part, as sentences call it.

    >>> name_of("ring", "7B")
    'ramp ring 7B'
    """
    return f"{MARKED.get(part, 'part')} {trimmed(mark)}"


def place_in(part: str, place: str, chain: list[dict[str, Any]] | None) -> str:
    """The place of a marked part as it is compared: where the stack has but one such part, its place goes unsaid.

    >>> place_in("spring", "", [{"slot": "S1", "part": "spring"}]), place_in("case", "", None)
    ('S1', '')
    """
    key = key_of(place)
    if key or part not in IN_STACK:
        return key
    slots = [item["slot"] for item in chain or [] if item["part"] == part]
    return key_of(slots[0]) if len(slots) == 1 else ""


def check_marked(rows: list[dict[str, Any]], path: str, marks: tuple[str, ...] = ("mark",)) -> None:
    """Refuse a place or a mark that stands twice among the marked parts of one unit.

    Raises
    ------
    BadInput
        At the second.
    """
    places: list[tuple[str, str]] = []
    for number, row in enumerate(rows):
        at = (row["part"], key_of(row["place"]))
        if at in places:
            where = trimmed(row["place"]) or MARKED[row["part"]]
            raise BadInput(inside(inside(path, number), "place"), f"{where} is there twice: say which one this is.")
        places.append(at)
    for name in marks:
        seen: list[tuple[str, str]] = []
        for number, row in enumerate(rows):
            mark = (row["part"], key_of(row[name]))
            if mark[1] and mark in seen:
                marked_part = with_capital(name_of(row["part"], row[name]))
                raise BadInput(
                    inside(inside(path, number), name), f"{marked_part} is there twice: give each a mark of its own."
                )
            seen.append(mark)
