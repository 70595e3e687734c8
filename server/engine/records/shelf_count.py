"""A count of the shelf: the plates and shims in stock, and what is left of them after a rebuild."""

from typing import Any

from ..plan.pieces import HOW_MANY, SHELF, lowest_of, with_limits
from ..request.errors import BadInput, inside, once_each
from ..request.fields import Field, Group, Listing, Text, Whole, YesNo
from ..request.letters import trimmed
from ..request.units import say
from .pieces import as_given

# Rows that a count may have: pieces that came out of units are rows of their own.
MOST_COUNTED = 300


def counted_fields() -> dict[str, Field]:
    """The fields of a row of the shelf as it is counted: a class that has run out is still a row."""
    fields: dict[str, Field] = {}
    assert isinstance(SHELF.of, Group)
    for name, field in SHELF.of.in_order:
        fields[name] = field if name != "count" else Whole(0, 99, "how many there are", default=1, label=HOW_MANY)
    fields["lowest_stock"] = Whole(
        0,
        99,
        "lowest stock of the class: with fewer than this, more are to be bought",
        default=None,
        label="Lowest stock",
    )
    return fields


COUNTED = Listing(
    Group(counted_fields(), "a measured piece, or a class of equal ones, as it was counted"),
    0,
    MOST_COUNTED,
    "plates in stock",
    nouns="pieces",
)

SHELF_FORM = Group(
    {
        "pieces": COUNTED,
        "only_these": YesNo(
            "whether only these rows were counted, and the others are as they were; the whole shelf, if empty",
            default=None,
        ),
    },
    "a count of the shelf",
)

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
        pieces, in SI, without what was left blank of a piece's limit and thickness when new; only_these, where that was
        said; verdict, always None.

    Raises
    ------
    BadInput
        A name that stands for two pieces, a piece that is below its own limit, or a limit above its thickness when new.
    """
    once_each(request["pieces"], "pieces", "name", "is on the shelf twice: give each piece or class its own name.")
    for row, piece in enumerate(request["pieces"]):
        path = inside(inside("pieces", row), "minimum_mm")
        if piece["minimum_mm"] is not None and piece["minimum_mm"] >= lowest_of(piece):
            raise BadInput(
                path,
                f"{piece['name']} is not above this limit: take it off the shelf, or correct its limit or its "
                f"thickness, {say(lowest_of(piece), 'mm')}.",
            )
    answer: dict[str, Any] = {"verdict": None, "pieces": as_given(request["pieces"])}
    if request["only_these"]:
        answer["only_these"] = True
    return answer


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
    names = [trimmed(name) for name in request["fitted"]]
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
