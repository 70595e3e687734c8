"""What to know about a plan: of all its choices, and of each."""

from typing import Any

from ..request.rounded import fixed
from ..request.units import say
from ..request.written_in import WrittenIn
from ..unit.definition import order_concerns
from ..unit.friction import LEAST_MU, MOST_MU
from ..unit.marks import doubt_of, marked_concerns
from ..unit.spring_warnings import concern, warnings_for
from .choices import of_a_hundred
from .outcome import Doubts
from .places import micrometres
from .task import Task

# A smaller chance is not said: our own choice.
WORTH_SAYING = 0.01


def of_the_spring(task: Task, choice: dict[str, Any], written_in: WrittenIn) -> list[dict[str, Any]]:
    """What to know about the spring at the crush of a choice."""
    if task.built is None:
        return []
    each = choice["crush_mm"] / task.built.springs.nests
    return warnings_for(choice["crush_mm"], each, task.built.springs.disc, written_in.mm)


def beside_the_builds(
    task: Task, choice: dict[str, Any], doubts: Doubts, written_in: WrittenIn
) -> list[dict[str, Any]]:
    """Where the spring's curve and the builds in the log give torques for a choice that differ beyond their doubt."""
    line, outcome = task.line, task.seen
    if task.built is None or line is None or outcome is None or not line.has_seen(choice["solids_mm"]):
        return []
    total = micrometres(choice["solids_mm"])
    seen, half = line.torque(choice["solids_mm"]), outcome.whole(total, doubts)
    other = (choice["spread_nm"]["high_nm"] - choice["spread_nm"]["low_nm"]) / 2
    # A plan by the spring gives what the first check reads; the builds had been bedded in when they were checked.
    bedded = choice["torque_nm"] - (task.lost.loss if task.aims and task.lost is not None else 0.0)
    if (bedded - seen) ** 2 <= half * half + other * other:
        return []
    text = (
        f"{line.text}, {say(seen, 'nm', written_in.nm)} would come out, give or take "
        f"{say(half, 'nm', written_in.nm)}: the spring's curve says {say(bedded, 'nm', written_in.nm)}. "
        "Measure the spring's free height and the depth before you trust either."
    )
    return [concern("builds_disagree", text)]


def of_the_plan(task: Task, proven: dict[str, Any] | None, written_in: WrittenIn) -> list[dict[str, Any]]:
    """What to know whichever choice is taken; `proven` is what the kit's tools can say of the order."""
    concerns = []
    if proven is not None and not proven["can_prove"]:
        concerns.append(concern("unprovable", proven["text"]))
    concerns += order_concerns(task.wanted, task.request["unit"]["service"], written_in.nm)
    if task.built is not None:
        concerns += marked_concerns(task.request["unit"], written_in.mm, friction=task.measured is None)
    if task.mu is not None and task.measured is None and not doubt_of(task.request["unit"], "mu"):
        text = (
            f"No torque was measured with these plates: a friction of {fixed(task.mu, 3)} is assumed, and plates in "
            f"oil lie from {LEAST_MU} to {MOST_MU}. Check the torque as it is fitted, and plan by that."
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


def of_the_pieces(task: Task, choice: dict[str, Any], written_in: WrittenIn) -> list[dict[str, Any]]:
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
    if choice["above_chance"] > WORTH_SAYING:
        edge = say(wanted + off, "nm", written_in.nm)
        text = (
            f"Before it has bedded in, {of_a_hundred(choice['above_chance'])} of 100 read above {edge}, the order's "
            "upper edge."
        )
        concerns.append(concern("above_fresh", text))
    if low < wanted - off or high > wanted + off:
        ends = f"{say(low, 'nm', written_in.nm)} to {say(high, 'nm', written_in.nm)}"
        concerns.append(
            concern("spread", f"It may come out anywhere from {ends}: check the torque before it goes out.")
        )
    return concerns
