"""Beside the plan: other means to the same torque, and what would make it possible where no plate on the shelf does."""

from typing import Any

from ..request.errors import inside
from ..request.units import say
from ..request.written_in import WrittenIn, written_in_by
from ..unit.as_built import Built, with_springs
from ..unit.spring import Column, disc_of
from ..unit.stack import FRICTION, RING, SHIM, SPRING, layout_of, sliding_faces
from .choices import described_one
from .front import Front
from .orders import other_orders
from .stack import Stack
from .task import Task

# A plate from the next class or two up, micrometres: common practice, no source.
CLASS_STEP = 150

# How far apart packs are looked into, micrometres: common practice, no source.
WIDE_APART = 300

TORQUE_ONLY = "preload torque only"
TORQUE_AND_LOCK = "preload torque and lock together"


def with_spring(built: Built, spring: dict[str, Any], places: int, field: str) -> Built:
    """The same unit with another disc spring at every spring place."""
    return with_springs(built, Column(disc_of(spring, field), spring["parallel"], spring["series"] * places))


def with_faces(built: Built, faces: int) -> Built:
    """The same unit with another number of sliding faces."""
    return Built(built.springs, built.cavity, built.solids, faces, built.radius, built.mu, built.stated)


def alternatives(task: Task) -> list[dict[str, Any]]:
    """What else would reach the torque: wider bounds, one more shim a pack, another spring, another order.

    Returns
    -------
    list of dict
        means, about, affects, and the fields of the most certain choice; those that are not possible only say so.
    """
    definition = task.request["unit"]

    def tried(
        means: str,
        about: str,
        affects: str,
        stack: Stack,
        built: Built | None,
        before: Built | None = None,
        most_apart: int | None = None,
    ) -> dict[str, Any]:
        front = task.front(stack, built, before, single=True, most_apart=most_apart)
        answer: dict[str, Any] = {"possible": bool(front.choices)}
        if front.choices:
            answer.update(described_one(front, front.choices[0]))
        answer.update({"means": means, "about": about, "affects": affects})
        return answer

    written_in = written_in_by(task.request)
    others = []
    wide = task.stack_of(task.shelf, most_change=2 * task.stack.most_change)
    about = f"a place changing by up to {say(wide.most_change / 1000.0, 'mm', written_in.mm)}"
    others.append(tried("change", about, TORQUE_ONLY, wide, task.built))
    about = f"the packs up to {say(WIDE_APART / 1000.0, 'mm', written_in.mm)} apart"
    others.append(tried("apart", about, TORQUE_ONLY, task.stack, task.built, None, WIDE_APART))
    if any(piece["part"] == SHIM for piece in task.shelf):
        shimmed = task.stack_of(task.shelf, more_shims=True)
        others.append(tried("shim", "at most one more shim in each pack", TORQUE_ONLY, shimmed, task.built))
    if task.built is None:
        # What another spring or another number of faces gives, no build has shown.
        return others
    spring_places = len([item for item in definition["chain"] if item["part"] == SPRING])
    for row, spare in enumerate(task.request["springs"]):
        path = inside(inside("springs", row), "spring")
        other = with_spring(task.built, spare["spring"], spring_places, path)
        others.append(tried("spring", f"spring {spare['name']}", TORQUE_ONLY, task.stack, other, task.built))
    for first, second, about in other_orders(definition["chain"], layout_of(definition["chain"], definition["layout"])):
        faces = sliding_faces(first) + sliding_faces(second)
        result = tried("order", about, TORQUE_AND_LOCK, task.stack, with_faces(task.built, faces))
        if result["possible"]:
            result["stack"] = rearranged(definition["chain"], first, second, result["stack"])
        others.append(result)
    return others


def rearranged(
    chain: list[dict[str, Any]], first: list[str], second: list[str], rows: list[dict[str, Any]]
) -> list[dict[str, Any]]:
    """The rows of a plan in another order of the plates: of each kind and pack the first comes first."""
    rings = [place for place, row in enumerate(rows) if row["part"] == RING]
    answer = []
    for parts, pack in ((first, rows[: rings[0]]), (second, rows[rings[1] + 1 :])):
        left = list(pack)
        for part in parts:
            for row in left:
                if row["part"] == part:
                    answer.append(row)
                    left.remove(row)
                    break
        if parts is first:
            answer += rows[rings[0] : rings[1] + 1]
    return answer


def cannot(task: Task, front: Front, others: list[dict[str, Any]]) -> dict[str, Any]:
    """The nearest torques that the shelf does give, and what would make the wanted one possible.

    Returns
    -------
    dict
        nearest, with below and above (torque_nm, solids_mm, or None); ways, sentences.
    """
    aim, written_in = front.aim, written_in_by(task.request)
    least, most = front.ends()
    if least is None or most is None:
        ways = ["There are fewer pieces than places to fill: add plates to the shelf, or let some stay."]
        return {"nearest": {"below": None, "above": None}, "ways": ways + made_possible(others, written_in)}
    below = front.beyond(aim.low - 1, -1, max(least, aim.least))
    above = front.beyond(aim.high + 1, 1, min(most, aim.most))
    ways = []
    if aim.most_torque < aim.torque - aim.tolerance:
        ways.append(aim.at_most(written_in))
    elif task.line is not None and below is None and above is None:
        ways.append("No stack that this shelf gives is as thick as those that were built: add plates to the shelf.")
    elif below is not None:
        ways += [needed(aim, below, "more", written_in), plates_for(task.stack, aim, written_in)]
    elif above is not None or most > aim.most:
        ways.append(needed(aim, above if above is not None else least, "less", written_in))
    return {
        "nearest": {
            "below": None if below is None else at(aim, below),
            # Past the spring's peak a thicker stack gives less: nothing there is near.
            "above": None if above is None else at(aim, above),
        },
        "ways": [way for way in ways if way] + made_possible(others, written_in),
    }


def made_possible(others: list[dict[str, Any]], written_in: WrittenIn) -> list[str]:
    """The other means that reach the torque, a sentence each."""
    return [
        f"It is possible with {other['about']}: {say(other['torque_nm'], 'nm', written_in.nm)}."
        for other in others
        if other["possible"]
    ]


def at(aim: Any, total: int) -> dict[str, Any]:
    """What a stack of this thickness gives."""
    return {"torque_nm": aim.torque_at(total), "solids_mm": total / 1000.0}


def needed(aim: Any, total: int, word: str, written_in: WrittenIn) -> str:
    """How much thickness the nearest arrangement lacks or has too much."""
    ends = sorted((abs(aim.low - total) / 1000.0, abs(aim.high - total) / 1000.0))
    return (
        f"The nearest arrangement gives {say(aim.torque_at(total), 'nm', written_in.nm)}; "
        f"{say(ends[0], 'mm', written_in.mm)} to {say(ends[1], 'mm', written_in.mm)} {word} in the stack would do it."
    )


def plates_for(stack: Stack, aim: Any, written_in: WrittenIn) -> str:
    """How many friction plates, each thicker by no more than a class, would do it alone; empty where none could."""
    free = [place for place in stack.places if place.open and place.part == FRICTION]
    least, most = aim.low - stack.now(), aim.high - stack.now()
    if least <= 0 or any(place.open and not place.may_stay for place in stack.places):
        return ""
    few = -(-least // CLASS_STEP)
    if few > len(free):
        return ""
    plates = "1 friction plate" if few == 1 else f"{few} friction plates, each"
    thin, thick = say(least / few / 1000.0, "mm", written_in.mm), say(most / few / 1000.0, "mm", written_in.mm)
    return f"Or fit {plates} {thin} to {thick} thicker than now, and let all others stay."
