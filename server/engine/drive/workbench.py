"""Candidates side by side: lock on drive and on coast as ranges, what the trade calls them, and what to mind."""

from typing import Any

from ..request.fields import Group, Number
from ..request.units import say
from ..request.written_in import with_written_in
from .candidates import TRIES, Candidate, all_candidates, known_of
from .known_unit import BUILT_NOW
from .lock import Lock, lock_at
from .lock_range import Cause, ends_of, range_of
from .ramps import figures_of_side, from_preload, ramp_concerns

FORM = Group(
    with_written_in(
        {
            "built": BUILT_NOW,
            "tries": TRIES,
            "at_nm": Number(1, 50000, "nm", "torque into the case at which the torque held is told", default=500.0),
        },
        "write_in",
    ),
    "ways to build a unit, side by side",
)

# Below this share of the other flank a ramp does as good as nothing, and above that one both do as good as the same.
# Common practice, no source.
NOTHING, THE_SAME = 0.1, 0.85

TRADE = {
    "one_way": "one-way",
    "one_and_a_half_way": "one-and-a-half-way",
    "two_way": "two-way",
    "more_on_coast": "more on coast than on drive",
    "preload_alone": "preload alone",
}
MEANS = {
    "one_way": "the ramps lock on drive and hardly on coast",
    "one_and_a_half_way": "the ramps lock less on coast than on drive",
    "two_way": "the ramps lock alike on drive and on coast",
    "more_on_coast": "the trade has no name for it; look whether the rings are meant to sit this way",
    "preload_alone": "the ramps press on neither flank",
}


def trade_name(drive: float, coast: float) -> str:
    """What the trade calls ramps by their locking values on drive and on coast: common practice, no source.

    >>> trade_name(0.4, 0.0), trade_name(0.4, 0.2), trade_name(0.4, 0.4), trade_name(0.1, 0.4), trade_name(0.0, 0.0)
    ('one_way', 'one_and_a_half_way', 'two_way', 'more_on_coast', 'preload_alone')
    """
    if max(drive, coast) <= 0.0:
        return "preload_alone"
    if drive < THE_SAME * coast:
        return "more_on_coast"
    if coast <= NOTHING * drive:
        return "one_way"
    return "two_way" if coast >= THE_SAME * drive else "one_and_a_half_way"


def held_row(lock: Lock, causes: list[Cause], torque: float, unit: str) -> dict[str, Any]:
    """The difference that the packs hold at a torque, with its range."""
    low, high = ends_of(lambda possible: lock_at(possible, torque), lock, causes)
    held = lock_at(lock, torque)
    return {
        "held_nm": held,
        "held_low_nm": low,
        "held_high_nm": high,
        "held": f"{say(held, 'nm', unit)} ({say(low, 'nm', unit)} to {say(high, 'nm', unit)})",
    }


def row_of(chosen: Candidate, at: float, unit: str) -> dict[str, Any]:
    """One candidate as results hold it."""
    sides = {}
    for way, lock, causes, angle in (
        ("drive", chosen.drive, chosen.drive_causes, chosen.drive_deg),
        ("coast", chosen.coast, chosen.coast_causes, chosen.coast_deg),
    ):
        sides[way] = figures_of_side(lock, causes, angle, unit)
        sides[way].update(held_row(lock, causes, at, unit))
    low, high = range_of(from_preload, chosen.drive, chosen.drive_causes)
    trade = trade_name(chosen.drive.ramp, chosen.coast.ramp)
    return {
        "kind": chosen.kind,
        "name": chosen.name,
        "drive": sides["drive"],
        "coast": sides["coast"],
        "trade": trade,
        "trade_text": f"{TRADE[trade]}: {MEANS[trade]}",
        "breakaway_nm": chosen.breakaway,
        "preload_lock_nm": chosen.drive.preload,
        "preload_lock_low_nm": low,
        "preload_lock_high_nm": high,
        "warnings": ramp_concerns(sides, min(chosen.drive_deg, chosen.coast_deg)),
    }


def candidates(request: dict[str, Any]) -> dict[str, Any]:
    """Ways to build a unit, side by side.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        candidates, a row each: kind (as_built, turned_over, pair of the unit's own, or tried), name, drive and coast
        (locking value and bias ratio with their ranges, where the ramps take over, how far it turns as one, the torque
        held at `at_nm`), trade and trade_text (what the trade calls it: common practice, no source), breakaway_nm,
        preload_lock_nm with its range, warnings; text.

    Raises
    ------
    BadInput
        A unit of which too little is known for a lock, or a pair that it does not have.
    """
    known, unit = known_of(request["built"]), request["write_in"]
    rows = [row_of(chosen, request["at_nm"], unit) for chosen in all_candidates(known, request["tries"])]
    return {
        "candidates": rows,
        "text": f"Torque held is given at {say(request['at_nm'], 'nm', unit)} into the case. Friction is never known "
        "exactly, so each figure has its range, which holds 19 times in 20.",
    }
