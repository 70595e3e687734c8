"""Beside the plan: other means to the same torque, and what would make it possible where no plate on the shelf does."""

from typing import Any

from ..request.errors import inside
from ..request.units import say
from ..request.written_in import Words
from ..unit.as_built import Built, with_springs
from ..unit.spring import Column, disc_of
from ..unit.stack import FRICTION, RING, SHIM, SPRING, sliding_faces
from .bitsets import bits_of
from .orders import other_orders
from .places import Place, Stack
from .target import Aim, chosen

# A plate from the next class or two up, micrometres: common practice, no source.
CLASS_STEP = 150

TORQUE_ONLY = "preload torque only"
TORQUE_AND_LOCK = "preload torque and lock together"


def with_spring(built: Built, spring: dict[str, Any], places: int, field: str) -> Built:
    """The same unit with another disc spring at every spring place."""
    return with_springs(built, Column(disc_of(spring, field), spring["parallel"], spring["series"] * places))


def with_faces(built: Built, faces: int) -> Built:
    """The same unit with another number of sliding faces."""
    return Built(built.springs, built.cavity, built.solids, faces, built.radius, built.mu, built.stated)


def alternatives(
    request: dict[str, Any],
    definition: dict[str, Any],
    built: Built,
    places: list[Place],
    shelf: list[dict[str, Any]],
    stack: Stack,
    mu: float,
    wanted: dict[str, Any],
    balance: int,
) -> list[dict[str, Any]]:
    """What else would reach the torque: one more shim a pack, another spring, another order of the plates.

    Parameters
    ----------
    request, definition, built, places, shelf, stack
        The checked request and what `plan` made of it.
    mu : float
        Coefficient of friction to plan with.
    wanted : dict
        torque_nm and tolerance_nm.
    balance : int
        First pack less second as it should be, micrometres.

    Returns
    -------
    list of dict
        means, about, affects, and the plan's own fields; those that are not possible only say so.
    """

    def tried(means: str, about: str, affects: str, stack: Stack, built: Built) -> dict[str, Any]:
        aim = Aim(built, mu, wanted["torque_nm"], wanted["tolerance_nm"])
        found = chosen(stack, aim, balance)
        found.update({"means": means, "about": about, "affects": affects})
        return found

    found = []
    if any(piece["part"] == SHIM for piece in shelf):
        shimmed = Stack(places, shelf, more_shims=True)
        found.append(tried("shim", "at most one more shim in each pack", TORQUE_ONLY, shimmed, built))
    spring_places = len([item for item in definition["chain"] if item["part"] == SPRING])
    for row, spare in enumerate(request["springs"]):
        path = inside(inside("springs", row), "spring")
        other = with_spring(built, spare["spring"], spring_places, path)
        found.append(tried("spring", f"spring {spare['name']}", TORQUE_ONLY, stack, other))
    for first, second, about in other_orders(definition["chain"], definition["layout"]):
        faces = sliding_faces(first) + sliding_faces(second)
        result = tried("order", about, TORQUE_AND_LOCK, stack, with_faces(built, faces))
        if result["possible"]:
            result["stack"] = rearranged(definition["chain"], first, second, result["stack"])
        found.append(result)
    return found


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


def cannot(stack: Stack, aim: Aim, others: list[dict[str, Any]], words: Words) -> dict[str, Any]:
    """The nearest torques that the shelf does give, and what would make the wanted one possible.

    Returns
    -------
    dict
        nearest, with below and above (torque_nm, solids_mm, or None); ways, sentences.
    """
    plates = stack.arrangements
    every = 0
    for row in plates.sums.values():
        every |= row
    sums = [stack.closed + plates.base + plates.unit * bit for bit in bits_of(every)]
    below = [total for total in sums if total < aim.low]
    above = [total for total in sums if total > aim.high]
    ways = []
    if not sums:
        ways.append("There are fewer pieces than places to fill: add plates to the shelf, or let some stay.")
    elif aim.most_torque < aim.torque - aim.tolerance:
        ways.append(
            f"This spring gives {say(aim.most_torque, 'nm', words.nm)} at most before its load peaks or it is flat: "
            "it takes another spring, or more sliding faces."
        )
    else:
        ways += [needed(aim, max(below), "more", words), plates_for(stack, aim, words)] if below else []
        if not below:
            ways.append(needed(aim, min(above), "less", words))
    for other in others:
        if other["possible"]:
            ways.append(f"It is possible with {other['about']}: {say(other['torque_nm'], 'nm', words.nm)}.")
    return {
        "nearest": {
            "below": at(aim, max(below)) if below else None,
            # Past the spring's peak a thicker stack gives less: nothing there is near.
            "above": at(aim, min(above)) if above and min(above) <= aim.most else None,
        },
        "ways": [way for way in ways if way],
    }


def at(aim: Aim, total: int) -> dict[str, Any]:
    """What a stack of this thickness gives."""
    return {"torque_nm": aim.torque_at(total), "solids_mm": total / 1000.0}


def needed(aim: Aim, total: int, word: str, words: Words) -> str:
    """How much thickness the nearest arrangement lacks or has too much."""
    ends = sorted((abs(aim.low - total) / 1000.0, abs(aim.high - total) / 1000.0))
    return (
        f"The nearest arrangement gives {say(aim.torque_at(total), 'nm', words.nm)}; "
        f"{say(ends[0], 'mm', words.mm)} to {say(ends[1], 'mm', words.mm)} {word} in the stack would do it."
    )


def plates_for(stack: Stack, aim: Aim, words: Words) -> str:
    """How many friction plates, each thicker by no more than a class, would do it alone; empty where none could."""
    free = [place for place in stack.places if place.open and place.part == FRICTION]
    least, most = aim.low - stack.now(), aim.high - stack.now()
    if least <= 0 or any(place.open and not place.may_stay for place in stack.places):
        return ""
    few = -(-least // CLASS_STEP)
    if few > len(free):
        return ""
    plates = "1 friction plate" if few == 1 else f"{few} friction plates, each"
    thin, thick = say(least / few / 1000.0, "mm", words.mm), say(most / few / 1000.0, "mm", words.mm)
    return f"So would {plates} {thin} to {thick} thicker than fitted now, with all others staying."
