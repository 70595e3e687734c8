"""A photo of a part: the log holds what it shows and the hash of its content; the picture is a file of its own."""

from typing import Any

from ..request.errors import BadInput
from ..request.fields import Group, Text, Whole

FORM = Group(
    {
        "sha256": Text(64, "SHA-256 of the picture, 64 hexadecimal digits"),
        "bytes": Whole(1, 4_000_000, "size of the picture"),
        "wide": Whole(1, 1600, "width in pixels"),
        "tall": Whole(1, 1600, "height in pixels"),
        "slot": Text(20, "place in the stack that it shows", default="", label="Which part?"),
        "text": Text(500, "what it shows", default="", label="What the photo shows"),
    },
    "a photo",
)


def is_sha256(text: str) -> bool:
    """Whether a text is a SHA-256 as 64 hexadecimal digits in lower case.

    >>> is_sha256("0" * 64), is_sha256("0" * 63 + "g")
    (True, False)
    """
    return len(text) == 64 and all(digit in "0123456789abcdef" for digit in text)


def photo(request: dict[str, Any]) -> dict[str, Any]:
    """Check a photo's entry.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        verdict, always None.

    Raises
    ------
    BadInput
        The hash is not 64 hexadecimal digits.
    """
    if not is_sha256(request["sha256"]):
        raise BadInput("sha256", "Give the SHA-256 of the picture as 64 hexadecimal digits in lower case.")
    return {"verdict": None}
