"""What a rebuild fitted, and what lies on the shelf."""

from typing import Any

from ..plan.pieces import FAMILY
from ..request.errors import BadInput, inside, once_each
from ..request.fields import Choice, Group, Listing, Number, Text, YesNo
from ..request.units import say
from ..unit.stack import SPRING
from .came_out import CAME_OUT, refuse_unkept
from .marked_exchange import EXCHANGED, refuse_unmarked
from .pieces import as_given
from .trial import MADE

FITTED = Listing(
    Group(
        {
            "slot": Text(20, "place in the stack", label="Place"),
            "mm": Number(0.05, 80, "mm", "thickness of the part that was fitted", label="Thickness"),
            "piece": Text(40, "what the piece was called on the shelf", default="", label="Name on the shelf"),
            "minimum_mm": Number(
                0.02,
                80,
                "mm",
                "its limit, where it is known: thickness at which it is replaced",
                default=None,
                label="Limit of this piece",
            ),
            "within_mm": Number(0, 1, "mm", "how far off its thickness may be", default=None),
            "family": FAMILY,
            "bought": YesNo(
                "whether it was bought for this rebuild and never lay on the shelf",
                default=None,
                label="Bought for this, never on the shelf",
            ),
        },
        "a part that was fitted",
    ),
    0,
    80,
    "parts that were exchanged; none where only the order or the oil changed",
    default=[],
    nouns="parts",
)

# What a rebuild means for the shelf.
MOVES = "moves"
COUNTED = "counted"

REBUILD_FORM = Group(
    {
        "fitted": FITTED,
        "came_out": CAME_OUT,
        "shelf": Choice(
            {
                MOVES: "what was fitted comes off it, and what is kept goes onto it",
                COUNTED: "a count that was made since has all of it already",
            },
            "what it means for the shelf; nothing, if empty",
            default=None,
            label="The shelf's count",
        ),
        "trials": MADE,
        "spring": Text(200, "what was done about the spring", default="", label="What was done about the spring"),
        "other_spring": YesNo(
            "whether another spring was fitted; if empty, any text on the spring counts as yes",
            default=None,
            label="The spring",
        ),
        "replaced": Listing(
            Text(60, "name of an inspected feature"),
            0,
            60,
            "inspected features whose part was replaced: what was found of it no longer counts",
            default=[],
            nouns="features",
        ),
        "marked_parts": EXCHANGED,
        "oil": Text(60, "oil that was filled", default="", label="Oil filled"),
        "note": Text(2000, "what was done and why", label="What was done and why"),
        "hours": Number(0, 1000, "", "hours of work", default=None, label="Hours of work"),
        "parts_cost": Number(
            0, 1000000, "", "cost of the parts, in the workshop's own money", default=None, label="Cost of the parts"
        ),
    },
    "a rebuild",
)


def rebuild(request: dict[str, Any]) -> dict[str, Any]:
    """Check what a rebuild fitted.

    Parameters
    ----------
    request : dict
        Checked by `REBUILD_FORM`.

    Returns
    -------
    dict
        fitted, in SI, without what was left blank of a part's limit and doubt; came_out, shelf and trials, where they
        were given; verdict, always None: a rebuild is judged by the check that follows it.

    Raises
    ------
    BadInput
        A slot named twice, a part that is worn out as it is fitted, a plate that is to be kept and cannot be (see
        `refuse_unkept`), or marked parts that contradict themselves (see `refuse_unmarked`).
    """
    once_each(request["fitted"], "fitted", "slot", "is fitted twice here: keep one of them.")
    for row, part in enumerate(request["fitted"]):
        if part["minimum_mm"] is not None and part["minimum_mm"] >= part["mm"]:
            raise BadInput(
                inside(inside("fitted", row), "minimum_mm"),
                f"The limit must be below the thickness that is fitted, {say(part['mm'], 'mm')}.",
            )
    refuse_unkept(request["came_out"])
    refuse_unmarked(request["marked_parts"], "marked_parts")
    refuse_same_spring(request)
    answer: dict[str, Any] = {"verdict": None, "fitted": as_given(request["fitted"])}
    if request["came_out"]:
        answer["came_out"] = as_given(request["came_out"])
    if request["shelf"] is not None:
        answer["shelf"] = request["shelf"]
    if request["trials"]:
        answer["trials"] = request["trials"]
    return answer


def refuse_same_spring(request: dict[str, Any]) -> None:
    """Refuse a marked spring that went in or came out where the spring is said to be the same."""
    for row, part in enumerate(request["marked_parts"]):
        if part["part"] == SPRING and request["other_spring"] is False:
            raise BadInput(
                inside(inside("marked_parts", row), "part"),
                "A spring that came out or went in is another one: say that another was fitted, or remove this line.",
            )
