"""What a plan may fill a place with: the plates as they are fitted, the shelf, and the limit of every piece."""

from typing import Any

from ..part_checks.plates import PLATES
from ..request.fields import Choice, Group, Listing, Number, Text, Whole, YesNo
from ..request.letters import folded
from ..unit.stack import SHIM
from ..unit.usual_limits import UNMEASURED_WITHIN_MM, usual_minimum

# How far a piece may be off where the shelf does not say: a class, common practice, no source.
CLASS_WITHIN_MM = UNMEASURED_WITHIN_MM

FITTED = Listing(
    Group(
        {
            "slot": Text(20, "place in the stack"),
            "mm": Number(0.02, 80, "mm", "mean thickness as measured", default=None),
            "lowest_mm": Number(0.01, 80, "mm", "its lowest point, which its limit judges", default=None),
            "new_mm": Number(0.05, 80, "mm", "its thickness when new or as fitted", default=None),
            "minimum_mm": Number(0.02, 80, "mm", "its limit, where it is not the definition's", default=None),
            "within_mm": Number(0, 1, "mm", "how far off its thickness may be", default=None),
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

FAMILY = Text(80, "plate family: rubbing ring, lugs or splines, material", default=None, label="Plate family")

# What stands beside the number of equal plates on the screens.
HOW_MANY = "How many"

# A plan looks at so many rows of a shelf; a phone takes some seconds for a full one.
MOST_PIECES = 60

SHELF = Listing(
    Group(
        {
            "name": Text(40, "what the piece or the class is called", label="Name"),
            "part": Choice(PLATES, "what kind of plate", label="Part"),
            "mm": Number(0.02, 50, "mm", "thickness", label="Thickness"),
            "count": Whole(1, 99, "how many there are", default=1, label=HOW_MANY),
            "within_mm": Number(0, 1, "mm", "how far off one may be", default=CLASS_WITHIN_MM, label="May be off by"),
            "minimum_mm": Number(
                0.01, 50, "mm", "limit: thickness at which one has to be replaced", default=None, label="Limit"
            ),
            "new_mm": Number(
                0.02, 50, "mm", "thickness when new, of a piece that has run", default=None, label="When new"
            ),
            "lowest_mm": Number(
                0.01,
                50,
                "mm",
                "its lowest point, which its limit judges, of a piece that has run",
                default=None,
                label="Lowest point",
            ),
            "family": FAMILY,
        },
        "a measured piece, or a class of equal ones",
    ),
    0,
    MOST_PIECES,
    "plates in stock",
    nouns="pieces",
)

# Thicknesses that differ by less, mm, are those of one class.
SAME_CLASS_MM = 0.0005


def with_limits(shelf: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The shelf with the limit of every piece: minimum_mm, and usual_minimum, whether it is only common practice.

    A piece has its own limit, or that of the class that it belongs to: the row of its kind whose thickness is the
    piece's when new. Where neither is known it is that of common practice.

    Examples
    --------
    >>> shelf = [
    ...     {"part": "friction", "mm": 2.5, "minimum_mm": 2.2, "new_mm": None},
    ...     {"part": "friction", "mm": 2.4, "minimum_mm": None, "new_mm": 2.5},
    ...     {"part": "friction", "mm": 2.0, "minimum_mm": None, "new_mm": None},
    ... ]
    >>> [(piece["minimum_mm"], piece["usual_minimum"]) for piece in with_limits(shelf)]
    [(2.2, False), (2.2, False), (1.84, True)]
    """
    answer = []
    for piece in shelf:
        new = piece["mm"] if piece["new_mm"] is None else piece["new_mm"]
        limits = [piece["minimum_mm"]] + [
            row["minimum_mm"]
            for row in shelf
            if row["part"] == piece["part"] and row["new_mm"] is None and abs(row["mm"] - new) < SAME_CLASS_MM
        ]
        given = [limit for limit in limits if limit is not None]
        row = piece.copy()
        row["usual_minimum"] = not given
        row["minimum_mm"] = given[0] if given else usual_minimum(new)
        answer.append(row)
    return answer


def usable(shelf: list[dict[str, Any]]) -> tuple[list[dict[str, Any]], list[str]]:
    """Pieces that are above their own limit, with it, and the names of those that are not."""
    known = with_limits(shelf)
    fit = [piece for piece in known if lowest_of(piece) >= piece["minimum_mm"]]
    return fit, [piece["name"] for piece in known if lowest_of(piece) < piece["minimum_mm"]]


def lowest_of(piece: dict[str, Any]) -> float:
    """What a piece's limit judges, mm: its lowest point where that was measured, else its thickness.

    >>> lowest_of({"mm": 2.4, "lowest_mm": 2.37}), lowest_of({"mm": 2.5, "lowest_mm": None}), lowest_of({"mm": 2.5})
    (2.37, 2.5, 2.5)
    """
    lowest: float | None = piece.get("lowest_mm")
    return float(piece["mm"]) if lowest is None else lowest


def same_family(family: str | None, other: str | None) -> bool | None:
    """Whether two plate families are the same, in whatever case and spacing; None where either is not given.

    >>> same_family("71/98 lugs", "71/98  Lugs"), same_family("lugs", "splines"), same_family("", "lugs")
    (True, False, None)
    """
    names = [folded(name or "") for name in (family, other)]
    return names[0] == names[1] if all(names) else None


def of_family(shelf: list[dict[str, Any]], family: str | None) -> tuple[list[dict[str, Any]], list[str], list[str]]:
    """The pieces that fit a unit's plate family, the names of those of another, and of those of which it is not known.

    A family that is blank on one side counts as fitting. Where neither the unit nor any piece has one, families
    are not in use and nothing is in doubt. Shims have no rubbing ring and no lugs: one without a family is in no doubt.
    """
    fits = [piece for piece in shelf if same_family(piece["family"], family) is not False]
    others = [piece["name"] for piece in shelf if same_family(piece["family"], family) is False]
    has_families = same_family(family, family) or any(same_family(piece["family"], piece["family"]) for piece in shelf)
    unsure = [
        piece["name"]
        for piece in fits
        if has_families and piece["part"] != SHIM and not same_family(piece["family"], family)
    ]
    return fits, others, unsure
