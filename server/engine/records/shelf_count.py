"""A count of the shelf: the plates and shims in stock."""

from typing import Any

from ..plan.pieces import SHELF
from ..request.errors import BadInput, inside, once_each
from ..request.fields import Group
from ..request.units import say
from .pieces import as_given

SHELF_FORM = Group({"pieces": SHELF}, "a count of the shelf")


def shelf(request: dict[str, Any]) -> dict[str, Any]:
    """Check a count of the shelf.

    Parameters
    ----------
    request : dict
        Checked by `SHELF_FORM`.

    Returns
    -------
    dict
        pieces, in SI, without what was left blank of a piece's limit and thickness when new; verdict, always None.

    Raises
    ------
    BadInput
        A name that stands for two pieces, a piece that is below its own limit, or a limit above its thickness when new.
    """
    once_each(request["pieces"], "pieces", "name", "is on the shelf twice: give each piece or class its own name.")
    for row, piece in enumerate(request["pieces"]):
        path = inside(inside("pieces", row), "minimum_mm")
        if piece["minimum_mm"] is not None and piece["minimum_mm"] >= piece["mm"]:
            raise BadInput(
                path,
                f"{piece['name']} is not above this limit: take it off the shelf, or correct its limit or its "
                f"thickness, {say(piece['mm'], 'mm')}.",
            )
    return {"verdict": None, "pieces": as_given(request["pieces"])}
