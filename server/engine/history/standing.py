"""What stands: everything that a screen shows of a unit, worked out from its entries in this one place.

Entries are never changed. A correction names the entry that it replaces; both stay, and the newest counts.
"""

from typing import Any

from ..records.kinds import KINDS
from ..request.dates import day_number, instant
from ..request.fields import Checked, Day, Group, Listing, is_empty
from .built_now import built_now
from .due import due_list, held_by_vice, left_open
from .gauged import gauged_of, newest_rows, parts_now, spring_checks_of
from .judged_again import build_of, in_hindsight, judge_again
from .ramp_findings import ramp_findings
from .stale import stale_plates
from .timeline import by_arrival, by_device_time, corrected_time, live_entries, of_kind, replaced_by, since
from .verdict_now import limits_of, verdict_now

# Kinds of entry for which somebody looked at the unit itself.
LOOKS = [name for name, kind in KINDS.items() if kind.is_look]


FORM = Group(
    {
        "entries": Listing(
            Checked("an entry of the log"), 0, 100000, "all entries of one unit, in any order", nouns="entries"
        ),
        "today": Day("the day to judge by what is due", default=None),
    },
    "what stands for one unit",
)


def row_of(entry: dict[str, Any]) -> dict[str, Any]:
    """What a screen needs of a judged entry."""
    shown = entry["shown"]
    return {
        "id": entry["id"],
        "at": entry["at"],
        "who": entry.get("who", ""),
        "verdict": shown.get("verdict"),
        "reason": shown.get("reason", ""),
        "value_nm": shown.get("value_nm"),
        "expanded_nm": shown.get("expanded_nm"),
        "guard_nm": shown.get("guard_nm"),
        "low_nm": shown.get("low_nm"),
        "high_nm": shown.get("high_nm"),
        "findings": shown.get("findings", []),
        "agrees": entry.get("agrees"),
    }


def contested(definitions: list[dict[str, Any]]) -> list[str]:
    """Definitions that another device overwrote without having seen them.

    A definition that was written before the log had received its predecessor, on another device, cannot have known it.
    """
    overwritten = []
    for earlier, later in zip(definitions, definitions[1:]):
        arrived = earlier.get("received")
        if arrived and earlier.get("device") != later.get("device") and corrected_time(later) < instant(arrived):
            overwritten.append(earlier["id"])
    return overwritten


def as_given(unit: dict[str, Any]) -> dict[str, Any]:
    """What `unit` answered for a definition's entry, without the gap at the first thread where none was given.

    Engines up to 1.4 wrote the usual gap into the definition, as if somebody had measured it.
    """
    shown: dict[str, Any] = unit["shown"]
    typed, cover = unit["body"].get("cover") or {}, shown["checked"].get("cover")
    if not cover or not is_empty(typed.get("start_mm")):
        return shown
    cover, checked, answer = cover.copy(), shown["checked"].copy(), shown.copy()
    cover["start_mm"], checked["cover"], answer["checked"] = None, cover, checked
    return answer


def built_of(
    unit: dict[str, Any],
    rows: dict[str, Any],
    fitted: dict[str, dict[str, Any]],
    spring: dict[str, Any] | None,
    torque: dict[str, Any] | None,
) -> dict[str, Any] | None:
    """The unit as it is built now, from its definition's entry and what was measured of this build."""
    if unit["shown"].get("checked") is None:
        return None
    return built_now(as_given(unit), rows, fitted, spring, torque)


def trend_of(live: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The torque of every check that has one, by time."""
    rows = [row_of(entry) for entry in of_kind(in_hindsight(live), "torque_check")]
    names = ("id", "at", "value_nm", "guard_nm", "verdict")
    return [{name: row[name] for name in names} for row in rows if row["value_nm"] is not None]


def standing(request: dict[str, Any]) -> dict[str, Any]:
    """What stands for a unit.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; entries of one unit in any order, delivered or not.

    Returns
    -------
    dict
        unit_id; unit (its definition that stands), derived (its figures) and limits (the pairs that a torque check may
        be judged against: order and service; None where there is no definition in SI); verdict and reason, the worst of
        the last torque check, of every plate's, spring's and ring's last measurement and of the refit, each since the
        rebuild that concerns it, and of ramps that lock solid on drive, but None instead of go while it is in parts,
        before its torque was read, or where the limits are others now; looked_at; torque; by_slot (every measured
        plate); parts (springs, rings, refit); fitted (slot -> thickness as the last rebuilds fitted it); rebuilt (when,
        and by which entry); rebuilds (when each was done); due; trend (all torque checks that stand, by time); order
        (ids of all entries, newest first); newest (by kind, id of the newest that stands); findings of the unit itself
        (see `ramp_findings`); built (see `built_now`; None where there is no definition to build by); replaced (id ->
        id of its correction); contested (definitions that another device overwrote without having seen them); disagrees
        (entries on which the workshop's verdict differs); judged_again (where an older engine judged the last torque
        check, and this one differs: see `judge_again`).
    """
    entries = request["entries"]
    live = live_entries(entries)
    definitions = sorted(of_kind(live, "unit"), key=by_arrival)
    unit = definitions[-1] if definitions else None
    rebuilds = of_kind(live, "rebuild")
    rebuilt = rebuilds[-1] if rebuilds else None

    rows, rings, fitted = parts_now(live, rebuilds)
    slots = [item["slot"] for item in unit["body"]["chain"]] if unit else sorted(rows)
    measured = [rows[slot] for slot in slots if slot in rows]

    checks = since(of_kind(live, "torque_check"), rebuilt)
    torque = row_of(checks[-1]) if checks else None
    again = judge_again(torque, checks[-1], build_of(unit)) if torque else None
    # A torque that this engine cannot work out is shown as it was, and nothing is worked out from it.
    measured_torque = None if again and again["value_nm"] is None else torque
    # New plates do not mend a worn spring or ring: its last measurement counts until it is replaced or measured again.
    spring_checks = spring_checks_of(live)
    springs = newest_rows(spring_checks, "springs", "name")
    gauged = gauged_of(unit["body"]["chain"], spring_checks) if unit else None
    others = [measurements[slot] for measurements in (springs, rings) for slot in sorted(measurements)]
    refits = [row_of(entry) for entry in since(of_kind(live, "refit"), rebuilt)]

    built = built_of(unit, rows, fitted, gauged, measured_torque) if unit else None
    solid = ramp_findings(built)
    judged = ([torque] if torque else []) + measured + others + refits[-1:]
    judged += [{"verdict": row["verdict"], "reason": row["text"]} for row in solid if row["verdict"] is not None]
    stripped = left_open(live)
    verdict, reason = verdict_now(judged, torque, unit, rebuilt, stripped)
    service = (unit["shown"].get("checked") or {}).get("service", {}) if unit else {}
    stale = stale_plates(live, measured, rebuilt, service.get("plates_every_days"), request["today"])
    if built is not None:
        built["stale_text"] = stale
    looks = [entry for entry in live if entry["kind"] in LOOKS]
    return {
        "unit_id": entries[0]["unit"] if entries else None,
        "unit": unit["body"] if unit else None,
        "derived": unit["shown"] if unit else None,
        "limits": limits_of(unit["shown"]["checked"]) if unit and unit["shown"].get("checked") else None,
        "verdict": verdict,
        "reason": reason,
        "looked_at": looks[-1]["at"] if looks else None,
        "torque": torque,
        "by_slot": {row["slot"]: row for row in measured},
        "parts": others + refits[-1:],
        "fitted": {slot: part["mm"] for slot, part in fitted.items()},
        "rebuilt": {"at": rebuilt["at"], "id": rebuilt["id"]} if rebuilt else None,
        "rebuilds": [entry["at"] for entry in rebuilds],
        "due": due_list(held_by_vice(live), torque, measured, rebuilt, stripped, stale),
        "trend": trend_of(live),
        "order": [entry["id"] for entry in sorted(entries, key=by_device_time, reverse=True)],
        "newest": {entry["kind"]: entry["id"] for entry in live},
        "built": built,
        "findings": solid,
        "replaced": replaced_by(entries),
        "contested": contested(definitions),
        "disagrees": [entry["id"] for entry in live if entry.get("agrees") is False],
        "judged_again": again,
    }


def kit_standing(request: dict[str, Any]) -> dict[str, Any]:
    """The kit and the shelf that stand: every tool by its newest entry, those no longer in use left out.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; the entries that belong to no unit.

    Returns
    -------
    dict
        tools, by name: id (of the entry that brought it in), tool (wrench, scale or micrometer), name, body, overdue
        (whether its calibration had run out by today); shelf, the pieces in stock by the last count, in SI,
        shelf_count, how many these are, and shelf_entry, the id of that count, or None.
    """
    entries = sorted(live_entries(request["entries"]), key=by_arrival)
    tools = {}
    shelf: list[dict[str, Any]] = []
    counted = None
    for entry in entries:
        if entry["kind"] == "shelf":
            shelf, counted = entry["shown"]["pieces"], entry["id"]
        elif entry["kind"] == "kit":
            body = entry["body"]
            name = body.get("id") or entry.get("replaces") or entry["id"]
            figures = body[body["tool"]]
            tools[name] = {
                "id": name,
                "tool": body["tool"],
                "name": figures["name"],
                "body": body,
                "overdue": overdue(figures.get("calibration_due"), request["today"]),
            }
    in_use = [tool for tool in tools.values() if tool["body"].get("gone") != "yes"]
    return {
        "tools": sorted(in_use, key=lambda tool: (tool["name"], tool["id"])),
        "shelf": shelf,
        "shelf_count": sum(piece.get("count", 1) for piece in shelf),
        "shelf_entry": counted,
    }


def overdue(due: str | None, today: str | None) -> bool:
    """Whether the last day on which a calibration holds is past; without a day to go by, it is not.

    >>> overdue("2026-11-25", "2026-11-25"), overdue("2026-11-25", "2026-11-26"), overdue("", "2026-11-26")
    (False, True, False)
    """
    return bool(due) and today is not None and day_number(today) > day_number(due or "")
