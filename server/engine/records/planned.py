"""A plan that was taken: the plates that it means to fit are reserved until the unit is rebuilt."""

from typing import Any

from ..part_checks.plates import PLATES
from ..request.errors import once_each
from ..request.fields import Choice, Group, Listing, Number, Text, YesNo
from .pieces import as_given

PLANNED_FORM = Group(
    {
        "fitted": Listing(
            Group(
                {
                    "slot": Text(20, "place in the stack"),
                    "part": Choice(PLATES, "what kind of plate"),
                    "piece": Text(40, "what the piece is called on the shelf"),
                    "mm": Number(0.02, 50, "mm", "its thickness"),
                    "minimum_mm": Number(0.01, 50, "mm", "its limit, where it is known", default=None),
                    "bought": YesNo("whether it has to be bought first", default=False),
                },
                "a plate that is to be fitted",
            ),
            1,
            80,
            "every plate that is to be fitted",
            nouns="plates",
        ),
        "torque_nm": Number(0.01, 2000, "nm", "breakaway torque that it gives", default=None),
        "wanted_nm": Number(0.01, 2000, "nm", "breakaway torque that is wanted", default=None),
        "note": Text(2000, "anything to remember about it", default=""),
    },
    "a plan that was taken",
)


def planned(request: dict[str, Any]) -> dict[str, Any]:
    """Check a plan that was taken.

    Parameters
    ----------
    request : dict
        Checked by `PLANNED_FORM`.

    Returns
    -------
    dict
        fitted, in SI; torque_nm and wanted_nm, or None; verdict, always None.

    Raises
    ------
    BadInput
        A place that is filled twice.
    """
    once_each(request["fitted"], "fitted", "slot", "is filled twice in this plan: keep one of them.")
    return {
        "verdict": None,
        "fitted": as_given(request["fitted"]),
        "torque_nm": request["torque_nm"],
        "wanted_nm": request["wanted_nm"],
    }
