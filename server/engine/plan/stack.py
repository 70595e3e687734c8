"""A stack whose open places can be filled from a shelf, and what one way of filling them is."""

from typing import Any, NamedTuple

from ..unit.stack import SHIM
from .lanes import Lane, Side, Spot
from .outcome import Doubts
from .places import PARTS, Place, micrometres

NO_SHIM = "no shim"

Filling = NamedTuple(
    "Filling",
    [
        # Thickness of the whole stack without its springs, and first pack less second less what that should be.
        ("total", int),
        ("apart", int),
        # Place of the stack -> piece of the shelf.
        ("pieces", Any),
    ],
)


class Stack:
    """A stack whose open places can be filled from a shelf.

    Parameters
    ----------
    places : list of Place
        All places in order.
    shelf : list of dict
        Usable pieces with their limits, as `usable` gives them.
    most_change : int
        How much one place may change, micrometres; a worn plate may always get back to its thickness when new.
    more_shims : bool
        Whether one more shim may be laid into each pack.
    """

    def __init__(
        self, places: list[Place], shelf: list[dict[str, Any]], most_change: int, more_shims: bool = False
    ) -> None:
        self.places = places
        if more_shims:
            extra = [
                Place(f"+{pack}", SHIM, side, 0, 0, 0.0, None, False, True, True)
                for side, pack in ((0, "first"), (1, "second"))
            ]
            self.places = [extra[0]] + places + [extra[1]]
        self.most_change = most_change
        self.shelf = [piece for piece in shelf if piece["part"] in PARTS] + [no_shim(len(self.places))]
        self.open = [place for place, row in enumerate(self.places) if row.open]
        self.closed = sum(row.size for row in self.places if not row.open)
        # First pack less second of what cannot change.
        self.lean = sum(
            row.size if row.side == 0 else -row.size
            for row in self.places
            if not row.open and row.part in PARTS and row.side is not None
        )

    def now(self) -> int:
        """Thickness of everything as fitted, micrometres."""
        return sum(row.size for row in self.places)

    def stock(self, part: str, widest: float) -> list[tuple[int, int]]:
        """Thickness and count of the pieces of one kind that are at most `widest` mm off, rising."""
        counts: dict[int, int] = {}
        for piece in self.shelf:
            if piece["part"] == part and piece["within_mm"] <= widest:
                size = micrometres(piece["mm"])
                counts[size] = counts.get(size, 0) + piece["count"]
        return sorted(counts.items())

    def side(self, side: int, widest: float) -> Side | None:
        """What one pack can come to from pieces that are at most `widest` mm off; None where a place stays empty."""
        return self.chain_of((side,), widest, side == 0)

    def both(self, widest: float) -> Side | None:
        """What both packs can come to together, or None where every piece is there for all."""
        if not any(self.is_scarce(part, widest) for part in PARTS):
            return None
        return self.chain_of((0, 1), widest, True)

    def is_scarce(self, part: str, widest: float) -> bool:
        """Whether there are fewer of some thickness than places of its kind."""
        places = len([place for place in self.open if self.places[place].part == part])
        return any(count < places for _, count in self.stock(part, widest))

    def chain_of(self, sides: tuple[int, ...], widest: float, rising: bool) -> Side | None:
        """The lanes of some packs' places, one after the other."""
        lanes = []
        for kind, part in enumerate(PARTS):
            stock = self.stock(part, widest)
            groups: dict[int, list[Spot]] = {}
            for place in self.open:
                row = self.places[place]
                if row.part == part and row.side in sides:
                    most = max(row.size + self.most_change, row.new)
                    spot = Spot(row.size, row.size - self.most_change, most, row.may_stay, place)
                    groups.setdefault(row.new, []).append(spot)
            for new in sorted(groups):
                lanes.append(Lane(kind, groups[new], stock, rising))
        if not all(lane.fits for lane in lanes):
            return None
        return Side(lanes, len(self.open))

    def filled(self, taken: list[tuple[int, int, int]], balance: int, widest: float) -> Filling:
        """The filling that puts these (place, kind, thickness) into the stack: what is there and best known first."""
        left = {place: piece["count"] for place, piece in enumerate(self.shelf)}
        order = sorted(left, key=lambda row: (self.shelf[row].get("bought", False), self.shelf[row]["within_mm"], row))
        pieces = {}
        for place, kind, size in sorted(taken):
            for rank in order:
                piece = self.shelf[rank]
                same = piece["part"] == PARTS[kind] and micrometres(piece["mm"]) == size
                if same and left[rank] > 0 and piece["within_mm"] <= widest:
                    left[rank] -= 1
                    pieces[place] = piece
                    break
        sizes = self.sizes(pieces)
        sides = [0, 0]
        for place, row in enumerate(self.places):
            if row.part in PARTS and row.side is not None:
                sides[row.side] += sizes[place]
        return Filling(sum(sizes), sides[0] - sides[1] - balance, pieces)

    def sizes(self, pieces: dict[int, dict[str, Any]]) -> list[int]:
        """Thickness of every place with these pieces in it, micrometres."""
        return [
            micrometres(pieces[place]["mm"]) if place in pieces else row.size for place, row in enumerate(self.places)
        ]

    def doubts(self, filling: Filling, cavity: float) -> Doubts:
        """The doubts of a filling, beside that of the depth, `cavity` mm."""
        comes = sorted(piece["within_mm"] for piece in filling.pieces.values())
        goes = sorted(self.places[place].within for place in filling.pieces)
        stays = sum(row.within**2 for place, row in enumerate(self.places) if place not in filling.pieces)
        return Doubts(
            (stays + cavity * cavity) / 3,
            sum(within * within for within in goes[:-1]) / 3,
            sum(within * within for within in comes[:-1]) / 3,
            goes[-1] if goes else 0.0,
            comes[-1] if comes else 0.0,
        )

    def rows(self, filling: Filling) -> list[dict[str, Any]]:
        """What to do at every place, in the order of the stack."""
        answer = []
        for place, row in enumerate(self.places):
            piece = filling.pieces.get(place)
            shown: dict[str, Any] = {"slot": row.slot, "part": row.part, "was_mm": row.size / 1000.0}
            if piece is None:
                shown.update(
                    {
                        "action": "keep",
                        "piece": "",
                        "mm": row.size / 1000.0,
                        "within_mm": row.within,
                        "minimum_mm": row.minimum,
                        "usual_minimum": row.usual_minimum,
                    }
                )
            else:
                shown.update(
                    {
                        "action": "fit",
                        "piece": piece["name"],
                        "mm": micrometres(piece["mm"]) / 1000.0,
                        "within_mm": piece["within_mm"],
                        "minimum_mm": piece["minimum_mm"],
                        "usual_minimum": piece["usual_minimum"],
                    }
                )
            answer.append(shown)
        # A further shim that is not needed is no row to show.
        return [row for row in answer if row["was_mm"] > 0 or row["mm"] > 0]


def no_shim(count: int) -> dict[str, Any]:
    """An open shim place may stay empty: nothing, in any number, lies on every shelf."""
    return {
        "name": NO_SHIM,
        "part": SHIM,
        "mm": 0.0,
        "count": count,
        "within_mm": 0.0,
        "minimum_mm": None,
        "usual_minimum": False,
    }
