"""Which computed figure is behind a complaint, whether it is there, and how much it should change.

What is felt, where it shows and what to try is common practice, no source; the limits are our own choice.
"""

from typing import Any, NamedTuple

from ..corner.unit_locks import UnitLocks
from .figures import GAP, MOST, PUSH, ROUND, SCRUB, SLIP, STEADY, Figure, at_spot, figure_of
from .places import FAST, SLOW, STRAIGHT, TIGHT, Place

LESS = "less"
MORE = "more"

DRIVE = "drive"
COAST = "coast"
AT_REST = "preload"

# Which lock each figure goes by.
SIDES = {PUSH: DRIVE, ROUND: DRIVE, MOST: DRIVE, GAP: DRIVE, STEADY: COAST, SLIP: COAST, SCRUB: AT_REST}

ON_COAST = ("lift", "braking", "entry")

# When each complaint shows mostly, where nobody says when.
MOSTLY = {"pushes": "power", "loose": "lift", "spins": "power", "snaps": "power"}

MATCHES = "matches"
MAY = "may"
NOT = "not"
NONE = "none"
UNKNOWN = "unknown"

MATCH = {
    MATCHES: "it is there, whatever is not known exactly",
    MAY: "it may be there: the figures are not known well enough to tell",
    NOT: "it is not there",
    NONE: "nothing that is computed answers to it",
    UNKNOWN: "too little is known of the unit",
}

# Both wheels let go together where less than this share is left to the second.
TOGETHER = 0.02
# So much is meant to be left to it instead.
LEFT = 0.05
# A lock from preload that is meant to let the plates slip, as a share of what the tyres hold against it.
SLIPPING = 0.9

Sought = NamedTuple(
    "Sought",
    [
        # One of `FIGURES`, the place, and which way it should go: LESS or MORE.
        ("name", str),
        ("place", Place),
        ("want", str),
    ],
)

Found = NamedTuple(
    "Found",
    [
        ("sought", Sought),
        ("figure", Figure),
        # What it is held against, in its own unit; None where nothing is known. A key of `MATCH`.
        ("limit", Any),
        ("match", str),
        # What it should come to; None where nothing is to be changed.
        ("target", Any),
    ],
)


def figures_for(what: str, when: str | None, rear: bool) -> list[tuple[str, str]]:
    """Figures behind a complaint, most telling first, and which way each should go."""
    shows = when or MOSTLY.get(what, "")
    if what == "hops":
        return [(SCRUB, LESS)]
    if what == "pushes" and shows == "power":
        # A front axle whose inner wheel spins pushes for want of lock.
        return [(PUSH, LESS)] if rear else [(MOST, MORE), (PUSH, LESS)]
    if what == "pushes" and shows in ON_COAST:
        return [(STEADY, LESS)]
    if what in ("loose", "snaps") and shows == "power":
        return [(GAP, MORE), (ROUND, LESS)] if what == "loose" else [(GAP, MORE)]
    if what in ("loose", "snaps") and shows in ON_COAST:
        return [(SLIP, LESS)]
    if what == "spins" and shows in ("power", "straight"):
        return [(MOST, MORE)]
    return []


def places_for(what: str, when: str | None, corners: str | None) -> tuple[str, ...]:
    """Where a complaint is looked for."""
    if what == "hops":
        return (TIGHT,)
    if when == "straight":
        return (STRAIGHT,)
    return (SLOW, FAST) if corners is None else (corners,)


def by_limit(figure: Figure, limit: float) -> str:
    """Whether a figure is at its limit or above it, within its range."""
    if figure.low >= limit:
        return MATCHES
    return MAY if figure.high >= limit else NOT


def spins_there(place: Place, unit: UnitLocks, most: Figure) -> str:
    """Whether the inner wheel spins before the outer one lets go too."""
    gap, powers = figure_of(GAP, place, unit), place.powers
    if gap.high <= TOGETHER or (powers is not None and most.low >= powers.high):
        return NOT
    if powers is None or gap.value <= TOGETHER:
        return MAY
    return MATCHES if most.high < powers.low else MAY


def target_of(sought: Sought, figure: Figure, unit: UnitLocks) -> float:
    """What a figure should come to, in its own unit: see `complaint`."""
    name, place = sought.name, sought.place
    if name == MOST:
        half_way = (figure.value + solid_of(place)) / 2.0
        power = place.likely.power
        return half_way if power is None else min(half_way, max(power, (1.0 + LEFT) * figure.value))
    if name == GAP:
        return max(LEFT, figure.value + LEFT)
    if name == SCRUB:
        return SLIPPING * min(1.0, figure.value)
    if name == SLIP:
        return max(0.0, figure.value - max(place.even, figure_of(STEADY, place, unit).value))
    return figure.value / 2.0


def solid_of(place: Place) -> float:
    """What both wheels of a place could put down, N·m."""
    wheels = at_spot(place.likely)
    return wheels.left_in + wheels.left_out


def found(sought: Sought, unit: UnitLocks) -> Found:
    """A figure that is sought, and whether it is there."""
    name, place = sought.name, sought.place
    figure = figure_of(name, place, unit)
    limit: Any = place.even
    if name == MOST:
        limit, match = place.likely.power, spins_there(place, unit, figure)
    elif name == GAP:
        limit = TOGETHER
        match = MATCHES if figure.high <= limit else MAY if figure.low <= limit else NOT
    elif name == SCRUB:
        limit = 1.0
        # One of both it always is: tyres that scrub, or plates that slip.
        match = MATCHES if figure.low >= limit or figure.high < limit else MAY
    else:
        match = by_limit(figure, limit)
    target = target_of(sought, figure, unit) if match in (MATCHES, MAY) else None
    return Found(sought, figure, limit, match, target)


def only_slips(best: Found) -> bool:
    """Whether a tight turn is hindered by plates that slip, where no lock would change anything."""
    return best.sought.name == SCRUB and best.figure.high < 1.0


def asks(best: Found) -> tuple[str, str]:
    """Which lock a complaint wants changed, and which way."""
    name, want = best.sought.name, best.sought.want
    # More of the lock lets the plates slip less; to have something left when the inner wheel lets go takes less of it.
    return SIDES[name], {SLIP: MORE, GAP: LESS}.get(name, want)
