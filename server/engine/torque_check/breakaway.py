"""A breakaway torque check: from what was read to a verdict that knows how good the reading is."""

from typing import Any

from ..doubt.budget import INFINITE, combine, mean, scatter, shares
from ..doubt.finding import DOUBT
from ..doubt.verdict import GO, MEASURE_AGAIN, REWORK, judge_limit, worst, written_band
from ..request.errors import BadInput
from ..request.units import say
from ..unit.held import CASE_HELD, JUDGED_ON, ONE_OUTPUT_HELD, packs_in_torque
from .doubt import Chain, Check, chain_of, parts_of, pool, stated
from .findings import circumstances, holding, kit_findings, series_findings, sticking, stray
from .form import DIRECTIONS, FORWARD, REVERSE, check_limits, check_range, tool_of
from .guard import guard_at, guard_band
from .remedies import remedies


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
    guard: float,
    low: float | None,
    high: float | None,
    doubts: list[str],
    unit: str,
) -> str:
    """The verdict's reason in one sentence."""
    torque, band_of_guard = say(value, "nm", unit), say(guard, "nm", unit)
    if doubts:
        return doubts[0]
    band = written_band(low, high, "nm", unit)
    if verdict == GO:
        return f"{torque} lies inside the limits ({band}) by more than its guard band of {band_of_guard}."
    if verdict == REWORK:
        side = "below" if low is not None and value < low else "above"
        return f"{torque} lies {side} the limits ({band}) by more than its guard band of {band_of_guard}: re-set it."
    return f"{torque} lies closer to a limit ({band}) than its guard band of {band_of_guard}: the reading cannot say."


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
        (two-sided 95 %), guard_nm, the one-sided 95 % guard band at the limit that decided; low_nm, high_nm,
        guard_low_nm, guard_high_nm; directions; budget (parts with their shares); findings;
        helps, best first; felt, the torque both ways of holding.

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
    check = Check(request, tool, unit, reading, pooled, [row["count"] for row in taken])
    parts = parts_of(check, reading, held)
    doubt = combine(parts)
    limits = [limit for limit in (low, high) if limit is not None]
    guards: dict[float | None, float] = {limit: guard_band(guard_at(check, limit, held)) for limit in limits}
    by_limit = {limit: judge_limit(value, guards[limit], limit, limit == low, REWORK) for limit in limits}
    by_limits = worst(list(by_limit.values()))
    # A higher limit has a wider guard band: the one that decided need not be the nearest.
    deciding = min([limit for limit in limits if by_limit[limit] == by_limits], key=lambda limit: abs(value - limit))
    guard = guards[deciding]

    found = stray(readings, unit, shown if unit == "nm" else unit)
    found += kit_findings(tool, unit, name, reading, request["day"])
    found += series_findings(readings, pooled[0], pooled[1], tool["division_" + unit])
    steady, first = request["steady_" + unit], request["first_" + unit]
    if steady is not None and first is not None:
        found += sticking(mean(first[FORWARD]), mean(steady[FORWARD]))
    found += holding(value, held, low, high, shown)
    found += circumstances(request["circumstances"])

    doubts = [row["text"] for row in found if row["weight"] == DOUBT]
    verdict = MEASURE_AGAIN if doubts else by_limits
    # A doubt says itself what to do about it; a smaller guard band would not lift it.
    helps = [] if doubts or verdict != MEASURE_AGAIN else remedies(check, deciding, abs(value - deciding), guard)
    mean_nm = value / packs_in_torque(request["stated_for"])
    return {
        "verdict": verdict,
        "reason": explain(verdict, value, guard, low, high, doubts, shown),
        "value_nm": value,
        "u_nm": doubt.u,
        "dof": None if doubt.dof == INFINITE else doubt.dof,
        "expanded_nm": doubt.expanded,
        "guard_nm": guard,
        "low_nm": low,
        "high_nm": high,
        "guard_low_nm": guards.get(low),
        "guard_high_nm": guards.get(high),
        "directions": rows,
        "felt": {ONE_OUTPUT_HELD + "_nm": mean_nm, CASE_HELD + "_nm": 2 * mean_nm},
        "budget": [
            {"name": row["name"], "meaning": row["meaning"], "u_nm": row["u"], "share": row["share"]}
            for row in shares(parts)
        ],
        "findings": found,
        "helps": helps,
    }
