"""Order in time: when entries were made, in which order they arrived, and which of them a correction replaced."""

from typing import Any

from ..request.dates import in_zone_of, instant
from ..request.sorting import in_order
from .clocks import NEAR_S, is_old
from .order import placed
from .used import with_counts


def corrected_time(entry: dict[str, Any]) -> str:
    """When an entry was most likely made, in UTC: see `order`."""
    text: str = entry["when"].text
    return text


def by_device_time(entry: dict[str, Any]) -> tuple[float, int, str]:
    """Order in which things were done: after what an entry knew, and else as the devices' clocks say."""
    when = entry["when"]
    return (when.at, when.count, entry["id"])


def by_arrival(entry: dict[str, Any]) -> tuple[int, int, str, str]:
    """Order in which entries reached the log, each after what it knew; those on their way come last."""
    number, count = entry["arrived"]
    return (number, count, corrected_time(entry), entry["id"])


def is_certainly_before(entry: dict[str, Any], other: dict[str, Any]) -> bool:
    """Whether an entry was made before another, because that one knew it or because both clocks leave no doubt."""
    certain: bool = entry["when"].is_before(other["when"])
    return certain


def replaced_by(entries: list[dict[str, Any]]) -> dict[str, str]:
    """Every entry that a correction replaces, with the id of the correction that stands."""
    return {entry["replaces"]: entry["id"] for entry in in_order(placed(entries), by_arrival) if entry.get("replaces")}


def first_of(entry: dict[str, Any], by_id: dict[str, dict[str, Any]]) -> dict[str, Any]:
    """The entry that was corrected first where this one ends a line of corrections; else the entry itself."""
    seen = {entry["id"]}
    while entry.get("replaces") in by_id and entry["replaces"] not in seen:
        entry = by_id[entry["replaces"]]
        seen.add(entry["id"])
    return entry


def with_right_time(entry: dict[str, Any]) -> dict[str, Any]:
    """A placed entry, in its own time zone at the time when it was most likely made if its clock showed another."""
    when = entry["when"]
    if is_old(entry) or abs(when.at - when.shown) <= NEAR_S:
        return entry
    righted = entry.copy()
    righted["at"] = in_zone_of(entry["at"], when.at)
    return righted


def live_entries(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Entries that no correction replaces, in the order in which things were done.

    A correction says anew what was seen when the entry that it corrects was made, so it has that entry's time here. Of
    two corrections of the same entry that did not know each other, the one that arrived later stands. A unit's
    definition counts from when it was written. What a wrong clock showed is put right. Corrections hold the day on
    which they were written under "rewritten"; where outings are logged, each check holds how many there were by then
    under "counted".
    """
    entries = placed(entries)
    replaced = replaced_by(entries)
    by_id = {entry["id"]: entry for entry in entries}
    standing: dict[str, dict[str, Any]] = {}
    for entry in in_order([entry for entry in entries if entry["id"] not in replaced], by_arrival):
        if entry["kind"] == "unit" or not entry.get("replaces"):
            standing[entry["id"]] = with_right_time(entry)
            continue
        first, now = with_right_time(first_of(entry, by_id)), entry.copy()
        now["at"], now["when"], now["rewritten"] = first["at"], first["when"], with_right_time(entry)["at"][:10]
        standing[first["id"]] = now
    return with_counts(in_order(standing.values(), by_device_time))


def of_kind(live: list[dict[str, Any]], kind: str) -> list[dict[str, Any]]:
    """Those entries that are of one kind, in the same order."""
    return [entry for entry in live if entry["kind"] == kind]


def newest_of(live: list[dict[str, Any]], kind: str) -> dict[str, Any] | None:
    """The newest entry of a kind, from entries in order of time; of definitions the one that the log received last."""
    matching = of_kind(live, kind)
    if kind == "unit":
        matching = in_order(matching, by_arrival)
    return matching[-1] if matching else None


def since(entries: list[dict[str, Any]], rebuild: dict[str, Any] | None) -> list[dict[str, Any]]:
    """Those entries, in order of time, that were made after a rebuild; all where there was none."""
    if rebuild is None:
        return entries
    return [entry for entry in entries if by_device_time(entry) > by_device_time(rebuild)]


def contested(definitions: list[dict[str, Any]]) -> list[str]:
    """Definitions that another device overwrote without having seen them.

    Of old entries this is known: a definition that was written before the log had received its predecessor, on another
    device, cannot have known it. Others say what they knew.
    """
    overwritten = []
    for earlier, later in zip(definitions, definitions[1:]):
        arrived = earlier.get("received")
        if not arrived or earlier.get("device") == later.get("device"):
            continue
        unseen = corrected_time(later) < instant(arrived) if is_old(later) else not later["when"].knew(earlier["when"])
        if unseen:
            overwritten.append(earlier["id"])
    return overwritten
