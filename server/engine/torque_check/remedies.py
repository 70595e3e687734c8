"""What would help a check that cannot say: each remedy worked out through the same budget, best first."""

from typing import Any

from ..request.units import say
from ..unit.held import HELD
from ..unit.ramp_lock import adds_to_preload
from .chain import can_be_read, chain_of, reading_at
from .doubt import USUAL_DRAG_DOUBT, Check, directions_of
from .findings import lowest_of
from .guard import guard_at, guard_band
from .wrench import permitted_percent

MOST_REPEATS = 20

# From the ways that feel the mean to those at the same place that feel the sum.
OTHER_WAY = {"bench_output_held": "bench_case_held", "car_one_wheel_down": "car_both_wheels_up"}

# A remedy that takes less than this off the guard band is not worth a mechanic's time.
WORTH_WHILE = 0.98

# What is left of a doubt that is measured four times as well.
BETTER = 0.25

# Keeps rounding from promising what the next check would just miss.
SURE = 0.999


def with_request(check: Check, group: str, **figures: Any) -> Check:
    """The same check with some figures of one group of its request."""
    request = check.request.copy()
    request[group] = request[group].copy()
    request[group].update(figures)
    return Check(request, check.tool, check.unit, check.value, check.scatter, check.dof, check.counts, {})


def with_repeats(check: Check, more: int) -> Check:
    """The check as it would be with `more` readings each way of the same scatter."""
    grown = {direction: count + more for direction, count in check.counts.items()}
    dof = float(sum(grown.values()) - len(grown))
    return Check(check.request, check.tool, check.unit, check.value, check.scatter, dof, grown, check.chains)


def with_finer_tool(check: Check) -> Check:
    """The check with a tool twice as good, by its scale and by its deviation or its certificate."""
    tool, division = check.tool.copy(), "division_" + check.unit
    tool[division] = 0.5 * tool[division]
    tool["deviation_percent"] = 0.5 * permitted_percent(tool)
    if tool["certificate_percent"] is not None:
        tool["certificate_percent"] = 0.5 * tool["certificate_percent"]
    return Check(check.request, tool, check.unit, check.value, check.scatter, check.dof, check.counts, check.chains)


def with_better_drag(check: Check) -> Check:
    """The check with a drag that is known four times as well."""
    given = check.request["drag"]["doubt_nm"]
    if given is None:
        return with_request(check, "drag", doubt_share=BETTER * USUAL_DRAG_DOUBT)
    return with_request(check, "drag", doubt_nm=BETTER * given)


def repeats_needed(check: Check, limit: float, gap: float) -> int:
    """Fewest further readings each way after which the guard band is smaller than the gap, at most `MOST_REPEATS`."""
    held = check.request["held"]
    few, many = 1, max(1, MOST_REPEATS - min(check.counts.values()))
    while few < many:
        middle = (few + many) // 2
        if guard_band(guard_at(with_repeats(check, middle), limit, held)) < SURE * gap:
            many = middle
        else:
            few = middle + 1
    return few


def better_checks(check: Check, more: int) -> list[tuple[str, Check, str]]:
    """Each remedy that keeps the way of holding: its name, the check as it would be, and what to do for it."""
    request = check.request
    readings = f"{more} more reading{'s' if more > 1 else ''}{' each way' if len(check.counts) == 2 else ''}"
    words = "Use a tool that is twice as good, by its scale and its certificate"
    better = [
        ("more_repeats", with_repeats(check, more), f"Take {readings}"),
        ("finer_tool", with_finer_tool(check), words),
    ]
    if request["drag"] is not None:
        words = "Measure the drag on its own, four times as well"
        better.append(("measure_drag", with_better_drag(check), words))
    for group in ("adapter", "bar"):
        if request[group] is not None:
            closer = with_request(check, group, doubt_mm=BETTER * request[group]["doubt_mm"])
            better.append(("measure_lengths", closer, "Measure the lever lengths four times as well"))
    if request["adapter"] is not None:
        closer = with_request(check, "adapter", doubt_deg=BETTER * request["adapter"]["doubt_deg"])
        better.append(("measure_angle", closer, "Measure the adapter's angle four times as well"))
    return better


def other_ways(check: Check, limit: float) -> list[str]:
    """Other ways of holding at the same place that the tool can read, at this limit and at this value."""
    request, directions = check.request, directions_of(check)
    held = request["held"]
    ways = []
    for free, both in sorted(OTHER_WAY.items()):
        # Twice as much is easier to read; without the ramps it is less, and worth more.
        pressed = request["build"] is not None and adds_to_preload(request["build"])
        other = both if held == free and not pressed else free if held == both and pressed else None
        if other is None or not can_be_read(request, other, directions):
            continue
        chains = [chain_of(request, other, direction) for direction in directions]
        most = max(reading_at(max(limit, check.value), chain) for chain in chains)
        if lowest_of(check.tool, check.unit) <= most <= check.tool["high_" + check.unit]:
            ways.append(other)
    return ways


def remedies(check: Check, limit: float, gap: float, now: float) -> list[dict[str, Any]]:
    """What would shrink the guard band.

    Parameters
    ----------
    check : Check
        What was read, with what.
    limit : float
        The limit that it is too close to, N·m.
    gap : float
        Distance from the value to it, N·m: a smaller guard band decides.
    now : float
        Present guard band, N·m.

    Returns
    -------
    list of dict
        name, text, guard_nm that it would leave, and whether that decides at this value; best first.
    """
    shown, held = check.request["write_in"], check.request["held"]
    better = better_checks(check, repeats_needed(check, limit, gap))
    tried = [(name, guard_band(guard_at(changed, limit, held)), words) for name, changed, words in better]
    for other in other_ways(check, limit):
        feels = "the wrench feels twice as much" if other in OTHER_WAY.values() else "the ramps do not press"
        words = f"Hold it {HELD[other][1]}, where {feels}"
        tried.append(("hold_other_way", guard_band(guard_at(check, limit, other)), words))
    rows = []
    for name, guard, words in tried:
        if guard < WORTH_WHILE * now:
            decides = guard < SURE * gap
            end = "that would decide, if the mean stays" if decides else "that alone would not decide"
            fall = f"the guard band falls from {say(now, 'nm', shown)} to {say(guard, 'nm', shown)}"
            rows.append({"name": name, "guard_nm": guard, "decides": decides, "text": f"{words}: {fall}; {end}."})
    return sorted(rows, key=lambda remedy: (remedy["guard_nm"], remedy["name"]))
