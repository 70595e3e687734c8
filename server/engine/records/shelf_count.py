"""A count of the shelf: the plates and shims in stock, and what is left of them after a rebuild."""

from typing import Any

from ..plan.pieces import SHELF, with_limits
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
            "every piece that was fitted, wherever it came from",
            default=[],
            nouns="pieces",
        ),
    },
    "a shelf from which pieces were fitted",
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
        taken, how many pieces came off the shelf: of each no more than there were; pieces, what is left, in SI; known,
        for every name that was given: minimum_mm, the limit of that piece or its class, and within_mm, how far off its
        thickness may be, each None where the shelf does not say.

    Examples
    --------
    >>> pieces = [{"name": name, "part": "friction", "mm": 2.5, "count": 2} for name in ("2.50", "spare")]
    >>> result = shelf_less(LESS_FORM.read({"pieces": pieces, "fitted": ["2.50", "spare ", "2.50", "2.50", ""]}, ""))
    >>> result["taken"], [(piece["name"], piece["count"]) for piece in result["pieces"]]
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
    by_name = {piece["name"]: piece for piece in with_limits(request["pieces"])}
    return {"taken": taken, "pieces": as_given(left), "known": [known_of(by_name.get(name)) for name in names]}


def known_of(piece: dict[str, Any] | None) -> dict[str, Any]:
    """What the shelf says about a piece besides its thickness."""
    if piece is None:
        return {"minimum_mm": None, "within_mm": None, "family": None}
    limit = None if piece["usual_minimum"] else piece["minimum_mm"]
    return {"minimum_mm": limit, "within_mm": piece["within_mm"], "family": piece["family"]}
