"""The stack's places and the shelf's pieces, in whole micrometres, ready to be arranged."""

from typing import Any, NamedTuple

from ..request.errors import BadInput, inside
from ..request.units import say
from ..unit.stack import FRICTION, RING, SEPARATOR, SHIM, SPRING
from ..unit.usual_limits import usual_minimum
from .reachable import Kind
from .search import Arrangements, Best

# Order in which kinds of plates are arranged; any would do.
PARTS = (FRICTION, SEPARATOR, SHIM)

# Plates that wear, and have a limit whether or not somebody gave one.
WEARING = (FRICTION, SEPARATOR)

NO_SHIM = "no shim"

# A place of which a request says nothing.
UNTOLD = {"mm": None, "lowest_mm": None, "new_mm": None, "minimum_mm": None, "keep": False, "replace": False}

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


def limit_of(item: dict[str, Any], plate: dict[str, Any]) -> float | None:
    """The limit of the piece in a place, mm: its own, else the place's, else for a plate that of common practice.

    Parameters
    ----------
    item : dict
        The place in the definition.
    plate : dict
        The piece in it, checked by `FITTED`.
    """
    for given in (plate["minimum_mm"], item["minimum_mm"]):
        if given is not None:
            return float(given)
    if item["part"] not in WEARING:
        return None
    return usual_minimum(item["new_mm"] if plate["new_mm"] is None else plate["new_mm"])


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
        row, plate = given.get(item["slot"], (0, UNTOLD))
        path = inside(field, row)
        mm = item["new_mm"] if plate["mm"] is None else plate["mm"]
        if plate["keep"] and plate["replace"]:
            raise BadInput(inside(path, "replace"), f"{item['slot']} cannot both stay and go: choose one.")
        limit = limit_of(item, plate)
        lowest = mm if plate["lowest_mm"] is None else plate["lowest_mm"]
        worn = limit is not None and lowest < limit
        if plate["keep"] and worn:
            raise BadInput(
                inside(path, "keep"), f"{item['slot']} is below its limit of {say(limit or 0.0, 'mm')}: it has to go."
            )
        side = 0 if place < rings[0] else 1 if place > rings[1] else None
        free = item["part"] in PARTS and side is not None and not plate["keep"]
        if plate["replace"] and not free:
            raise BadInput(inside(path, "replace"), f"{item['slot']} is no plate that the shelf can replace.")
        stays = not (plate["replace"] or (worn and free))
        answer.append(Place(item["slot"], item["part"], side, micrometres(mm), free, stays))
    return answer


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
