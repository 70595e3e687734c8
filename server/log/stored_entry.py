"""An entry as its file holds it, and as the log hands it out."""

from typing import Any

from .layout import Line


def as_written(entry: dict[str, Any], seq: int) -> dict[str, Any]:
    """An entry as its file holds it; the server's verdict is left out where it is the verdict that was shown."""
    first = {"seq": seq, "id": entry["id"], "unit": entry["unit"]}
    rest = {name: value for name, value in entry.items() if name not in first}
    if rest.get("judged") == rest.get("shown"):
        rest.pop("judged", None)
    return {**first, **rest}


def with_verdict(entry: dict[str, Any]) -> dict[str, Any]:
    """An entry as the log hands it out: with the server's verdict, which files leave out where it was shown so."""
    if "judged" not in entry and "agrees" in entry:
        return {**entry, "judged": entry["shown"]}
    return entry


def read_entry(line: Line) -> dict[str, Any]:
    """The entry on a line, as the log hands it out."""
    return with_verdict(line.entry)
