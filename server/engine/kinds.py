"""The kinds of entry that the log holds, and the calculation that judges each.

An entry's body is the request of its calculation, as it was typed, so that any host can judge it again.
"""

from typing import Any, NamedTuple

from .errors import BadInput
from .fields import Choice, Group, Text
from .plates import MICROMETER
from .wrench import PERMITTED_PERCENT, SCALE, WRENCH, quality_faults

# Raised whenever a result can change for the same request.
ENGINE_VERSION = "1.2"

Kind = NamedTuple(
    "Kind",
    [
        # Version of the body's form; older ones stay readable.
        ("version", int),
        # What it is, in the user's words.
        ("meaning", str),
        # The calculation that checks and judges its body.
        ("calculation", str),
        # What it is about: a UNIT, the SHOP, or EITHER.
        ("about", str),
    ],
)

UNIT = "unit"
SHOP = "shop"
EITHER = "either"

KINDS = {
    "unit": Kind(1, "unit taken in or changed", "unit", UNIT),
    "torque_check": Kind(1, "breakaway torque checked", "breakaway", UNIT),
    "plate_check": Kind(1, "plates measured", "plates", UNIT),
    "spring_check": Kind(1, "disc springs measured", "spring_check", UNIT),
    "ring_check": Kind(1, "ramp rings looked at", "ring_check", UNIT),
    "refit": Kind(1, "unit put back into its axle", "refit", UNIT),
    "strip": Kind(1, "unit stripped", "strip", UNIT),
    "close": Kind(1, "unit closed", "close", UNIT),
    "rebuild": Kind(1, "unit rebuilt", "rebuild", UNIT),
    "photo": Kind(1, "photo", "photo", UNIT),
    "shelf": Kind(1, "shelf counted", "shelf", SHOP),
    "kit": Kind(1, "wrench or gauge added or changed", "kit", SHOP),
    "note": Kind(1, "note", "note", EITHER),
}

NOTE_FORM = Group({"text": Text(4000, "what is to be remembered")}, "a note")

TOOLS = {"wrench": "torque wrench", "scale": "pull scale or weight", "micrometer": "micrometer"}

KIT_FORM = Group(
    {
        "tool": Choice(TOOLS, "what kind of tool"),
        "wrench": WRENCH,
        "scale": SCALE,
        "micrometer": Group(MICROMETER.fields, MICROMETER.meaning, default=None),
        "id": Text(40, "the tool that this entry changes", default=""),
        "gone": Choice({"no": "in use", "yes": "no longer in use"}, "whether it is still used", default="no"),
    },
    "a tool of the kit",
)


def about(_: dict[str, Any]) -> dict[str, Any]:
    """The engine's version, and the kinds of entry that it judges.

    Returns
    -------
    dict
        version; kinds, by name: version of the body's form, meaning, calculation that judges it;
        permitted_percent, by kind of tool, where nothing better is known.
    """
    kinds = {
        name: {"version": kind.version, "meaning": kind.meaning, "calculation": kind.calculation}
        for name, kind in KINDS.items()
    }
    return {"version": ENGINE_VERSION, "kinds": kinds, "permitted_percent": PERMITTED_PERCENT}


def note(_: dict[str, Any]) -> dict[str, Any]:
    """A note needs no judging."""
    return {"verdict": None}


def kit(request: dict[str, Any]) -> dict[str, Any]:
    """Check a tool of the kit.

    Parameters
    ----------
    request : dict
        Checked by `KIT_FORM`.

    Returns
    -------
    dict
        verdict, always None.

    Raises
    ------
    BadInput
        Figures for another tool than the one named, no name, or figures that contradict each other.
    """
    chosen = request["tool"]
    for other in sorted(TOOLS):
        if other != chosen and request[other] is not None:
            raise BadInput(other, f"This is a {TOOLS[chosen]}: leave the figures of a {TOOLS[other]} out.")
    tool = request[chosen]
    if tool is None:
        raise BadInput(chosen, f"Give the figures of the {TOOLS[chosen]}.")
    if not tool["name"].strip():
        raise BadInput(chosen + ".name", "Give the tool a name, so that it can be told from the others.")
    if chosen != "micrometer":
        quality_faults(tool, "nm" if chosen == "wrench" else "n", chosen)
    return {"verdict": None}
