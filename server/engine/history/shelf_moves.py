"""What the entries of a unit mean for the shelf, and which counts of the shelf stand, each with when it was.

Counts and rebuilds are entries of different books, the shop's and a unit's, each with an order of its own. So each is
told here with all that has to be known of it to bring them into one order: the earliest and the latest time at which it
can have been made, and the names of the entries that it knew.
"""

from typing import Any

from ..records.came_out import KEEP
from ..records.rebuild import MOVES
from ..request.letters import trimmed
from ..request.sorting import in_order
from .clocks import EVER, is_old
from .timeline import by_arrival, first_of, of_kind


def moment_of(entry: dict[str, Any], by_id: dict[str, dict[str, Any]]) -> dict[str, Any]:
    """When a placed entry was made, which entry said it first, and what that one knew.

    Returns
    -------
    dict
        id; first, the id of the entry that it corrects, or its own; at, by the device's clock put right; who; at_s,
        first_s and last_s, seconds since 1970, the latter two None where nobody knows; old, whether an older Slipbook
        wrote it; knew, ids of the entries that the first knew: those of its own book that are of its kind, and those of
        other books that it or what it knew names; elsewhere, those of other books that it names itself.
    """
    first = first_of(entry, by_id)
    when = first["when"]
    order, known = when.order, when.order.known[when.index]
    before = [other for place, other in enumerate(order.entries) if known >> place & 1 == 1]
    # An entry of another book is known to whatever knew the one that names it.
    known_ids = {name for other in before + [first] for name in other.get("knows") or []}
    foreign = sorted(name for name in known_ids if name not in by_id)
    # A unit that was in another shop keeps entries that knew that one's counts: what was written since names its own.
    itself = sorted(name for name in first.get("knows") or [] if name not in by_id)
    own = sorted(other["id"] for other in before if other["kind"] == first["kind"])
    return {
        "id": entry["id"],
        "first": first["id"],
        "at": entry["at"],
        "who": entry.get("who", ""),
        "at_s": when.at,
        "first_s": None if when.first == EVER[0] else when.first,
        "last_s": None if when.last == EVER[1] else when.last,
        "old": is_old(first),
        "knew": own + foreign,
        "elsewhere": itself,
    }


def shelf_moves(
    entries: list[dict[str, Any]], live: list[dict[str, Any]], chain: list[dict[str, Any]] | None
) -> dict[str, Any]:
    """What a unit's entries mean for the shelf.

    Parameters
    ----------
    entries, live : list of dict
        All entries of the unit, placed, and those that stand, in order of time.
    chain : list of dict or None
        The places of its definition.

    Returns
    -------
    dict
        moves, by time: what each rebuild that says so took from the shelf (name, slot, part, mm, as often as it was
        fitted) and put onto it (rows as `came_out` has them), with what `moment_of` tells; plan, the one that was
        taken last and not rebuilt since, in the same way with its plates under fitted, or None.
    """
    by_id = {entry["id"]: entry for entry in entries}
    parts = {item["slot"]: item["part"] for item in chain or []}
    moves = []
    planned: dict[str, Any] | None = None
    for entry in live:
        if entry["kind"] == "planned":
            planned = entry
        elif entry["kind"] == "rebuild":
            # Oil alone leaves the plates to be fitted another day.
            planned = None if entry["shown"]["fitted"] else planned
            if entry["shown"].get("shelf") == MOVES:
                move = moment_of(entry, by_id)
                move.update(moved_by(entry["shown"], parts))
                moves.append(move)
    plan = None
    if planned is not None:
        plan = moment_of(planned, by_id)
        plan["fitted"] = planned["shown"]["fitted"]
    return {"moves": moves, "plan": plan}


def moved_by(shown: dict[str, Any], parts: dict[str, str]) -> dict[str, Any]:
    """What a rebuild took from the shelf and put onto it; a part is None where the definition does not know it."""
    taken = [
        {"name": trimmed(part["piece"]), "slot": part["slot"], "part": parts.get(part["slot"]), "mm": part["mm"]}
        for part in shown["fitted"]
        if trimmed(part["piece"]) and not part.get("bought")
    ]
    kept = []
    for plate in shown.get("came_out", []):
        if plate["where"] == KEEP:
            row = {name: plate[name] for name in plate if name not in ("where", "slot")}
            row["name"] = trimmed(row["name"])
            kept.append(row)
    return {"taken": taken, "kept": kept}


def counts_of(entries: list[dict[str, Any]], live: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The counts that stand, by arrival: pieces, and only_these, whether the others are as they were.

    Parameters
    ----------
    entries, live : list of dict
        All entries of the shop, placed, and those that stand.
    """
    by_id = {entry["id"]: entry for entry in entries}
    counts = []
    for entry in in_order(of_kind(live, "shelf"), by_arrival):
        count = moment_of(entry, by_id)
        count["pieces"] = entry["shown"]["pieces"]
        count["only_these"] = bool(entry["shown"].get("only_these"))
        counts.append(count)
    return counts
