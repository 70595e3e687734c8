"""Whether a figure that was typed for one plate of a stack belongs to a plate of another class.

A friction plate's thickness at a separator's place, or a separator of another grade, is a slip of the hand that a
verdict would turn into a worn plate: it is asked about as soon as the figure stands there.
"""

from typing import Any

from ..request.fields import Choice, Group, Listing, Number, Text
from ..request.letters import listed
from ..request.units import say, unit_labels
from .plates import PLATES

# How far above its thickness when new a plate may still be read: dirt and glaze. Common practice, no source.
ABOVE_NEW_MM = 0.05
# How often its allowed wear a plate may have lost before another plate is the likelier reading. Common practice, no
# source: plates are opened long before.
WORN_TIMES = 2
# So many plates are named in the question: those next to the plate that was meant.
NAMED = 2

FORM = Group(
    {
        "write_in": Choice(unit_labels("mm"), "unit of length that sentences are written in", default="mm"),
        "plates": Listing(
            Group(
                {
                    "slot": Text(20, "place of the plate in the stack"),
                    "part": Choice(PLATES, "what kind of plate"),
                    "new_mm": Number(0.05, 50, "mm", "thickness when new"),
                    "minimum_mm": Number(0.02, 50, "mm", "thickness at which it has to be replaced"),
                    "points_mm": Listing(
                        Number(0, 10000, "mm", "a figure that was typed for it"),
                        0,
                        24,
                        "figures that were typed for it so far",
                        nouns="points",
                    ),
                },
                "a plate of the stack",
            ),
            1,
            80,
            "the plates of the stack, in their order",
            nouns="plates",
        ),
    },
    "figures that are typed for plates",
)


def fits(plate: dict[str, Any], point: float) -> bool:
    """Whether a plate, new or worn, may be as thick as this, mm."""
    lost: float = WORN_TIMES * (plate["new_mm"] - plate["minimum_mm"])
    thinnest: float = plate["new_mm"] - lost
    return bool(thinnest <= point <= plate["new_mm"] + ABOVE_NEW_MM)


def same_class(plate: dict[str, Any], other: dict[str, Any]) -> bool:
    """Whether two plates could change places: of one kind, and as thick when new."""
    return bool(plate["part"] == other["part"] and abs(plate["new_mm"] - other["new_mm"]) < 1e-9)


def question(plates: list[dict[str, Any]], place: int, unit: str) -> dict[str, Any] | None:
    """What is asked about the plate at a place of the list; None where all of its figures may be its own."""
    plate = plates[place]
    near = sorted((abs(other - place), other) for other in range(len(plates)) if other != place)
    for number, point in enumerate(plate["points_mm"]):
        if fits(plate, point):
            continue
        others = [plates[other] for _, other in near]
        likely = [other for other in others if not same_class(plate, other) and fits(other, point)]
        if likely:
            names = [other["slot"] for other in likely]
            whole = [other["slot"] for other in likely if all(fits(other, each) for each in plate["points_mm"])]
            text = sentence(plate, point, [other for other in likely if same_class(other, likely[0])], unit)
            return {"slot": plate["slot"], "point": number, "fits": names, "fits_whole": whole, "text": text}
    return None


def sentence(plate: dict[str, Any], point: float, alike: list[dict[str, Any]], unit: str) -> str:
    """The question, with the nearest plates of the class that the figure fits."""
    some = [other["slot"] for other in alike[:NAMED]]
    names = listed(some)
    kind = PLATES[alike[0]["part"]] + ("s" if some[1:] else "")
    size = say(alike[0]["new_mm"], "mm", unit)
    own = say(plate["new_mm"], "mm", unit)
    return f"{say(point, 'mm', unit)} fits {names} ({kind}, {size} new), not {plate['slot']} ({own} new). Which was it?"


def which_plate(request: dict[str, Any]) -> dict[str, Any]:
    """Ask about figures that fit a plate of another class than the one that they were typed for.

    Parameters
    ----------
    request : dict
        Checked by `FORM`: every plate of the stack, with what was typed for it.

    Returns
    -------
    dict
        asked, a row for each plate with such a figure: slot; point, the place of the figure among those that were
        sent; fits, plates of another class that it fits, the nearest in the stack first; fits_whole, those that all
        figures of the plate fit; text, the question.

    Raises
    ------
    BadInput
        A figure that cannot be read.

    References
    ----------
    Common practice, no source: see `ABOVE_NEW_MM` and `WORN_TIMES`.
    """
    plates = request["plates"]
    found = [question(plates, place, request["write_in"]) for place in range(len(plates))]
    return {"asked": [row for row in found if row is not None]}
