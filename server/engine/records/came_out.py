"""The plates that came out of a unit as it was rebuilt: kept for the shelf, scrapped, or fitted again."""

import math
from typing import Any

from ..doubt.verdict import GO
from ..part_checks.plates import PLATES
from ..plan.pieces import FAMILY, lowest_of
from ..plan.places import micrometres
from ..request.errors import BadInput, inside, once_each
from ..request.fields import Checked, Choice, Group, Listing, Number, Text
from ..request.letters import trimmed
from ..request.rounded import fixed
from ..request.units import say

KEEP = "keep"
SCRAP = "scrap"
AGAIN = "again"
WHERE = {
    KEEP: "kept: it goes onto the shelf",
    SCRAP: "scrapped",
    AGAIN: "fitted again, in another place of this unit",
}

LONGEST_NAME = 40

# Micrometres by which a sum of doubles may miss a whole number.
TINY = 1e-6

CAME_OUT = Listing(
    Group(
        {
            "slot": Text(20, "place that it came out of"),
            "part": Choice(PLATES, "what kind of plate"),
            "where": Choice(WHERE, "where it went"),
            "name": Text(
                LONGEST_NAME, "what it is called on the shelf, where it is kept", default="", label="Name on its bag"
            ),
            "mm": Number(0.02, 50, "mm", "its mean thickness as measured", default=None, label="Mean thickness"),
            "lowest_mm": Number(0.01, 50, "mm", "its lowest point, which its limit judges", default=None),
            "within_mm": Number(0, 1, "mm", "how far off its thickness may be", default=None),
            "minimum_mm": Number(0.01, 50, "mm", "its own limit; that of its class, if empty", default=None),
            "new_mm": Number(0.02, 50, "mm", "its thickness when new, by which its class is found", default=None),
            "family": FAMILY,
        },
        "a plate that came out",
    ),
    0,
    80,
    "plates that came out, as far as it was said where they went",
    default=[],
    nouns="plates",
)

STARTS_FORM = Group(
    {
        "unit_name": Text(80, "what the unit is called", default=""),
        "family": FAMILY,
        "places": Listing(
            Checked("a place as it was built before, as `standing` has it under built"), 0, 100, "the unit's places"
        ),
        "by_slot": Checked("the last measurement of each plate by its slot, as `standing` has it", default={}),
        "slots": Listing(Text(20, "place that another part goes into", default=""), 0, 80, "places of the rebuild"),
        "taken_names": Listing(Text(LONGEST_NAME, "a name", default=""), 0, 400, "names on the shelf", default=[]),
    },
    "where plates that come out may go",
)


def refuse_unkept(came_out: list[dict[str, Any]]) -> None:
    """Refuse plates that are to be kept and cannot be planned with.

    Raises
    ------
    BadInput
        A slot or a name given twice; a plate that is kept without a name or a thickness, or at its limit or below it.
    """
    once_each(came_out, "came_out", "slot", "came out twice here: keep one of them.")
    kept = [(row, plate) for row, plate in enumerate(came_out) if plate["where"] == KEEP]
    names: dict[str, int] = {}
    for row, plate in kept:
        path = inside("came_out", row)
        if not plate["name"]:
            raise BadInput(inside(path, "name"), f"Give the plate from {plate['slot']} a name, as on its bag.")
        if plate["name"] in names:
            raise BadInput(inside(path, "name"), f"Two plates are called {plate['name']}: give each its own name.")
        names[plate["name"]] = row
        if plate["mm"] is None:
            raise BadInput(
                inside(path, "mm"),
                f"Measure the plate from {plate['slot']} before it goes onto the shelf, or scrap it.",
            )
        if plate["new_mm"] is None:
            raise BadInput(
                inside(path, "new_mm"),
                f"Say how thick the plate from {plate['slot']} was when new: its limit rests on it.",
            )
        if plate["minimum_mm"] is not None and plate["minimum_mm"] >= lowest_of(plate):
            raise BadInput(
                inside(path, "where"),
                f"The plate from {plate['slot']} is not above its limit, {say(plate['minimum_mm'], 'mm')}: scrap it.",
            )


def came_out(request: dict[str, Any]) -> dict[str, Any]:
    """What came out of the places of a rebuild, and where each plate may go by its last check.

    Parameters
    ----------
    request : dict
        Checked by `STARTS_FORM`.

    Returns
    -------
    dict
        plates, a row for each plate of the stack whose place another part goes into, in the stack's order: slot, part,
        start (keep where its last check found it within its limit, scrap where that found it worn, None where it was
        not measured since it was fitted or the reading leaves it open: then the builder has to say), why in words, name
        for the shelf, and mm, lowest_mm, within_mm, minimum_mm (None where it has none of its own), new_mm and family
        as far as they are known; mm is None where it was not measured.

    Examples
    --------
    >>> place = {"slot": "A2", "part": "friction", "mm": 2.43, "lowest_mm": 2.42, "known": "measured",
    ...     "within_mm": 0.005, "new_mm": 2.5, "minimum_mm": 2.3, "usual_minimum": True, "replace": False}
    >>> request = {"unit_name": "Bramble", "places": [place], "by_slot": {"A2": {"verdict": "go"}}, "slots": ["A2"]}
    >>> row = came_out(STARTS_FORM.read(request, ""))["plates"][0]
    >>> row["start"], row["name"], row["minimum_mm"]
    ('keep', 'Bramble A2 2.43', None)
    """
    names = [trimmed(name) for name in request["taken_names"]]
    plates = []
    for place in request["places"]:
        if place["part"] in PLATES and place["slot"] in request["slots"]:
            row = plate_out(place, request["by_slot"].get(place["slot"]), request)
            row["name"] = own_name(request["unit_name"], row, names)
            names.append(row["name"])
            plates.append(row)
    return {"plates": plates}


def plate_out(place: dict[str, Any], looked: dict[str, Any] | None, request: dict[str, Any]) -> dict[str, Any]:
    """A plate that comes out of a place, and where it may go; `looked` is its last measurement."""
    measured = place["known"] == "measured"
    start, why = None, "not measured since it was fitted: measure it to keep it"
    if measured and place["lowest_mm"] < place["minimum_mm"]:
        start, why = SCRAP, f"worn: its last check found {say(place['lowest_mm'], 'mm')}"
    elif measured and place["replace"]:
        start, why = SCRAP, found_besides(looked or {}, place["slot"])
    elif measured and looked is not None and looked.get("verdict") == GO:
        start, why = KEEP, f"within its limit of {say(place['minimum_mm'], 'mm')} at its last check"
    elif measured:
        why = f"its last check leaves open whether it is above its limit of {say(place['minimum_mm'], 'mm')}"
    return {
        "slot": place["slot"],
        "part": place["part"],
        "start": start,
        "why": why,
        "mm": micrometres(place["mm"]) / 1000.0 if measured else None,
        "lowest_mm": micrometres(place["lowest_mm"]) / 1000.0 if measured else None,
        # Half a micrometre for the rounding, and written in whole ones.
        "within_mm": math.ceil(place["within_mm"] * 1000.0 + 0.5 - TINY) / 1000.0 if measured else None,
        "minimum_mm": None if place["usual_minimum"] else place["minimum_mm"],
        "new_mm": place["new_mm"],
        "family": request["family"],
    }


def found_besides(looked: dict[str, Any], slot: str) -> str:
    """Why a plate has to go that is thick enough: cracks, heat, taper or a gap, as its last measurement says.

    >>> found_besides({"reason": "A2: deep scoring, blue from heat, cracks."}, "A2")
    'its last check found: deep scoring, blue from heat, cracks'
    """
    reason = looked.get("reason") or ""
    if not reason:
        return "its last check says that it has to be replaced"
    start = f"{slot}: "
    found = reason[len(start) :] if reason.startswith(start) else reason
    return f"its last check found: {found.rstrip('.')}"


def own_name(unit_name: str, row: dict[str, Any], names: list[str]) -> str:
    """A name for a plate's bag that nothing else on the shelf has: unit, place, and thickness in hundredths of a mm.

    >>> own_name("A very long name of a unit that nobody says", {"slot": "A2", "mm": 2.4}, [])
    'A very long name of a unit t A2 2.40'
    >>> own_name("Bramble", {"slot": "A2", "mm": None}, ["Bramble A2"])
    'Bramble A2 (2)'
    """
    end = row["slot"] if row["mm"] is None else f"{row['slot']} {fixed(row['mm'], 2)}"
    room = LONGEST_NAME - len(end) - len(" (99)")
    start = f"{trimmed(unit_name[:room])} {end}".strip()
    name, again = start, 1
    while name in names:
        again += 1
        name = f"{start} ({again})"
    return name
