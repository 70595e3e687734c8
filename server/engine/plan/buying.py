"""What to buy: the pieces that the shelf lacks for a better choice, in the shelf's own classes."""

from typing import Any

from ..request.units import say
from ..request.written_in import WrittenIn
from .choices import in_words
from .front import WORTH, Choice, Front
from .pieces import CLASS_WITHIN_MM
from .places import WEARING, micrometres
from .stack import Stack

# What is known better than this, mm, was measured by itself and is no class: common practice, no source.
CLASS_FROM_MM = 0.01

# Steps between classes, micrometres: the usual one, and the finest that is taken for one; common practice, no source.
USUAL_STEP = 50
FINEST_STEP = 20

# How many of a class could be bought.
MANY = 99


def classes_of(shelf: list[dict[str, Any]], part: str) -> list[int]:
    """Thicknesses of the classes of one kind on a shelf, micrometres, rising."""
    rows = [
        piece
        for piece in shelf
        if piece["part"] == part and piece["new_mm"] is None and piece["within_mm"] >= CLASS_FROM_MM
    ]
    return sorted({micrometres(piece["mm"]) for piece in rows})


def step_of(classes: list[int]) -> int:
    """The step between classes: the smallest that they show, micrometres."""
    gaps = [upper - lower for lower, upper in zip(classes, classes[1:]) if upper - lower >= FINEST_STEP]
    return min(gaps) if gaps else USUAL_STEP


def on_offer(stack: Stack, shelf: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Pieces that could be bought: the shelf's classes, carried on at their own step as far as a place may change."""
    offered = []
    for part in WEARING:
        rows = [stack.places[place] for place in stack.open if stack.places[place].part == part]
        if not rows:
            continue
        classes = classes_of(shelf, part)
        step = step_of(classes)
        least = min(row.size for row in rows) - stack.most_change
        most = max(max(row.size + stack.most_change, row.new) for row in rows)
        start = classes[0] if classes else rows[0].new
        grid = {start + step * count for count in range(-((start - least) // step), (most - start) // step + 1)}
        for size in sorted(grid | {size for size in classes if least <= size <= most}):
            offered.append(
                {
                    "name": name_on_shelf(shelf, part, size),
                    "part": part,
                    "mm": size / 1000.0,
                    "count": MANY,
                    "within_mm": CLASS_WITHIN_MM,
                    "minimum_mm": None,
                    "usual_minimum": False,
                    "new_mm": None,
                    "bought": True,
                }
            )
    return offered


def name_on_shelf(shelf: list[dict[str, Any]], part: str, size: int) -> str:
    """What the shelf calls a class, or the kind of plate where it has none so thick."""
    for piece in shelf:
        if piece["part"] == part and micrometres(piece["mm"]) == size and piece["new_mm"] is None:
            return str(piece["name"])
    return part


def list_of(choice: Choice) -> list[dict[str, Any]]:
    """The pieces of a choice that are not on the shelf, with how many of each."""
    counts: dict[tuple[str, int], dict[str, Any]] = {}
    for place in sorted(choice.filling.pieces):
        piece = choice.filling.pieces[place]
        if piece.get("bought"):
            row = counts.setdefault(
                (piece["part"], micrometres(piece["mm"])),
                {"name": piece["name"], "part": piece["part"], "mm": piece["mm"], "count": 0},
            )
            row["count"] += 1
    return [counts[key] for key in sorted(counts)]


def fitted_by(front: Front, choice: Choice) -> list[dict[str, Any]]:
    """Every plate that a choice fits, and whether it has to be bought first."""
    rows = [row for row in front.stack.rows(choice.filling) if row["action"] == "fit" and row["mm"] > 0]
    bought = {
        front.stack.places[place].slot: piece.get("bought", False) for place, piece in choice.filling.pieces.items()
    }
    return [
        {
            "slot": row["slot"],
            "part": row["part"],
            "piece": row["piece"],
            "mm": row["mm"],
            "bought": bool(bought[row["slot"]]),
        }
        for row in rows
    ]


def to_buy(with_more: Front, front: Front, written_in: WrittenIn) -> dict[str, Any] | None:
    """What the shelf lacks for a better choice than it allows.

    Parameters
    ----------
    with_more : Front
        The choices from the shelf and all that could be bought.
    front : Front
        Those from the shelf alone.
    written_in : WrittenIn
        Units to write in.

    Returns
    -------
    dict or None
        pieces (name, part, mm, count), fitted (slot, part, piece, mm, bought), changes, torque_nm, chance and text;
        None where the shelf has what it takes.
    """
    if not with_more.choices:
        return None
    best = with_more.choices[0]
    if front.choices and best.chance < front.choices[0].chance + 2 * WORTH:
        return None
    pieces = list_of(best)
    if not pieces:
        return None
    torque = with_more.aim.torque_at(best.filling.total)
    several = ", ".join(f"{row['count']} × {row['name']} ({say(row['mm'], 'mm', written_in.mm)})" for row in pieces)
    plates = "1 plate" if best.changes == 1 else f"{best.changes} plates"
    gives = say(torque, "nm", written_in.nm)
    chance = in_words(best.chance, with_more.aim.bedding is not None)
    return {
        "pieces": pieces,
        "fitted": fitted_by(with_more, best),
        "changes": best.changes,
        "torque_nm": torque,
        "chance": best.chance,
        "text": f"With {several} bought, {plates} changed give {gives}: {chance}.",
    }
