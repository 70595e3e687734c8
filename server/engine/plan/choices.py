"""A choice as results hold it: what to do at every place, what it comes to, how sure that is, and what is proven."""

import math
from typing import Any

from ..doubt.budget import TWO_SIDED_95
from ..request.units import say
from ..request.written_in import WrittenIn
from .front import WORTH, Choice, Front

MOST_CERTAIN = "most_certain"
FEWEST = "fewest"
BETWEEN = "between"

KINDS = {
    MOST_CERTAIN: "the most certain to meet the order",
    FEWEST: "the fewest plates changed",
    BETWEEN: "what lies between",
}


def of_a_hundred(chance: float) -> int:
    """A chance as so many out of a hundred; certain and impossible are never said.

    >>> of_a_hundred(0.9996), of_a_hundred(0.48), of_a_hundred(0.0)
    (99, 48, 1)
    """
    return max(1, min(99, math.floor(100 * chance + 0.5)))


def in_words(chance: float, bedded: bool = False) -> str:
    """A chance as a builder understands it; with `bedded`, that of the torque after the plates have bedded in.

    >>> in_words(0.957)
    '96 of 100 come out within the order'
    """
    words = "meet the order once bedded in" if bedded else "come out within the order"
    if 100 * chance > 99:
        return f"more than 99 of 100 {words}"
    if 100 * chance < 1:
        return f"fewer than 1 of 100 {words}"
    return f"{of_a_hundred(chance)} of 100 {words}"


def described(front: Front, written_in: WrittenIn) -> list[dict[str, Any]]:
    """The choices of a front as results hold them, from the most certain to the fewest plates."""
    answer = []
    for row, choice in enumerate(front.choices):
        kind = MOST_CERTAIN if row == 0 else FEWEST if row == len(front.choices) - 1 else BETWEEN
        shown = described_one(front, choice)
        shown["kind"] = kind
        shown["text"] = text_of(shown, written_in, front.aim.ground)
        shown["at_most"] = ceilings(front, choice)
        shown["proof"] = proven_text(front, shown["at_most"], row == 0, written_in)
        answer.append(shown)
    return answer


def text_of(shown: dict[str, Any], written_in: WrittenIn, ground: str) -> str:
    """A choice in one line: how many plates, what to expect, how even the packs are, and what that rests on."""
    torque = say(shown["torque_nm"], "nm", written_in.nm)
    low, high = (say(shown["spread_nm"][end], "nm", written_in.nm) for end in ("low_nm", "high_nm"))
    plates = {0: "Nothing changed", 1: "1 plate changed"}.get(shown["changes"], f"{shown['changes']} plates changed")
    apart = say(abs(shown["apart_mm"]), "mm", written_in.mm)
    rests_on = f" {ground}." if ground else ""
    return f"{plates}; {torque} expected, {low} to {high}; packs {apart} apart.{rests_on}"


def described_one(front: Front, choice: Choice) -> dict[str, Any]:
    """One choice without what is proven about it."""
    aim, stack, filling = front.aim, front.stack, choice.filling
    torque, beds_in = aim.torque_at(filling.total), aim.bedding is not None and choice.changes > 0
    return {
        "proven": is_proven(front, choice),
        "changes": choice.changes,
        "torque_nm": torque,
        "off_nm": torque - aim.torque,
        "chance": choice.chance,
        "chance_text": in_words(choice.chance, beds_in),
        "crush_mm": aim.crush_at(filling.total),
        "preload_n": aim.preload_at(filling.total),
        "above_chance": above_at_first(front, choice) if beds_in else 0.0,
        "apart_mm": filling.apart / 1000.0,
        "solids_mm": filling.total / 1000.0,
        "added_mm": (filling.total - stack.now()) / 1000.0,
        "spread_nm": spread(front.outcome, choice),
        "stack": stack.rows(filling),
    }


def above_at_first(front: Front, choice: Choice) -> float:
    """Chance that a choice reads above the order before it has bedded in."""
    edge = front.aim.torque + front.aim.tolerance
    chance: float = front.outcome.chance(choice.filling.total, choice.doubts, edge, math.inf)
    return chance


def is_proven(front: Front, choice: Choice) -> bool:
    """Whether no choice with as few changes can be better by more than twice what a plate has to be worth."""
    few = [front.ceilings[changes] for changes in front.ceilings if changes <= choice.changes]
    return max(few) <= choice.chance + 2 * WORTH


def above(chance: float) -> int:
    """The next whole number out of a hundred that a chance is certainly not above."""
    return min(100, math.ceil(100 * chance + 0.1))


def ceilings(front: Front, choice: Choice) -> dict[str, Any]:
    """Chances that no other choice is above: with fewer changes, with as many, and of all.

    The first is None where none with fewer changes is expected within the order.
    """
    fewer = [front.ceilings[changes] for changes in front.ceilings if changes < choice.changes]
    return {
        "fewer": max(fewer) if fewer else None,
        "as_many": front.ceilings[choice.changes],
        "all": max(front.ceilings.values()),
    }


def proven_text(front: Front, most: dict[str, Any], best: bool, written_in: WrittenIn) -> str:
    """What is proven about a choice with these ceilings."""
    apart = say(front.most_apart / 1000.0, "mm", written_in.mm)
    change = say(front.stack.most_change / 1000.0, "mm", written_in.mm)
    text = f"Proven, with the packs at most {apart} apart and no place changed by more than {change}: "
    if most["fewer"] is None:
        text += "no choice that changes fewer plates is expected within the order; "
    else:
        text += f"none that changes fewer plates meets the order in more than {above(most['fewer'])} of 100; "
    if best:
        return text + f"none of all meets it in more than {above(most['all'])} of 100."
    return text + f"none that changes as many meets it in more than {above(most['as_many'])} of 100."


def spread(outcome: Any, choice: Choice) -> dict[str, Any]:
    """The torques that 19 of 20 such rebuilds come out between, and what each doubt brings to that.

    Notes
    -----
    Each share is for itself, 95 %; they do not add up, since their squares do.
    """
    total, doubts = choice.filling.total, choice.doubts
    low, high = outcome.interval(total, doubts)
    shares = outcome.shares(total, doubts)
    answer = {
        "plates_nm": TWO_SIDED_95 * shares["plates"],
        "places_nm": TWO_SIDED_95 * shares["places"],
        "spring_above_nm": shares["spring_above"],
        "spring_below_nm": shares["spring_below"],
        "reading_nm": TWO_SIDED_95 * shares["reading"],
        "friction_above_nm": shares["friction_above"],
        "friction_below_nm": shares["friction_below"],
        "low_nm": low,
        "high_nm": high,
    }
    if "builds" in shares:
        answer["builds_nm"] = shares["builds"]
    return answer
