"""A choice as results hold it: what to do at every place, what it comes to, how sure that is, and what is proven."""

import math
from typing import Any

from ..doubt.budget import TWO_SIDED_95
from ..request.units import say
from ..request.written_in import Words
from ..unit.as_built import preload
from .front import WORTH, Choice, Front
from .outcome import Outcome
from .target import Aim

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


def in_words(chance: float) -> str:
    """A chance as a builder understands it.

    >>> in_words(0.957)
    '96 of 100 come out within the order'
    """
    many = of_a_hundred(chance)
    if 100 * chance > 99:
        return "more than 99 of 100 come out within the order"
    if 100 * chance < 1:
        return "fewer than 1 of 100 come out within the order"
    return f"{many} of 100 come out within the order"


def described(front: Front, words: Words) -> list[dict[str, Any]]:
    """The choices of a front as results hold them, from the most certain to the fewest plates."""
    answer = []
    for row, choice in enumerate(front.choices):
        kind = MOST_CERTAIN if row == 0 else FEWEST if row == len(front.choices) - 1 else BETWEEN
        shown = described_one(front, choice)
        shown["kind"] = kind
        shown["text"] = text_of(shown, words)
        shown["at_most"] = ceilings(front, choice)
        shown["proof"] = proven_text(front, shown["at_most"], row == 0, words)
        answer.append(shown)
    return answer


def text_of(shown: dict[str, Any], words: Words) -> str:
    """A choice in one line: how many plates, what to expect, how even the packs are."""
    torque = say(shown["torque_nm"], "nm", words.nm)
    low, high = (say(shown["spread_nm"][end], "nm", words.nm) for end in ("low_nm", "high_nm"))
    plates = {0: "Nothing changed", 1: "1 plate changed"}.get(shown["changes"], f"{shown['changes']} plates changed")
    return f"{plates}; {torque} expected, {low} to {high}; packs {say(abs(shown['apart_mm']), 'mm', words.mm)} apart."


def described_one(front: Front, choice: Choice) -> dict[str, Any]:
    """One choice without what is proven about it."""
    aim, stack, filling = front.aim, front.stack, choice.filling
    crush = aim.crush_at(filling.total)
    torque = aim.torque_at(filling.total)
    return {
        "proven": is_proven(front, choice),
        "changes": choice.changes,
        "torque_nm": torque,
        "off_nm": torque - aim.torque,
        "chance": choice.chance,
        "chance_text": in_words(choice.chance),
        "crush_mm": crush,
        "preload_n": preload(aim.built, crush),
        "apart_mm": filling.apart / 1000.0,
        "solids_mm": filling.total / 1000.0,
        "added_mm": (filling.total - stack.now()) / 1000.0,
        "spread_nm": spread(front.outcome, aim, choice),
        "stack": stack.rows(filling),
    }


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


def proven_text(front: Front, most: dict[str, Any], best: bool, words: Words) -> str:
    """What is proven about a choice with these ceilings."""
    apart = say(front.most_apart / 1000.0, "mm", words.mm)
    change = say(front.stack.most_change / 1000.0, "mm", words.mm)
    text = f"Proven, with the packs at most {apart} apart and no place changed by more than {change}: "
    if most["fewer"] is None:
        text += "no choice that changes fewer plates is expected within the order; "
    else:
        text += f"none that changes fewer plates meets the order in more than {above(most['fewer'])} of 100; "
    if best:
        return text + f"none of all meets it in more than {above(most['all'])} of 100."
    return text + f"none that changes as many meets it in more than {above(most['as_many'])} of 100."


def spread(outcome: Outcome, aim: Aim, choice: Choice) -> dict[str, Any]:
    """The torques that 19 of 20 such rebuilds come out between, and what each doubt brings to that.

    Notes
    -----
    Each share is for itself, 95 %; they do not add up, since their squares do.
    """
    total, doubts = choice.filling.total, choice.doubts
    low, high = outcome.interval(total, doubts)
    shares = outcome.shares(total, doubts)
    return {
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
