"""Guided strip and close: which steps there are, which were done, and who signed.

The order of the steps is what keeps fingers and eyes: the spring is held closed before the screws are touched, either
way. Common practice, no source; the maker's procedure comes first.
"""

from typing import Any

from ..request.errors import BadInput, inside
from ..request.fields import Choice, Group, Listing, Number, Text

STRIP = [
    ("drained", "oil drained, and the magnet and the oil looked at"),
    ("out", "unit out of the axle, case clean outside"),
    ("marked", "cover, rings and case marked to each other"),
    ("held", "spring held closed in a vice or press, eyes covered"),
    ("screws", "cover screws undone crosswise, a little each time"),
    ("relieved", "vice opened slowly until the spring is free"),
    ("laid", "parts laid out in their order"),
]

CLOSE = [
    ("clean", "every part clean and dry, no dirt on any face"),
    ("oiled", "plates oiled"),
    ("order", "order of the plates and way of the rings checked against the sheet"),
    ("held", "spring held closed in a vice or press, eyes covered"),
    ("flush", "cover flush, no plate caught on its splines"),
    ("screws", "cover screws tightened crosswise to their torque"),
    ("opened", "vice opened slowly"),
    ("turned", "turned through by hand, both ways, before the first reading"),
]

# In each procedure no screw is touched before the spring is held.
BEFORE_SCREWS = "held"


def form(steps: list[tuple[str, str]], meaning: str) -> Group:
    """The form of a guided procedure."""
    return Group(
        {
            "done": Listing(
                Choice(dict(steps), "a step"), 1, len(steps), "steps that were done, in order", nouns="steps"
            ),
            "vice_n": Number(0, 200000, "n", "force that the vice has to hold, as it was shown", default=None),
            "signed": Text(60, "who did it and signs for it"),
            "note": Text(2000, "anything that was seen", default=""),
        },
        meaning,
    )


STRIP_FORM = form(STRIP, "a unit stripped")
CLOSE_FORM = form(CLOSE, "a unit closed")


def signed(request: dict[str, Any], steps: list[tuple[str, str]]) -> dict[str, Any]:
    """What is left to do; refuses steps twice, and screws before the spring is held."""
    done: list[str] = request["done"]
    for place, name in enumerate(done):
        if name in done[:place]:
            raise BadInput(inside("done", place), "This step is there twice: keep one of them.")
        if name == "screws" and BEFORE_SCREWS not in done[:place]:
            raise BadInput(inside("done", place), "Hold the spring closed in a vice before the screws are touched.")
    left = [name for name, _ in steps if name not in done]
    return {"verdict": None, "complete": not left, "left": left, "signed": request["signed"]}


def strip(request: dict[str, Any]) -> dict[str, Any]:
    """Check a strip's sign-off.

    Parameters
    ----------
    request : dict
        Checked by `STRIP_FORM`.

    Returns
    -------
    dict
        complete; left, the steps not done; signed; verdict, always None.

    Raises
    ------
    BadInput
        A step twice, or the screws before the spring is held.
    """
    return signed(request, STRIP)


def close(request: dict[str, Any]) -> dict[str, Any]:
    """Check a close's sign-off: as `strip`, for the steps of `CLOSE`."""
    return signed(request, CLOSE)


def steps(_: dict[str, Any]) -> dict[str, Any]:
    """The steps of both procedures, in order, with their words, for the screens that guide through them."""
    return {
        name: [{"name": step, "text": text} for step, text in listed]
        for name, listed in (("strip", STRIP), ("close", CLOSE))
    }
