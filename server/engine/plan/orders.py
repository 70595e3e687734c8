"""Other orders of the same plates: each changes the number of sliding faces."""

from typing import Any

from ..request.errors import BadInput
from ..unit.stack import FRICTION, RING, SEPARATOR, SPRING, check_springs, packs


def runs_of(parts: list[str]) -> int:
    """Groups of friction plates that lie face to face; each group has two sliding faces.

    >>> runs_of(["separator", "friction", "friction", "separator", "friction"])
    2
    """
    return sum(1 for part, before in zip(parts, [""] + parts) if part == FRICTION and before != FRICTION)


def ordered(parts: list[str], runs: int) -> list[str] | None:
    """The same plates in an order with `runs` groups of friction plates; None where there is none.

    Friction plates alternate as far as they can and the last group holds the rest; separators that are left over go to
    both ends in turn, and shims stay outermost at the start.

    Examples
    --------
    >>> ordered(["separator", "friction", "separator", "friction", "separator"], 1)
    ['separator', 'separator', 'friction', 'friction', 'separator']
    """
    frictions, separators = parts.count(FRICTION), parts.count(SEPARATOR)
    spare = separators - (runs - 1)
    if not 1 <= runs <= frictions or spare < 0:
        return None
    middle: list[str] = []
    for run in range(runs):
        alone = run < runs - 1
        middle += [FRICTION] * (1 if alone else frictions - runs + 1) + ([SEPARATOR] if alone else [])
    others = [part for part in parts if part not in (FRICTION, SEPARATOR)]
    end = spare // 2
    return others + [SEPARATOR] * (spare - end) + middle + [SEPARATOR] * end


def other_orders(chain: list[dict[str, Any]], layout: str) -> list[tuple[list[str], list[str], str]]:
    """Orders with one group more or fewer in one pack or in both, that the layout allows.

    Returns
    -------
    list of tuple
        (parts of the first pack without springs, parts of the second, what it does).
    """
    kinds = [[item["part"] for item in pack if item["part"] != SPRING] for pack in packs(chain)]
    first, second = kinds
    now = (runs_of(first), runs_of(second))
    possible = []
    for step, words in ((-1, "fewer"), (1, "more")):
        for pack, in_first, in_second in (
            ("each pack", step, step),
            ("the first pack", step, 0),
            ("the second pack", 0, step),
        ):
            orders = [
                parts if change == 0 else ordered(parts, runs + change)
                for parts, runs, change in ((first, now[0], in_first), (second, now[1], in_second))
            ]
            if orders[0] is None or orders[1] is None or not allowed(chain, orders[0], orders[1], layout):
                continue
            possible.append((orders[0], orders[1], f"two sliding faces {words} in {pack}"))
    return possible


def allowed(chain: list[dict[str, Any]], first: list[str], second: list[str], layout: str) -> bool:
    """Whether no friction plate would rub on a spring in this order."""
    rings = [place for place, item in enumerate(chain) if item["part"] == RING]
    # A pack's springs lie at its outer end, as `check_springs` has made sure of for the order as it is.
    start = [{"part": SPRING}] if chain[0]["part"] == SPRING else []
    end = [{"part": SPRING}] if chain[-1]["part"] == SPRING else []
    parts = start + [{"part": part} for part in first] + chain[rings[0] : rings[1] + 1]
    parts = parts + [{"part": part} for part in second] + end
    try:
        check_springs(parts, layout)
    except BadInput:
        return False
    return True
