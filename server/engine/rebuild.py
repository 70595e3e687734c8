"""What a rebuild fitted, and what lies on the shelf."""

from typing import Any

from .errors import once_each
from .fields import Group, Listing, Number, Text, YesNo
from .shelf import SHELF

REBUILD_FORM = Group(
    {
        "fitted": Listing(
            Group(
                {
                    "slot": Text(20, "place in the stack"),
                    "mm": Number(0.05, 80, "mm", "thickness of the part that was fitted"),
                    "piece": Text(40, "what the piece was called on the shelf", default=""),
                },
                "a part that was fitted",
            ),
            0,
            80,
            "parts that were exchanged; none where only the order or the oil changed",
            default=[],
            nouns="parts",
        ),
        "spring": Text(200, "what was done about the spring", default=""),
        "other_spring": YesNo("whether another spring was fitted; left out, anything done says yes", default=None),
        "oil": Text(60, "oil that was filled", default=""),
        "note": Text(2000, "what was done and why"),
    },
    "a rebuild",
)

SHELF_FORM = Group({"pieces": SHELF}, "a count of the shelf")


def rebuild(request: dict[str, Any]) -> dict[str, Any]:
    """Check what a rebuild fitted.

    Parameters
    ----------
    request : dict
        Checked by `REBUILD_FORM`.

    Returns
    -------
    dict
        fitted, in SI; verdict, always None: a rebuild is judged by the check that follows it.

    Raises
    ------
    BadInput
        A slot named twice.
    """
    once_each(request["fitted"], "fitted", "slot", "is fitted twice here: keep one of them.")
    return {"verdict": None, "fitted": request["fitted"]}


def shelf(request: dict[str, Any]) -> dict[str, Any]:
    """Check a count of the shelf.

    Parameters
    ----------
    request : dict
        Checked by `SHELF_FORM`.

    Returns
    -------
    dict
        pieces, in SI; verdict, always None.

    Raises
    ------
    BadInput
        A name that stands for two pieces.
    """
    once_each(request["pieces"], "pieces", "name", "is on the shelf twice: give each piece or class its own name.")
    return {"verdict": None, "pieces": request["pieces"]}
