"""The kinds of entry that the log holds, and the calculation that judges each.

An entry's body is the request of its calculation, as it was typed, so that any host can judge it again.
"""

from typing import Any, NamedTuple

from ..torque_check.wrench import PERMITTED_PERCENT

# Raised whenever a result can change for the same request.
ENGINE_VERSION = "1.3"

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
