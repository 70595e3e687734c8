"""Ramps that lock solid: a finding of the unit itself, which no reading at the wheel shows.

A preload torque can be right while the ramps let no wheel turn apart under load, so what stands for a unit says it.
"""

from typing import Any

from ..doubt.verdict import REWORK
from ..drive.known_unit import known_unit, lock_of
from ..drive.lock import Lock
from ..drive.lock_range import range_of
from ..request.errors import BadInput
from ..request.rounded import fixed
from ..unit.friction import friction_warning
from ..unit.known import PRELOAD, missing
from ..unit.ramp_lock import knows_lock
from ..unit.ramp_lock import lock_of as lock_by_plates
from ..unit.sits import outputs_of

REMEDY = "fit ramps with a larger angle, which press less, or fewer sliding faces"


def locking(lock: Lock) -> float:
    """The locking value without the preload."""
    return lock.ramp


def sides_of(built: dict[str, Any]) -> dict[str, Any] | None:
    """Locking value of each flank as (likely, least, most); None for a unit whose ramps tell none.

    Friction is that of the last check, as on the ramps screen; where nobody can believe it, the definition's.
    """
    request = {"built": built, "unit": None, "crush_mm": None, "measured_nm": None}
    ramps = built["unit"]["ramps"]
    if missing(built["unit"], PRELOAD):
        return sides_of_plates(built["for_check"]) if knows_lock(built["for_check"]) else None
    try:
        known = known_unit(request)
        if built["measured"] is not None and friction_warning(known.mu):
            unread = built.copy()
            unread["measured"] = None
            request["built"] = unread
            known = known_unit(request)
        sides = {}
        for way in ("drive", "coast"):
            lock, _, causes = lock_of(known, ramps, ramps[way + "_deg"], "ramps")
            low, high = range_of(locking, lock, causes)
            sides[way] = (lock.ramp, low, high)
        return sides
    except BadInput:
        # A stack that is loose or contradicts itself is said elsewhere.
        return None


def sides_of_plates(build: dict[str, Any]) -> dict[str, Any]:
    """The same by faces, rubbing ring and ramps alone, where the spring is not known: preload is no part of it."""
    locks = {flank: lock_by_plates(build, flank) for flank in ("drive", "coast")}
    return {flank: (lock.value, lock.least, lock.most) for flank, lock in locks.items()}


def ramp_findings(built: dict[str, Any] | None) -> list[dict[str, Any]]:
    """Flanks that lock solid, each a finding.

    Parameters
    ----------
    built : dict or None
        The unit as it is built now, from `built_now`.

    Returns
    -------
    list of dict
        name, solid_drive or solid_coast; title, a few words for a list; text; verdict, or None.

    Notes
    -----
    The verdict is rework on drive: nothing is worn, but with the likely friction both wheels turn as one under power
    whatever grip they have, which pushes the car wide and loads shafts and joints. The likely value judges, not the
    end of its range: friction under load is not measured any better on a bench, so "measure again" would never end.
    On coast alone there is no verdict: some are built so on purpose, to hold the axle steady when braking, and the
    builder knows whether this one is. Common practice, no source.
    """
    if built is None or built["unit"].get("ramps") is None:
        return []
    sides = sides_of(built)
    findings = []
    for way in ("drive", "coast") if sides is not None else ():
        value, low, high = sides[way]  # type: ignore[index]
        if value < 1.0:
            continue
        text = (
            f"On {way} its ramps lock it solid whatever the preload: locking value {fixed(value, 2)}, and "
            f"{fixed(low, 2)} to {fixed(high, 2)} is possible. "
        )
        if way == "drive":
            outputs = outputs_of(built["unit"])
            text += f"Under power {outputs} turn as one. Check angle, faces and friction first; then {REMEDY}."
        else:
            text += f"Some are built so on purpose. If this one was not, {REMEDY}."
        findings.append(
            {
                "name": "solid_" + way,
                "title": f"Ramps lock solid on {way}",
                "text": text,
                "verdict": REWORK if way == "drive" else None,
            }
        )
    return findings
