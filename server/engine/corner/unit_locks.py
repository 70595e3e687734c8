"""The lock on drive and on engine braking of a unit as it is built, with what may be off of it."""

from typing import Any, NamedTuple

from ..drive.candidates import Candidate
from ..drive.known_unit import BY_HAND, known_unit, lock_of, ramps_in_use
from ..drive.lock_range import Cause, ends_of
from ..unit.marks import marked_concerns
from .difference import Locks

UnitLocks = NamedTuple(
    "UnitLocks",
    [
        ("locks", Locks),
        # What may be off on drive and on engine braking; nothing where the figures were given by hand.
        ("drive_causes", Any),
        ("coast_causes", Any),
        # What to know of the unit's figures.
        ("concerns", Any),
    ],
)


def unit_locks(built: dict[str, Any], ramps: dict[str, Any] | None, fitted: str) -> UnitLocks:
    """Both locks of a unit.

    Parameters
    ----------
    built : dict
        The unit, checked by `BUILT_NOW`.
    ramps : dict or None
        Ramps to try in place of its own.
    fitted : str
        A key of `FITTED`; turned over, the ramps of drive and coast change places.

    Raises
    ------
    BadInput
        A unit of which too little is known for a lock.
    """
    unit_alone: dict[str, Any] = dict.fromkeys(BY_HAND)
    unit_alone["built"] = built
    known = known_unit(unit_alone)
    used, path = ramps_in_use(known, ramps)
    ways = ("drive_deg", "coast_deg") if fitted == "as_is" else ("coast_deg", "drive_deg")
    (drive, _, drive_causes), (coast, _, coast_causes) = [lock_of(known, used, used[way], path) for way in ways]
    concerns = marked_concerns(known.definition, friction=known.measured is None)
    return UnitLocks(Locks(drive, coast), drive_causes, coast_causes, concerns)


def locks_of(candidate: Candidate) -> UnitLocks:
    """Both locks of a candidate."""
    return UnitLocks(Locks(candidate.drive, candidate.coast), candidate.drive_causes, candidate.coast_causes, [])


def range_on_drive(figure: Any, unit: UnitLocks) -> tuple[Any, Any]:
    """The least and the most, 95 %, of a figure that grows with the lock on drive; None for a lock given by hand."""
    causes: list[Cause] = unit.drive_causes
    return ends_of(figure, unit.locks.drive, causes) if causes else (None, None)
