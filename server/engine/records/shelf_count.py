"""A count of the shelf: the plates and shims in stock, and what is left of them after a rebuild."""

from typing import Any

from ..plan.pieces import SHELF
from ..request.errors import BadInput, inside, once_each
from ..request.fields import Group, Listing, Text
from ..request.units import say
from .pieces import as_given

SHELF_FORM = Group({"pieces": SHELF}, "a count of the shelf")

LESS_FORM = Group(
    {
        "pieces": SHELF,
        "fitted": Listing(
            Text(40, "what the piece was called on the shelf", default=""),
            0,
            80,
            "every piece that was fitted, also such as came from elsewhere",
            default=[],
            nouns="pieces",
        ),
    },
    "a shelf off which something was taken",
)


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


def shelf_less(request: dict[str, Any]) -> dict[str, Any]:
    """The shelf without what was fitted, so that nobody plans with a plate that is in a unit.

    Parameters
    ----------
    request : dict
        Checked by `LESS_FORM`.

    Returns
    -------
    dict
        taken, how many pieces came off the shelf: of each no more than there were; pieces, what is left, in SI.

    Examples
    --------
    >>> pieces = [{"name": name, "part": "friction", "mm": 2.5, "count": 2} for name in ("2.50", "spare")]
    >>> found = shelf_less(LESS_FORM.read({"pieces": pieces, "fitted": ["2.50", "spare ", "2.50", "2.50", ""]}, ""))
    >>> found["taken"], [(piece["name"], piece["count"]) for piece in found["pieces"]]
    (3, [('spare', 1)])
    """
    names = [name.strip() for name in request["fitted"]]
    taken, left = 0, []
    for piece in request["pieces"]:
        fitted = min(piece["count"], len([name for name in names if name == piece["name"]]))
        taken += fitted
        if piece["count"] > fitted:
            fewer = dict(piece)
            fewer["count"] = piece["count"] - fitted
            left.append(fewer)
    return {"taken": taken, "pieces": as_given(left)}
