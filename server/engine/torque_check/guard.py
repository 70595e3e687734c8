"""The guard band of a torque check at a limit: its doubt, taken so that a wrong go stays below one in twenty.

The budget says what a reading is worth on average. A verdict is promised for every unit and every limit, so what
averages out over many limits, but not at the one that counts, is taken at its worst here.

References
----------
1. JCGM 106:2012, 8.3: guarded acceptance.
2. JCGM 100:2008, 5.1.2, note: terms of higher order count where a part is not small; F.2.2.1: a reading on a scale.
"""

import math
from typing import Any

from ..doubt.budget import Part, even, guard_of
from .doubt import Check, parts_of, repeats_u
from .wrench import leverage

DIVISION = "division"

# However far off its lengths may be, a lever keeps this share of what it is taken for.
LEAST_OF_A_LEVER = 0.1


def guard_at(check: Check, limit: float, held: str) -> list[Part]:
    """The parts of doubt that count at a limit.

    What grows with the reading is taken at the limit where that is larger: the question is what a unit that lies at the
    limit would read, and a wrench that happens to read low must not look the better for it. Readings that fell on one
    mark of the scale scatter at least by what it rounds off.

    Parameters
    ----------
    check : Check
        What was read, with what.
    limit : float
        The limit, N·m as stated.
    held : str
        Way of holding: the check's own, or another to see what it would do.
    """
    torque = max(check.value, limit)
    least = {"repeats": repeats_u(check, held, even(0.5 * check.tool["division_" + check.unit]))}
    least.update(ends_of_lever(check.request, torque))
    return [
        Part(part.name, part.meaning, max(part.u, least.get(part.name, 0.0)), part.dof)
        for part in parts_of(check, torque, held)
    ]


def guard_band(parts: list[Part]) -> float:
    """Guard band of the parts from `guard_at`, N·m: half a division counts whole, the rest as chance has it.

    Whether a limit lies well or badly between two marks of the scale is no chance: it is so at every check [2]_.
    """
    rest = [part for part in parts if part.name != DIVISION]
    half = sum(part.u for part in parts if part.name == DIVISION) * math.sqrt(3.0)
    return half + guard_of(rest)


def ends_of_lever(request: dict[str, Any], torque: float) -> dict[str, float]:
    """Standard uncertainties that the lengths and the angle of a lever bring, N·m, from the ends of what they may be.

    Parameters
    ----------
    request : dict
        A checked breakaway request.
    torque : float
        Torque that the reading comes to, N·m as stated.

    Notes
    -----
    With another lever than it was taken for, a unit of this torque reads as much more as that lever is shorter.
    """

    def farthest(middle: float, *ends: float) -> float:
        return even(max(abs(middle / max(end, LEAST_OF_A_LEVER * middle) - 1) for end in ends)) * abs(torque)

    bar, adapter = request["bar"], request["adapter"]
    if bar is not None:
        length, off = bar["length_mm"], bar["doubt_mm"]
        return {"lengths": farthest(length, length - off, length + off)}
    if adapter is None:
        return {}
    length, arm, angle = adapter["wrench_mm"], adapter["adapter_mm"], adapter["angle_deg"]
    off, turned = adapter["doubt_mm"], adapter["doubt_deg"]
    middle = leverage(length, arm, angle)
    short = max(length - off, LEAST_OF_A_LEVER * length)
    by_length = farthest(middle, leverage(short, arm, angle), leverage(length + off, arm, angle))
    by_arm = farthest(middle, leverage(length, max(0.0, arm - off), angle), leverage(length, arm + off, angle))
    by_angle = farthest(middle, leverage(length, arm, angle - turned), leverage(length, arm, angle + turned))
    return {"lengths": math.sqrt(by_length**2 + by_arm**2), "angle": by_angle}
