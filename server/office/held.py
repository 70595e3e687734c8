"""All that a log holds about one customer, and where the name still stands in what people typed."""

import re
from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Any

from ..engine.records.customer import BLANK
from ..engine.records.kinds import KINDS
from ..log.erasing import record_ids_of

# Shorter pieces stand in too many words.
LEAST = 3
# How much of a text is shown on either side.
AROUND = 40


def texts_in(value: Any, path: str = "") -> Iterator[tuple[str, str]]:
    """Every text in a value of JSON, with the names on the way to it."""
    if isinstance(value, str):
        yield path, value
    elif isinstance(value, dict):
        for name in value:
            yield from texts_in(value[name], f"{path}.{name}" if path else name)
    elif isinstance(value, list):
        for number, item in enumerate(value):
            yield from texts_in(item, f"{path}.{number}")


def pattern_of(names: list[str]) -> re.Pattern[str] | None:
    """What finds any of these, whatever the capitals and spaces; None where there is nothing to find."""
    wanted = sorted({" ".join(name.split()) for name in names} - {BLANK}, key=lambda name: (-len(name), name))
    written = [r"\s+".join(re.escape(word) for word in name.split()) for name in wanted if len(name) >= LEAST]
    return re.compile("|".join(written), re.IGNORECASE) if written else None


def is_about(entry: dict[str, Any], ids: set[str]) -> bool:
    """Whether an entry is the customer's own: the record, a unit that is linked, a sheet that was sent."""
    if entry["kind"] == "customer":
        return bool(record_ids_of(entry) & ids)
    return (entry["body"].get("customer_id") or "") in ids


def goes_with(entry: dict[str, Any], path: str, ids: set[str]) -> bool:
    """Whether a text is erased with the customer's record, without being named."""
    if not is_about(entry, ids):
        return False
    return path.startswith("body.") if entry["kind"] == "customer" else path in ("body.owner", "shown.checked.owner")


def excerpt(text: str, start: int, end: int) -> str:
    """A piece of a text with what is around it.

    >>> excerpt("a" * 50 + "Ode" + "!", 50, 53) == "…" + "a" * 40 + "Ode!"
    True
    """
    before, after = max(0, start - AROUND), end + AROUND
    return f"{'…' if before else ''}{text[before:after]}{'…' if after < len(text) else ''}"


def places_in(entry: dict[str, Any], wanted: re.Pattern[str], ids: set[str]) -> dict[str, Any] | None:
    """Where a name stands in an entry besides what is erased with the record; None where it does not."""
    cuts, shown = [], []
    parts = {name: entry[name] for name in ("body", "shown", "imported") if entry.get(name)}
    if not entry.get("agrees"):
        parts["judged"] = entry.get("judged") or {}
    for path, text in texts_in(parts):
        for match in wanted.finditer(text) if not goes_with(entry, path, ids) else ():
            start, end = match.span()
            cuts.append({"entry": entry["id"], "field": path, "start": start, "length": end - start, "of": len(text)})
            around = excerpt(text, start, end)
            shown += [around] if around not in shown else []
    if not cuts:
        return None
    heading = {name: entry[name] for name in ("unit", "kind", "at", "who")}
    return {"entry": entry["id"], **heading, "texts": shown, "cuts": cuts}


def held_of(
    customer: dict[str, Any], entries: Mapping[str, list[dict[str, Any]]], names: Mapping[str, str], now: datetime
) -> dict[str, Any]:
    """All that a log holds about a customer.

    Parameters
    ----------
    customer : dict
        As the shop's standing tells it.
    entries : mapping
        The entries of each unit by its id; of the shop under "".
    names : mapping
        What each unit is called.
    now : datetime
        When this is written.

    Returns
    -------
    dict
        customer, the name; made; in_words, lines to read; places, where the name still stands in other entries; and
        entries, all of both as the log holds them.
    """
    ids = set(customer["ids"])
    own = [entry["body"] for entry in entries[""] if entry["kind"] == "customer" and is_about(entry, ids)]
    wanted = pattern_of([body.get(name) or "" for body in own for name in ("name", "phone", "mail")])
    found, places, lines = [], [], []
    for unit, rows in entries.items():
        for entry in rows:
            place = places_in(entry, wanted, ids) if wanted else None
            if place is None and not is_about(entry, ids):
                continue
            found.append(entry)
            about = f"{KINDS[entry['kind']].meaning}{', ' + names.get(unit, unit) if unit else ''}"
            lines.append(f"{entry['at']}, {entry.get('who') or 'no name given'}: {about}, number {entry['seq']}")
            if place:
                places.append({**place, "name": names.get(unit, "")})
                lines += [f"    {text}" for text in place["texts"]]
            if is_about(entry, ids) and entry["kind"] != "unit":
                lines += [f"    {path}: {text}" for path, text in texts_in(entry["body"]) if text]
    head = f"All that this log holds about {customer['name']}, written on {now.isoformat(timespec='minutes')}:"
    return {
        "customer": customer["name"],
        "made": now.isoformat(timespec="seconds"),
        "in_words": [head, *lines],
        "places": places,
        "entries": found,
    }
