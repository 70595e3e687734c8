"""The stack's places, in whole micrometres: what is fitted, what has to stay or go, and what each may become."""

import math
from typing import Any, NamedTuple

from ..request.errors import BadInput, inside
from ..request.units import say
from ..unit.stack import FRICTION, RING, SEPARATOR, SHIM, SPRING
from ..unit.usual_limits import MEASURED_WITHIN_MM, UNMEASURED_WITHIN_MM, usual_minimum

# Order in which kinds of plates are arranged; any would do.
PARTS = (FRICTION, SEPARATOR, SHIM)

# Plates that wear, and have a limit whether or not somebody gave one.
WEARING = (FRICTION, SEPARATOR)

# A place of which a request says nothing.
UNTOLD = {
    "mm": None,
    "lowest_mm": None,
    "new_mm": None,
    "minimum_mm": None,
    "within_mm": None,
    "keep": False,
    "replace": False,
}

Place = NamedTuple(
    "Place",
    [
        ("slot", str),
        ("part", str),
        # 0 for the first pack, 1 for the second, None for what belongs to neither.
        ("side", Any),
        # Thickness as fitted and when new, micrometres.
        ("size", int),
        ("new", int),
        # How far off the thickness may be, mm.
        ("within", float),
        # Limit of the piece in it, mm, or None, and whether it is only common practice.
        ("minimum", Any),
        ("usual_minimum", bool),
        # Whether a plate may be chosen for it, and whether the fitted one may be that.
        ("open", bool),
        ("may_stay", bool),
    ],
)


def micrometres(mm: float) -> int:
    """Whole micrometres nearest to a length in mm; no tool of this job reads finer.

    >>> micrometres(2.4725), micrometres(-0.1)
    (2473, -100)
    """
    return math.floor(mm * 1000.0 + 0.5)


def limit_of(item: dict[str, Any], plate: dict[str, Any]) -> tuple[float | None, bool]:
    """The limit of the piece in a place, mm: its own, else the place's, else for a plate that of common practice.

    Parameters
    ----------
    item : dict
        The place in the definition.
    plate : dict
        The piece in it, checked by `FITTED`.

    Returns
    -------
    tuple
        (limit or None, whether it is only common practice).
    """
    for given in (plate["minimum_mm"], item["minimum_mm"]):
        if given is not None:
            return float(given), False
    if item["part"] not in WEARING:
        return None, False
    return usual_minimum(item["new_mm"] if plate["new_mm"] is None else plate["new_mm"]), True


def places_of(chain: list[dict[str, Any]], fitted: list[dict[str, Any]], field: str) -> list[Place]:
    """Every part of the stack but the springs, with what may be done about it.

    Raises
    ------
    BadInput
        A slot that is not in the stack or named twice, a part that is to stay and to go, a worn one that is to stay.
    """
    given: dict[str, Any] = {}
    slots = [item["slot"] for item in chain if item["part"] != SPRING]
    for row, plate in enumerate(fitted):
        path = inside(inside(field, row), "slot")
        if plate["slot"] not in slots:
            raise BadInput(path, f"{plate['slot']} is no plate of this stack: choose one of its slots.")
        if plate["slot"] in given:
            raise BadInput(path, f"{plate['slot']} is given twice: keep one of them.")
        given[plate["slot"]] = (row, plate)
    rings = [place for place, item in enumerate(chain) if item["part"] == RING]
    answer = []
    for place, item in enumerate(chain):
        if item["part"] != SPRING:
            row, plate = given.get(item["slot"], (0, UNTOLD))
            side = 0 if place < rings[0] else 1 if place > rings[1] else None
            answer.append(place_of(item, plate, side, inside(field, row)))
    return answer


def place_of(item: dict[str, Any], plate: dict[str, Any], side: int | None, path: str) -> Place:
    """One place, from its part in the definition and what is fitted there; `path` is that of the latter."""
    mm = item["new_mm"] if plate["mm"] is None else plate["mm"]
    if plate["keep"] and plate["replace"]:
        raise BadInput(inside(path, "replace"), f"{item['slot']} cannot both stay and go: choose one.")
    limit, usual = limit_of(item, plate)
    lowest = mm if plate["lowest_mm"] is None else plate["lowest_mm"]
    worn = limit is not None and lowest < limit
    if plate["keep"] and worn:
        raise BadInput(
            inside(path, "keep"), f"{item['slot']} is below its limit of {say(limit or 0.0, 'mm')}: it has to go."
        )
    free = item["part"] in PARTS and side is not None and not plate["keep"]
    if plate["replace"] and not free:
        raise BadInput(inside(path, "replace"), f"{item['slot']} is no plate that the shelf can replace.")
    within = plate["within_mm"]
    if within is None:
        within = UNMEASURED_WITHIN_MM if plate["mm"] is None else MEASURED_WITHIN_MM
    return Place(
        item["slot"],
        item["part"],
        side,
        micrometres(mm),
        micrometres(item["new_mm"] if plate["new_mm"] is None else plate["new_mm"]),
        within,
        limit,
        usual,
        free,
        not (plate["replace"] or (worn and free)),
    )


def lean_of(chain: list[dict[str, Any]]) -> int:
    """First pack less second as the definition has them, micrometres: what the packs are meant to differ by."""
    rings = [place for place, item in enumerate(chain) if item["part"] == RING]
    lean = 0
    for place, item in enumerate(chain):
        if item["part"] in PARTS and not rings[0] < place < rings[1]:
            lean += micrometres(item["new_mm"]) if place < rings[0] else -micrometres(item["new_mm"])
    return lean
