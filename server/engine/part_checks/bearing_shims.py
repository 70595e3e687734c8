"""Which shims to add to the carrier's bearings or take out, from the torque that it takes to turn it."""

import math
from typing import Any, NamedTuple

from ..doubt.budget import Part, combine, mean, scatter
from ..request.errors import BadInput
from ..request.units import INCH_MM, say
from .bands import aim_of, is_inside
from .crown_wheel import Slope, is_sure, shim_doubt, slope_of, total
from .gauges import torque_parts

# Shims are added in no larger amounts at once where it goes beyond what was tried: common practice, no source.
AT_ONCE_MM = 0.05

# For how much shim a rise is told.
EACH_MM = 0.1

Bearings = NamedTuple(
    "Bearings",
    [
        # Shims to add in all, mm; None where nothing says how many.
        ("change", Any),
        # Turning torque for each 0.1 mm of shims, N·m; None where nobody knows.
        ("rises", Any),
        ("texts", Any),
    ],
)


def learnt(request: dict[str, Any], torque: float, u: float) -> Slope | None:
    """Turning torque for each mm of shims, by the tries that had some and by what is read now."""
    now = None if request["shims"] is None else total(request["shims"])
    points = []
    for tried in request["tries"]:
        shims = total(tried)
        # Bearings with no torque at all have play, and play follows no line.
        if shims is not None and tried["torque_nm"]:
            points.append((shims, tried["torque_nm"]))
    if not points or now is None:
        return None
    return slope_of(points + [(now, torque)], shim_doubt(2), u)


def stated(given: dict[str, Any]) -> float | None:
    """Turning torque for each mm of shims, as the maker or the workshop states it; refuses half of the statement."""
    rise, shim = given["rise_nm"], given["for_mm"]
    if (rise is None) != (shim is None):
        missing = "bearings.rise_nm" if rise is None else "bearings.for_mm"
        raise BadInput(missing, "Type both, how much torque rises and for how much shim, or neither.")
    return None if rise is None else float(rise) / float(shim)


def direction(given: dict[str, Any], torque: float, aim: float | None) -> int:
    """1 for more shims, -1 for fewer, 0 where nothing says."""
    if aim is not None:
        return 1 if torque < aim else -1
    if given["low_nm"] is not None and torque < given["low_nm"]:
        return 1
    return -1 if given["high_nm"] is not None and torque > given["high_nm"] else 0


def bearing_shims(request: dict[str, Any]) -> Bearings:
    """Shims for the bearings' turning torque.

    Two tries with different shims say how much a shim does; the maker may say it; else nothing but the direction is
    known, and is said. Both sides get half, so that backlash stays.
    """
    given = request["bearings"]
    lengths, torques = request["write_lengths_in"], request["write_in"]
    readings = given["readings_nm"]
    torque = mean(readings)
    repeats = Part("repeats", "scatter", scatter(readings) / math.sqrt(len(readings)), len(readings) - 1)
    doubt = combine([repeats] + torque_parts(given["tool"], torque))
    aim = aim_of(given, "_nm", "bearings")
    says = stated(given)
    slope = learnt(request, torque, doubt.u)
    rises = slope.value if slope is not None and is_sure(slope) else says
    shown = None if rises is None else rises * EACH_MM
    off_target = given["wanted_nm"] is not None and abs(torque - given["wanted_nm"]) > doubt.expanded
    if is_inside(given["low_nm"], given["high_nm"], torque, torque, doubt.guard) and not off_target:
        return Bearings(0.0, shown, ["Turning torque is inside its limits: keep the shims' total."])
    way = direction(given, torque, aim)
    if not way:
        return Bearings(None, shown, ["Type both limits, or what torque you want: else nothing says how many shims."])
    words = "Add shims on both sides alike" if way > 0 else "Take out shims on both sides alike"
    if aim is None:
        return Bearings(None, shown, [f"{words}. Type both limits, or what torque you want, to be told how many."])
    if rises is None:
        texts = [
            f"{words}, as thin as you have: how much a shim does is not known from one try. Type the shims, keep this "
            "try and read again: two tries with different shims say how much; so does a maker's figure."
        ]
        if slope is not None:
            texts.append("The tries so far do not say it: torque did not rise clearly with the shims.")
        return Bearings(None, shown, texts)
    change = (aim - torque) / rises
    each = EACH_MM if lengths == "mm" else INCH_MM / 1000
    source = "as the tries show" if slope is not None and is_sure(slope) else "as stated"
    texts = [
        f"{words}: {say(abs(change), 'mm', lengths)} in all, half on each side, to reach {say(aim, 'nm', torques)} "
        f"({say(rises * each, 'nm', torques)} for each {say(each, 'mm', lengths)}, {source})."
    ]
    seen = [tried["torque_nm"] for tried in request["tries"] if tried["torque_nm"]] + [torque]
    if abs(change) > AT_ONCE_MM and not min(seen) <= aim <= max(seen):
        change /= 2
        texts.append(
            "That goes beyond what was tried, and torque rises ever more steeply with the shims: half of it, "
            f"{say(abs(change), 'mm', lengths)}, for now; then read again."
        )
    return Bearings(change, shown, texts)
