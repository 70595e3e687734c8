"""What would help a check that cannot say: each remedy worked out through the same budget, best first."""

import math
from typing import Any

from ..doubt.budget import Part, guard_of
from ..request.units import say
from ..unit.held import HELD
from .doubt import Check, chain_of, guard_parts, parts_of, reading_at

MOST_REPEATS = 20

# From the ways that feel the mean to those at the same place that feel the sum.
OTHER_WAY = {"bench_output_held": "bench_case_held", "car_one_wheel_down": "car_both_wheels_up"}

# A remedy that takes less than this off the guard band is not worth a mechanic's time.
WORTH_WHILE = 0.98

# Keeps rounding from promising what the next check would then just miss.
SURE = 0.999


def scaled(parts: list[Part], size: float, *names: str) -> list[Part]:
    """The same parts with those named made larger or smaller."""
    return [Part(part.name, part.meaning, part.u * size, part.dof) if part.name in names else part for part in parts]


def with_repeats(parts: list[Part], counts: list[int], more: int) -> list[Part]:
    """The parts as they would be with `more` readings each way of the same scatter."""
    grown = [count + more for count in counts]
    size = math.sqrt(sum(1 / count for count in grown) / sum(1 / count for count in counts))
    dof = float(sum(grown) - len(grown))
    return [Part(part.name, part.meaning, part.u * size, dof) if part.name == "repeats" else part for part in parts]


def repeats_needed(parts: list[Part], counts: list[int], gap: float) -> int:
    """Fewest further readings each way after which the guard band is smaller than the gap, at most `MOST_REPEATS`."""
    few, many = 1, max(1, MOST_REPEATS - min(counts))
    while few < many:
        middle = (few + many) // 2
        if guard_of(with_repeats(parts, counts, middle)) < SURE * gap:
            many = middle
        else:
            few = middle + 1
    return few


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
    request, counts = check.request, check.counts
    shown, held = request["write_in"], request["held"]
    parts = guard_parts(check, limit)
    more = repeats_needed(parts, counts, gap)
    readings = f"{more} more reading{'s' if more > 1 else ''}{' each way' if len(counts) == 2 else ''}"
    tried = [
        ("more_repeats", with_repeats(parts, counts, more), f"Take {readings}"),
        (
            "finer_tool",
            scaled(parts, 0.5, "tool", "division"),
            "Use a tool that is twice as good, by its scale and its certificate",
        ),
        ("measure_drag", scaled(parts, 0.25, "drag"), "Measure the drag on its own, four times as well"),
        ("measure_lengths", scaled(parts, 0.25, "lengths"), "Measure the lever lengths four times as well"),
        ("measure_angle", scaled(parts, 0.25, "angle"), "Measure the adapter's angle four times as well"),
    ]
    if held in OTHER_WAY:
        other = OTHER_WAY[held]
        there = reading_at(limit, chain_of(request, other))
        if max(there, 2 * check.reading) <= check.tool["high_" + check.unit]:
            words = f"Hold it {HELD[other][1]}, where the wrench feels twice as much"
            tried.append(("hold_other_way", parts_of(check, there, other), words))
    found = []
    for name, changed, words in tried:
        guard = guard_of(changed)
        if guard < WORTH_WHILE * now:
            decides = guard < SURE * gap
            end = "that would decide, if the mean stays" if decides else "that alone would not decide"
            fall = f"the guard band falls from {say(now, 'nm', shown)} to {say(guard, 'nm', shown)}"
            found.append({"name": name, "guard_nm": guard, "decides": decides, "text": f"{words}: {fall}; {end}."})
    return sorted(found, key=lambda remedy: (remedy["guard_nm"], remedy["name"]))
