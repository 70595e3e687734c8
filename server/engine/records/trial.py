"""A change to try: chosen because of what a driver felt, made with a rebuild or a service, and asked about after."""

from typing import Any

from ..request.errors import BadInput
from ..request.fields import Choice, Group, Listing, Number, Text, Whole
from ..request.letters import trimmed
from .outing import COMPLAINT, complaint_in_words

PRELOAD = "preload"
TURNED_OVER = "turned_over"
PAIR = "pair"
DRIVE_RAMP = "drive_ramp"
COAST_RAMP = "coast_ramp"
FACES = "faces"
OIL = "oil"

LEVERS = {
    TURNED_OVER: "rings turned over, drive and coast swapped",
    PAIR: "another pair of its ramps",
    PRELOAD: "another preload",
    DRIVE_RAMP: "another drive ramp",
    COAST_RAMP: "another coast ramp",
    FACES: "another number of sliding faces",
    OIL: "other oil or plates",
}

# What each change is stated by, and the sentence where it lacks.
STATED_BY = {
    PAIR: ("pair", "Say which pair of ramps: its name on the unit."),
    PRELOAD: ("torque_nm", "Type the breakaway torque that it is to have."),
    DRIVE_RAMP: ("drive_deg", "Type the angle of the drive ramp."),
    COAST_RAMP: ("coast_deg", "Type the angle of the coast ramp."),
    FACES: ("faces", "Type how many sliding faces both packs together are to have."),
}
FIGURES = ("pair", "torque_nm", "drive_deg", "coast_deg", "faces")

# In an entry that carries changes out: which of them.
MADE = Listing(
    Text(40, "id of the change"), 0, 12, "changes to try that were made with it", default=None, nouns="changes"
)

FORM = Group(
    {
        "lever": Choice(LEVERS, "what is changed"),
        "pair": Text(40, "name of the pair of ramps, for another pair", default=""),
        "torque_nm": Number(0.5, 5000, "nm", "breakaway torque, as the order states it", default=None),
        "drive_deg": Number(5, 90, "deg", "drive ramp angle", default=None),
        "coast_deg": Number(5, 90, "deg", "coast ramp angle", default=None),
        "faces": Whole(2, 200, "sliding faces of both packs together", default=None),
        "complaint": Group(COMPLAINT.fields, "what the driver felt", default=None),
        "outing": Text(40, "id of the outing at which it was felt", default=""),
        "reason": Text(2000, "why this change"),
    },
    "a change to try",
)


def change_in_words(request: dict[str, Any]) -> str:
    """A change as one line, without the torque of a preload, which is said in the reader's unit.

    >>> change_in_words({"lever": "drive_ramp", "drive_deg": 45.0, "pair": ""})
    'drive ramp 45°'
    """
    lever = request["lever"]
    if lever == PAIR:
        return f"ramps: {trimmed(request['pair'])}"
    if lever == DRIVE_RAMP:
        return f"drive ramp {request['drive_deg']:g}°"
    if lever == COAST_RAMP:
        return f"coast ramp {request['coast_deg']:g}°"
    if lever == FACES:
        return f"{request['faces']} sliding faces"
    return {PRELOAD: "another preload", TURNED_OVER: "rings turned over", OIL: "other oil or plates"}[lever]


def trial(request: dict[str, Any]) -> dict[str, Any]:
    """Check a change to try.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        verdict, always None; change, what is changed in a few words; felt, what it is for in one line, blank where it
        is for no complaint; torque_nm, breakaway torque that is to be ordered, N·m, or None.

    Raises
    ------
    BadInput
        A change whose figure is missing, or a figure of another change.

    Examples
    --------
    >>> trial(FORM.read({"lever": "turned_over", "reason": "loose on lift-off"}, ""))["change"]
    'rings turned over'
    """
    lever = request["lever"]
    own, missing = STATED_BY.get(lever, ("", ""))
    for name in FIGURES:
        empty = request[name] is None or (name == "pair" and not trimmed(request[name]))
        if name == own and empty:
            raise BadInput(name, missing)
        if name != own and not empty:
            raise BadInput(name, f"Leave this empty: the change is {LEVERS[lever]}.")
    complaint = request["complaint"]
    return {
        "verdict": None,
        "change": change_in_words(request),
        "felt": "" if complaint is None else complaint_in_words(complaint),
        "torque_nm": request["torque_nm"],
    }
