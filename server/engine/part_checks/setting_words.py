"""What is said about setting a crown wheel."""

from typing import Any, NamedTuple

from ..request.rounded import fixed
from ..request.units import say
from .crown_wheel import RATIOS, Ratio, cone_of
from .gauges import DIFFERENCE, gauge_guard

# Less than this is rounding.
TINY_MM = 1e-6
# Nearer to the middle than this nobody sets a crown wheel.
PLACED_MM = 0.005
# The least backlash that a setting may leave at any tooth: never none.
LEAST_MM = 0.02

Backlash = NamedTuple(
    "Backlash",
    [
        # Middle between the tightest and the loosest tooth, mm.
        ("found", float),
        # Expanded uncertainty of that, 95 %.
        ("within", float),
        ("least", float),
        ("most", float),
        # What it is set to; None where nobody says.
        ("aim", Any),
        # Whether the shims have to move for it.
        ("needed", bool),
    ],
)


WAYS = {"away": "away from the pinion", "towards": "towards the pinion", "still": "nowhere"}


def way_of(move: float) -> str:
    """A word of `WAYS` for a move, mm away from the pinion.

    >>> way_of(-0.1), way_of(0.0)
    ('towards', 'still')
    """
    if abs(move) < TINY_MM:
        return "still"
    return "away" if move > 0 else "towards"


def change_words(change: float, unit: str) -> str:
    """A change with its sign; empty where nothing changes.

    >>> change_words(-0.1, "mm"), change_words(0.05, "mm"), change_words(0.0, "mm")
    ('−0.100 mm', '+0.050 mm', '')
    """
    if abs(change) < TINY_MM:
        return ""
    return ("+" if change > 0 else "−") + say(abs(change), "mm", unit)


def crown_words(move: float, least: float, most: float, unit: str) -> str:
    """How far to move the crown wheel, in a sentence."""
    way = "away from the pinion" if move > 0 else "towards the pinion"
    low, high = sorted((abs(least), abs(most))) if least * most > 0 else (0.0, max(abs(least), abs(most)))
    return (
        f"Move the crown wheel {say(abs(move), 'mm', unit)} {way} (between {say(low, 'mm', unit)} and "
        f"{say(high, 'mm', unit)}, as the gauge and the ratio may be off)."
    )


def backlash_words(backlash: Backlash, ratio: Ratio, moves: tuple[float, float, float], unit: str) -> list[str]:
    """What backlash asks for."""
    move, least, most = moves
    if backlash.needed and backlash.aim is None:
        return ["Type both limits, or what backlash you want: else nothing says where to move."]
    if not backlash.needed:
        sentences = ["Backlash is inside its limits: nothing to move for it."]
        return sentences + [ratio_words(ratio)] if move else sentences
    if abs(move) < PLACED_MM:
        return ["The crown wheel is where backlash belongs, to less than a shim can change."]
    return [crown_words(move, least, most, unit), ratio_words(ratio)]


def shim_words(request: dict[str, Any], changes: dict[str, float], unit: str) -> str:
    """What to do with each pack of shims, in a sentence; empty where none changes."""
    names = (("behind_mm", "behind the crown wheel"), ("tooth_mm", "on the tooth side"), ("pinion_mm", "at the pinion"))
    moves = []
    for field, where in names:
        change = changes.get(field, 0.0)
        if abs(change) < TINY_MM:
            continue
        now = None if request["shims"] is None else request["shims"][field]
        becomes = (
            ""
            if now is None or now + change < -TINY_MM
            else f" (from {say(now, 'mm', unit)} to {say(now + change, 'mm', unit)})"
        )
        moves.append(f"{'add' if change > 0 else 'take out'} {say(abs(change), 'mm', unit)} {where}{becomes}")
    text = "; ".join(moves)
    return f"Shims: {text}." if text else ""


def ratio_words(ratio: Ratio) -> str:
    """The ratio and where it is from."""
    return (
        f"Backlash changes by {fixed(ratio.value, 2)} times what the crown wheel moves sideways ({fixed(ratio.low, 2)} "
        f"to {fixed(ratio.high, 2)}; {RATIOS[ratio.source]})."
    )


def spread_words(backlash: Backlash, band: dict[str, Any]) -> str:
    """That no place of the crown wheel brings every tooth inside the limits; empty where one does."""
    if not band["low_mm"] or band["high_mm"] is None:
        return ""
    guard = gauge_guard(band["gauge"], DIFFERENCE)
    if backlash.most - backlash.least + 2 * guard <= band["high_mm"] - band["low_mm"]:
        return ""
    return (
        "Backlash differs so much round the wheel that no place of it brings every tooth safely inside the limits: "
        "find out why it runs out first, or read it on a finer gauge."
    )


def after_words(backlash: Backlash, expected: float, within: float, band: dict[str, Any], unit: str) -> list[str]:
    """What to expect of backlash, and whether that will do at every tooth."""
    half = (backlash.most - backlash.least) / 2
    low, high = band["low_mm"], band["high_mm"]
    sentences = [f"Then expect backlash of {say(expected, 'mm', unit)}, give or take {say(within, 'mm', unit)}."]
    if expected - half - within < LEAST_MM:
        sentences.append(
            "The tightest tooth might be left without backlash: turn it by hand all round before the caps are "
            "tight, and never run it without backlash."
        )
    outside = (low and expected - half < low) or (high is not None and expected + half > high)
    if outside and not spread_words(backlash, band):
        sentences.append("With these shims a tooth stays outside the limits: one in between is needed.")
    return sentences


def coarse_words(move: float, step: float | None, unit: str) -> str:
    """That shims come in steps too large for a move; empty where they do not."""
    if step is None or abs(move) < PLACED_MM:
        return ""
    return f"With shims in steps of {say(step, 'mm', unit)} nothing comes nearer: a thinner shim is needed."


def pinion_words(request: dict[str, Any], along: float, unit: str) -> str:
    """How the crown wheel goes with the pinion."""
    way = "away from the pinion" if along > 0 else "towards the pinion"
    known = request["gears"] is not None and cone_of(request["gears"]) is not None
    source = "" if known else "; common practice, no source"
    return f"The crown wheel goes {say(abs(along), 'mm', unit)} {way} with it, so that backlash stays{source}."


def differs(learnt: Ratio, other: Ratio) -> str:
    """That the tries and what would be expected do not agree."""
    return (
        f"The tries show {fixed(learnt.value, 2)} times the way sideways as change of backlash, where "
        f"{fixed(other.low, 2)} to {fixed(other.high, 2)} would be expected ({RATIOS[other.source]}): see that "
        "bearings and shims sit home and that nothing else was changed."
    )
