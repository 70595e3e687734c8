"""Ways to change what a complaint is about: what to change, by how much, and what it does elsewhere."""

import math
from typing import Any, NamedTuple

from ..corner.difference import Locks
from ..corner.unit_locks import UnitLocks, locks_of
from ..drive.candidates import AS_BUILT, AS_IT_IS, TRIED, candidate
from ..drive.known_unit import Known
from ..drive.lock import Lock
from ..records.trial import COAST_RAMP, DRIVE_RAMP, FACES, OIL, PAIR, PRELOAD, TURNED_OVER
from .figures import GAP, MOST, PUSH, ROUND, SCRUB, STEADY, figure_at
from .places import FAST, SLOW, TIGHT, Place
from .sought import COAST, DRIVE, MORE, SIDES, TOGETHER, Found, Sought, asks

# Ramps that rings are made with, degrees, and by how many sliding faces a unit may change: common practice, no source.
ANGLES = (30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80)
FACE_STEPS = (2, 4, 6)
LEAST_FACES = 4
# Preload is changed to this share of what it is, at the least and at the most: our own choice.
LEAST_PRELOAD, MOST_PRELOAD = 0.4, 2.0
# A way that goes less than this share of what is wanted is none.
TOO_LITTLE = 0.1
ROUNDS = 30
# A share of what is wanted, and a torque in N·m, that are no difference.
NO_MORE, WHOLE_WITHIN = 1e-6, 1e-6

ORDER = (TURNED_OVER, PAIR, PRELOAD, DRIVE_RAMP, COAST_RAMP, FACES, OIL)

Way = NamedTuple(
    "Way",
    [
        # What is changed, a key of `LEVERS`, and the candidate's fields, of which it is made.
        ("lever", str),
        ("tried", Any),
        ("name", str),
        ("breakaway", float),
        ("unit", UnitLocks),
        # The figure with it, most likely, and whether that is as much as was wanted.
        ("value", float),
        ("reaches", bool),
    ],
)


class Search:
    """Ways for one figure that is to change."""

    def __init__(self, known: Known, wanted: Found) -> None:
        self.known = known
        self.sought: Sought = wanted.sought
        self.now = wanted.figure.value
        self.target: float = wanted.target
        # Every figure only rises or only falls with the lock.
        self.more = asks(wanted)[1] == MORE
        self.ways: list[Way] = []
        row = candidate(known, AS_IT_IS, AS_BUILT, known.path)
        self.breakaway, self.as_built = row.breakaway, Locks(row.drive, row.coast)

    def as_far_as(self, value: float, goal: float) -> bool:
        """Whether a figure is as far as another, in the direction that is wanted."""
        slack = 1e-6 * max(1e-3, abs(goal))
        return value >= goal - slack if self.sought.want == MORE else value <= goal + slack

    def reaches(self, value: float) -> bool:
        """Whether a figure is as far as was wanted."""
        return self.as_far_as(value, self.target)

    def gained(self, value: float) -> float:
        """How far a figure has come, as a share of what is wanted."""
        return (value - self.now) / (self.target - self.now) if self.target != self.now else 0.0

    def moves(self, value: float) -> bool:
        """Whether it goes the right way, and far enough to be worth it."""
        return self.gained(value) >= TOO_LITTLE

    def way(self, lever: str, changes: dict[str, Any]) -> Way:
        """A change worked out."""
        tried = AS_IT_IS.copy()
        tried.update(changes)
        row = candidate(self.known, tried, TRIED, self.known.path)
        unit = locks_of(row)
        value = figure_at(self.sought.name, self.sought.place.likely, unit.locks)
        return Way(lever, tried, row.name, row.breakaway, unit, value, self.reaches(value))

    def first_of(self, lever: str, changes: list[dict[str, Any]]) -> None:
        """Keep the first change that reaches the target, or else the first that goes as far as any of them."""
        kept = None
        for change in changes:
            row = self.way(lever, change)
            # A step may do nothing where something else holds, and the next one take over from that.
            if kept is None or row.reaches or self.gained(row.value) > self.gained(kept.value) + NO_MORE:
                kept = row
            if row.reaches:
                break
        if kept is not None and self.moves(kept.value):
            self.ways.append(kept)

    def at_hand(self) -> None:
        """Rings that the unit has: turned over, and its other pairs."""
        ramps = self.known.definition["ramps"]
        rows = []
        if ramps["drive_deg"] != ramps["coast_deg"]:
            rows.append(self.way(TURNED_OVER, {"fitted": "turned_over"}))
        rows += [self.way(PAIR, {"pair": pair["name"]}) for pair in self.known.definition["other_ramps"]]
        self.ways += [row for row in rows if self.moves(row.value)]

    def with_preload(self, share: float) -> float:
        """The figure with a share of the preload, and everything else as it is."""
        first, second = self.as_built
        locks = Locks(
            Lock(share * first.preload, first.ramp, first.adds), Lock(share * second.preload, second.ramp, second.adds)
        )
        return figure_at(self.sought.name, self.sought.place.likely, locks)

    def preload(self) -> None:
        """Another preload: the smallest change that reaches the target or goes as far as any, to a whole N·m away."""
        far, near = MOST_PRELOAD if self.more else LEAST_PRELOAD, 1.0
        goal = self.with_preload(far)
        if self.gained(goal) <= NO_MORE:
            return
        if self.reaches(goal):
            goal = self.target
        for _ in range(ROUNDS):
            middle = (near + far) / 2.0
            if self.as_far_as(self.with_preload(middle), goal):
                far = middle
            else:
                near = middle
        torque = far * self.breakaway
        whole = math.ceil(torque - WHOLE_WITHIN) if self.more else math.floor(torque + WHOLE_WITHIN)
        self.first_of(PRELOAD, [{"torque_nm": max(1.0, float(whole))}])

    def ramp(self, side: str) -> None:
        """Another angle on the flank that the figure goes by, the nearest first: shallower ramps lock more."""
        name = side + "_deg"
        lever, now = (DRIVE_RAMP if side == DRIVE else COAST_RAMP), self.known.definition["ramps"][name]
        angles = [float(angle) for angle in ANGLES if (angle < now if self.more else angle > now)]
        if self.more:
            angles.reverse()
        self.first_of(lever, [{name: angle} for angle in angles])

    def faces(self) -> None:
        """More or fewer sliding faces, both packs alike."""
        sign = 1 if self.more else -1
        counts = [self.known.built.faces + sign * step for step in FACE_STEPS]
        self.first_of(FACES, [{"faces": count} for count in counts if count >= LEAST_FACES])

    def all(self) -> list[Way]:
        """Every way, those that reach the target first."""
        side = SIDES[self.sought.name]
        self.at_hand()
        self.preload()
        if side in (DRIVE, COAST):
            self.ramp(side)
        self.faces()
        rows = [(not row.reaches, ORDER.index(row.lever), place) for place, row in enumerate(self.ways)]
        return [self.ways[place] for _, _, place in sorted(rows)]


# What is told of every change: figure and place.
ELSEWHERE = (
    (PUSH, SLOW),
    (PUSH, FAST),
    (ROUND, SLOW),
    (ROUND, FAST),
    (MOST, SLOW),
    (MOST, FAST),
    (STEADY, SLOW),
    (STEADY, FAST),
    (SCRUB, TIGHT),
)
# A change of less than this share is not told.
TOLD = 0.05


def elsewhere(
    places: dict[str, Place], before: UnitLocks, after: UnitLocks, but: Sought
) -> list[tuple[str, str, float, float]]:
    """Figures that change elsewhere: name, place, before and after; that which was wanted is left out."""
    rows = []
    for name, where in ELSEWHERE:
        if name == but.name and where == but.place.name:
            continue
        place = places[where]
        first, second = [figure_at(name, place.likely, unit.locks) for unit in (before, after)]
        smallest = place.even if name in (PUSH, ROUND, STEADY) else 0.0
        if max(first, second) > smallest and abs(second - first) > TOLD * max(first, second):
            rows.append((name, where, first, second))
    return rows


def lets_go_together(places: dict[str, Place], before: UnitLocks, after: UnitLocks) -> list[tuple[str, bool]]:
    """Corners where both wheels let go together after a change and did not before, or the other way round."""
    rows = []
    for where in (SLOW, FAST):
        first, second = [figure_at(GAP, places[where].likely, unit.locks) <= TOGETHER for unit in (before, after)]
        if first != second:
            rows.append((where, second))
    return rows
