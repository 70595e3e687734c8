"""Erasures in a database: the text of an entry is written anew, in the transaction that adds the erasure."""

from typing import Any

from ..erasing import KIND, MARKS, Erasures
from .address import Connection
from .texts import entry_of, text_of

ERASURES = "select seq, said from entry where workshop = %s and unit = '' and said like any (%b::text[]) order by seq"
# Older versions wrote a space before the kind.
OF_KIND = [f'%"kind":{space}"{KIND}"%' for space in ("", " ")]
KNOWN_IDS = "select id::text from entry where workshop = %s and id = any (%b::uuid[])"
ENTRIES_NAMING = "select seq, said from entry where workshop = %s and said like any (%b::text[]) order by seq"
ENTRIES_TOUCHED = """
    select seq, said from entry
    where workshop = %s and (unit = any (%b::text[]) or said like any (%b::text[])) order by seq
"""


def read_erasures(connection: Connection, workshop: int, key: str) -> Erasures:
    """All erasures of a workshop's log."""
    erasures = Erasures(key)
    rows = connection.execute(ERASURES, [workshop, OF_KIND]).fetchall()
    erasures.learn_all([entry_of(seq, text) for seq, text in rows])
    return erasures


def names_in(erasure: dict[str, Any]) -> list[str]:
    """Patterns for the texts of entries that an erasure names, or that name what it names."""
    body = erasure["body"]
    names = [*(body.get("ids") or []), *(cut["entry"] for cut in body.get("cuts") or [])]
    return [f"%{name}%" for name in names]


def learn_new(
    connection: Connection, workshop: int, erasures: Erasures, entries: list[dict[str, Any]]
) -> list[dict[str, Any]]:
    """Go by those erasures among entries that the log does not have, each with its marks of both; returns them."""
    erasing_now = [entry for entry in entries if entry["kind"] == KIND]
    ids = [entry["id"] for entry in erasing_now]
    known_ids = {row[0] for row in connection.execute(KNOWN_IDS, [workshop, ids]).fetchall()}
    new = [entry for entry in erasing_now if entry["id"].lower() not in known_ids and entry["id"] not in erasures.ids]
    for entry in new:
        if MARKS not in entry:
            rows = connection.execute(ENTRIES_NAMING, [workshop, names_in(entry)]).fetchall()
            entry[MARKS] = erasures.marks_for(entry, (*entries, *(entry_of(seq, text) for seq, text in rows)))
        erasures.learn(entry)
    return new


def erase(connection: Connection, workshop: int, erasures: Erasures, new: list[dict[str, Any]]) -> None:
    """Take out of the entries what new erasures name."""
    units = [mark["unit"] for erasure in new for mark in erasure[MARKS]]
    names = [name for erasure in new for name in names_in(erasure)]
    for seq, text in connection.execute(ENTRIES_TOUCHED, [workshop, units, names]).fetchall():
        entry = entry_of(seq, text)
        changed = erasures.apply_to(entry)
        if changed is not entry:
            new_text = text_of(changed)
            connection.execute("update entry set said = %s where workshop = %s and seq = %s", [new_text, workshop, seq])
