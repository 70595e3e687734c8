"""The doubt of a breakaway check: how a reading becomes the stated torque, and each part of what may be off."""

import math
from typing import Any, NamedTuple

from ..doubt.budget import INFINITE, Part, even, scatter
from ..unit.held import packs_in_torque
from .form import DIRECTIONS
from .wrench import permitted_percent, wrench_factor

# A certificate states its expanded uncertainty for k = 2 unless it says otherwise: JCGM 100:2008, 6.2 and 7.2.3.
CERTIFICATE_K = 2.0

# What share of the drag it may be off by where nothing is known of that: common practice, no source.
USUAL_DRAG_DOUBT = 0.25

Chain = NamedTuple(
    "Chain",
    [
        # Torque at the shaft for one unit on the tool's scale, N·m each.
        ("leverage", float),
        # Torque of the bar's own weight, N·m.
        ("bar_nm", float),
        # Stated torque for each N·m at the shaft: hub and way of holding.
        ("transfer", float),
        # What drag adds to the stated torque, N·m.
        ("drag_nm", float),
    ],
)


def chain_of(request: dict[str, Any], held: str) -> Chain:
    """How a reading becomes the torque that the limits are stated for.

    Parameters
    ----------
    request : dict
        A checked breakaway request.
    held : str
        Way of holding, a key of `HELD`; the request's own, or another to see what it would do.
    """
    bar = request["bar"]
    leverage = wrench_factor(request["adapter"]) if bar is None else bar["length_mm"] / 1000
    transfer = packs_in_torque(request["stated_for"]) / packs_in_torque(held) / request["hub_ratio"]
    drag = request["drag"] or {"wheel_nm": 0.0, "case_nm": 0.0}
    # The case turns half as fast as the output where it is free, and not at all where it is held.
    case = 0.5 * drag["case_nm"] * request["hub_ratio"] if packs_in_torque(held) == 1 else 0.0
    return Chain(leverage, 0.0 if bar is None else bar["moment_nm"], transfer, (drag["wheel_nm"] + case) * transfer)


def stated(reading: float, chain: Chain) -> float:
    """The stated torque, N·m, of one reading in the tool's unit."""
    return (reading * chain.leverage + chain.bar_nm) * chain.transfer - chain.drag_nm


def pool(readings: dict[str, Any]) -> tuple[float, float, float]:
    """Scatter of single readings within their direction.

    Returns
    -------
    tuple
        (standard deviation, its degrees of freedom, factor from it to the standard uncertainty of the mean of means).
    """
    series = [readings[direction] for direction in DIRECTIONS if readings[direction] is not None]
    dof = sum(len(values) - 1 for values in series)
    variance = sum((len(values) - 1) * scatter(values) ** 2 for values in series) / dof
    shrink = math.sqrt(sum(1 / len(values) for values in series)) / len(series)
    return math.sqrt(variance), float(dof), shrink


Check = NamedTuple(
    "Check",
    [
        # The checked request.
        ("request", Any),
        # Its tool, and the tool's unit: "nm" or "n".
        ("tool", Any),
        ("unit", str),
        # Mean reading in the tool's unit.
        ("reading", float),
        # From `pool`.
        ("pooled", Any),
        # How many readings in each direction that was read.
        ("counts", Any),
    ],
)


def reading_at(torque: float, chain: Chain) -> float:
    """What the tool would read at a stated torque, the inverse of `stated`."""
    return ((torque + chain.drag_nm) / chain.transfer - chain.bar_nm) / chain.leverage


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


def drag_doubt(request: dict[str, Any], chain: Chain) -> float:
    """How far off the drag may be, N·m at the wheel."""
    given: float | None = request["drag"]["doubt_nm"]
    return USUAL_DRAG_DOUBT * chain.drag_nm / chain.transfer if given is None else given


def parts_of(check: Check, reading: float, held: str) -> list[Part]:
    """The parts of doubt of a check, in N·m of the stated torque.

    Parameters
    ----------
    check : Check
        What was read, with what.
    reading : float
        Reading at which parts that grow with it are taken, in the tool's unit.
    held : str
        Way of holding.
    """
    request, tool, unit = check.request, check.tool, check.unit
    chain = chain_of(request, held)
    each = chain.leverage * chain.transfer
    deviation, dof, shrink = check.pooled
    certificate = tool["certificate_percent"]
    if certificate is None:
        tool_u = even(permitted_percent(tool) / 100 * reading)
        told = f"the tool's permitted deviation, ±{permitted_percent(tool):g} %"
    else:
        tool_u = certificate / 100 * reading / CERTIFICATE_K
        told = f"the tool's certificate, ±{certificate:g} %"
    parts = [
        Part("repeats", "scatter of the repeats", deviation * shrink * each, dof),
        Part("tool", told, tool_u * each, INFINITE),
        Part("division", "one division of the scale", even(tool["division_" + unit] / 2) * each, INFINITE),
    ]
    adapter, bar = request["adapter"], request["bar"]
    swing = reading * chain.transfer
    if adapter is not None:
        by_mm, by_degree = adapter_slopes(adapter)
        parts += [
            Part("lengths", "lengths of wrench and adapter", even(adapter["doubt_mm"]) * by_mm * swing, INFINITE),
            Part("angle", "angle of the adapter", even(adapter["doubt_deg"]) * by_degree * swing, INFINITE),
        ]
    if bar is not None:
        parts.append(Part("lengths", "length of the bar", even(bar["doubt_mm"]) / 1000 * swing, INFINITE))
    if request["drag"] is not None:
        off = drag_doubt(request, chain) * chain.transfer
        if off > 0:
            parts.append(Part("drag", "drag beside the packs", even(off), INFINITE))
    return parts
