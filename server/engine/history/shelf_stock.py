"""How many plates of each class lie on the shelf: counts, and the moves that were made since."""

from typing import Any, NamedTuple

from ..plan.pieces import SAME_CLASS_MM
from ..request.letters import trimmed
from ..request.sorting import in_order
from .shelf_order import MADE_AFTER, count_that_stands, order_of

Stock = NamedTuple(
    "Stock",
    [
        ("name", str),
        # What is known of it as a row of the shelf has it, or None where it was only ever fitted.
        ("piece", Any),
        # The count that stands for it, or None, and what that found.
        ("count", Any),
        ("counted", int),
        # Moves with what each changes, by time: those since the count, those that it has already.
        ("since", "list[tuple[dict[str, Any], int]]"),
        ("before", "list[tuple[dict[str, Any], int]]"),
        # Moves and other counts of which nobody can tell whether they were made before that count.
        ("unsure", "list[dict[str, Any]]"),
    ],
)


def in_books(stock: Stock) -> int:
    """How many there are by count and moves; below 0 where more were fitted than there were."""
    return stock.counted + sum(change for _, change in stock.since)


def by_time(move: dict[str, Any]) -> tuple[float, str]:
    """Order in which moves and counts were most likely made."""
    return (move["at_s"], move["id"])


class Shelf:
    """Counts and moves, brought together.

    Parameters
    ----------
    counts : list of dict
        As `counts_of` has them, in the order in which they arrived.
    moves : list of dict
        Of all units, as `shelf_moves` has them.

    Attributes
    ----------
    whole : dict or None
        The count of the whole shelf that stands.
    """

    def __init__(self, counts: list[dict[str, Any]], moves: list[dict[str, Any]]) -> None:
        self.moves = with_own_names(in_order(moves, by_time))
        self.by_first = {entry["first"]: entry for entry in counts + self.moves}
        self.whole, _ = count_that_stands([count for count in counts if not count["only_these"]], self.by_first)
        self.counts = counts
        # By the counts that list a name: what stands for it, which is the same for most names.
        self.standing: dict[tuple[str, ...], tuple[dict[str, Any] | None, list[dict[str, Any]]]] = {}

    def names(self) -> list[str]:
        """Every name that a count or a move has."""
        names = {trimmed(piece["name"]) for count in self.counts for piece in count["pieces"]}
        for move in self.moves:
            names |= {row["name"] for row in move["taken"] + move["kept"]}
        return sorted(names)

    def ran(self) -> set[str]:
        """Names of all pieces that have run, those that are gone among them."""
        rows = [piece for count in self.counts for piece in count["pieces"]]
        rows += [row for move in self.moves for row in move["kept"]]
        return {trimmed(row["name"]) for row in rows if row.get("new_mm") is not None}

    def stock_of(self, name: str) -> Stock:
        """What there is of a name."""
        about = [count for count in self.counts if not count["only_these"] or piece_in(count, name)]
        key = tuple(count["id"] for count in about)
        if key not in self.standing:
            self.standing[key] = count_that_stands(about, self.by_first)
        count, others = self.standing[key]
        piece = None if count is None else piece_in(count, name)
        counted = 0 if piece is None else piece["count"]
        since: list[tuple[dict[str, Any], int]] = []
        before: list[tuple[dict[str, Any], int]] = []
        unsure = []
        for move in self.moves:
            change = change_of(move, name)
            if change is None:
                continue
            after, certain = (MADE_AFTER, True) if count is None else order_of(move, count, self.by_first)
            (since if after == MADE_AFTER else before).append((move, change))
            if not certain:
                unsure.append(move)
        if piece is None:
            kept = [row for move, _ in since for row in move["kept"] if row["name"] == name]
            piece = kept[-1] if kept else None
        for other in others:
            seen = piece_in(other, name)
            if (0 if seen is None else seen["count"]) != counted:
                unsure.append(other)
            else:
                unsure += [move for move, _ in since if move not in unsure and not self.is_after(move, other)]
        return Stock(name, piece, count, counted, since, before, unsure)

    def is_after(self, move: dict[str, Any], count: dict[str, Any]) -> bool:
        """Whether a move was certainly made after a count."""
        return order_of(move, count, self.by_first) == (MADE_AFTER, True)


def piece_in(count: dict[str, Any], name: str) -> dict[str, Any] | None:
    """The row of a count for a name, or None."""
    for piece in count["pieces"]:
        if trimmed(piece["name"]) == name:
            found: dict[str, Any] = piece
            return found
    return None


def change_of(move: dict[str, Any], name: str) -> int | None:
    """By how many plates a move changes the stock of a name; None where it has nothing to do with it."""
    taken = sum(1 for row in move["taken"] if row["name"] == name)
    kept = sum(1 for row in move["kept"] if row["name"] == name)
    return kept - taken if taken or kept else None


def with_own_names(moves: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The same moves, where two plates that were kept under one name and are not alike get a name each.

    >>> plates = [{"name": "A2", "part": "friction", "mm": mm} for mm in (2.43, 2.40, 2.43)]
    >>> renamed = with_own_names([{"taken": [], "kept": plates}])
    >>> [row["name"] for row in renamed[0]["kept"]]
    ['A2', 'A2 (2)', 'A2']
    """
    known: dict[str, list[dict[str, Any]]] = {}
    renamed = []
    for move in moves:
        kept = []
        for row in move["kept"]:
            alike = known.setdefault(row["name"], [])
            places = [
                place
                for place, other in enumerate(alike)
                if other["part"] == row["part"] and abs(other["mm"] - row["mm"]) < SAME_CLASS_MM
            ]
            place = places[0] if places else len(alike)
            if not places:
                alike.append(row)
            copy = row.copy()
            if place:
                copy["name"] = f"{row['name']} ({place + 1})"
            kept.append(copy)
        copied = move.copy()
        copied["kept"] = kept
        renamed.append(copied)
    return renamed


def counted_pieces(counts: list[dict[str, Any]]) -> tuple[list[dict[str, Any]], str | None]:
    """The rows of the shelf by its counts alone, as they were written, and the id of the last count of all of it."""
    shelf = Shelf(counts, [])
    rows = list(shelf.whole["pieces"]) if shelf.whole else []
    names = [trimmed(row["name"]) for row in rows]
    for count in counts:
        for piece in count["pieces"]:
            name = trimmed(piece["name"])
            stands = shelf.stock_of(name)
            if count["only_these"] and stands.count is count:
                if name in names:
                    rows[names.index(name)] = piece
                else:
                    rows.append(piece)
                    names.append(name)
    return rows, shelf.whole["id"] if shelf.whole else None
