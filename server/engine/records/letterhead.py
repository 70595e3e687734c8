"""The workshop's letterhead: its name, its address and its mark, as they stand on the sheets that it hands out."""

from typing import Any

from ..request.errors import BadInput
from ..request.fields import Group, Text

# About 22 kB: a mark is a few centimetres wide on paper.
MOST_LETTERS = 30000
BASE64 = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/="
# A picture says in its first bytes what it is: JPEG (ISO/IEC 10918-1, SOI marker) and PNG (ISO/IEC 15948, 5.2).
BEGINNINGS = ("/9j/", "iVBORw0KGgo")

LETTERHEAD_FORM = Group(
    {
        "name": Text(80, "the workshop's name", label="The workshop's name"),
        "lines": Text(
            300,
            "what stands below it: address, telephone, a line each",
            default="",
            label="Address and telephone, a line each",
        ),
        "mark": Text(MOST_LETTERS, "its mark: a JPEG or PNG picture in base64", default="", label="Mark"),
    },
    "a letterhead",
)


def letterhead(request: dict[str, Any]) -> dict[str, Any]:
    """Check a letterhead.

    Parameters
    ----------
    request : dict
        Checked by `LETTERHEAD_FORM`.

    Returns
    -------
    dict
        verdict, always None.

    Raises
    ------
    BadInput
        The mark is no picture.

    References
    ----------
    1. RFC 4648, 4: base64.
    """
    mark = request["mark"]
    if mark and not (mark.startswith(BEGINNINGS) and len(mark) % 4 == 0 and all(letter in BASE64 for letter in mark)):
        raise BadInput("mark", "Choose a picture as JPEG or PNG.")
    return {"verdict": None}
