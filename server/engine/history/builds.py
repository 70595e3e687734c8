"""Builds of a unit: how thick each was and what torque it had once its plates were bedded in, as the log has them."""

from typing import Any

from ..doubt.budget import TWO_SIDED_95
from ..doubt.finding import DOUBT
from ..part_checks.plates import PLATES
from ..request.units import say
from ..request.written_in import WrittenIn
from ..unit.stack import SPRING
from .built_now import definition_of, place_of
from .gauged import has_other_spring, parts_now
from .judged_again import in_hindsight
from .outings import is_fresh, outings_of
from .timeline import by_device_time, live_entries, newest_of, of_kind

NEVER_CHECKED = "no torque check after it"
ONLY_FRESH = "checked only fresh from the rebuild, before its plates bedded in"
FAULTY = "its checks cannot be trusted"
NOT_MEASURED = "its plates were not measured"
OTHER_SPRING = "another spring was fitted since"


def lives_of(live: list[dict[str, Any]]) -> list[tuple[dict[str, Any] | None, list[dict[str, Any]]]]:
    """Each rebuild with the entries from it on to the next; first None with those before any rebuild."""
    lives: list[tuple[dict[str, Any] | None, list[dict[str, Any]]]] = [(None, [])]
    for entry in live:
        if entry["kind"] == "rebuild":
            lives.append((entry, []))
        else:
            lives[-1][1].append(entry)
    return lives


def sprung_at(lives: list[tuple[dict[str, Any] | None, list[dict[str, Any]]]]) -> int:
    """Which of a unit's lives, as `lives_of` gives them, is the first with its present spring."""
    return max(
        [place for place, (rebuild, _) in enumerate(lives) if rebuild and has_other_spring(rebuild["body"])] + [0]
    )


def has_faults(check: dict[str, Any]) -> bool:
    """Whether a check has no torque, or findings for which its readings cannot be trusted."""
    shown = check["shown"]
    faults = [row for row in shown.get("findings", []) if row["weight"] == DOUBT]
    return shown.get("value_nm") is None or bool(faults)


def settled(checks: list[dict[str, Any]]) -> tuple[list[dict[str, Any]], str]:
    """Checks of a build that say what torque it has, in order of time, or why there are none.

    Those that say how many outings it had come before those that do not, which may have been taken fresh.
    """
    sound = [check for check in checks if not has_faults(check)]
    bedded = [check for check in sound if not is_fresh(check)]
    if not checks:
        return [], NEVER_CHECKED
    if not sound:
        return [], FAULTY
    if not bedded:
        return [], ONLY_FRESH
    return [check for check in bedded if outings_of(check) is not None] or bedded, ""


def solids_of(chain: list[dict[str, Any]], live: list[dict[str, Any]]) -> tuple[float, bool]:
    """Thickness of plates and rings, mm, as entries up to some time have them, and whether each plate was measured."""
    rows, _, fitted = parts_now(live, of_kind(live, "rebuild"))
    places = [
        place_of(item, rows.get(item["slot"]), fitted.get(item["slot"])) for item in chain if item["part"] != SPRING
    ]
    measured = all(place["at"] is not None for place in places if place["part"] in PLATES)
    return sum(place["mm"] for place in places), measured


def first_build(
    chain: list[dict[str, Any]], entries: list[dict[str, Any]]
) -> tuple[dict[str, Any] | None, float | None, str]:
    """Check, thickness and what speaks against it of a unit as it was taken in, from the entries before any rebuild.

    Its plates may have worn before it came, so they have to have been measured: the last check before that counts.
    """
    checks, why = settled(of_kind(entries, "torque_check"))
    if not checks:
        return None, None, why
    solids, measured = solids_of(chain, entries)
    if not measured:
        return checks[0], None, NOT_MEASURED
    last = of_kind(entries, "plate_check")[-1]
    before = [check for check in checks if by_device_time(check) <= by_device_time(last)]
    return (before or checks[:1])[-1], solids, ""


def builds_of(entries: list[dict[str, Any]], written_in: WrittenIn) -> list[dict[str, Any]]:
    """Every build of a unit, from all of its entries: see `builds_in`."""
    return builds_in(in_hindsight(live_entries(entries)), written_in)


def builds_in(live: list[dict[str, Any]], written_in: WrittenIn) -> list[dict[str, Any]]:
    """Every build of a unit.

    Parameters
    ----------
    live : list of dict
        The unit's entries that stand, by time, its checks as they are seen in hindsight.
    written_in : WrittenIn
        Units to write in.

    Returns
    -------
    list of dict
        In order of time: rebuilt_at, or None for the unit as it was taken in; check and at, id and time of the first
        settled check, or None; thickness_mm, of plates and rings when it was checked, and torque_nm, u_nm, or None;
        counts, whether it has both and the present spring; text, what it is or why it does not count.

    Notes
    -----
    The first check counts that was taken after the plates bedded in and has no fault. Checks before that read a torque
    that no plate will give again, and later ones a stack that has worn.
    """
    definition = definition_of(newest_of(live, "unit"))
    chain = definition["chain"] if definition else None
    if not chain:
        return []
    lives = lives_of(live)
    sprung = sprung_at(lives)
    places = {entry["id"]: place for place, entry in enumerate(live)}
    answer = []
    for place, (rebuild, between) in enumerate(lives):
        solids: float | None
        if rebuild is None:
            check, solids, why = first_build(chain, between)
            if check is None and why == NEVER_CHECKED:
                continue
        else:
            checks, why = settled(of_kind(between, "torque_check"))
            check, solids = (checks[0] if checks else None), None
            if check is not None:
                solids = solids_of(chain, live[: places[check["id"]] + 1])[0]
        if place < sprung:
            why = OTHER_SPRING
        answer.append(row_of(rebuild, check, solids, why, written_in))
    return answer


def row_of(
    rebuild: dict[str, Any] | None,
    check: dict[str, Any] | None,
    solids: float | None,
    why: str,
    written_in: WrittenIn,
) -> dict[str, Any]:
    """A build as results have it."""
    begins = "As added" if rebuild is None else f"Rebuilt on {rebuild['at'][:10]}"
    torque = None if check is None else check["shown"]["value_nm"]
    if not why and check is not None and solids is not None and torque is not None:
        outings = outings_of(check)
        after = "outings not noted" if outings is None else f"outings since: {outings}"
        size = say(solids, "mm", written_in.mm)
        text = f"{begins}: {size}, {say(torque, 'nm', written_in.nm)} in the check of {check['at'][:10]}, {after}."
    else:
        text = f"{begins}: does not count, {why}."
    return {
        "rebuilt_at": None if rebuild is None else rebuild["at"],
        "check": None if check is None else check["id"],
        "at": None if check is None else check["at"],
        "thickness_mm": solids,
        "torque_nm": torque,
        "u_nm": None if check is None else (check["shown"].get("expanded_nm") or 0.0) / TWO_SIDED_95,
        "counts": not why,
        "text": text,
    }


def figures_of(builds: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Those builds that count, as a line takes them."""
    names = ("thickness_mm", "torque_nm", "u_nm")
    return [{name: row[name] for name in names} for row in builds if row["counts"]]
