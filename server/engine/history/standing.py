"""What stands: everything that a screen shows of a unit, worked out from its entries in this one place.

Entries are never changed. A correction names the entry that it replaces; both stay, and the newest counts.
"""

from typing import Any, NamedTuple

from ..records.kinds import KINDS
from ..request.dates import day_number
from ..request.fields import Checked, Choice, Day, Group, Listing
from ..request.sorting import in_order
from ..request.units import unit_labels
from ..request.written_in import WrittenIn
from ..unit.definition import contradiction
from ..unit.known import lacks_of, opens_of
from ..unit.marked_parts import name_of
from ..unit.sits import where_it_sits
from .bedding import alike, losses_of
from .built_now import built_now, definition_of
from .clock_words import clock_notes
from .customers import customers_of
from .due import due_list, held_by_vice, left_open
from .felt_findings import felt_findings
from .gauged import gauged_of, left_of_refits, parts_now, spring_checks_of, springs_now
from .inspected import inspected_now, judged_of, judged_parts
from .job import CHECK as CHECK_STEP
from .job import INSPECT, PLAN, PLATES, REFIT, RINGS, SPRINGS, check_start, job_of
from .judged_again import in_hindsight, judge_again
from .later import looks_of, stands
from .limits_today import plates_today
from .marked_stays import brought_now, stays_of
from .order import heads_of, placed
from .outings import is_fresh, outings_of
from .patterns import patterns_of
from .ramp_findings import ramp_findings
from .shelf_moves import counts_of, shelf_moves
from .shelf_stock import counted_pieces
from .since_rebuild import outings_left
from .spring_findings import builds_disagree
from .stale import oldest_of, plates_due, stale_plates
from .timeline import by_arrival, by_device_time, contested, live_entries, of_kind, replaced_by
from .trials import felt_now, trials_now
from .upkeep import upkeep_of
from .used import used_lives
from .used_now import last_outing, run_since, taken_in, used_now
from .verdict_now import limits_of, outdated, said_in, verdict_now

# Kinds of entry for which somebody looked at the unit itself.
LOOKS = [name for name, kind in KINDS.items() if kind.is_look]

# The step that measures a marked part anew; that of other parts is their inspection.
STEP_OF_PART = {"spring": SPRINGS, "ring": RINGS, "friction": PLATES, "separator": PLATES}

FORM = Group(
    {
        "entries": Listing(
            Checked("an entry of the log"), 0, 100000, "all entries of one unit, in any order", nouns="entries"
        ),
        "today": Day("the day to judge by what is due", default=None),
        "write_in": Choice(
            unit_labels("nm"),
            "unit of torque of sentences; the reason is as it was said at the check if empty",
            default=None,
        ),
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


def trend_of(seen: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The torque of every check that has one, by time, from entries as they are seen in hindsight."""
    names = ("id", "at", "value_nm", "guard_nm", "verdict")
    trend = []
    for check in of_kind(seen, "torque_check"):
        row = row_of(check)
        if row["value_nm"] is not None:
            point = {name: row[name] for name in names}
            point["fresh"], point["outings"] = is_fresh(check), outings_of(check)
            trend.append(point)
    return trend


Parts = NamedTuple(
    "Parts",
    [
        # Every measured plate by its slot, and those that the definition has, in its order.
        ("rows", "dict[str, dict[str, Any]]"),
        ("plates", "list[dict[str, Any]]"),
        # Springs and rings as last measured, and the last refit.
        ("springs", "list[dict[str, Any]]"),
        ("rings", "list[dict[str, Any]]"),
        ("refit", "list[dict[str, Any]]"),
        ("fitted", "dict[str, dict[str, Any]]"),
        # What was gauged of the spring.
        ("spring", "dict[str, Any] | None"),
        # Features of other parts: see `inspected_now`.
        ("features", "list[dict[str, Any]]"),
    ],
)


def last_since(
    live: list[dict[str, Any]], kind: str, rebuilds: list[dict[str, Any]], whys: list[str]
) -> dict[str, Any] | None:
    """The entry of a kind that stands since the last rebuild; `whys` gets sentences where nobody can tell which."""
    looks = looks_of(of_kind(live, kind))
    place, reasons = stands(looks, rebuilds)
    whys += reasons
    return looks[place].entry if place is not None else None


def chain_of(unit: dict[str, Any] | None) -> list[dict[str, Any]]:
    """The places of a unit's definition, as they were typed; none where they are not known."""
    return (unit["body"].get("chain") or []) if unit else []


def parts_measured(
    live: list[dict[str, Any]],
    unit: dict[str, Any] | None,
    defined: dict[str, Any] | None,
    rebuilds: list[dict[str, Any]],
    whys: list[str],
) -> Parts:
    """The last measurement of every part, each since the rebuild that concerns it; `whys` as for `last_since`."""
    rows, rings, fitted = parts_now(live, rebuilds, whys)
    rows = plates_today(rows, of_kind(live, "plate_check"), defined, fitted)
    chain = chain_of(unit)
    slots = [item["slot"] for item in chain] or sorted(rows)
    springs = springs_now(live, whys)
    refit = last_since(live, "refit", rebuilds, whys)
    return Parts(
        rows,
        [rows[slot] for slot in slots if slot in rows],
        [springs[slot] for slot in sorted(springs)],
        [rings[slot] for slot in sorted(rings)],
        [row_of(refit)] + left_of_refits(of_kind(live, "refit"), refit, rebuilds) if refit else [],
        fitted,
        gauged_of(chain, spring_checks_of(live)) if unit else None,
        inspected_now(live, defined, whys),
    )


def torque_now(
    live: list[dict[str, Any]], unit: dict[str, Any] | None, rebuilds: list[dict[str, Any]], whys: list[str]
) -> tuple[dict[str, Any] | None, dict[str, Any] | None, bool]:
    """The last torque check since the rebuild, this engine's verdict where it differs, and whether limits are others.

    The limits are those of the definition `unit` against those that the check was judged by: see `outdated`.
    """
    check = last_since(live, "torque_check", rebuilds, whys)
    if check is None:
        return None, None, False
    torque = row_of(check)
    return torque, judge_again(torque, check, unit), unit is not None and outdated(check, unit)


def definition_shown(
    unit: dict[str, Any] | None,
    defined: dict[str, Any] | None,
    limits: dict[str, Any] | None,
    built: dict[str, Any] | None,
) -> dict[str, Any]:
    """The definition that stands, as its entry has it and in SI, with its figures and limits, and what it lacks."""
    measured = built is not None and built["measured"] is not None
    return {
        "unit": unit["body"] if unit else None,
        "derived": unit["shown"] if unit else None,
        "limits": limits,
        "opens": opens_of(defined, measured) if defined else [],
        "lacks": lacks_of(defined, measured) if defined else [],
    }


def of_the_log(
    entries: list[dict[str, Any]], live: list[dict[str, Any]], definitions: list[dict[str, Any]]
) -> dict[str, Any]:
    """What is known of a unit's entries themselves: which is newest, which corrects which, and where they disagree."""
    looks = [entry for entry in live if entry["kind"] in LOOKS]
    return {
        "unit_id": entries[0]["unit"] if entries else None,
        "looked_at": looks[-1]["at"] if looks else None,
        "looked_by": looks[-1].get("who", "") if looks else "",
        "order": [entry["id"] for entry in in_order(entries, by_device_time, reverse=True)],
        "knows": heads_of(entries),
        "clocks": clock_notes(entries),
        "newest": {entry["kind"]: entry["id"] for entry in live},
        "replaced": replaced_by(entries),
        "contested": contested(definitions),
        "disagrees": [entry["id"] for entry in live if entry.get("agrees") is False],
    }


def judged_steps(
    torque: dict[str, Any] | None, parts: Parts, solid: list[dict[str, Any]], brought: list[dict[str, Any]]
) -> list[tuple[str, str, str]]:
    """Every verdict of this build with the step of the job that it came from and the part's name."""
    rows = [(CHECK_STEP, "", torque)] if torque else []
    rows += [(PLATES, row["slot"], row) for row in parts.plates]
    rows += [(SPRINGS, row["slot"], row) for row in parts.springs]
    rows += [(RINGS, row["slot"], row) for row in parts.rings]
    rows += [(INSPECT, name, {"verdict": verdict}) for name, verdict in judged_parts(parts.features)]
    rows += [(REFIT, "", row) for row in parts.refit]
    rows += [(PLAN, "", row) for row in solid]
    rows += [(STEP_OF_PART.get(row["part"], INSPECT), name_of(row["part"], row["mark"]), row) for row in brought]
    return [(step, name, row["verdict"]) for step, name, row in rows if row["verdict"] is not None]


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
        the last torque check, of every plate's, spring's and ring's last measurement, of every feature's last
        inspection and of the refits, each since the rebuild that concerns it, plates and features by the worse of their
        limits then and today's (see `limits_today`), and of ramps that lock solid on drive, but None instead of go
        while it is in parts, before its torque was read, where the limits are others now, or its definition contradicts
        itself; looked_at and looked_by; torque; by_slot (every measured plate); parts (springs, rings, refit); features
        (of other parts, see `inspected_now`); fitted (slot -> thickness as the last rebuilds fitted it); rebuilt (when,
        and by which entry); rebuilds (when each was done); due; trend (all torque checks that stand, by time, each with
        its outings and whether it was fresh); unsure (sentences why something stands although nobody can tell what was
        done last); order (ids of all entries, newest first); knows (what an entry that is written now knows: see
        `order`); clocks (id -> what was wrong with the clock that dated an entry, and what was done about it); newest
        (by kind, id of the newest that stands); findings of the unit itself (see `ramp_findings`, `builds_disagree` and
        `felt_findings`); contradiction (field and text where the definition contradicts itself, or None); opens and
        lacks (what each section that is not known would open, and what cannot be done yet); built (see `built_now`,
        with stale_text, bedding and alike besides; None where there is no definition to build by); replaced (id -> id
        of its correction); contested (definitions that another device overwrote without having seen them); disagrees
        (entries on which the workshop's verdict differs); judged_again (where an older engine judged the last torque
        check, and this one differs: see `judge_again`); job (what comes next and what is done, see `job_of`); start
        (what the next torque check starts with, see `check_start`); shelf (what its rebuilds and the plan that was
        taken for it mean for the shelf, see `shelf_moves`); used (see `used_now`), upkeep (see `upkeep_of`), plates_by
        (see `plates_due`), last_outing, outings_left, trials (changes to try, see `trials_now`), felt (see `felt_now`)
        and marked_parts (stays, see `stays_of`, and brought, see `brought_now`, which counts in the verdict too).
    """
    entries = placed(request["entries"])
    live = live_entries(entries)
    seen = in_hindsight(live)
    definitions = in_order(of_kind(live, "unit"), by_arrival)
    unit = definitions[-1] if definitions else None
    rebuilds = of_kind(live, "rebuild")
    rebuilt = rebuilds[-1] if rebuilds else None

    # Why something stands although nobody can tell what was done last.
    whys: list[str] = []
    torque, again, limits_changed = torque_now(live, unit, rebuilds, whys)
    defined, built, nm = definition_of(unit), None, request["write_in"] or "nm"
    parts = parts_measured(live, unit, defined, rebuilds, whys)
    # A torque that this engine cannot work out is shown as it was, and nothing is worked out from it.
    measured_torque = None if again and again["value_nm"] is None else torque
    if unit is not None and defined is not None:
        built = built_now(defined, unit["shown"], parts.rows, parts.fitted, parts.spring, measured_torque, nm)

    if torque is not None:
        torque["reason"] = said_in(torque, request["write_in"])

    solid = ramp_findings(built)
    apart = builds_disagree(built, seen, WrittenIn(nm, "mm", "n"))
    others = parts.springs + parts.rings + parts.refit
    judged = ([torque] if torque else []) + parts.plates + others + judged_of(parts.features)
    judged += [{"verdict": row["verdict"], "reason": row["text"]} for row in solid if row["verdict"] is not None]
    stays = stays_of(live, defined)
    brought = brought_now(stays)
    judged += brought
    stripped = left_open(live)
    fault = None if defined is None else contradiction(defined, nm)
    limits = None if defined is None else limits_of(defined)
    verdict, reason = verdict_now(judged, torque, limits_changed, rebuilt, stripped, fault)
    service = (defined or {}).get("service") or {}
    plates, every = oldest_of(parts.plates, rebuilds, chain_of(unit)), service.get("plates_every_days")
    stale = stale_plates(live, plates, every, request["today"])
    if built is not None:
        built["stale_text"] = "" if stale is None else stale.text
        built["bedding"] = losses_of(seen, built["unit"])
        built["alike"] = alike(built["unit"])
    held = held_by_vice(live)
    lives = used_lives(live)
    upkeep = upkeep_of(live, lives, defined, plates, taken_in(entries), request["today"])
    due = due_list(held, torque, parts.plates, rebuilt, stripped, stale, fault, upkeep, run_since(live, lives))
    felt = felt_findings(live, rebuilt, torque, limits, parts.plates, parts.refit, upkeep, nm)
    answer = {
        "verdict": verdict,
        "reason": reason,
        "torque": torque,
        "by_slot": {row["slot"]: row for row in parts.plates},
        "parts": others,
        "fitted": {slot: part["mm"] for slot, part in parts.fitted.items()},
        "rebuilt": {"at": rebuilt["at"], "id": rebuilt["id"]} if rebuilt else None,
        "rebuilds": [entry["at"] for entry in rebuilds],
        "due": due,
        "trend": trend_of(seen),
        "unsure": whys,
        "built": built,
        "findings": solid + apart + felt,
        "contradiction": fault,
        "judged_again": again,
        "features": parts.features,
        "job": job_of(
            live, held, stripped, judged_steps(torque, parts, solid, brought), due, bool(parts.features), defined
        ),
        "start": check_start(seen, rebuilt, limits or {}, lives[-1]),
        "used": used_now(lives[-1], rebuilt),
        "upkeep": upkeep,
        "plates_by": plates_due(plates, every),
        "last_outing": last_outing(live),
        "shelf": shelf_moves(entries, live, None if defined is None else defined["chain"]),
        "outings_left": outings_left(seen, limits["running"] if limits else None, lives[-1]),
        "trials": trials_now(entries, live, defined, nm),
        "felt": felt_now(live),
        "marked_parts": {"stays": stays, "brought": brought},
        "sits": where_it_sits(defined),
    }
    answer.update(definition_shown(unit, defined, limits, built))
    answer.update(of_the_log(entries, live, definitions))
    return answer


def kit_standing(request: dict[str, Any]) -> dict[str, Any]:
    """Kit, shelf and cars that stand: every tool and car by its newest entry, those no longer in use left out.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; the entries that belong to no unit.

    Returns
    -------
    dict
        tools, by name: id (of the entry that brought it in), tool (wrench, scale or micrometer), name, body, overdue
        (whether its calibration had run out by today); shelf, the pieces in stock by the counts alone, in SI,
        shelf_count, how many these are, and shelf_entry, the id of the last count of the whole shelf, or None; counts
        and count_ids, all of them for `shelf_now` (see `counts_of`); patterns (see `patterns_of`);
        cars, by name: id (of the entry that brought it in), name and body; customers (see `customers_of`); letterhead,
        the newest as it was typed, or None; knows, as in `standing`.
    """
    every = placed(request["entries"])
    live = live_entries(every)
    tools, cars, head = {}, {}, None
    counts = counts_of(every, live)
    shelf, whole = counted_pieces(counts)
    for entry in in_order(live, by_arrival):
        if entry["kind"] == "letterhead":
            head = entry["body"]
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
        elif entry["kind"] == "car":
            body = entry["body"]
            name = body.get("id") or entry.get("replaces") or entry["id"]
            cars[name] = {"id": name, "name": body["name"], "body": body}
    in_use = [tool for tool in tools.values() if tool["body"].get("gone") != "yes"]
    return {
        "tools": in_order(in_use, lambda tool: (tool["name"], tool["id"])),
        "cars": in_order(
            (car for car in cars.values() if car["body"].get("gone") != "yes"), lambda car: (car["name"], car["id"])
        ),
        "customers": customers_of(every, live),
        "letterhead": head,
        "shelf": shelf,
        "shelf_count": sum(piece.get("count", 1) for piece in shelf),
        "shelf_entry": whole,
        "counts": counts,
        "count_ids": in_order(entry["id"] for entry in every if entry["kind"] == "shelf"),
        "patterns": patterns_of(every, live),
        "knows": heads_of(every),
    }


def overdue(due: str | None, today: str | None) -> bool:
    """Whether the last day on which a calibration holds is past; without a day to go by, it is not.

    >>> overdue("2026-11-25", "2026-11-25"), overdue("2026-11-25", "2026-11-26"), overdue("", "2026-11-26")
    (False, True, False)
    """
    return bool(due) and today is not None and day_number(today) > day_number(due or "")
