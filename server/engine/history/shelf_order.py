"""The order of counts and moves of the shelf: which count stands for a class, and which moves it has already."""

from typing import Any

MADE_BEFORE = -1
MADE_AFTER = 1


def knew(entry: dict[str, Any], other: dict[str, Any], by_first: dict[str, dict[str, Any]]) -> bool:
    """Whether an entry was written knowing another, itself or by one that it knew; both as `moment_of` tells them."""
    for name in entry["knew"]:
        if name in (other["id"], other["first"]):
            return True
        between = by_first.get(name)
        if between is not None and between is not entry and other["first"] in between["knew"]:
            return True
    return False


def order_of(entry: dict[str, Any], other: dict[str, Any], by_first: dict[str, dict[str, Any]]) -> tuple[int, bool]:
    """Whether an entry was made before another or after it, and whether that is certain.

    What was written knowing another is later than it; else clocks decide where they leave no doubt; else it is taken
    as they most likely were, and is not certain.

    Examples
    --------
    >>> early = {"id": "a", "first": "a", "at_s": 5.0, "first_s": 0.0, "last_s": 10.0, "knew": []}
    >>> late = {"id": "b", "first": "b", "at_s": 15.0, "first_s": 11.0, "last_s": None, "knew": []}
    >>> unknown = {"id": "c", "first": "c", "at_s": 8.0, "first_s": None, "last_s": None, "knew": []}
    >>> order_of(early, late, {}), order_of(unknown, early, {}), order_of(unknown, late, {})
    ((-1, True), (1, False), (-1, False))
    """
    if knew(entry, other, by_first):
        return MADE_AFTER, True
    if knew(other, entry, by_first):
        return MADE_BEFORE, True
    if entry["last_s"] is not None and other["first_s"] is not None and entry["last_s"] < other["first_s"]:
        return MADE_BEFORE, True
    if other["last_s"] is not None and entry["first_s"] is not None and other["last_s"] < entry["first_s"]:
        return MADE_AFTER, True
    likely = (entry["at_s"], entry["id"]) < (other["at_s"], other["id"])
    return (MADE_BEFORE if likely else MADE_AFTER), False


def count_that_stands(
    counts: list[dict[str, Any]], by_first: dict[str, dict[str, Any]]
) -> tuple[dict[str, Any] | None, list[dict[str, Any]]]:
    """Of some counts the one that stands, and those of which nobody can tell whether they were made after it.

    Parameters
    ----------
    counts : list of dict
        In the order in which they arrived.
    by_first : dict
        Every count and move by the id of the entry that said it first.

    Returns
    -------
    tuple
        The count received last of those that are certainly before no other, or None; the others of those. Counts of an
        older Slipbook stand in the order in which they arrived, as they always did.
    """
    latest = []
    for place, count in enumerate(counts):
        later = counts[place + 1 :]
        if count["old"]:
            before = any(other["old"] for other in later) or is_overtaken(count, counts, by_first)
        else:
            before = is_overtaken(count, counts, by_first)
        if not before:
            latest.append(count)
    if not latest:
        return None, []
    return latest[-1], latest[:-1]


def is_overtaken(count: dict[str, Any], counts: list[dict[str, Any]], by_first: dict[str, dict[str, Any]]) -> bool:
    """Whether a count was certainly made before another one; two of an older Slipbook do not say that of each other."""
    for other in counts:
        both_old = count["old"] and other["old"]
        if other is not count and not both_old and order_of(count, other, by_first) == (MADE_BEFORE, True):
            return True
    return False
