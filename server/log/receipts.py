"""Receipts: by them a log knows an entry that it once stored, whoever brings it back.

A receipt is an HMAC (RFC 2104) by the log's own key over the entry as it was stored, with its number. A server's
verdict that agrees with the one shown is left out, since devices need not keep it.
"""

import hashlib
import hmac
import json
from typing import Any

from .identity import Identity

RECEIPT = "receipt"


def with_whole_numbers(value: Any) -> Any:
    """A value with whole numbers as such, since JSON on a phone makes no difference between 2.0 and 2.

    >>> with_whole_numbers({"a": [2.0, -0.0, 2.5, True]})
    {'a': [2, 0, 2.5, True]}
    """
    if isinstance(value, dict):
        return {name: with_whole_numbers(item) for name, item in value.items()}
    if isinstance(value, list):
        return [with_whole_numbers(item) for item in value]
    return int(value) if isinstance(value, float) and value.is_integer() else value


def make_receipt(identity: Identity, entry: dict[str, Any]) -> str:
    """The receipt of an entry, as it was stored or as a device kept it."""
    left_out = {RECEIPT, "judged"} if entry.get("agrees") else {RECEIPT}
    kept = with_whole_numbers({name: value for name, value in entry.items() if name not in left_out})
    text = json.dumps(kept, sort_keys=True, separators=(",", ":"))
    return hmac.new(bytes.fromhex(identity.key), text.encode(), hashlib.sha256).hexdigest()


def with_receipt(identity: Identity, entry: dict[str, Any]) -> dict[str, Any]:
    """A stored entry as devices get it."""
    return {**entry, RECEIPT: make_receipt(identity, entry)}


def is_own(identity: Identity, entry: object) -> bool:
    """Whether an arriving entry carries this log's receipt: the log stored it, just like this."""
    if not isinstance(entry, dict) or not isinstance(entry.get(RECEIPT), str) or not isinstance(entry.get("id"), str):
        return False
    return hmac.compare_digest(entry[RECEIPT].encode(), make_receipt(identity, entry).encode())


def as_it_was(entry: dict[str, Any]) -> dict[str, Any]:
    """An entry that came back with its receipt, as it was stored, with its number."""
    stored = {name: value for name, value in entry.items() if name != RECEIPT}
    if stored.get("agrees"):
        stored["judged"] = stored["shown"]
    return stored
