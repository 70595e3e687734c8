"""Units in the order in which somebody looked at them last: the latest is most often the unit at hand."""

from typing import Any

from ..request.dates import instant
from ..request.errors import BadInput, inside
from ..request.fields import Group, Listing, Text
from ..request.sorting import in_order

FORM = Group(
    {
        "units": Listing(
            Group(
                {
                    "unit_id": Text(40, "the unit's own id"),
                    "looked_at": Text(40, "when somebody last looked at it, with offset", default=""),
                },
                "a unit",
            ),
            0,
            100000,
            "units, in the order to keep where two were never looked at, or at the same time",
            nouns="units",
        )
    },
    "units with the time of their last look",
)


def last_looked(request: dict[str, Any]) -> dict[str, Any]:
    """Units in the order in which somebody looked at them, the latest first.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        order, ids of the units; those that nobody looked at yet come last.

    Raises
    ------
    BadInput
        A time that cannot be read.

    Examples
    --------
    >>> looks = (("a", ""), ("b", "2026-05-03T00:20:00+02:00"), ("c", "2026-05-02T23:20:00+00:00"), ("d", ""))
    >>> last_looked(FORM.read({"units": [{"unit_id": name, "looked_at": at} for name, at in looks]}, ""))["order"]
    ['c', 'b', 'a', 'd']
    """
    rows = []
    for place, row in enumerate(request["units"]):
        try:
            looked = instant(row["looked_at"]) if row["looked_at"] else ""
        except (ValueError, IndexError):
            path = inside(inside(inside("", "units"), place), "looked_at")
            raise BadInput(path, "Give the time with its offset, for example 2026-11-25T10:30:00+01:00.") from None
        rows.append((looked, row["unit_id"]))
    return {"order": [name for _, name in in_order(rows, lambda row: row[0], reverse=True)]}
