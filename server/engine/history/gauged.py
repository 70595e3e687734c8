"""What was measured of each part last: rows of the newest checks, and the height of a unit's discs."""

from typing import Any

from ..records.marked_exchange import are_exchanged, is_exchanged
from ..unit.stack import RING, SPRING
from .later import Look, badness, stands
from .timeline import corrected_time, of_kind, since


def row_of_part(row: dict[str, Any], name: str, entry: dict[str, Any]) -> dict[str, Any]:
    """A part's row in a table of a measurement's result, as what stands holds it."""
    return {
        "slot": name,
        "verdict": row["verdict"],
        "reason": row["reason"],
        "lowest_mm": row.get("lowest_mm"),
        "mean_mm": row.get("mean_mm"),
        "minimum_mm": row.get("minimum_mm"),
        "guard_mm": row.get("guard_mm"),
        "at": entry["at"],
        "corrected_at": corrected_time(entry),
        "id": entry["id"],
    }


def newest_rows(
    entries: list[dict[str, Any]],
    table: str,
    key: str,
    renewed: dict[str, list[dict[str, Any]]] | None = None,
    whys: list[str] | None = None,
) -> dict[str, Any]:
    """The row of every part that stands, named by `key`, in a table of results.

    Parameters
    ----------
    entries : list of dict
        Measurements in order of time.
    table, key : str
        The table, and its column with the part's name.
    renewed : dict, optional
        For each part the rebuilds that fitted another, in order of time: what came out says nothing of what is in.
    whys : list of str, optional
        Gets a sentence for each row that stands because nobody can tell which was last.
    """
    measured: dict[str, list[tuple[dict[str, Any], dict[str, Any]]]] = {}
    for entry in entries:
        for row in entry["shown"].get(table, []):
            measured.setdefault(row[key], []).append((entry, row))
    rows = {}
    # MicroPython's dicts keep no order, and the sentences have one.
    for name in sorted(measured):
        looks = [Look(entry, row["verdict"]) for entry, row in measured[name]]
        place, reasons = stands(looks, (renewed or {}).get(name, []))
        if whys is not None:
            whys += [why for why in reasons if why not in whys]
        if place is not None:
            entry, row = measured[name][place]
            rows[name] = row_of_part(row, name, entry)
    return rows


def left_of_refits(
    refits: list[dict[str, Any]], last: dict[str, Any], rebuilds: list[dict[str, Any]]
) -> list[dict[str, Any]]:
    """What refits since the last rebuild found bad, and none looked at again: whoever reads backlash tightens no screw.

    Parameters
    ----------
    refits, rebuilds : list of dict
        In order of time.
    last : dict
        The refit that stands, which speaks for what it looked at.
    """
    names = {check["name"] for entry in refits for check in entry["shown"].get("checks", [])}
    looked = [check["name"] for check in last["shown"].get("checks", [])]
    rows = newest_rows(refits, "checks", "name", dict.fromkeys(sorted(names), rebuilds))
    left = [rows[name] for name in sorted(rows) if name not in looked and badness(rows[name]["verdict"])]
    for row in left:
        row["reason"] += f" Found on {row['at'][:10]}, and not looked at again since."
    return left


def parts_now(
    live: list[dict[str, Any]], rebuilds: list[dict[str, Any]], whys: list[str] | None = None
) -> tuple[dict[str, Any], dict[str, Any], dict[str, dict[str, Any]]]:
    """What is known of the parts in a unit: newest rows of plates, of rings and pins, and pieces fitted, by slot.

    Parameters
    ----------
    live, rebuilds : list of dict
        Entries that stand and the rebuilds among them, in order of time.
    whys : list of str, optional
        As for `newest_rows`.
    """
    fitted: dict[str, dict[str, Any]] = {}
    renewed: dict[str, list[dict[str, Any]]] = {}
    for entry in rebuilds:
        for part in entry["shown"]["fitted"]:
            fitted[part["slot"]] = part
            renewed.setdefault(part["slot"], []).append(entry)
    checks = of_kind(live, "plate_check")
    part_by_slot = {row["slot"]: row.get("part") for check in checks for row in check["shown"].get("plates", [])}
    rows = newest_rows(checks, "plates", "slot", with_marked(renewed, rebuilds, part_by_slot), whys)
    rings: dict[str, Any] = {}
    checks = of_kind(live, "ring_check")
    for table, part in (("rings", RING), ("pins", "cross_pins")):
        part_by_name = {row["name"]: part for check in checks for row in check["shown"].get(table, [])}
        rings.update(newest_rows(checks, table, "name", with_marked(renewed, rebuilds, part_by_name), whys))
    return rows, rings, fitted


def with_marked(
    renewed: dict[str, list[dict[str, Any]]], rebuilds: list[dict[str, Any]], part_of: dict[str, str]
) -> dict[str, list[dict[str, Any]]]:
    """The rebuilds that fitted another part, by its name, with those that say so of a marked one.

    Parameters
    ----------
    renewed : dict
        As for `newest_rows`.
    rebuilds : list of dict
        In order of time.
    part_of : dict
        What each measured name is: a key of `MARKED`.
    """
    both = renewed.copy()
    for name in part_of:
        part = part_of[name]
        alone = len([other for other in part_of if part_of[other] == part]) == 1
        others = [entry["id"] for entry in renewed.get(name, [])]
        both[name] = [
            entry for entry in rebuilds if entry["id"] in others or is_exchanged(entry["body"], part, name, alone)
        ]
    return both


def has_other_spring(body: dict[str, Any]) -> bool:
    """Whether a rebuild fitted another spring, as far as it says."""
    if are_exchanged(body, SPRING):
        return True
    answer = body.get("other_spring")
    return bool(body.get("spring")) if answer is None else bool(answer)


def spring_checks_of(live: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Those checks of springs that are of the spring in the unit, from entries in order of time."""
    sprung = sprung_in(live)
    return since(of_kind(live, "spring_check"), sprung[-1] if sprung else None)


def sprung_in(live: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The rebuilds that fitted another spring, in order of time."""
    return [entry for entry in of_kind(live, "rebuild") if has_other_spring(entry["body"])]


def springs_now(live: list[dict[str, Any]], whys: list[str]) -> dict[str, Any]:
    """The row of every disc that stands: new plates do not mend a worn spring; it counts until it is replaced."""
    checks, sprung = of_kind(live, "spring_check"), sprung_in(live)
    names = {row["name"] for check in checks for row in check["shown"].get("springs", [])}
    # A rebuild that names marked springs exchanged those alone.
    renewed = {
        name: [
            entry
            for entry in sprung
            if not are_exchanged(entry["body"], SPRING) or is_exchanged(entry["body"], SPRING, name, len(names) == 1)
        ]
        for name in names
    }
    return newest_rows(checks, "springs", "name", renewed, whys)


def gauged_of(chain: list[dict[str, Any]], checks: list[dict[str, Any]]) -> dict[str, Any] | None:
    """The height of a unit's discs as they were gauged last.

    Parameters
    ----------
    chain : list of dict
        The definition's places.
    checks : list of dict
        Of the spring that is in the unit, in order of time.

    Returns
    -------
    dict or None
        mean_mm, the mean of the discs in the unit's places, or of the newest check's where none has a place's name;
        guard_mm, the widest of their guard bands; ids of their checks. None where none was gauged.

    Notes
    -----
    Places share the travel, so that the stack's free length follows their sum whatever each of them is.
    """
    springs = newest_rows(checks, "springs", "name")
    in_places = [springs[item["slot"]] for item in chain if item["part"] == SPRING and item["slot"] in springs]
    rows = in_places or [row for row in springs.values() if row["id"] == checks[-1]["id"]]
    rows = [row for row in rows if row["mean_mm"] is not None]
    if not rows:
        return None
    return {
        "mean_mm": sum(row["mean_mm"] for row in rows) / len(rows),
        "guard_mm": max(row["guard_mm"] or 0.0 for row in rows),
        "ids": [row["id"] for row in rows],
    }
