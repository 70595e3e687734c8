"""Setting a crown wheel: which shims to move, by backlash, turning torque, contact pattern and what tries taught."""

import math
from typing import Any, NamedTuple

from ..doubt.budget import TWO_SIDED_95, combine, mean
from .bands import aim_of, is_inside
from .bearing_shims import bearing_shims
from .contact_pattern import Moves, pattern_moves
from .crown_wheel import (
    USUAL_HIGH,
    USUAL_LOW,
    USUAL_RATIO,
    Ratio,
    Slope,
    by_geometry,
    is_sure,
    position,
    shim_doubt,
    slope_of,
    with_pinion,
)
from .gauges import DIFFERENCE, gauge_guard, gauge_parts
from .setting_words import (
    TINY_MM,
    Backlash,
    after_words,
    backlash_words,
    change_words,
    coarse_words,
    differs,
    pinion_words,
    shim_words,
    spread_words,
    way_of,
)

Sideways = NamedTuple(
    "Sideways",
    [
        # Crown wheel, mm away from the pinion, with its range.
        ("move", float),
        ("least", float),
        ("most", float),
        # How far it moves beside that with the pinion.
        ("along", float),
        # Changes of shims, mm.
        ("behind", float),
        ("tooth", float),
        ("pinion", float),
        # What the bearings ask for, or None.
        ("torque", Any),
    ],
)


def middle_of(points: list[float]) -> float:
    """Middle between the tightest and the loosest tooth: limits are about those two."""
    return (min(points) + max(points)) / 2


def backlash_of(given: dict[str, Any]) -> Backlash:
    """The backlash that was read, its doubt, and what it is set to."""
    points = given["points_mm"]
    guard = gauge_guard(given["gauge"], DIFFERENCE)
    good = is_inside(given["low_mm"], given["high_mm"], min(points), max(points), guard)
    found = middle_of(points)
    within = combine(gauge_parts(given["gauge"], DIFFERENCE)).expanded
    aim = aim_of(given, "_mm", "backlash")
    off_target = given["wanted_mm"] is not None and abs(found - given["wanted_mm"]) > within
    return Backlash(found, within, min(points), max(points), aim, off_target or not good)


def same_pinion(tried: dict[str, Any], now: dict[str, Any] | None) -> bool:
    """Whether a try had the pinion at the depth that it has now, as far as anybody says."""
    return now is not None and tried["pinion_mm"] == now["pinion_mm"]


def learnt_backlash(request: dict[str, Any], backlash: Backlash) -> Slope | None:
    """Backlash for each mm sideways, by the tries at this depth of the pinion and by what is read now.

    Where a tooth has no backlash the wheel may be further in than that by any way: nothing is learnt of it.
    """
    points = []
    for tried in request["tries"]:
        at = position(tried)
        if (
            at is not None
            and tried["points_mm"]
            and min(tried["points_mm"]) > 0
            and same_pinion(tried, request["shims"])
        ):
            points.append((at, middle_of(tried["points_mm"])))
    now = None if request["shims"] is None else position(request["shims"])
    if not points or now is None or backlash.least <= 0:
        return None
    points.append((now, backlash.found))
    u = backlash.within / TWO_SIDED_95
    return slope_of(points, shim_doubt(2) / 2, u)


def ratio_of(request: dict[str, Any], backlash: Backlash) -> tuple[Ratio, str]:
    """The ratio to go by, and a sentence on what is odd about the tries; empty where nothing is."""
    gears = by_geometry(request["gears"])
    other = gears or Ratio(USUAL_RATIO, USUAL_LOW, USUAL_HIGH, "usual")
    slope = learnt_backlash(request, backlash)
    if slope is None:
        return other, ""
    if is_sure(slope):
        value, within = slope.value, slope.expanded
        learnt = Ratio(value, value - within, value + within, "tries")
        apart = "" if learnt.low <= other.high and other.low <= learnt.high else differs(learnt, other)
        return learnt, apart
    if slope.value + slope.expanded < 0:
        text = (
            "The tries contradict the gears: backlash fell where the crown wheel moved away from the pinion. See which "
            "shims were behind the crown wheel, and that the bearings sat home; the tries are not used."
        )
        return other, text
    return other, "The tries lie too close together for this gauge to learn from; they are not used."


def span_of(backlash: Backlash, ratio: Ratio) -> tuple[float, float]:
    """How far the crown wheel may really have to move, least and most, mm away from the pinion."""
    assert backlash.aim is not None
    ends = [
        (backlash.aim - backlash.found + sign * backlash.within) / size
        for sign in (-1, 1)
        for size in (ratio.low, ratio.high)
    ]
    return min(ends), max(ends)


def in_steps(sideways: float, more: float, step: float | None) -> tuple[float, float]:
    """What each side's shims change by, behind the crown wheel and on the tooth side, in whole steps.

    Parameters
    ----------
    sideways : float
        How far the crown wheel moves away from the pinion, mm.
    more : float
        Shims to add in all, mm.
    step : float or None
        What shims at hand differ by, mm.

    Notes
    -----
    The total is met first, to half a step, since it is the bearings' preload; then the place, as near as the total
    allows: to half a step where the total is kept.
    """
    if step is None:
        return more / 2 - sideways, more / 2 + sideways
    whole = nearest(more / step)
    # Of two places that are equally near that which goes less far: nobody asked whether there is room beyond.
    less = math.copysign(1e-6, sideways) if sideways else 0.0
    apart = 2 * nearest((2 * sideways / step - whole) / 2 - less) + whole
    return (whole - apart) / 2 * step, (whole + apart) / 2 * step


def nearest(number: float) -> int:
    """The nearest whole number; halves go away from zero."""
    return math.floor(abs(number) + 0.5 + 1e-9) * (1 if number >= 0 else -1)


def tried_rows(request: dict[str, Any]) -> list[dict[str, Any]]:
    """Every try in a row, the present one last."""
    rows = []
    backlash, bearings, contact = request["backlash"], request["bearings"], request["contact"]
    now = dict(request["shims"] or {"behind_mm": None, "tooth_mm": None, "pinion_mm": None})
    now["points_mm"] = None if backlash is None else backlash["points_mm"]
    now["torque_nm"] = None if bearings is None else mean(bearings["readings_nm"])
    now["contact"] = None if contact is None else contact["drive"]
    for tried in request["tries"] + [now]:
        points = tried["points_mm"]
        rows.append(
            {
                "behind_mm": tried["behind_mm"],
                "tooth_mm": tried["tooth_mm"],
                "pinion_mm": tried["pinion_mm"],
                "backlash_mm": middle_of(points) if points else None,
                "torque_nm": tried["torque_nm"],
                "contact": tried["contact"],
            }
        )
    return rows


def contact_steps(pattern: Moves, step: float | None) -> float:
    """How far the crown wheel goes for the contact pattern, in whole steps, and no further than backlash has room."""
    if step is None:
        return pattern.crown
    ends = sorted((abs(pattern.crown_least), abs(pattern.crown_most)))
    # Half a step from a try of the opposite pattern, a whole one would end there.
    less = 0.0 if ends[0] else 1e-6
    count = min(nearest(abs(pattern.crown) / step - less), int(ends[1] / step + 1e-9))
    return math.copysign(count * step, pattern.crown)


def pinion_steps(change: float, step: float | None) -> float:
    """The change of the pinion's shims in whole steps, one at least."""
    if not change or step is None:
        return change
    return math.copysign(max(1, nearest(abs(change) / step)) * step, change)


def sideways(request: dict[str, Any], backlash: Backlash | None, ratio: Ratio | None, pattern: Moves) -> Sideways:
    """Which shims to move, for backlash, contact pattern and turning torque together."""
    shims = request["shims"]
    step = None if shims is None else shims["step_mm"]
    pinion = pinion_steps(pattern.pinion, step)
    deeper = pinion if shims is None or shims["thicker"] == "deeper" else -pinion
    along = deeper * with_pinion(request["gears"])
    move = least = most = 0.0
    if backlash is not None and ratio is not None and backlash.needed and backlash.aim is not None:
        move = (backlash.aim - backlash.found) / ratio.value
        least, most = span_of(backlash, ratio)
    elif pattern.crown:
        move, least, most = contact_steps(pattern, step), pattern.crown_least, pattern.crown_most
    torque = None if request["bearings"] is None else bearing_shims(request)
    more = 0.0 if torque is None or torque.change is None else torque.change
    behind, tooth = in_steps(move + along, more, step)
    return Sideways(move, least, most, along, behind, tooth, pinion, torque)


def set_backlash(backlash: Backlash, ratio: Ratio, moves: Sideways) -> dict[str, Any]:
    """What stands of backlash, and what to expect of it."""
    shifted = (moves.tooth - moves.behind) / 2 - moves.along
    return {
        "found_mm": backlash.found,
        "found_within_mm": backlash.within,
        "aim_mm": backlash.aim,
        "ratio": ratio.value,
        "ratio_low": ratio.low,
        "ratio_high": ratio.high,
        "ratio_from": ratio.source,
        "expected_mm": max(0.0, backlash.found + ratio.value * shifted),
        "expected_within_mm": math.sqrt(backlash.within**2 + (shifted * (ratio.high - ratio.low) / 2) ** 2),
    }


def contact_advice(request: dict[str, Any], pattern: Moves, moves: Sideways) -> list[str]:
    """What to do about the contact pattern."""
    sentences: list[str] = list(pattern.texts)
    if pattern.crown and not moves.move:
        sentences.append("The shims at hand are too thick for that: a thinner one is needed.")
    if moves.pinion:
        sentences.append(pinion_words(request, moves.along, request["write_lengths_in"]))
    return sentences


def setting(request: dict[str, Any]) -> dict[str, Any] | None:
    """What to move, from what was read.

    Parameters
    ----------
    request : dict
        Checked by the form of `refit`.

    Returns
    -------
    dict or None
        See `SETTING` of the results; None where nothing was read that shims change.

    Raises
    ------
    BadInput
        Wanted figures beyond their limits, gears that cannot be, half of a statement.
    """
    given, shims = request["backlash"], request["shims"]
    if given is None and request["bearings"] is None and request["contact"] is None:
        return None
    unit = request["write_lengths_in"]
    backlash = None if given is None else backlash_of(given)
    ratio, beside = (None, "") if backlash is None else ratio_of(request, backlash)
    pattern = pattern_moves(request, given, backlash, ratio)
    moves = sideways(request, backlash, ratio, pattern)
    advice = [("contact", text) for text in contact_advice(request, pattern, moves)]
    advice += [("bearings", text) for text in ([] if moves.torque is None else moves.torque.texts)]
    answer: dict[str, Any] = {
        "move_mm": moves.move,
        "move_low_mm": moves.least,
        "move_high_mm": moves.most,
        "with_pinion_mm": moves.along,
        "behind_change_mm": moves.behind,
        "tooth_change_mm": moves.tooth,
        "pinion_change_mm": moves.pinion,
        "rises_nm": None if moves.torque is None else moves.torque.rises,
        "backlash": None,
        "tries": tried_rows(request),
    }
    if backlash is not None and ratio is not None and given is not None:
        answer["backlash"] = set_backlash(backlash, ratio, moves)
        texts = backlash_words(backlash, ratio, (moves.move, moves.least, moves.most), unit)
        texts += [beside, spread_words(backlash, given)]
        if abs(moves.tooth - moves.behind) > TINY_MM or moves.pinion:
            after = answer["backlash"]
            texts += after_words(backlash, after["expected_mm"], after["expected_within_mm"], given, unit)
        elif backlash.needed:
            texts.append(coarse_words(moves.move, None if shims is None else shims["step_mm"], unit))
        advice += [("backlash", text) for text in texts]
    changes = {"behind_mm": moves.behind, "tooth_mm": moves.tooth, "pinion_mm": moves.pinion}
    answer["way"] = way_of((moves.tooth - moves.behind) / 2)
    for place, change in (("behind", moves.behind), ("tooth", moves.tooth), ("pinion", moves.pinion)):
        answer[place + "_text"] = change_words(change, unit)
    for field in sorted(changes):
        now = None if shims is None else shims[field]
        answer[field] = None if now is None else max(0.0, now + changes[field])
        if now is not None and now + changes[field] < -TINY_MM:
            advice.append(("shims", "That takes out more than there is: see what was typed of shims and gears."))
    advice.append(("shims", shim_words(request, changes, unit)))
    answer["advice"] = [{"about": about, "text": text} for about, text in advice if text]
    return answer
