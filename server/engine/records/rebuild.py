"""What a rebuild fitted, and what lies on the shelf."""

from typing import Any

from ..request.errors import once_each
from ..request.fields import Group, Listing, Number, Text, YesNo

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
