"""What an erasure takes out of entries: the log keeps each entry with its id and number, and without a person's data.

An erasure is an entry itself, so that it travels, is backed up and heals like any other. It names records of customers,
whose personal fields and whose name as an owner go, and places in other entries. It holds nothing that it erases: of an
owner's name that may come back from a device that did not know it, the log adds a mark by its own key (RFC 2104).
"""

import hashlib
import hmac
import re
from collections.abc import Iterable
from typing import Any

from ..engine.records.customer import BLANK, PERSONAL
from ..engine.request.letters import folded

KIND = "erasure"
# The server's fields: in an entry that something was taken out of, by which erasures; in an erasure, its marks.
ERASED, MARKS = "erased", "marks"
OWNER = ("body.owner", "shown.checked.owner")


def mark_of(key: str, unit: str, owner: str) -> str:
    """By it the log knows an owner of this unit who was erased, without keeping the name."""
    return hmac.new(bytes.fromhex(key), f"{unit}\n{folded(owner)}".encode(), hashlib.sha256).hexdigest()


def record_ids_of(entry: dict[str, Any]) -> set[str]:
    """The ids by which the record that a customer's entry is about may be known."""
    return {entry["body"].get("id") or "", entry.get("replaces") or "", entry["id"]} - {""}


class Erasures:
    """All erasures of a log.

    Parameters
    ----------
    key : str
        The log's own.

    Attributes
    ----------
    records : dict
        By id of a customer's record, the erasure that names it.
    cuts : dict
        By id of an entry, what is taken out of it: (erasure, cut).
    marks : dict
        By mark, the erasure that it is of.
    """

    def __init__(self, key: str) -> None:
        self.key = key
        self.ids: set[str] = set()
        self.records: dict[str, str] = {}
        self.cuts: dict[str, list[tuple[str, dict[str, Any]]]] = {}
        self.marks: dict[str, str] = {}
        self.units: set[str] = set()

    def learn(self, erasure: dict[str, Any]) -> None:
        """Go by an erasure from now on."""
        if erasure["id"] in self.ids:
            return
        self.ids.add(erasure["id"])
        for record in erasure["body"].get("ids") or []:
            self.records.setdefault(record, erasure["id"])
        for cut in erasure["body"].get("cuts") or []:
            self.cuts.setdefault(cut["entry"], []).append((erasure["id"], cut))
        for mark in erasure.get(MARKS) or []:
            self.marks.setdefault(mark["mark"], erasure["id"])
            self.units.add(mark["unit"])

    def learn_all(self, entries: list[dict[str, Any]]) -> None:
        """Go by all erasures among these entries."""
        for entry in entries:
            if entry["kind"] == KIND:
                self.learn(entry)

    def may_touch(self, text: bytes, unit: str) -> bool:
        """Whether an entry of a unit, as text, may have to be changed: quick, and true for more than have to be."""
        names: Iterable[str] = (*self.records, *self.cuts)
        return unit in self.units or any(name.encode() in text for name in names)

    def apply_to(self, entry: dict[str, Any]) -> dict[str, Any]:
        """An entry without what was erased; itself where nothing was."""
        if not self.ids or entry["kind"] == KIND:
            return entry
        pieces_found = self._find_pieces(entry)
        if not pieces_found:
            return entry
        erasure_ids = set(entry.get(ERASED) or [])
        changed: dict[str, Any] = deep_copy(entry)
        for erasure, field, spans in pieces_found:
            if spans is not None and erasure in (entry.get(ERASED) or []):
                continue
            for path in {field, re.sub("^shown", "judged", field)}:
                if blank_out(changed, path.split("."), spans):
                    erasure_ids.add(erasure)
        if changed == entry:
            return entry
        changed[ERASED] = sorted(erasure_ids)
        return changed

    def _find_pieces(self, entry: dict[str, Any]) -> list[tuple[str, str, list[dict[str, Any]] | None]]:
        """What goes: the erasure, the field, and the pieces of its text; None for the whole."""
        found: list[tuple[str, str, list[dict[str, Any]] | None]] = []
        body = entry["body"]
        if entry["kind"] == "customer":
            for record in sorted(record_ids_of(entry) & self.records.keys()):
                found += [(self.records[record], f"body.{name}", None) for name in PERSONAL]
        elif entry["kind"] == "unit":
            erasure = self.records.get(body.get("customer_id") or "")
            if erasure is None and isinstance(body.get("owner"), str) and entry["unit"] in self.units:
                erasure = self.marks.get(mark_of(self.key, entry["unit"], body["owner"]))
            if erasure is not None:
                found += [(erasure, field, None) for field in OWNER]
        pieces: dict[tuple[str, str], list[dict[str, Any]]] = {}
        for erasure, cut in self.cuts.get(entry["id"], []):
            pieces.setdefault((erasure, cut["field"]), []).append(cut)
        return found + [(erasure, field, spans) for (erasure, field), spans in pieces.items()]

    def marks_for(self, erasure: dict[str, Any], entries: Iterable[dict[str, Any]]) -> list[dict[str, str]]:
        """Marks of the owners that an erasure takes out of these entries, as they are before it."""
        records = set(erasure["body"].get("ids") or [])
        owners_cut_from = {row["entry"] for row in erasure["body"].get("cuts") or [] if row["field"] == "body.owner"}
        found = set()
        for entry in entries:
            body = entry["body"]
            if entry["kind"] != "unit" or not body.get("owner") or body["owner"] == BLANK:
                continue
            if entry["id"] in owners_cut_from or (body.get("customer_id") or "") in records:
                found.add((entry["unit"], mark_of(self.key, entry["unit"], body["owner"])))
        return [{"unit": unit, "mark": mark} for unit, mark in sorted(found)]


def deep_copy(value: Any) -> Any:
    """A value of JSON with containers of its own."""
    if isinstance(value, dict):
        return {name: deep_copy(item) for name, item in value.items()}
    return [deep_copy(item) for item in value] if isinstance(value, list) else value


def blank_out(value: Any, path: list[str], spans: list[dict[str, Any]] | None) -> bool:
    """Take a text, or pieces of it, out of an entry; whether there was anything to take out."""
    for name in path[:-1]:
        value = child_of(value, name)
    text = child_of(value, path[-1])
    if not isinstance(text, str) or not text or text == BLANK:
        return False
    # A text of another length is not the one that was looked at: nothing of it may stay by mistake.
    if spans is None or any(span["of"] != len(text) for span in spans):
        text = BLANK
    else:
        for span in sorted(spans, key=lambda span: -span["start"]):
            text = text[: span["start"]] + BLANK + text[span["start"] + span["length"] :]
    value[int(path[-1]) if isinstance(value, list) else path[-1]] = text
    return True


def child_of(value: Any, name: str) -> Any:
    """What a container holds under a name or a number; None where it holds nothing."""
    if isinstance(value, dict):
        return value.get(name)
    if isinstance(value, list) and name.isdigit() and int(name) < len(value):
        return value[int(name)]
    return None
