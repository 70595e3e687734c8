"""How far off the parts of a loss may be: torques, plates and springs, each with what both states share.

References
----------
1. JCGM 100:2008, 5.1: propagation of uncertainty; 5.2: what two states share is correlated.
2. DIN EN 16983:2017, tolerance on the free height of a disc: see `spring_tolerance`.
"""

import math
from typing import Any, NamedTuple

from ..doubt.budget import INFINITE, Part, even
from ..doubt.coverage import half_width
from ..part_checks.plates import PLATES
from ..torque_check.shared_doubt import sources_of
from ..unit import marks
from ..unit.spring_tolerance import height_tolerance
from ..unit.stack import SPRING
from ..unit.usual_limits import UNMEASURED_WITHIN_MM

# Places in a state.
TORQUE, SOLIDS, HEIGHT = 0, 1, 2

BEFORE, NOW = 0, 1

# A quantity that may be off.
Cause = NamedTuple(
    "Cause",
    [
        ("name", str),
        # By how much, in standard uncertainties: (state, place in it, amount), all of them together.
        ("amounts", Any),
        ("dof", float),
        # Whether it may lie anywhere between two ends; normal otherwise.
        ("even", bool),
        # Middle of what it may be, where that is not what was taken, in the same amounts.
        ("middle", float),
    ],
)

Doubt = NamedTuple(
    "Doubt",
    [
        # Standard uncertainty of a figure, and half of the interval that holds 95 % of it.
        ("u", float),
        ("expanded", float),
        # How far the middle of that interval lies above the figure.
        ("middle", float),
    ],
)


def is_certain(figure: float, doubt: Doubt) -> bool:
    """Whether the interval of a figure leaves 0 out: there is more than its doubt."""
    return abs(figure + doubt.middle) > doubt.expanded


def torque_causes(before: dict[str, Any], now: dict[str, Any]) -> list[Cause]:
    """What the two torques may be off by; the same wrench is off alike in both."""
    return [
        Cause(source.name, [(BEFORE, TORQUE, source.before), (NOW, TORQUE, source.now)], source.dof, source.even, 0.0)
        for source in sources_of(before, now)
    ]


def plate_causes(chain: list[dict[str, Any]], before: dict[str, Any], now: dict[str, Any]) -> list[Cause]:
    """What the stack may be off by: plates as measured, plates not measured, rings, and the micrometer.

    A plate that was not measured may be as far off as any of its class, in each state on its own: how far it wore in
    between is not known. A ring does not wear: it is the same in both.
    """
    causes, counts = [], []
    for which, state in ((BEFORE, before), (NOW, now)):
        given = {plate["slot"]: plate for plate in state["plates"] if plate["mm"] is not None}
        single, count, unknown = 0.0, 0, []
        for item in chain:
            plate = given.get(item["slot"])
            if plate is not None and plate["within_mm"] is None:
                single, count = single + state["plate_u_mm"] ** 2, count + 1
            elif plate is not None:
                unknown.append(even(plate["within_mm"]))
            elif item["part"] in PLATES:
                unknown.append(even(UNMEASURED_WITHIN_MM))
        counts.append(count)
        causes.append(Cause("plates", [(which, SOLIDS, math.sqrt(single))], INFINITE, False, 0.0))
        # Many that lie anywhere between two ends are as good as normal together.
        together = math.sqrt(sum(u * u for u in unknown))
        causes.append(Cause("not_measured", [(which, SOLIDS, together)], INFINITE, len(unknown) == 1, 0.0))
    amounts = [(which, SOLIDS, counts[which] * state["gauge_u_mm"]) for which, state in ((BEFORE, before), (NOW, now))]
    if before["gauge"] and before["gauge"] == now["gauge"]:
        causes.append(Cause("micrometer", amounts, INFINITE, True, 0.0))
    else:
        causes += [Cause("micrometer", [amount], INFINITE, True, 0.0) for amount in amounts]
    rings = [item for item in chain if item["part"] not in PLATES and item["part"] != SPRING]
    off = math.sqrt(len(rings)) * even(UNMEASURED_WITHIN_MM)
    causes.append(Cause("rings", [(BEFORE, SOLIDS, off), (NOW, SOLIDS, off)], INFINITE, False, 0.0))
    return causes


def depth_causes(definition: dict[str, Any]) -> list[Cause]:
    """What a depth that was worked out may be off by: the same in both states."""
    off = marks.doubt_of(definition, "cavity_mm")
    return [Cause("depth", [(BEFORE, SOLIDS, off), (NOW, SOLIDS, off)], INFINITE, False, 0.0)] if off else []


def height_causes(definition: dict[str, Any], before: dict[str, Any], now: dict[str, Any]) -> list[Cause]:
    """What the free height may be off by: as gauged, as worked out, or by the standard's tolerance for the rest [2]_.

    Where it was not measured, it is off in each state on its own: whether the spring set in between is not known.
    """
    causes = []
    for which, state in ((BEFORE, before), (NOW, now)):
        above = below = state["l0_within_mm"]
        if state["l0_mm"] is None:
            off = marks.height_within(definition, None)
            above, below = height_tolerance(definition["spring"]["t_mm"]) if off is None else (off, off)
        else:
            causes.append(Cause("height", [(which, HEIGHT, state["l0_u_mm"])], INFINITE, False, 0.0))
        if above is not None:
            off = even(0.5 * (above + below))
            middle = 0.5 * (above - below) / off if off > 0.0 else 0.0
            causes.append(Cause("not_gauged", [(which, HEIGHT, off)], INFINITE, True, middle))
    return causes


def slopes_at(shares: Any, states: tuple[Any, Any], places: list[tuple[int, int]]) -> dict[tuple[int, int], Any]:
    """How fast each share goes with each of the places, by central differences.

    Parameters
    ----------
    shares : callable
        (before, now), each a list as `State` has it -> shares by name.
    states : tuple
        The two states.
    places : list of tuple
        (state, place in it).
    """
    slopes = {}
    for which, place in places:
        # Over a tiny step; a whole uncertainty could leave the spring's range or the torque's.
        step = 1e-4 * states[which][place]
        ends = []
        for sign in (1, -1):
            moved = [list(states[BEFORE]), list(states[NOW])]
            moved[which][place] += sign * step
            ends.append(shares(moved[BEFORE], moved[NOW]))
        slopes[(which, place)] = {name: (ends[0][name] - ends[1][name]) / (2 * step) for name in ends[0]}
    return slopes


def doubt_of(causes: list[Cause], slope: Any) -> Doubt:
    """How far off a figure may be [1]_.

    Parameters
    ----------
    causes : list of Cause
        What may be off.
    slope : callable
        (state, place) -> how fast the figure goes with it.
    """
    parts: list[Part] = []
    evens: list[Part] = []
    middle = 0.0
    for cause in causes:
        moved = sum(slope(which, place) * amount for which, place, amount in cause.amounts if amount != 0.0)
        (evens if cause.even else parts).append(Part(cause.name, "", abs(moved), cause.dof))
        middle += moved * cause.middle
    return Doubt(math.sqrt(sum(part.u**2 for part in parts + evens)), half_width(parts, evens), middle)
