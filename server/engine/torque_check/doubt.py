"""The doubt of a breakaway check: each part of what may be off."""

import math
from typing import Any, NamedTuple

from ..doubt.budget import INFINITE, Part, even, mean, scatter
from ..unit.ramp_lock import LockingValue
from .chain import Chain, chain_of, ends_of, reading_at, stated, turns_both_wheels, wheels_of
from .form import DIRECTIONS
from .wrench import permitted_percent

# A certificate states its expanded uncertainty for k = 2 unless it says otherwise: JCGM 100:2008, 6.2 and 7.2.3.
CERTIFICATE_K = 2.0

# What share of the drag it may be off by where nothing is known of that: common practice, no source.
USUAL_DRAG_DOUBT = 0.25


def pool(readings: dict[str, Any]) -> tuple[float, float]:
    """Standard deviation of single readings within their direction, in the tool's unit, and its degrees of freedom."""
    series = [readings[direction] for direction in DIRECTIONS if readings[direction] is not None]
    dof = sum(len(values) - 1 for values in series)
    variance = sum((len(values) - 1) * scatter(values) ** 2 for values in series) / dof
    return math.sqrt(variance), float(dof)


Check = NamedTuple(
    "Check",
    [
        # The checked request.
        ("request", Any),
        # Its tool, and the tool's unit: "nm" or "n".
        ("tool", Any),
        ("unit", str),
        # Stated torque, N·m.
        ("value", float),
        # Scatter of single readings and its degrees of freedom, from `pool`.
        ("scatter", float),
        ("dof", float),
        # How many readings in each direction that was read, by direction.
        ("counts", Any),
        # What `chains_of` has worked out for this request, by way of holding; empty at first.
        ("chains", Any),
    ],
)


def directions_of(check: Check) -> list[str]:
    """The directions that were read."""
    return [direction for direction in DIRECTIONS if direction in check.counts]


def adapter_slopes(adapter: dict[str, Any]) -> tuple[float, float]:
    """How fast the factor (L + A cos a) / L of an adapter changes with its lengths and its angle.

    Parameters
    ----------
    adapter : dict
        {"wrench_mm": L, "adapter_mm": A, "angle_deg": a}.

    Returns
    -------
    tuple
        (for each mm that both lengths are off on their own, root of the sum of squares; for each degree), 0 or more.

    Notes
    -----
    The derivatives are -A cos a / L^2 by L, cos a / L by A and -A sin a / L by a: an adapter straight on does not mind
    a little angle, one square to the wrench minds it most, and does not mind its lengths.

    Examples
    --------
    >>> square = {"wrench_mm": 400.0, "adapter_mm": 100.0, "angle_deg": 90.0}
    >>> [round(slope, 6) for slope in adapter_slopes(square)]
    [0.0, 0.004363]
    """
    length, arm, angle = adapter["wrench_mm"], adapter["adapter_mm"], math.radians(adapter["angle_deg"])
    by_mm = abs(math.cos(angle)) / length * math.sqrt((arm / length) ** 2 + 1)
    return by_mm, math.radians(arm * math.sin(angle) / length)


def drag_off(request: dict[str, Any], held: str, direction: str) -> float:
    """How far off the drag may be, N·m of the stated torque."""
    drag = request["drag"]
    if drag["doubt_nm"] is None:
        return float(drag.get("doubt_share", USUAL_DRAG_DOUBT)) * chain_of(request, held, direction).drag_nm
    # What is said of one figure counts for each of two wheels.
    alone = request.copy()
    alone["drag"] = {"case_nm": 0.0, "wheel_nm": drag["doubt_nm"], "other_wheel_nm": None}
    return chain_of(alone, held, direction).drag_nm


def may_hold(request: dict[str, Any], lock: LockingValue, torque: float) -> bool:
    """Whether the ramps alone may hold a pack, pressed by what the other wheel drags, with a spring in line.

    Parameters
    ----------
    request : dict
        A checked breakaway request.
    lock : LockingValue
        Of the flank that is loaded.
    torque : float
        What a pack holds by the reading, N·m.

    Notes
    -----
    A pack then has T = S (T + d) however little the spring gives. Neither S nor the drag d is known exactly, so that
    each counts as large as it may be, and T as small.
    """
    turned, other = wheels_of(request, request["held"])
    if request["drag"] is None or not turns_both_wheels(request["held"]):
        return False
    off = request["drag"]["doubt_nm"]
    turned_off, other_off = (USUAL_DRAG_DOUBT * drag if off is None else off for drag in (turned, other))
    least = torque - 0.5 * (turned_off + other_off) / request["hub_ratio"]
    dragged = (other + other_off) / request["hub_ratio"]
    return bool(dragged > 0.0 and lock.most * (least + dragged) >= least)


def repeats_u(check: Check, held: str, single: float) -> float:
    """Standard uncertainty of the value, N·m, from readings of which a single one scatters by `single`."""
    each = [
        (chain.leverage * chain.transfer) ** 2 / check.counts[direction]
        for direction, chain in chains_of(check, held).items()
    ]
    return single * math.sqrt(sum(each)) / len(each)


def chains_of(check: Check, held: str) -> dict[str, Chain]:
    """By direction that was read, how a reading becomes the stated torque."""
    if held not in check.chains:
        check.chains[held] = {direction: chain_of(check.request, held, direction) for direction in directions_of(check)}
    chains: dict[str, Chain] = check.chains[held]
    return chains


def tool_u(tool: dict[str, Any]) -> tuple[float, str]:
    """Relative standard uncertainty of a torque tool, and what it is known by."""
    certificate = tool["certificate_percent"]
    if certificate is not None:
        return certificate / 100 / CERTIFICATE_K, f"the tool's certificate, ±{certificate:g} %"
    permitted = permitted_percent(tool)
    return even(permitted / 100), f"the tool's permitted deviation, ±{permitted:g} %"


def ramps_u(check: Check, torque: float, held: str) -> float:
    """Standard uncertainty that the ramps' locking value brings at a stated torque, N·m; 0 where they do not add."""
    offs = []
    for direction, chain in chains_of(check, held).items():
        ends = ends_of(check.request, held, direction)
        offs.append(max([abs(stated(reading_at(torque, end), chain) - torque) for end in ends] + [0.0]))
    # Friction is the same whichever way it is turned.
    return even(mean(offs))


def parts_of(check: Check, torque: float, held: str) -> list[Part]:
    """The parts of doubt of a check, in N·m of the stated torque.

    Parameters
    ----------
    check : Check
        What was read, with what.
    torque : float
        Stated torque at which parts that grow with the reading are taken, N·m.
    held : str
        Way of holding.
    """
    request, tool = check.request, check.tool
    chains = list(chains_of(check, held).values())
    each = mean([chain.leverage * chain.transfer for chain in chains])
    # What the scale alone says at this torque, in torque at the shaft and as stated.
    scale = mean([reading_at(torque, chain) * chain.transfer for chain in chains])
    leverage = chains[0].leverage
    relative, known_by = tool_u(tool)
    parts = [
        Part("repeats", "scatter of the repeats", repeats_u(check, held, check.scatter), check.dof),
        Part("tool", known_by, relative * abs(scale) * leverage, INFINITE),
        Part("division", "one division of the scale", even(tool["division_" + check.unit] / 2) * each, INFINITE),
    ]
    adapter, bar = request["adapter"], request["bar"]
    if adapter is not None:
        by_mm, by_degree = adapter_slopes(adapter)
        parts += [
            Part("lengths", "lengths of wrench and adapter", even(adapter["doubt_mm"]) * by_mm * abs(scale), INFINITE),
            Part("angle", "angle of the adapter", even(adapter["doubt_deg"]) * by_degree * abs(scale), INFINITE),
        ]
    if bar is not None:
        parts.append(Part("lengths", "length of the bar", even(bar["doubt_mm"]) / 1000 * abs(scale), INFINITE))
    if request["drag"] is not None:
        off = mean([drag_off(request, held, direction) for direction in directions_of(check)])
        if off > 0:
            parts.append(Part("drag", "drag beside the packs", even(off), INFINITE))
    pressing = ramps_u(check, torque, held)
    if pressing > 0:
        parts.append(Part("ramps", "how hard the ramps press, by their friction", pressing, INFINITE))
    return parts
