"""A breakaway torque check: from what was read to a verdict that knows how good the reading is."""

from typing import Any

from ..doubt.budget import INFINITE, Part, combine, mean, scatter, shares
from ..doubt.finding import DOUBT
from ..doubt.verdict import GO, MEASURE_AGAIN, REWORK, judge_limit, worst, written_band
from ..request.errors import BadInput, inside
from ..request.units import say
from ..unit.held import CASE_HELD, ONE_OUTPUT_HELD, packs_in_torque
from .chain import Chain, can_be_read, chain_of, ends_of, reading_at, refuse_locked, stated, with_locks_kept
from .doubt import Check, chains_of, parts_of, pool
from .findings import (
    both_wheels,
    circumstances,
    first_move_only,
    holding,
    kit_findings,
    ramps_press,
    series_findings,
    slips,
    sticking,
)
from .form import DIRECTIONS, FORWARD, REVERSE, check_drag, check_limits, check_range, judged_readings, tool_of
from .guard import guard_at, guard_band
from .lead import lead
from .other_scale import perhaps_read_in
from .remedies import remedies

# Each way of holding, and the other one at the same place.
ANOTHER_WAY = {
    "bench_output_held": "bench_case_held",
    "bench_case_held": "bench_output_held",
    "car_one_wheel_down": "car_both_wheels_up",
    "car_both_wheels_up": "car_one_wheel_down",
}


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
    low: float | None,
    high: float | None,
    doubts: list[str],
    unit: str,
) -> str:
    """The verdict's reason, as a mechanic says it: the torque, the limits, and what to do."""
    if doubts:
        return doubts[0]
    torque, band = say(value, "nm", unit), written_band(low, high, "nm", unit)
    what = "Too close to a limit to say: measure again."
    if verdict == GO:
        what = "Good to run."
    elif verdict == REWORK:
        what = f"Too {'low' if low is not None and value < low else 'high'}: re-set it."
    return f"{torque}. Limits: {band}. {what}"


def explain_why(value: float, limit: float, is_low: bool, guard: float, unit: str) -> str:
    """How the torque lies to the limit that decides, with the guard band there."""
    margin = value - limit if is_low else limit - value
    side, relation = "inside" if margin >= 0 else "outside", "more" if abs(margin) >= guard else "less"
    return (
        f"It lies {say(abs(margin), 'nm', unit)} {side} the limit of {say(limit, 'nm', unit)}, {relation} than the "
        f"guard band of {say(guard, 'nm', unit)} that the reading's doubt asks for."
    )


def held_otherwise(request: dict[str, Any], means: dict[str, float]) -> float | None:
    """Stated torque, N·m, that mean readings would come to, held the other way; None where they could not tell."""
    other = ANOTHER_WAY[request["held"]]
    if not can_be_read(request, other, list(means)):
        return None
    return mean([stated(reading, chain_of(request, other, direction)) for direction, reading in means.items()])


def felt_both_ways(request: dict[str, Any], value: float, directions: list[str]) -> dict[str, Any]:
    """Torque at an output, N·m, that a wrench feels without drag, held either way; None where it would not turn."""
    bare = request.copy()
    bare.update({"bar": None, "adapter": None, "drag": None, "hub_ratio": 1.0})
    felt = {}
    for name, held in ((ONE_OUTPUT_HELD, "bench_output_held"), (CASE_HELD, "bench_case_held")):
        turns = can_be_read(bare, held, directions)
        each = [reading_at(value, chain_of(bare, held, direction)) for direction in directions] if turns else []
        felt[name + "_nm"] = mean(each) if each else None
    return felt


def one_division(check: Check) -> float:
    """One division of the tool's scale as stated torque, N·m."""
    chains = chains_of(check, check.request["held"])
    return float(check.tool["division_" + check.unit]) * mean(
        [chain.leverage * chain.transfer for chain in chains.values()]
    )


def directions_off(request: dict[str, Any], means: dict[str, float]) -> float:
    """How far apart the two directions may come, N·m as stated, for what is known of the ramps' friction alone."""
    if len(means) < 2:
        return 0.0
    now, least, most = 0.0, 0.0, 0.0
    for direction, sign in ((FORWARD, 1.0), (REVERSE, -1.0)):
        reading = means[direction]
        ends = ends_of(request, request["held"], direction)
        if not ends:
            return 0.0
        now += sign * stated(reading, chain_of(request, request["held"], direction))
        least += sign * stated(reading, ends[0])
        most += sign * stated(reading, ends[1])
    return max(abs(least - now), abs(most - now))


def all_findings(
    request: dict[str, Any], check: Check, means: dict[str, float], torques: dict[str, Any], name: str
) -> list[dict[str, Any]]:
    """What the readings of a check show beside their mean and what they slipped by.

    Parameters
    ----------
    request : dict
        A checked breakaway request.
    check : Check
        What was read, with what.
    means, torques : dict
        By direction: the mean reading in the tool's unit, and the readings as stated torque.
    name : str
        Field of the tool.
    """
    held, shown, unit = request["held"], request["write_in"], check.unit
    packs = packs_in_torque(request["stated_for"])
    findings = kit_findings(check.tool, unit, name, mean(list(means.values())), request["day"])
    findings += first_move_only(check.tool, request["judged_on"])
    findings += series_findings(torques, one_division(check), directions_off(request, means))
    steady, first = request["steady_" + unit], request["first_" + unit]
    if steady is not None and first is not None:
        findings += sticking(mean(first[FORWARD]), mean(steady[FORWARD]))
    low, high = check_limits(request)
    findings += holding(check.value, held_otherwise(request, means), held, low, high, shown)
    findings += ramps_press(request, {way: mean(torques[way]) / packs for way in means}, shown)
    findings += both_wheels(request, shown)
    findings += circumstances(request["circumstances"])
    return findings


def deciding_limit(value: float, guards: dict[float, float], low: float | None) -> tuple[str, float]:
    """Verdict by the limits, and the one that it turns on: a higher one has a wider guard, and need not be nearest."""
    by_limit = {limit: judge_limit(value, guard, limit, limit == low, REWORK) for limit, guard in guards.items()}
    verdict = worst(list(by_limit.values()))
    return verdict, min(
        [limit for limit in sorted(guards) if by_limit[limit] == verdict], key=lambda limit: abs(value - limit)
    )


def read_in(request: dict[str, Any], tool: dict[str, Any], unit: str) -> tuple[str, dict[str, Any], list[str]]:
    """The readings that are judged: their field, themselves, and the directions in which it was read.

    Raises
    ------
    BadInput
        As `breakaway`.
    """
    check_drag(request)
    for field in ("steady_" + unit, "first_" + unit):
        if request[field] is not None:
            check_range(request, tool, unit, field)
    field, readings = judged_readings(request, tool, unit)
    taken = [direction for direction in DIRECTIONS if readings[direction] is not None]
    refuse_locked(request, taken, field)
    return field, readings, taken


def guarded_limits(low: float | None, high: float | None, guards: dict[float, float]) -> dict[str, float | None]:
    """The limits, and the guard band at each; None where there is no such limit."""
    return {
        "low_nm": low,
        "high_nm": high,
        "guard_low_nm": None if low is None else guards[low],
        "guard_high_nm": None if high is None else guards[high],
    }


def written_budget(parts: list[Part]) -> list[dict[str, Any]]:
    """The parts of the doubt with their shares, the largest first."""
    return [
        {"name": row["name"], "meaning": row["meaning"], "u_nm": row["u"], "share": row["share"]}
        for row in shares(parts)
    ]


def breakaway(request: dict[str, Any]) -> dict[str, Any]:
    """Judge a breakaway torque check.

    Parameters
    ----------
    request : dict
        Checked by `form.FORM`.

    Returns
    -------
    dict
        verdict, reason, why; value_nm, the mean of both directions as the limits are stated; u_nm, dof, expanded_nm
        (two-sided 95 %), guard_nm, the one-sided 95 % guard band at the limit that decided; low_nm, high_nm,
        guard_low_nm, guard_high_nm; directions; budget (parts with their shares); findings;
        marked, fields of readings that are in question; helps, best first; felt, the torque both ways of holding;
        perhaps_in, the unit that the figures were perhaps read in, or None; next, what to do.

    Raises
    ------
    BadInput
        Contradicting tools, readings beyond the scale, limits in the wrong order, a torque of zero or less; a way of
        holding in which the ramps press and nobody knows how hard, or lock the unit solid.

    References
    ----------
    1. JCGM 100:2008; JCGM 106:2012; ISO 14253-1:2017, as in `budget` and `verdict`.
    """
    request = with_locks_kept(request)
    tool, unit, name = tool_of(request)
    low, high = check_limits(request)
    field, readings, taken = read_in(request, tool, unit)
    held, shown = request["held"], request["write_in"]

    rows = {way: direction_row(readings[way], chain_of(request, held, way)) for way in DIRECTIONS}
    value = mean([row["mean_nm"] for row in (rows[FORWARD], rows[REVERSE]) if row is not None])
    if value <= 0:
        raise BadInput("drag", "The drag takes up all that the wrench read: check the drag and the bar's moment.")
    spread, dof = pool(readings)
    check = Check(request, tool, unit, value, spread, dof, {way: len(readings[way]) for way in taken}, {})
    parts = parts_of(check, value, held)
    doubt = combine(parts)
    guards = {limit: guard_band(guard_at(check, limit, held)) for limit in (low, high) if limit is not None}
    by_limits, deciding = deciding_limit(value, guards, low)
    guard = guards[deciding]

    torques = {way: None if row is None else row["readings_nm"] for way, row in rows.items()}
    slipped = slips(readings, torques, unit, shown if unit == "nm" else request["write_forces_in"])
    means = {way: mean(readings[way]) for way in taken}
    perhaps_in, unit_doubted = perhaps_read_in(
        request, tool, unit, {way: readings[way] for way in taken}, value, (low, high)
    )
    findings = slipped.findings + unit_doubted + all_findings(request, check, means, torques, name)
    doubts = [row["text"] for row in findings if row["weight"] == DOUBT]
    verdict = MEASURE_AGAIN if doubts else by_limits
    # A doubt says itself what to do about it; a smaller guard band would not lift it.
    helps = [] if doubts or verdict != MEASURE_AGAIN else remedies(check, deciding, abs(value - deciding), guard)
    marked = [inside(inside(field, direction), place) for direction, place in slipped.places]
    answer = {
        "verdict": verdict,
        "next": lead(verdict, findings, marked, helps),
        "perhaps_in": perhaps_in,
        "reason": explain(verdict, value, low, high, doubts, shown),
        "why": explain_why(value, deciding, deciding == low, guard, shown),
        "value_nm": value,
        "u_nm": doubt.u,
        "dof": None if doubt.dof == INFINITE else doubt.dof,
        "expanded_nm": doubt.expanded,
        "guard_nm": guard,
        "directions": rows,
        "felt": felt_both_ways(request, value, taken),
        "budget": written_budget(parts),
        "findings": findings,
        "marked": marked,
        "helps": helps,
    }
    answer.update(guarded_limits(low, high, guards))
    return answer
