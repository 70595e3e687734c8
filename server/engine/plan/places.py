"""The stack's places and the shelf's pieces, in whole micrometres, ready to be arranged."""

from typing import Any, NamedTuple

from ..part_checks.plates import PLATES
from ..request.errors import BadInput, inside
from ..request.fields import Choice, Group, Listing, Number, Text, Whole, YesNo
from ..request.units import say
from ..unit.stack import FRICTION, RING, SEPARATOR, SHIM, SPRING
from .reachable import Kind
from .search import Arrangements, Best

# Order in which kinds of plates are arranged; any would do.
PARTS = (FRICTION, SEPARATOR, SHIM)

# How far a piece may be off where the shelf does not say: a class, common practice, no source.
CLASS_WITHIN_MM = 0.02

NO_SHIM = "no shim"

FITTED = Listing(
    Group(
        {
            "slot": Text(20, "place in the stack"),
            "mm": Number(0.02, 80, "mm", "mean thickness as measured", default=None),
            "keep": YesNo("whether this plate has to stay", default=False),
            "replace": YesNo("whether this plate has to go", default=False),
        },
        "a plate as it is fitted now",
    ),
    0,
    80,
    "plates that differ from the definition, or have to stay or go",
    default=[],
    nouns="plates",
)

SHELF = Listing(
    Group(
        {
            "name": Text(40, "what the piece or the class is called"),
            "part": Choice(PLATES, "what kind of plate"),
            "mm": Number(0.02, 50, "mm", "thickness"),
            "count": Whole(1, 99, "how many there are", default=1),
            "within_mm": Number(0, 1, "mm", "how far off one may be", default=CLASS_WITHIN_MM),
        },
        "a measured piece, or a class of equal ones",
    ),
    0,
    60,
    "plates in stock",
    nouns="pieces",
)

Place = NamedTuple(
    "Place",
    [
        ("slot", str),
        ("part", str),
        # 0 for the first pack, 1 for the second, None for what belongs to neither.
        ("side", Any),
        # Thickness as fitted, micrometres.
        ("size", int),
        # Whether a plate may be chosen for it, and whether the fitted one may be that.
        ("open", bool),
        ("may_stay", bool),
    ],
)


def micrometres(mm: float) -> int:
    """Whole micrometres nearest to a length in mm; no tool of this job reads finer.

    >>> micrometres(2.4725)
    2473
    """
    return int(mm * 1000.0 + 0.5)


def places_of(chain: list[dict[str, Any]], fitted: list[dict[str, Any]], field: str) -> list[Place]:
    """Every part of the stack but the springs, with what may be done about it.

    Raises
    ------
    BadInput
        A slot that is not in the stack or named twice, a part that is to stay and to go, a worn one that is to stay.
    """
    given: dict[str, Any] = {}
    slots = [item["slot"] for item in chain if item["part"] != SPRING]
    for row, plate in enumerate(fitted):
        path = inside(inside(field, row), "slot")
        if plate["slot"] not in slots:
            raise BadInput(path, f"{plate['slot']} is no plate of this stack: choose one of its slots.")
        if plate["slot"] in given:
            raise BadInput(path, f"{plate['slot']} is given twice: keep one of them.")
        given[plate["slot"]] = (row, plate)
    rings = [place for place, item in enumerate(chain) if item["part"] == RING]
    answer = []
    for place, item in enumerate(chain):
        if item["part"] == SPRING:
            continue
        row, plate = given.get(item["slot"], (0, {"mm": None, "keep": False, "replace": False}))
        path = inside(field, row)
        mm = item["new_mm"] if plate["mm"] is None else plate["mm"]
        if plate["keep"] and plate["replace"]:
            raise BadInput(inside(path, "replace"), f"{item['slot']} cannot both stay and go: choose one.")
        worn = item["minimum_mm"] is not None and mm < item["minimum_mm"]
        if plate["keep"] and worn:
            limit = say(item["minimum_mm"], "mm")
            raise BadInput(inside(path, "keep"), f"{item['slot']} is below its limit of {limit}: it has to go.")
        side = 0 if place < rings[0] else 1 if place > rings[1] else None
        free = item["part"] in PARTS and side is not None and not plate["keep"]
        if plate["replace"] and not free:
            raise BadInput(inside(path, "replace"), f"{item['slot']} is no plate that the shelf can replace.")
        stays = not (plate["replace"] or (worn and free))
        answer.append(Place(item["slot"], item["part"], side, micrometres(mm), free, stays))
    return answer


def usable(shelf: list[dict[str, Any]], chain: list[dict[str, Any]]) -> tuple[list[dict[str, Any]], list[str]]:
    """Pieces that no place's limit rules out, and the names of those that one does."""
    limits = dict.fromkeys(PARTS, 0.0)
    for item in chain:
        if item["part"] in limits and item["minimum_mm"] is not None:
            limits[item["part"]] = max(limits[item["part"]], item["minimum_mm"])
    fit = [piece for piece in shelf if piece["mm"] >= limits[piece["part"]]]
    return fit, [piece["name"] for piece in shelf if piece["mm"] < limits[piece["part"]]]


class Stack:
    """A stack whose open places can be filled from a shelf.

    Parameters
    ----------
    places : list of Place
        All places in order.
    shelf : list of dict
        Pieces, checked by `SHELF`.
    more_shims : bool
        Whether one more shim may be laid into each pack.
    """

    def __init__(self, places: list[Place], shelf: list[dict[str, Any]], more_shims: bool = False) -> None:
        self.places = places
        if more_shims:
            extra = [Place(f"+{pack}", SHIM, side, 0, True, True) for side, pack in ((0, "first"), (1, "second"))]
            self.places = [extra[0]] + places + [extra[1]]
        # An open shim place may stay empty: nothing, in any number, lies on every shelf.
        nothing = {"name": NO_SHIM, "part": SHIM, "mm": 0.0, "count": len(self.places), "within_mm": 0.0}
        self.pieces = {part: [piece for piece in shelf if piece["part"] == part] for part in PARTS}
        self.pieces[SHIM] = self.pieces[SHIM] + [nothing]
        self.closed = sum(place.size for place in self.places if not place.open)
        self.lean = sum(
            place.size if place.side == 0 else -place.size
            for place in self.places
            if not place.open and place.part in PARTS and place.side is not None
        )
        self.arrangements = Arrangements([self.kind(part) for part in PARTS])

    def kind(self, part: str) -> Kind:
        """The open places and the stock of one kind of plate."""
        counts = [0, 0]
        fitted: list[dict[int, int]] = [{}, {}]
        for place in self.places:
            if place.open and place.part == part:
                counts[place.side] += 1
                if place.may_stay:
                    side = fitted[place.side]
                    side[place.size] = side.get(place.size, 0) + 1
        stock = [(micrometres(piece["mm"]), piece["count"]) for piece in self.pieces[part]]
        return Kind((counts[0], counts[1]), (fitted[0], fitted[1]), stock)

    def now(self) -> int:
        """Thickness of everything as fitted, micrometres."""
        return sum(place.size for place in self.places)

    def best(self, low: int, high: int, miss: Any, balance: int) -> Best | None:
        """The best arrangement whose whole stack is from `low` to `high`; see `Arrangements.best`."""
        return self.arrangements.best(
            low - self.closed, high - self.closed, lambda total: miss(total + self.closed), self.lean - balance
        )

    def rows(self, best: Best) -> list[dict[str, Any]]:
        """What to do at every place, in the order of the stack."""
        stays: dict[Any, int] = {}
        pieces: dict[Any, list[dict[str, Any]]] = {}
        for (kind, side, what), first, second in best.taken:
            part = PARTS[kind]
            if side is not None:
                stays[(part, side, what)] = first + second
            else:
                for pack, count in ((0, first), (1, second)):
                    pieces.setdefault((part, pack), []).extend([self.pieces[part][what]] * count)
        answer = []
        for place in self.places:
            row: dict[str, Any] = {"slot": place.slot, "part": place.part, "was_mm": place.size / 1000.0}
            key = (place.part, place.side, place.size)
            if not place.open or (place.may_stay and stays.get(key, 0) > 0):
                if place.open:
                    stays[key] -= 1
                row.update({"action": "keep", "piece": "", "mm": place.size / 1000.0, "within_mm": 0.0})
            else:
                piece = pieces[(place.part, place.side)].pop(0)
                row.update(
                    {
                        "action": "fit",
                        "piece": piece["name"],
                        "mm": micrometres(piece["mm"]) / 1000.0,
                        "within_mm": piece["within_mm"],
                    }
                )
            answer.append(row)
        # A further shim that is not needed is no row to show.
        return [row for row in answer if row["was_mm"] > 0 or row["mm"] > 0]
