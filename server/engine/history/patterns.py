"""The patterns that stand, from the entries of the shop."""

from typing import Any

from ..request.fields import Checked, Group, Listing
from ..request.letters import folded
from ..request.sorting import in_order
from ..unit.pattern import shared
from .timeline import by_arrival, first_of, of_kind

ENTRIES = Listing(Checked("an entry of the log"), 0, 100000, "entries of units and of the shop", nouns="entries")

BUILT_TO_FORM = Group({"entries": ENTRIES}, "units that travel, with the entries of their shop")


def pattern_id(entry: dict[str, Any], by_id: dict[str, dict[str, Any]]) -> str:
    """The pattern that an entry is about: it names it, or is the first of it or a correction of that."""
    name: str = entry["body"].get("id") or first_of(entry, by_id)["id"]
    return name


def signed(entry: dict[str, Any]) -> dict[str, Any]:
    """An entry by who wrote it and when."""
    return {"entry": entry["id"], "who": entry.get("who", ""), "at": entry["at"]}


def overwritten(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Changes of a pattern that the one that stands did not know, and that no other of these followed.

    Parameters
    ----------
    entries : list of dict
        Entries of one pattern that stand, in order of arrival.

    Returns
    -------
    list of dict
        entry, id of the change; base, id of the entry that it went by, or None; who and at.
    """
    current = entries[-1]
    lost = [entry for entry in entries[:-1] if not current["when"].knew(entry["when"])]
    rows = []
    for entry in lost:
        if any(other["when"].knew(entry["when"]) for other in lost):
            continue
        known = [other["id"] for other in entries if entry["when"].knew(other["when"])]
        base = known[-1] if known else None
        row = signed(entry)
        row["base"] = base
        rows.append(row)
    return rows


def by_record(kind: str, every: list[dict[str, Any]], live: list[dict[str, Any]]) -> dict[str, list[dict[str, Any]]]:
    """Entries of a kind that stand, by the id of the first entry of their record, each record's as they arrived."""
    by_id = {entry["id"]: entry for entry in every}
    entries: dict[str, list[dict[str, Any]]] = {}
    for entry in in_order(of_kind(live, kind), by_arrival):
        name = pattern_id(entry, by_id)
        entries[name] = entries.get(name, []) + [entry]
    return entries


def patterns_of(every: list[dict[str, Any]], live: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Every pattern by its newest entry, by name.

    Parameters
    ----------
    every : list of dict
        All placed entries of the shop.
    live : list of dict
        Those that no correction replaces.

    Returns
    -------
    list of dict
        id; name; gone, whether it is withdrawn; entry, the newest; body, as it was typed; unit, what a new unit of it
        starts with, as it would be typed, without a name; overwritten (see `overwritten`); history, every entry of it
        that stands, the newest first: entry, who and at.
    """
    entries = by_record("pattern", every, live)
    rows = []
    for name in entries:
        newest = entries[name][-1]
        body = newest["body"]
        unit = shared(body)
        unit["pattern"] = {"id": name, "name": body["name"], "seen": newest["id"]}
        rows.append(
            {
                "id": name,
                "name": body["name"],
                "gone": body.get("gone") == "yes",
                "entry": newest["id"],
                "body": body,
                "unit": unit,
                "overwritten": overwritten(entries[name]),
                "history": [signed(entry) for entry in reversed(entries[name])],
            }
        )
    return in_order(rows, lambda row: (folded(row["name"]), row["id"]))


def built_to(request: dict[str, Any]) -> dict[str, Any]:
    """Which entries of a shop say what its units are built to: these travel with the units.

    Parameters
    ----------
    request : dict
        Checked by `BUILT_TO_FORM`; entries of one unit or more, and those of the shop, in any order.

    Returns
    -------
    dict
        ids, of every entry of a pattern that one of the units has ever been of, in the order in which they came.
    """
    pattern_ids = []
    by_id = {}
    for entry in request["entries"]:
        if entry["kind"] == "pattern":
            by_id[entry["id"]] = entry
        elif entry["kind"] == "unit" and isinstance(entry["body"].get("pattern"), dict):
            pattern_ids.append(entry["body"]["pattern"].get("id"))
    return {
        "ids": [
            entry["id"]
            for entry in request["entries"]
            if entry["kind"] == "pattern" and pattern_id(entry, by_id) in pattern_ids
        ]
    }
