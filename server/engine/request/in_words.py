"""A figure that was typed in one unit, as the reader's own unit has it."""

from typing import Any

from .errors import BadInput
from .fields import Group, Number
from .units import say
from .written_in import with_written_in, written_in_by

FORM = Group(
    with_written_in(
        {
            "torque_nm": Number(-1e6, 1e6, "nm", "a torque, as it was typed", default=None),
            "length_mm": Number(-1e6, 1e6, "mm", "a length, as it was typed", default=None),
        },
        "write_in",
        "write_lengths_in",
    ),
    "a figure in the reader's unit",
)


def in_words(request: dict[str, Any]) -> dict[str, Any]:
    """A typed torque or length as sentences give it.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; either a torque or a length.

    Returns
    -------
    dict
        text, with its unit.

    Raises
    ------
    BadInput
        Neither of the two, or both.

    Examples
    --------
    >>> in_words(FORM.read({"torque_nm": {"typed": "60", "unit": "lbf_ft"}}, ""))["text"]
    '81.3 N·m'
    """
    torque, length = request["torque_nm"], request["length_mm"]
    if (torque is None) == (length is None):
        raise BadInput("torque_nm", "Give one figure: a torque or a length.")
    written_in = written_in_by(request)
    return {"text": say(length, "mm", written_in.mm) if torque is None else say(torque, "nm", written_in.nm)}
