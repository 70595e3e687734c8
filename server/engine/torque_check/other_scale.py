"""Readings that were perhaps typed in another unit than they were read in: many wrenches have two scales.

A pound-force foot is 1.356 N·m and a kilogram-force metre 9.807 N·m: figures of the one scale, taken for the other,
come to a torque that is off by just that ratio.
"""

import math
from typing import Any, NamedTuple

from ..doubt.budget import mean
from ..doubt.finding import DOUBT, NOTE, finding
from ..request.units import UNITS, factor, say
from .chain import chain_of, stated
from .form import is_inside

# From one check to the next a torque that moved by more is in question, where another unit brings it back to within the
# second share: common practice, no source.
MOVED = 1.2
SAME_AGAIN = 1.08

OtherUnit = NamedTuple(
    "OtherUnit",
    [
        # As `UNITS` names it.
        ("unit", str),
        # How many times as large one of it is, and the stated torque with it, N·m.
        ("ratio", float),
        ("value", float),
        # Whether the last check of this build speaks for it.
        ("by_last", bool),
    ],
)


def apart(torque: float, other: float) -> float:
    """How many times the larger of two torques is the smaller one."""
    return max(torque, other) / min(torque, other)


def typed_in(request: dict[str, Any], si: str) -> str:
    """The unit that the readings are taken to be in; `si` is "nm" or "n"."""
    unit: str = request["write_in" if si == "nm" else "write_forces_in"]
    return unit


def other_units(
    request: dict[str, Any],
    tool: dict[str, Any],
    si: str,
    readings: dict[str, list[float]],
    value: float,
    limits: tuple[float | None, float | None],
) -> list[OtherUnit]:
    """The units in which these figures would make better sense, the likeliest first.

    Parameters
    ----------
    request : dict
        A checked breakaway request.
    tool : dict
        Its tool: a unit that would put the reading beyond the scale is none.
    si : str
        "nm" or "n".
    readings : dict
        By direction, in the SI unit.
    value : float
        Stated torque, N·m, with the readings as they were typed.
    limits : tuple
        Lowest and highest torque allowed, N·m.
    """
    now, last = typed_in(request, si), request["last_nm"]
    rows = []
    chains = {way: chain_of(request, request["held"], way) for way in readings}
    middles = {way: mean(row) for way, row in readings.items()}
    highest = max([max(row) for row in readings.values()])
    for unit, _, size in UNITS[si]:
        ratio = size / factor(now, si)
        if unit == now or ratio * highest > tool["high_" + si]:
            continue
        other = mean([stated(ratio * middles[way], chains[way]) for way in readings])
        if other <= 0:
            continue
        by_last = last is not None and apart(value, last) > MOVED and apart(other, last) < SAME_AGAIN
        if by_last or (not is_inside(value, *limits) and is_inside(other, *limits)):
            rows.append(OtherUnit(unit, ratio, other, by_last))
    return sorted(rows, key=lambda row: (not row.by_last, abs(math.log(row.ratio)), row.unit))


def perhaps_read_in(
    request: dict[str, Any],
    tool: dict[str, Any],
    si: str,
    readings: dict[str, list[float]],
    value: float,
    limits: tuple[float | None, float | None],
) -> tuple[str | None, list[dict[str, Any]]]:
    """The unit that the readings were perhaps read in, and the question; None where nothing speaks for another one.

    Where the torque would pass as it was typed, and the last check of this build says otherwise, it is in doubt: a go
    on a wrong scale is what hurts people. Who has said that the unit is right is not asked again.
    """
    if request["sure_of_unit"]:
        return None, []
    rows = other_units(request, tool, si, readings, value, limits)
    if not rows:
        return None, []
    row, shown = rows[0], request["write_in"]
    label, now = [
        next(sign for name, sign, _ in UNITS[si] if name == unit) for unit in (row.unit, typed_in(request, si))
    ]
    why = "inside the limits"
    if row.by_last:
        why = f"what the last check found, {say(request['last_nm'], 'nm', shown)}"
    text = (
        f"Were these figures read in {label}? Then it is {say(row.value, 'nm', shown)}, {why}; in {now} it is "
        f"{say(value, 'nm', shown)}. Look which scale was read."
    )
    is_doubt = row.by_last and is_inside(value, *limits)
    return row.unit, [finding("unit", DOUBT if is_doubt else NOTE, row.ratio, text)]
