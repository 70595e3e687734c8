"""What to move by the contact pattern of crown wheel and pinion, drive side.

All of it is common practice of the trade, no source; the maker's own pictures come first, since gears that were cut by
another method answer a little otherwise.
"""

from typing import Any, NamedTuple

from ..doubt.verdict import GO, REWORK
from ..request.units import say
from .crown_wheel import Ratio, position
from .gauges import DIFFERENCE, gauge_guard
from .setting_form import CONTACTS

# How far to move for a start, mm: common practice, no source.
START_LOW, START_HIGH = 0.05, 0.1

# What is moved: the crown wheel away from the pinion (1) or towards it (-1); the pinion deeper (1) or out (-1).
CROWN = {"toe": 1, "heel": -1}
PINION = {"face": 1, "flank": -1}

Moves = NamedTuple(
    "Moves",
    [
        # Crown wheel, mm away from the pinion, with its range; 0 for none.
        ("crown", float),
        ("crown_least", float),
        ("crown_most", float),
        # Change of the pinion's shims, mm.
        ("pinion", float),
        ("texts", Any),
    ],
)

STILL = Moves(0.0, 0.0, 0.0, 0.0, [])


def contact_row(given: dict[str, Any]) -> dict[str, Any]:
    """The contact pattern as a check: good, or to be set again."""
    where = given["drive"]
    good = where == "good"
    reason = f"Contact pattern on the drive side: {CONTACTS[where]}."
    return {
        "name": "contact",
        "verdict": GO if good else REWORK,
        "reason": reason if good else f"{reason[:-1]}, not in the middle of the tooth.",
        "contact": where,
        "findings": [],
    }


def between(request: dict[str, Any], here: float | None, at: Any, others: str) -> float | None:
    """Halfway to the nearest try whose pattern lay on the other side; None where there was none.

    Parameters
    ----------
    request : dict
        The refit.
    here : float or None
        Where the shims put the part now.
    at : function
        Where the shims of a try put it, or None.
    others : str
        The pattern on the other side.
    """
    if here is None:
        return None
    places = [at(tried) for tried in request["tries"] if tried["contact"] == others]
    apart = sorted([abs(place - here), place] for place in places if place is not None and abs(place - here) > 1e-6)
    return (apart[0][1] - here) / 2 if apart else None


def pinion_move(request: dict[str, Any], where: str, unit: str) -> Moves:
    """The pinion's shims, for contact along the tip or the root."""
    shims = request["shims"]
    thicker = 1 if shims is None or shims["thicker"] == "deeper" else -1
    way = "deeper, towards the middle of the crown wheel" if PINION[where] > 0 else "out"
    here = None if shims is None else shims["pinion_mm"]
    half = between(request, here, lambda tried: tried["pinion_mm"], "flank" if where == "face" else "face")
    if half is not None and half * thicker * PINION[where] > 0:
        if shims["step_mm"] is not None and abs(half) < 0.75 * shims["step_mm"]:
            text = "The pinion belongs between two tries that are one step apart: a shim in between is needed."
            return Moves(0.0, 0.0, 0.0, 0.0, [text])
        text = f"Move the pinion {way}: {say(abs(half), 'mm', unit)}, halfway to the try with the opposite pattern."
        return Moves(0.0, 0.0, 0.0, half, [text, "Set the pinion first, then backlash, then ink again."])
    text = (
        f"Move the pinion {way}, for a start by {say(START_LOW, 'mm', unit)} to {say(START_HIGH, 'mm', unit)} of shim "
        "(common practice, no source). Set the pinion first, then backlash, then ink again."
    )
    texts = [text]
    if half is not None:
        texts.append("A try with the pinion further that way had the opposite pattern: see which shims were in.")
    return Moves(0.0, 0.0, 0.0, START_LOW * thicker * PINION[where], texts)


def room_for(given: dict[str, Any], backlash: Any, ratio: Ratio, way: int) -> float | None:
    """How far the crown wheel may move before a tooth comes within the guard band of a limit, mm; None for no limit."""
    guard = gauge_guard(given["gauge"], DIFFERENCE)
    if way > 0:
        return None if given["high_mm"] is None else (given["high_mm"] - guard - backlash.most) / ratio.high
    low = given["low_mm"] or 0.0
    return float(backlash.least - guard - low) / ratio.high


def crown_move(request: dict[str, Any], where: str, given: dict[str, Any] | None, backlash: Any, ratio: Any) -> Moves:
    """The crown wheel, for contact at the toe or the heel, as far as backlash has room for it."""
    unit = request["write_lengths_in"]
    way = CROWN[where]
    side = "away from the pinion, so that backlash grows" if way > 0 else "towards the pinion, so that backlash falls"
    # The pinion moves contact along the tooth as well, though less.
    else_pinion = "move the pinion out" if where == "toe" else "move the pinion deeper"
    if given is None:
        text = f"The crown wheel belongs {side}; read backlash first, which has to stay inside its limits."
        return Moves(0.0, 0.0, 0.0, 0.0, [text])
    if backlash.needed:
        return Moves(0.0, 0.0, 0.0, 0.0, [f"The crown wheel belongs {side}. Set backlash first, then ink again."])
    room = room_for(given, backlash, ratio, way)
    if room is not None and room < 0.2 * START_LOW:
        text = (
            f"The crown wheel belongs {side}, but backlash has no room for that: {else_pinion} a little instead, by "
            f"{say(START_LOW, 'mm', unit)} for a start, and set backlash again (common practice, no source). Where "
            "that does not help, the gears are worn or do not belong together."
        )
        return Moves(0.0, 0.0, 0.0, 0.0, [text])
    shims = request["shims"]
    half = between(request, None if shims is None else position(shims), position, "heel" if where == "toe" else "toe")
    learnt = half is not None and half * way > 0
    # It belongs somewhere between here and the try that went too far.
    most = 2 * abs(half) if learnt and half is not None else START_HIGH
    move = abs(half) if learnt and half is not None else START_LOW
    ends = [0.0 if learnt else START_LOW, most]
    if room is not None:
        move, ends = min(move, room), [min(end, room) for end in ends]
    ends = sorted(way * end or 0.0 for end in ends)
    start = "halfway to the try with the opposite pattern," if learnt else "for a start"
    mark = "" if learnt else " (common practice, no source)"
    text = f"Move the crown wheel {side}: {start} {say(move, 'mm', unit)}{mark}. Then ink again."
    return Moves(way * move, ends[0], ends[1], 0.0, [text])


def pattern_moves(request: dict[str, Any], given: dict[str, Any] | None, backlash: Any, ratio: Any) -> Moves:
    """What to move by the contact pattern.

    Parameters
    ----------
    request : dict
        The refit.
    given, backlash, ratio
        The backlash that was read, what stands of it and the ratio to go by; None where none was read.
    """
    contact = request["contact"]
    where = None if contact is None else contact["drive"]
    if where is None or where == "good":
        return STILL
    if where in PINION:
        return pinion_move(request, where, request["write_lengths_in"])
    return crown_move(request, where, given, backlash, ratio)
