"""What to know about a plan: of all its choices, and of each."""

from typing import Any

from ..request.units import say
from ..request.written_in import Words
from ..unit.definition import order_concerns
from ..unit.friction import LEAST_MU, MOST_MU
from ..unit.spring_warnings import concern, warnings_for
from .task import Task


def of_the_spring(task: Task, choice: dict[str, Any], words: Words) -> list[dict[str, Any]]:
    """What to know about the spring at the crush of a choice."""
    each = choice["crush_mm"] / task.built.springs.nests
    return warnings_for(choice["crush_mm"], each, task.built.springs.disc, words.mm)


def of_the_plan(task: Task, proven: dict[str, Any] | None, words: Words) -> list[dict[str, Any]]:
    """What to know whichever choice is taken; `proven` is what the kit's tools can say of the order."""
    concerns = []
    if proven is not None and not proven["can_prove"]:
        concerns.append(concern("unprovable", proven["text"]))
    concerns += order_concerns(task.wanted, task.request["unit"]["service"], words.nm)
    if task.measured is None:
        text = (
            f"No torque was measured with these plates: a friction of {task.mu:.3f} is assumed, and plates in oil lie "
            f"from {LEAST_MU} to {MOST_MU}. Check the torque as it is fitted, and plan by that."
        )
        concerns.append(concern("assumed_friction", text))
    if task.unfit:
        concerns.append(concern("unfit", f"Not used, below its limit: {', '.join(task.unfit)}."))
    if task.of_others:
        concerns.append(concern("other_family", f"Not used, of another plate family: {', '.join(task.of_others)}."))
    if task.unsure:
        text = (
            f"Plate family not given here or on the unit: {', '.join(task.unsure)}. Taken to fit; check rubbing ring, "
            "lugs or splines, and material."
        )
        concerns.append(concern("unsure_family", text))
    return concerns


def of_the_pieces(task: Task, choice: dict[str, Any], words: Words) -> list[dict[str, Any]]:
    """What to know about the pieces of a choice, and how it may come out."""
    concerns = []
    usual = {row["piece"] for row in choice["stack"] if row["action"] == "fit" and row["usual_minimum"]}
    if usual:
        text = (
            f"No limit is known for {', '.join(sorted(usual))}: 92 % of the thickness when new is taken, common "
            "practice. Give the maker's limit on the shelf."
        )
        concerns.append(concern("usual_limit", text))
    low, high = choice["spread_nm"]["low_nm"], choice["spread_nm"]["high_nm"]
    wanted, off = task.wanted["torque_nm"], task.wanted["tolerance_nm"]
    if low < wanted - off or high > wanted + off:
        ends = f"{say(low, 'nm', words.nm)} to {say(high, 'nm', words.nm)}"
        concerns.append(
            concern("spread", f"It may come out anywhere from {ends}: check the torque before it goes out.")
        )
    return concerns
