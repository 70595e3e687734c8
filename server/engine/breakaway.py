"""A breakaway torque check: from what was read to a verdict that knows how good the reading is."""

import math
from typing import Any, NamedTuple

from .budget import INFINITE, Doubt, Part, combine, even, mean, scatter, shares
from .errors import BadInput
from .findings import DOUBT, circumstances, holding, kit_findings, series_findings, sticking
from .readings import DIRECTIONS, FORWARD, JUDGED_ON, REVERSE, check_limits, check_range, tool_of
from .units import say
from .verdict import GO, MEASURE_AGAIN, REWORK, gap_to_limit, judge
from .wrench import CASE_HELD, HELD, ONE_OUTPUT_HELD, packs_in_torque, permitted_percent, wrench_factor

# A certificate states its expanded uncertainty for k = 2 unless it says otherwise: JCGM 100:2008, 6.2 and 7.2.3.
CERTIFICATE_K = 2.0

MOST_REPEATS = 20

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


def parts_of(
    request: dict[str, Any],
    tool: dict[str, Any],
    unit: str,
    reading: float,
    pooled: tuple[float, float, float],
    held: str,
) -> list[Part]:
    """The parts of doubt of a check, in N·m of the stated torque.

    Parameters
    ----------
    request, tool, unit
        The checked request, its tool and the tool's unit.
    reading : float
        Mean reading in the tool's unit.
    pooled : tuple
        From `pool`.
    held : str
        Way of holding.
    """
    chain = chain_of(request, held)
    each = chain.leverage * chain.transfer
    deviation, dof, shrink = pooled
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
    if adapter is not None:
        length, cosine = adapter["wrench_mm"], math.cos(math.radians(adapter["angle_deg"]))
        slope = math.sqrt((adapter["adapter_mm"] * cosine / length) ** 2 + cosine**2) / length
        parts.append(
            Part(
                "lengths",
                "lengths of wrench and adapter",
                even(adapter["doubt_mm"]) * slope * reading * chain.transfer,
                INFINITE,
            )
        )
    if bar is not None:
        parts.append(
            Part(
                "lengths",
                "length of the bar",
                even(bar["doubt_mm"]) / 1000 * reading * chain.transfer,
                INFINITE,
            )
        )
    if request["drag"] is not None and request["drag"]["doubt_nm"] > 0:
        parts.append(
            Part("drag", "drag beside the packs", even(request["drag"]["doubt_nm"]) * chain.transfer, INFINITE)
        )
    return parts


def scaled(parts: list[Part], name: str, size: float, dof: float | None = None) -> list[Part]:
    """The same parts with one of them made larger or smaller."""
    return [
        Part(part.name, part.meaning, part.u * size, part.dof if dof is None else dof) if part.name == name else part
        for part in parts
    ]


def remedies(
    request: dict[str, Any],
    tool: dict[str, Any],
    unit: str,
    reading: float,
    pooled: tuple[float, float, float],
    counts: list[int],
    gap: float,
    now: Doubt,
) -> list[dict[str, Any]]:
    """What would shrink the guard band, by how much, and whether it would decide at this value; best first."""
    shown = request["write_in"]
    held = request["held"]
    parts = parts_of(request, tool, unit, reading, pooled, held)
    found = []

    def add(name: str, doubt: Doubt, text: str) -> None:
        if doubt.guard < 0.98 * now.guard:
            # A margin of a thousandth keeps rounding from promising what the next check then just misses.
            decides = doubt.guard < 0.999 * gap
            end = "that would decide, if the mean stays" if decides else "that alone would not decide"
            found.append(
                {
                    "name": name,
                    "guard_nm": doubt.guard,
                    "decides": decides,
                    "text": f"{text}: the guard band falls from {say(now.guard, 'nm', shown)} to "
                    f"{say(doubt.guard, 'nm', shown)}; {end}.",
                }
            )

    fewest = min(counts)
    for more in range(1, MOST_REPEATS - fewest + 1):
        grown = [count + more for count in counts]
        size = math.sqrt(sum(1 / count for count in grown) / sum(1 / count for count in counts))
        doubt = combine(scaled(parts, "repeats", size, float(sum(grown) - len(grown))))
        if doubt.guard < 0.999 * gap or (more == fewest and gap <= 0) or more == MOST_REPEATS - fewest:
            each = " each way" if len(counts) == 2 else ""
            add("more_repeats", doubt, f"Take {more} more reading{'s' if more > 1 else ''}{each}")
            break
    finer = combine(scaled(scaled(parts, "tool", 0.5), "division", 0.5))
    add("finer_tool", finer, "Use a tool twice as fine, or one with a certificate to match")
    if held in OTHER_WAY:
        other = OTHER_WAY[held]
        there = reading * packs_in_torque(other) / packs_in_torque(held)
        if there <= tool["high_" + unit]:
            doubt = combine(parts_of(request, tool, unit, there, pooled, other))
            add("hold_other_way", doubt, f"Hold it {HELD[other][1]}, where the wrench feels twice as much")
    if request["drag"] is not None:
        add(
            "measure_drag",
            combine(scaled(parts, "drag", 0.25)),
            "Measure the drag on its own, four times as well",
        )
    add(
        "measure_lengths",
        combine(scaled(parts, "lengths", 0.25)),
        "Measure the lever lengths four times as well",
    )
    return sorted(found, key=lambda remedy: remedy["guard_nm"])


# From the ways that feel the mean to those at the same place that feel the sum.
OTHER_WAY = {"bench_output_held": "bench_case_held", "car_one_wheel_down": "car_both_wheels_up"}


def direction_row(values: list[float] | None, chain: Chain) -> dict[str, Any] | None:
    """One direction's mean and scatter in stated torque; None where it was not read."""
    if values is None:
        return None
    torques = [stated(value, chain) for value in values]
    return {
        "mean_nm": mean(torques),
        "scatter_nm": scatter(torques),
        "count": len(torques),
        "readings_nm": torques,
    }


def explain(
    verdict: str,
    value: float,
    doubt: Doubt,
    low: float | None,
    high: float | None,
    doubts: list[str],
    unit: str,
) -> str:
    """The verdict's reason in one sentence."""
    torque, guard = say(value, "nm", unit), say(doubt.guard, "nm", unit)
    if doubts:
        return doubts[0]
    if low is not None and high is not None:
        band = f"{say(low, 'nm', unit)} to {say(high, 'nm', unit)}"
    else:
        band = (
            f"at least {say(low, 'nm', unit)}"
            if high is None and low is not None
            else f"at most {say(high or 0.0, 'nm', unit)}"
        )
    if verdict == GO:
        return f"{torque} lies inside the limits ({band}) by more than its guard band of {guard}."
    if verdict == REWORK:
        side = "below" if low is not None and value < low else "above"
        return f"{torque} lies {side} the limits ({band}) by more than its guard band of {guard}: re-set the stack."
    return f"{torque} lies closer to a limit ({band}) than its guard band of {guard}: the reading cannot say."


def breakaway(request: dict[str, Any]) -> dict[str, Any]:
    """Judge a breakaway torque check.

    Parameters
    ----------
    request : dict
        Checked by `readings.FORM`.

    Returns
    -------
    dict
        verdict, reason; value_nm, the mean of both directions as the limits are stated; u_nm, dof, expanded_nm
        (two-sided 95 %), guard_nm (one-sided 95 %); low_nm, high_nm; directions; budget (parts with their shares);
        findings; helps, best first; other_way_nm, what the wrench would feel the other way.

    Raises
    ------
    BadInput
        Contradicting tools, readings beyond the scale, limits in the wrong order, a torque of zero or less.

    References
    ----------
    1. JCGM 100:2008; JCGM 106:2012; ISO 14253-1:2017, as in `budget` and `verdict`.
    """
    tool, unit, name = tool_of(request)
    low, high = check_limits(request["limits"])
    shown = request["write_in"]
    judged = ("steady_" if request["judged_on"] == "steady" else "first_") + unit
    for field in ("steady_" + unit, "first_" + unit):
        if request[field] is not None:
            check_range(request[field], tool, unit, field)
    readings = request[judged]
    if readings is None:
        raise BadInput(
            judged + "." + FORWARD,
            f"The limits are for {JUDGED_ON[request['judged_on']]}: type these readings.",
        )

    held = request["held"]
    chain = chain_of(request, held)
    rows = {direction: direction_row(readings[direction], chain) for direction in DIRECTIONS}
    taken = [row for row in (rows[FORWARD], rows[REVERSE]) if row is not None]
    value = mean([row["mean_nm"] for row in taken])
    if value <= 0:
        raise BadInput("drag", "The drag takes up all that the wrench read: check the drag and the bar's moment.")
    reading = mean([mean(readings[direction]) for direction in DIRECTIONS if readings[direction] is not None])
    pooled = pool(readings)
    parts = parts_of(request, tool, unit, reading, pooled, held)
    doubt = combine(parts)

    found = kit_findings(tool, unit, name, reading, request["day"]) + series_findings(readings, pooled[0], pooled[1])
    steady, first = request["steady_" + unit], request["first_" + unit]
    if steady is not None and first is not None:
        found += sticking(mean(first[FORWARD]), mean(steady[FORWARD]))
    found += holding(value, held, request["stated_for"], low, high, shown)
    found += circumstances(request["circumstances"])

    doubts = [row["text"] for row in found if row["weight"] == DOUBT]
    verdict = MEASURE_AGAIN if doubts else judge(value, doubt.guard, low, high, REWORK)
    counts = [row["count"] for row in taken]
    gap = gap_to_limit(value, low, high)
    helps = remedies(request, tool, unit, reading, pooled, counts, gap, doubt) if verdict == MEASURE_AGAIN else []
    mean_nm = value / packs_in_torque(request["stated_for"])
    return {
        "verdict": verdict,
        "reason": explain(verdict, value, doubt, low, high, doubts, shown),
        "value_nm": value,
        "u_nm": doubt.u,
        "dof": None if doubt.dof >= INFINITE else doubt.dof,
        "expanded_nm": doubt.expanded,
        "guard_nm": doubt.guard,
        "low_nm": low,
        "high_nm": high,
        "directions": rows,
        "felt": {ONE_OUTPUT_HELD + "_nm": mean_nm, CASE_HELD + "_nm": 2 * mean_nm},
        "budget": [
            {"name": row["name"], "meaning": row["meaning"], "u_nm": row["u"], "share": row["share"]}
            for row in shares(parts)
        ],
        "findings": found,
        "helps": helps,
    }
