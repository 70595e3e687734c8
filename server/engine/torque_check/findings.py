"""What a set of readings shows beside its mean: named findings, each with its number.

A finding of weight "doubt" means that the readings cannot be trusted to decide, whatever their mean; a "note" informs.
"""

import math
from typing import Any, NamedTuple

from ..doubt.budget import mean
from ..doubt.finding import DOUBT, NOTE, expired, finding
from ..doubt.student_t import t_quantile
from ..request.rounded import fixed
from ..request.units import say
from ..unit.held import HELD, packs_in_torque
from ..unit.ramp_lock import adds_to_preload
from .chain import lock_in, turns_both_wheels, wheels_of
from .doubt import may_hold, pool
from .form import DIRECTIONS, FORWARD, REVERSE, is_inside
from .wrench import FIRST_MOVE_ONLY

# A torque tool's permitted deviation holds from 20 % of its largest value up: ISO 6789-1:2017, from memory.
LOWEST_SHARE_OF_SCALE = 0.20

# Sizes below which a difference is of no concern even where it is certain: common practice, no source.
DRIFT_OF_CONCERN = 0.03
DISAGREEMENT_OF_CONCERN = 0.05
STICKING_RATIO = 1.25
STRAY_RATIO = 2.0
SLIP_RATIO = 4.0 / 3.0

# Where drag takes up a reading, what is left of it is compared as this.
NOTHING_NM = 1e-6

# A drift has to be this unlikely by chance before it is named, two-sided: readings are few and false alarms cost time.
DRIFT_CHANCE = 0.01


def lowest_of(tool: dict[str, Any], unit: str) -> float:
    """Lowest reading at which a tool's accuracy holds, in its own unit."""
    if tool["kind"] == "weight":
        return 0.0
    return float(max(LOWEST_SHARE_OF_SCALE * tool["high_" + unit], tool["low_" + unit]))


def kit_findings(tool: dict[str, Any], unit: str, name: str, reading: float, day: str | None) -> list[dict[str, Any]]:
    """Whether the tool is fit for this reading: its calibration, and where on its scale the reading lies."""
    text = expired(tool, day, name)
    findings = [finding("calibration", DOUBT, 0.0, text)] if text else []
    share = reading / tool["high_" + unit]
    if reading < lowest_of(tool, unit):
        lowest = lowest_of(tool, unit) / tool["high_" + unit]
        findings.append(
            finding(
                "low_on_scale",
                DOUBT,
                share,
                f"The reading lies at {fixed(100 * share, 0)} % of the scale; below {fixed(100 * lowest, 0)} % the "
                "tool's accuracy does not hold. Use a smaller tool, or hold the unit so that it reads more.",
            )
        )
    return findings


def drift(readings: dict[str, Any], division: float) -> tuple[float, bool]:
    """Change from the first to the last reading, as one straight trend common to both directions.

    Parameters
    ----------
    readings : dict
        {"forward": [...], "reverse": [...] or None}, all in one unit.
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


Ratio = NamedTuple(
    "Ratio",
    [
        # A reading's torque over the middle one, the reading as typed, its direction and its place.
        ("ratio", float),
        ("reading", float),
        ("direction", str),
        ("place", int),
    ],
)

Slip = NamedTuple(
    "Slip",
    [
        ("findings", Any),
        # The readings in question: (direction, place).
        ("places", Any),
    ],
)


def slips(readings: dict[str, Any], torques: dict[str, Any], unit: str, shown: str) -> Slip:
    """Readings that were rather mistyped or misread than felt.

    Parameters
    ----------
    readings, torques : dict
        {"forward": [...], "reverse": [...] or None}: in the tool's unit, and as stated torque, which can be compared
        across directions.
    unit, shown : str
        The tool's unit, "nm" or "n", and the one that its readings are written in.

    Returns
    -------
    Slip
        One that is far from all others; else, in a direction, those that differ by more than a third.
    """

    def ratios_in(names: list[str]) -> list[Ratio]:
        taken = [(name, place) for name in names for place in range(len(readings[name] or []))]
        middle = median([torques[name][place] for name, place in taken]) if taken else 1.0
        return [
            Ratio(max(torques[name][place], NOTHING_NM) / max(middle, NOTHING_NM), readings[name][place], name, place)
            for name, place in taken
        ]

    def write(reading: float) -> str:
        return say(reading, unit, shown)

    findings, places = stray(ratios_in(list(DIRECTIONS)), write)
    if not findings:
        for direction in DIRECTIONS:
            row, doubtful = apart(ratios_in([direction]), write)
            findings, places = findings + row, places + doubtful
    return Slip(findings, places)


def stray(rows: list[Ratio], write: Any) -> tuple[list[dict[str, Any]], list[tuple[str, int]]]:
    """A reading twice or half of the middle of all, and its place."""
    odd = max(rows, key=how_far)
    if how_far(odd) < STRAY_RATIO:
        return [], []
    text = (
        f"Reading {odd.place + 1} {odd.direction}, {write(odd.reading)}, is far from the middle of all, "
        f"{write(odd.reading / odd.ratio)}: correct it if it was mistyped, else read again."
    )
    return [finding("stray", DOUBT, odd.ratio, text)], [(odd.direction, odd.place)]


def apart(rows: list[Ratio], write: Any) -> tuple[list[dict[str, Any]], list[tuple[str, int]]]:
    """A reading more than a third off the middle of its direction, and its place; of two that far apart, both."""
    if not rows:
        return [], []
    odd = max(rows, key=how_far)
    direction = odd.direction
    if len(rows) == 2:
        places, wide = [0, 1], how_far(Ratio(rows[0].ratio / rows[1].ratio, 0.0, "", 0))
        off = f"The two readings {direction}, {write(rows[0].reading)} and {write(rows[1].reading)},"
        end = "correct the one that was mistyped, else read both again."
    else:
        places, wide = [odd.place], how_far(odd)
        middle = write(odd.reading / odd.ratio)
        off = f"Reading {odd.place + 1} {direction}, {write(odd.reading)}, and the middle of that direction, {middle},"
        end = "correct it if it was mistyped, else read again."
    if wide < SLIP_RATIO:
        return [], []
    text = f"{off} differ by more than a third: {end}"
    return [finding("slip", DOUBT, wide, text)], [(direction, place) for place in places]


def how_far(row: Ratio) -> float:
    """How many times a reading is off the middle, up or down."""
    return max(row.ratio, 1 / row.ratio)


def median(values: list[float]) -> float:
    """The middle value; between the two middle ones of an even number."""
    ordered = sorted(values)
    return 0.5 * (ordered[(len(ordered) - 1) // 2] + ordered[len(ordered) // 2])


def series_findings(readings: dict[str, Any], division: float, off: float) -> list[dict[str, Any]]:
    """Drift, and directions that disagree.

    Parameters
    ----------
    readings : dict
        {"forward": [...], "reverse": [...] or None} as stated torque, N·m.
    division : float
        One division of the tool's scale, N·m.
    off : float
        How far apart the directions may come beside their scatter, N·m.
    """
    findings = []
    change, certain = drift(readings, division)
    if certain and abs(change) > DRIFT_OF_CONCERN:
        way = "fell" if change < 0 else "rose"
        findings.append(
            finding(
                "drift",
                DOUBT,
                change,
                f"The readings {way} by {fixed(100 * abs(change), 0)} % from first to last: the plates are still "
                "bedding, or there is dirt between them. Turn it a few times more and read again.",
            )
        )
    forward, reverse = readings[FORWARD], readings[REVERSE]
    if reverse is None:
        findings.append(finding("one_way", NOTE, 1.0, "Read one way only: turn it in reverse as well."))
        return findings
    difference = mean(forward) - mean(reverse)
    size = 0.5 * (mean(forward) + mean(reverse))
    pooled, dof = pool(readings)
    doubt = off + t_quantile(0.025, dof) * pooled * math.sqrt(1 / len(forward) + 1 / len(reverse))
    if abs(difference) > doubt and abs(difference) > DISAGREEMENT_OF_CONCERN * size:
        more = FORWARD if difference > 0 else REVERSE
        findings.append(
            finding(
                "directions",
                DOUBT,
                difference / size,
                f"The two directions differ by {fixed(100 * abs(difference) / size, 0)} %, {more} being higher, and "
                "that is more than the scatter: look for a dragging brake, a bent plate or dirt.",
            )
        )
    return findings


def sticking(first: float, steady: float) -> list[dict[str, Any]]:
    """The first move far above steady turning, or below it, which no unit does."""
    if first * STICKING_RATIO < steady:
        text = (
            "The first move takes less than steady turning: check that the two were not swapped when they were typed."
        )
        return [finding("first_below", NOTE, first / steady, text)]
    if first <= STICKING_RATIO * steady:
        return []
    return [
        finding(
            "sticking",
            NOTE,
            first / steady,
            f"The first move takes {fixed(first / steady, 2)} times the steady torque: plates that stick, from old oil "
            "or from standing. Turn it through, then read again.",
        )
    ]


def holding(
    value: float, other: float | None, held: str, low: float | None, high: float | None, unit: str
) -> list[dict[str, Any]]:
    """Whether the same readings, held the other way, would have been inside the limits that they now miss.

    Parameters
    ----------
    value : float
        Stated torque, N·m.
    other : float or None
        What the readings would have come to, held the other way; None where they could not tell.
    held : str
        How it is said to have been held.
    low, high : float or None
        The limits.
    unit : str
        Unit that sentences are written in.
    """
    if is_inside(value, low, high) or other is None or not is_inside(other, low, high):
        return []
    return [
        finding(
            "holding",
            NOTE,
            other / value,
            f"Held the other way, this would be {say(other, 'nm', unit)} and inside the limits. "
            f"Make sure that it really was {HELD[held][1]}.",
        )
    ]


def first_move_only(tool: dict[str, Any], judged_on: str) -> list[dict[str, Any]]:
    """What a tool that lets go, or is loaded until it moves, cannot read."""
    if tool["kind"] not in FIRST_MOVE_ONLY or judged_on == "first_move":
        return []
    return [
        finding(
            "first_move_only",
            DOUBT,
            0.0,
            f"A {FIRST_MOVE_ONLY[tool['kind']]} reads the first move and no steady turning, which the limits are for: "
            "use a beam, dial or electronic wrench, or a pull scale.",
        )
    ]


def both_wheels(request: dict[str, Any], unit: str) -> list[dict[str, Any]]:
    """That one wheel's drag was taken for both."""
    drag, held = request["drag"], request["held"]
    turned, other = wheels_of(request, held)
    if drag is None or not turns_both_wheels(held) or turned + other <= 0.0:
        return []
    if drag["wheel_nm"] is not None and drag["other_wheel_nm"] is not None:
        return []
    return [
        finding(
            "drag_of_both",
            NOTE,
            turned + other,
            f"Both wheels turn, and the drag of one was given: it counts for each, {say(turned + other, 'nm', unit)} "
            "together.",
        )
    ]


def ramps_press(request: dict[str, Any], means: dict[str, float], unit: str) -> list[dict[str, Any]]:
    """What the ramps do to the reading while the case is held; `means` is a pack's torque by direction, N·m."""
    build, held = request["build"], request["held"]
    if packs_in_torque(held) == 1:
        return []
    if build is None:
        text = (
            "Where the spring sits was not given: between the ramp rings the ramps press too while the case is held, "
            "and this torque reads too high. Hold one output to be sure."
        )
        return [finding("layout", NOTE, 0.0, text)]
    locks = [(direction, lock_in(request, direction)) for direction in DIRECTIONS if direction in means]
    findings = []
    for direction, lock in locks:
        if lock is None:
            continue
        if adds_to_preload(build) and lock.most >= 1.0:
            text = (
                f"The ramps press so hard that they may lock it solid, turned {direction} (locking value "
                f"{fixed(lock.least, 2)} to {fixed(lock.most, 2)}): the preload cannot be worked out. Hold one output, "
                "with the case free."
            )
            findings.append(finding("may_lock", DOUBT, lock.value, text))
        elif adds_to_preload(build):
            text = (
                f"With the case held the ramps press as well as the spring: turned {direction}, they make each pack "
                f"{fixed(1 / (1 - lock.value), 2)} times what the preload gives ({fixed(1 / (1 - lock.least), 2)} to "
                f"{fixed(1 / (1 - lock.most), 2)}), and that is taken off."
            )
            findings.append(finding("ramps", NOTE, lock.value, text))
        elif may_hold(request, lock, means[direction]):
            text = (
                f"Turned {direction}, the drag of the other wheel may press the packs harder through the ramps than "
                "the preload does: hold one output, with the case free."
            )
            findings.append(finding("ramps_hold", DOUBT, lock.value, text))
    return findings


def circumstances(given: dict[str, Any] | None) -> list[dict[str, Any]]:
    """Marks for readings that are not like with like."""
    if given is None:
        return []
    findings = []
    if given["temperature"] != "cold":
        findings.append(
            finding(
                "temperature",
                NOTE,
                0.0,
                f"Read {given['temperature']}: warm oil reads lower than cold. Compare it with checks taken alike.",
            )
        )
    if given["outings"] == 0:
        findings.append(
            finding(
                "fresh",
                NOTE,
                0.0,
                "Fresh from a rebuild: the torque drops while the plates bed in. Check again after the first outing.",
            )
        )
    return findings
