"""What a set of readings shows beside its mean: named findings, each with its number.

A finding of weight "doubt" means that the readings cannot be trusted to decide, whatever their mean; a "note" informs.
"""

import math
from typing import Any

from ..doubt.budget import mean
from ..doubt.finding import DOUBT, NOTE, expired, finding
from ..doubt.student_t import t_quantile
from ..request.units import say
from ..unit.held import HELD, packs_in_torque
from .form import DIRECTIONS, FORWARD, REVERSE

# A torque tool's permitted deviation holds from 20 % of its largest value up: ISO 6789-1:2017, from memory.
LOWEST_SHARE_OF_SCALE = 0.20

# Sizes below which a difference is of no concern even where it is certain: common practice, no source.
DRIFT_OF_CONCERN = 0.03
DISAGREEMENT_OF_CONCERN = 0.05
STICKING_RATIO = 1.25
STRAY_RATIO = 2.0

# A drift has to be this unlikely by chance before it is named, two-sided: readings are few and false alarms cost time.
DRIFT_CHANCE = 0.01


def kit_findings(tool: dict[str, Any], unit: str, name: str, reading: float, day: str | None) -> list[dict[str, Any]]:
    """Whether the tool is fit for this reading: its calibration, and where on its scale the reading lies."""
    text = expired(tool, day, name)
    found = [finding("calibration", DOUBT, 0.0, text)] if text else []
    share = reading / tool["high_" + unit]
    lowest = max(LOWEST_SHARE_OF_SCALE, tool["low_" + unit] / tool["high_" + unit])
    if tool["kind"] != "weight" and share < lowest:
        found.append(
            finding(
                "low_on_scale",
                DOUBT,
                share,
                f"The reading lies at {100 * share:.0f} % of the scale; below {100 * lowest:.0f} % the tool's "
                "accuracy does not hold. Use a smaller tool, or hold the unit so that it reads more.",
            )
        )
    return found


def drift(readings: dict[str, Any], division: float) -> tuple[float, bool]:
    """Change from the first to the last reading, as one straight trend common to both directions.

    Parameters
    ----------
    readings : dict
        {"forward": [...], "reverse": [...] or None} in the tool's unit.
    division : float
        One division of the tool's scale: readings rounded to it may rise in step by chance.

    Returns
    -------
    tuple
        (change relative to the mean, whether it is more than chance). (0, False) below three readings each way.
    """
    sxx = sxy = syy = 0.0
    count = series = longest = 0
    total = 0.0
    for direction in DIRECTIONS:
        values = readings[direction]
        if values is None or len(values) < 3:
            continue
        middle, centre = mean(values), (len(values) - 1) / 2
        sxx += sum((place - centre) ** 2 for place in range(len(values)))
        sxy += sum((place - centre) * (value - middle) for place, value in enumerate(values))
        syy += sum((value - middle) ** 2 for value in values)
        total += sum(values)
        count += len(values)
        series += 1
        longest = max(longest, len(values))
    dof = count - series - 1
    if series == 0 or dof < 1:
        return 0.0, False
    slope = sxy / sxx
    left = max(0.0, syy - slope * sxy)
    change = slope * (longest - 1) / (total / count)
    error = math.sqrt((left / dof + division**2 / 12) / sxx)
    return change, abs(slope) > t_quantile(DRIFT_CHANCE / 2, dof) * error


def stray(readings: dict[str, Any], unit: str, shown: str) -> list[dict[str, Any]]:
    """A reading so far from all others that it was rather mistyped or misread than felt.

    Parameters
    ----------
    readings : dict
        {"forward": [...], "reverse": [...] or None} in the tool's unit.
    unit, shown : str
        The tool's unit, "nm" or "n", and the one that its readings are written in.
    """
    rows = [
        (value, place + 1, direction)
        for direction in DIRECTIONS
        for place, value in enumerate(readings[direction] or [])
    ]
    values = sorted([value for value, _, _ in rows])
    middle = 0.5 * (values[(len(values) - 1) // 2] + values[len(values) // 2])
    ratios = [max(value / middle, middle / value) for value, _, _ in rows]
    ratio = max(ratios)
    if ratio < STRAY_RATIO:
        return []
    value, number, direction = rows[ratios.index(ratio)]
    return [
        finding(
            "stray",
            DOUBT,
            value / middle,
            f"Reading {number} {direction}, {say(value, unit, shown)}, is far from the middle of all, "
            f"{say(middle, unit, shown)}: correct it if it was mistyped, else read again.",
        )
    ]


def series_findings(readings: dict[str, Any], pooled: float, dof: float, division: float) -> list[dict[str, Any]]:
    """Drift, and directions that disagree.

    Parameters
    ----------
    readings : dict
        {"forward": [...], "reverse": [...] or None} in the tool's unit.
    pooled : float
        Scatter of single readings within a direction, same unit.
    dof : float
        Degrees of freedom of `pooled`.
    division : float
        One division of the tool's scale.
    """
    found = []
    change, certain = drift(readings, division)
    if certain and abs(change) > DRIFT_OF_CONCERN:
        way = "fell" if change < 0 else "rose"
        found.append(
            finding(
                "drift",
                DOUBT,
                change,
                f"The readings {way} by {100 * abs(change):.0f} % from first to last: the plates are still bedding, or "
                "there is dirt between them. Turn it a few times more and read again.",
            )
        )
    forward, reverse = readings[FORWARD], readings[REVERSE]
    if reverse is None:
        found.append(finding("one_way", NOTE, 1.0, "Read one way only: turn it in reverse as well."))
        return found
    difference = mean(forward) - mean(reverse)
    size = 0.5 * (mean(forward) + mean(reverse))
    doubt = t_quantile(0.025, dof) * pooled * math.sqrt(1 / len(forward) + 1 / len(reverse))
    if abs(difference) > doubt and abs(difference) > DISAGREEMENT_OF_CONCERN * size:
        more = FORWARD if difference > 0 else REVERSE
        found.append(
            finding(
                "directions",
                DOUBT,
                difference / size,
                f"The two directions differ by {100 * abs(difference) / size:.0f} %, {more} being higher, and that is "
                "more than the scatter: look for a dragging brake, a bent plate or dirt.",
            )
        )
    return found


def sticking(first: float, steady: float) -> list[dict[str, Any]]:
    """The first move far above steady turning, or below it, which no unit does."""
    if first * STICKING_RATIO < steady:
        text = "The first move takes less than steady turning: see whether the two were typed in each other's place."
        return [finding("first_below", NOTE, first / steady, text)]
    if first <= STICKING_RATIO * steady:
        return []
    return [
        finding(
            "sticking",
            NOTE,
            first / steady,
            f"The first move takes {first / steady:.2f} times the steady torque: plates that stick, from old oil or "
            "from standing. Turn it through, then read again.",
        )
    ]


def holding(value: float, held: str, low: float | None, high: float | None, unit: str) -> list[dict[str, Any]]:
    """Whether the same reading, held the other way, would have been inside the limits that it now misses."""

    def fits(torque: float) -> bool:
        return (low is None or torque >= low) and (high is None or torque <= high)

    other = value * (2.0 if packs_in_torque(held) == 2 else 0.5)
    if fits(value) or not fits(other):
        return []
    return [
        finding(
            "holding",
            NOTE,
            other / value,
            f"Had the unit been held the other way, this would be {say(other, 'nm', unit)} and inside the limits. "
            f"Make sure that it really was {HELD[held][1]}.",
        )
    ]


def circumstances(given: dict[str, Any] | None) -> list[dict[str, Any]]:
    """Marks for readings that are not like with like."""
    if given is None:
        return []
    found = []
    if given["temperature"] != "cold":
        found.append(
            finding(
                "temperature",
                NOTE,
                0.0,
                f"Read {given['temperature']}: warm oil reads lower than cold. Compare it with checks taken alike.",
            )
        )
    if given["outings"] == 0:
        found.append(
            finding(
                "fresh",
                NOTE,
                0.0,
                "Fresh from a rebuild: the torque drops while the plates bed in. Check again after the first outing.",
            )
        )
    return found
