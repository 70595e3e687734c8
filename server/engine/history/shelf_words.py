"""What is said of a class of the shelf: where its number comes from, where it disagrees, and what is lacking."""

from typing import Any

from ..request.sorting import in_order
from ..request.units import say
from ..request.written_in import WrittenIn
from .shelf_stock import Stock, by_time, in_books

# Lines of a trail that are shown.
MOST_LINES = 20

COUNTED = "counted"
TAKEN = "taken"
KEPT = "kept"
EARLIER = "earlier"
STEPS = {
    COUNTED: "counted",
    TAKEN: "fitted in a unit",
    KEPT: "came out of a unit and was kept",
    EARLIER: "made before the count, which has it already",
}


def plates(number: int) -> str:
    """A number of plates in words.

    >>> plates(1), plates(3)
    ('1 plate', '3 plates')
    """
    return "1 plate" if number == 1 else f"{number} plates"


def name_of_unit(move: dict[str, Any]) -> str:
    """What a unit is called in a sentence."""
    return move.get("unit_name") or "a unit"


def trail_of(stock: Stock, here: WrittenIn) -> tuple[list[dict[str, Any]], list[str]]:
    """Where the number of a class comes from, the newest first, and where it disagrees.

    Parameters
    ----------
    stock : Stock
        The class.
    here : WrittenIn
        Units to write in.

    Returns
    -------
    tuple
        (lines, sentences): a line has at, who, id and unit (blank for a count), step (see `STEPS`), change (how many
        plates it put or took; None for a count), left (how many there are after it by the books, which is below 0 where
        more were fitted than there were; None for what the count has already) and text.
    """
    lines = []
    for move, change in stock.before:
        lines.append(line_of(move, change, None))
    number = stock.counted
    if stock.count is not None:
        lines.append(
            {
                "at": stock.count["at"],
                "who": stock.count["who"],
                "id": stock.count["id"],
                "unit": "",
                "step": COUNTED,
                "change": None,
                "left": number,
                "text": f"Counted: {number}." if stock.piece or number else "Not there at the count.",
            }
        )
    for move, change in in_order(stock.since, lambda row: by_time(row[0])):
        number += change
        lines.append(line_of(move, change, number))
    return lines[::-1][:MOST_LINES], disagreements(stock)


def line_of(move: dict[str, Any], change: int, left: int | None) -> dict[str, Any]:
    """One line of a trail for a rebuild; `left` is None for what the count has already."""
    name = name_of_unit(move)
    if change > 0:
        text = f"{plates(change)} out of {name}, kept."
    elif change < 0:
        text = f"{plates(-change)} fitted in {name}."
    else:
        text = f"As many fitted in {name} as came out of it."
    return {
        "at": move["at"],
        "who": move["who"],
        "id": move["id"],
        "unit": move.get("unit", ""),
        "step": EARLIER if left is None else TAKEN if change <= 0 else KEPT,
        "change": change,
        "left": left,
        "text": f"{text[:-1]}; the count after it has that already." if left is None else text,
    }


def disagreements(stock: Stock) -> list[str]:
    """Sentences where the number of a class cannot be, or nobody can tell it."""
    says = []
    number = in_books(stock)
    if number < 0:
        last = [move for move, change in in_order(stock.since, lambda row: by_time(row[0])) if change < 0][-1]
        were = "was" if number == -1 else "were"
        says.append(
            f"The shelf disagrees: {-number} more {were} fitted than it had, last in {name_of_unit(last)} on "
            f"{last['at'][:10]}. Count {stock.name}, or correct that rebuild if they were bought for it."
        )
    moves = [other for other in stock.unsure if "taken" in other]
    if moves:
        names = ", ".join(sorted({name_of_unit(move) for move in moves}))
        says.append(
            f"Nobody can tell whether {stock.name} was counted before or after the rebuild of {names}: their clocks do "
            "not say. Count it again."
        )
    if len(moves) < len(stock.unsure):
        says.append(f"Two counts of {stock.name} differ and did not know each other: count it again.")
    return says


def of_class(row: dict[str, Any], here: WrittenIn) -> list[str]:
    """Sentences on what plans and the lowest stock make of a row."""
    says = []
    by, count, wanted = row["wanted_by"], row["count"], row["wanted"]
    whose = " and ".join(f"{entry['name'] or 'a unit'} ({entry['count']})" for entry in by)
    if wanted > count:
        more = "plan one of them again" if row["used"] else f"{wanted - count} to buy"
        if row["used"] and len(by) < 2:
            more = "plan it again"
        several = f": {wanted} in all" if len(by) > 1 else ""
        says.append(f"Planned for {whose}{several}, and {count} here: {more}.")
    elif wanted:
        says.append(f"Planned for {whose}; {row['free']} left.")
    lowest = row["lowest_stock"]
    if lowest is not None and row["free"] < lowest and not row["used"]:
        after = " after that" if wanted else ""
        says.append(f"{row['free']} left{after}, and the lowest stock is {lowest}: buy {row['to_buy']}.")
    if row["used"] and (row["mm"] if row["lowest_mm"] is None else row["lowest_mm"]) < row["minimum_mm"]:
        limit = say(row["minimum_mm"], "mm", here.mm)
        says.append(f"Below the limit of its class, {limit}: no plan uses it. Scrap it.")
    return says
