"""Zones of a differential over the throttle at one lateral acceleration: each a stretch of torque at the axle.

Where one ends follows in closed form: see `difference` and `limits`.
"""

from typing import Any, NamedTuple

from ..drive.lock import Lock
from .axle import Wheels, yaw_moment
from .balanced import Corner
from .difference import Locks, clipped, held_at, solid_difference
from .limits import gone_at, lets_go_together, most_of

NOSE_OUT = "nose_out"
EVEN = "even"
TAIL_OUT = "tail_out"
INNER_SPINS = "inner_spins"
BOTH_GO = "both_go"
INNER_DRAGS = "inner_drags"
SLIDES = "slides"

ZONES = {
    NOSE_OUT: "nose out: the difference pushes the car straight on",
    EVEN: "even: the difference is too small to feel",
    TAIL_OUT: "tail out: the difference helps the car round",
    INNER_SPINS: "the inner wheel spins, and the axle still holds its line",
    BOTH_GO: "both wheels let go together",
    INNER_DRAGS: "the inner wheel is dragged by engine braking, and the axle still holds its line",
    SLIDES: "the axle slides",
}

# The same in a few words.
SHORT = {
    NOSE_OUT: "nose out",
    EVEN: "even",
    TAIL_OUT: "tail out",
    INNER_SPINS: "inner wheel spins",
    BOTH_GO: "both let go",
    INNER_DRAGS: "inner wheel dragged",
    SLIDES: "axle slides",
}

Band = NamedTuple(
    "Band",
    [
        ("zone", str),
        # Its place among the zones of a column: even below nose out is another than even above it.
        ("slot", int),
        # Torque at the axle, N·m, from and to.
        ("low", float),
        ("high", float),
    ],
)


def torque_for(wheels: Wheels, turning: float, difference: float) -> float:
    """Torque on drive at which a solid axle has this difference, N·m; it falls all along.

    Before the inner wheel slides in proportion to slip, and then as much more as the outer one carries.
    """
    slow, fast = (1.0 - turning) * wheels.stiff_out, (1.0 + turning) * wheels.stiff_in
    at_rest = 4.0 * turning * wheels.stiff_in * wheels.stiff_out - difference * (slow + fast)
    sliding = 2.0 * wheels.left_in - difference
    if slow <= fast:
        # Loads are alike, and the demand stays as it is at no throttle until the inner wheel slides.
        return sliding if at_rest > 0.0 else 0.0
    return min(sliding, at_rest / (slow - fast))


def reaches(lock: Lock, held: float) -> float:
    """Torque from which a lock holds so much, N·m; far beyond any where it never does."""
    if lock.preload >= held:
        return 0.0
    if lock.ramp <= 0.0:
        return NEVER
    return (held - lock.preload) / lock.ramp if lock.adds else held / lock.ramp


NEVER = 1e9


def drive_bands(wheels: Wheels, turning: float, lock: Lock, even: float, top: float) -> list[Band]:
    """The zones from no throttle up to `top`, N·m, in order; `even` is a difference too small to feel, N·m."""
    most = most_of(lock, wheels)
    felt = reaches(lock, even)
    nose = max(felt, min(most, torque_for(wheels, turning, even)))
    tail = max(nose, felt, min(most, torque_for(wheels, turning, -even)))
    rows = [
        Band(EVEN, 1, 0.0, min(felt, most)),
        Band(NOSE_OUT, 2, felt, min(nose, most)),
        Band(EVEN, 3, nose, min(tail, most)),
        Band(TAIL_OUT, 4, tail, most),
    ]
    if lets_go_together(wheels, most):
        rows.append(Band(BOTH_GO, 5, most, top))
    else:
        gone = gone_before(wheels, lock, most, top)
        rows += [Band(INNER_SPINS, 6, most, gone), Band(SLIDES, 7, gone, top)]
    return within(rows, 0.0, top)


def gone_before(wheels: Wheels, lock: Lock, most: float, end: float) -> float:
    """Torque at which the axle leaves its line, N·m, or `end` where that is beyond it or never."""
    gone = gone_at(lock, wheels) if most < end else None
    return end if gone is None else min(gone, end)


def coast_bands(wheels: Wheels, turning: float, lock: Lock, even: float, foot: float) -> list[Band]:
    """The zones from `foot`, N·m, below 0, up to no throttle.

    As long as both wheels grip the difference only ever pushes straight on.
    """
    most = most_of(lock, wheels)
    # On engine braking the demand rises with it, or stays as it is at no throttle.
    slow, fast = (1.0 - turning) * wheels.stiff_out, (1.0 + turning) * wheels.stiff_in
    lacking = even * (slow + fast) - 4.0 * turning * wheels.stiff_in * wheels.stiff_out
    # Near the limit the inner wheel slides before the difference can be felt.
    demand = max(0.0, even - 2.0 * wheels.left_in)
    if lacking > 0.0:
        later = 2.0 * wheels.left_in + even
        if slow > fast:
            later = min(later, lacking / (slow - fast))
        demand = max(demand, later)
    felt = min(most, max(reaches(lock, even), demand))
    # Once the outer wheel is at its limit the inner one takes the rest, until they drag alike.
    faded = max(felt, min(most, 2.0 * wheels.left_out - even))
    if lets_go_together(wheels, most):
        rows = [Band(BOTH_GO, -5, foot, -most)]
    else:
        gone = gone_before(wheels, lock, most, -foot)
        rows = [Band(SLIDES, -6, foot, -gone), Band(INNER_DRAGS, -4, -gone, -most)]
    rows += [
        Band(EVEN, -3, -most, -faded),
        Band(NOSE_OUT, -2, -faded, -felt),
        Band(EVEN, -1, -felt, 0.0),
    ]
    return within(rows, foot, 0.0)


def within(rows: list[Band], low: float, high: float) -> list[Band]:
    """Bands cut to a stretch; those of which nothing is left are left out."""
    cut = [Band(row.zone, row.slot, max(low, row.low), min(high, row.high)) for row in rows]
    return [row for row in cut if row.high > row.low]


def bands_at(corner: Corner, wheels: Wheels, locks: Locks, even: float, ends: tuple[float, float]) -> list[Band]:
    """All zones at one lateral acceleration, from engine braking up; `ends` are the least and the most torque, N·m."""
    if wheels.use >= 1.0:
        return [Band(SLIDES, 0, ends[0], ends[1])]
    return coast_bands(wheels, corner.turning, locks.coast, even, ends[0]) + drive_bands(
        wheels, corner.turning, locks.drive, even, ends[1]
    )


def zone_at(bands: list[Band], torque: float) -> str:
    """The zone in which a torque lies."""
    for row in bands:
        if torque <= row.high:
            # Without torque no wheel is dragged, also where the slightest braking would do it.
            return EVEN if torque == 0.0 and row.zone == INNER_DRAGS else row.zone
    return bands[-1].zone


def depth_of(corner: Corner, wheels: Wheels, locks: Locks, band: Band, full: float) -> float:
    """How strongly a zone turns the car, from 0 to 1: the most yaw in it over `full`, N·m of yaw."""
    if band.zone not in (NOSE_OUT, TAIL_OUT):
        return 0.0
    most = 0.0
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        torque = band.low + share * (band.high - band.low)
        difference = clipped(solid_difference(wheels, corner.turning, torque), held_at(locks, torque))
        most = max(most, abs(yaw_moment(corner.axle, difference)))
    return min(1.0, most / full)


def as_lists(columns: list[list[tuple[Band, float]]]) -> list[dict[str, Any]]:
    """Zones as drawings take them: for each its edges and depth over all columns, None where it is not there."""
    kinds = {(band.slot, band.zone) for column in columns for band, _ in column}
    rows = []
    for slot, zone in sorted(kinds):
        found: list[Any] = []
        for column in columns:
            same = [(band.low, band.high, depth) for band, depth in column if (band.slot, band.zone) == (slot, zone)]
            found.append(same[0] if same else (None, None, None))
        rows.append(
            {
                "zone": zone,
                "from_nm": [row[0] for row in found],
                "to_nm": [row[1] for row in found],
                "depth": [row[2] for row in found],
            }
        )
    return rows
