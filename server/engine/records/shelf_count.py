"""A count of the shelf: the plates and shims in stock."""

from typing import Any

from ..plan.places import SHELF
from ..request.errors import once_each
from ..request.fields import Group

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
        pieces, in SI; verdict, always None.

    Raises
    ------
    BadInput
        A name that stands for two pieces.
    """
    once_each(request["pieces"], "pieces", "name", "is on the shelf twice: give each piece or class its own name.")
    return {"verdict": None, "pieces": request["pieces"]}
