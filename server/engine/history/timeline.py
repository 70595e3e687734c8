"""Order in time: when entries were made, in which order they arrived, and which of them a correction replaced."""

from typing import Any

from ..request.dates import instant


def corrected_time(entry: dict[str, Any]) -> str:
    """When an entry was made: its device's clock, corrected by what the workshop found that clock to be off."""
    return instant(entry["at"], entry.get("clock_off_s") or 0.0)


def by_device_time(entry: dict[str, Any]) -> tuple[str, str]:
    """Order in which things were done, as far as the devices' clocks can be believed."""
    return (corrected_time(entry), entry["id"])


def by_arrival(entry: dict[str, Any]) -> tuple[int, str, str]:
    """Order in which entries reached the log; those on their way come last."""
    arrived = entry.get("seq")
    return (arrived if arrived is not None else 1 << 52, corrected_time(entry), entry["id"])


def replaced_by(entries: list[dict[str, Any]]) -> dict[str, str]:
    """Every entry that a correction replaces, with the id of the correction that stands."""
    return {entry["replaces"]: entry["id"] for entry in sorted(entries, key=by_arrival) if entry.get("replaces")}


def first_of(entry: dict[str, Any], by_id: dict[str, dict[str, Any]]) -> dict[str, Any]:
    """The entry that was corrected first where this one ends a line of corrections; else the entry itself."""
    seen = {entry["id"]}
    while entry.get("replaces") in by_id and entry["replaces"] not in seen:
        entry = by_id[entry["replaces"]]
        seen.add(entry["id"])
    return entry


def live_entries(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Entries that no correction replaces, in the order in which things were done.

    A correction says anew what was seen when the entry that it corrects was made, so it has that entry's time here. Of
    two corrections of the same entry that did not know each other, the one that arrived later stands. A unit's
    definition counts from when it was written.
    """
    replaced = replaced_by(entries)
    by_id = {entry["id"]: entry for entry in entries}
    standing: dict[str, dict[str, Any]] = {}
    for entry in sorted([entry for entry in entries if entry["id"] not in replaced], key=by_arrival):
        if entry["kind"] == "unit" or not entry.get("replaces"):
            standing[entry["id"]] = entry
            continue
        first, now = first_of(entry, by_id), entry.copy()
        now["at"], now["clock_off_s"] = first["at"], first.get("clock_off_s")
        standing[first["id"]] = now
    return sorted(standing.values(), key=by_device_time)


def of_kind(live: list[dict[str, Any]], kind: str) -> list[dict[str, Any]]:
    """Those entries that are of one kind, in the same order."""
    return [entry for entry in live if entry["kind"] == kind]


def newest_of(live: list[dict[str, Any]], kind: str) -> dict[str, Any] | None:
    """The newest entry of a kind, from entries in order of time; of definitions the one that the log received last."""
    matching = of_kind(live, kind)
    if kind == "unit":
        matching = sorted(matching, key=by_arrival)
    return matching[-1] if matching else None


def since(entries: list[dict[str, Any]], rebuild: dict[str, Any] | None) -> list[dict[str, Any]]:
    """Those entries, in order of time, that were made after a rebuild; all where there was none."""
    if rebuild is None:
        return entries
    return [entry for entry in entries if by_device_time(entry) > by_device_time(rebuild)]
