"""Patterns inside a saved unit: what it is built to travels with it, and the rest of the shop stays."""

from typing import Any

from ..engine import calc


def patterns_of_units(units: list[Any], shop: list[Any]) -> list[dict[str, Any]]:
    """The entries of a shop that say what units are built to.

    Parameters
    ----------
    units : list
        Entries of units, not checked yet.
    shop : list
        The entries of their shop, not checked yet.
    """
    entries = [entry for entry in [*units, *shop] if is_readable_entry(entry)]
    pattern_ids = set(calc("built_to", {"entries": entries})["ids"])
    return [entry for entry in shop if is_readable_entry(entry) and entry["id"] in pattern_ids]


def is_readable_entry(entry: Any) -> bool:
    """Whether it has what an entry needs to be looked into."""
    if not isinstance(entry, dict) or not isinstance(entry.get("body"), dict):
        return False
    names = [entry.get("id"), entry.get("kind"), "" if entry.get("replaces") is None else entry["replaces"]]
    return all(isinstance(name, str) for name in names)
