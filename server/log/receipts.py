"""Receipts: by them a log knows an entry that it once stored, whoever brings it back.

A receipt is an HMAC (RFC 2104) by the log's own key over the entry as it was stored, with its number. A server's
verdict that agrees with the one shown is left out, since devices need not keep it.
"""

import hmac
import json
import re
from typing import Any

import orjson

from .identity import Identity

RECEIPT = "receipt"
# What orjson may write otherwise than Python: whole numbers that are floats, large and small figures, and DEL. Each is
# looked for on its own, which is twice as fast as in one expression.
OTHERWISE = (b".0,", b".0]", b".0}", b"0.0000", b"\x7f")
EXPONENT = re.compile(rb"e[-+]?\d+[,\]}]")
BEYOND_ASCII = re.compile("[^\x00-\x7f]")


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


def text_of(named: dict[str, Any]) -> bytes:
    """Named values as JSON text in ASCII, names in order: `with_whole_numbers` the text that Python's own writer makes.

    >>> text_of({"b": "20 °C", "a": [2.0, 1e-5]})
    b'{"a":[2,1e-05],"b":"20 \\\\u00b0C"}'
    """
    text = quickly(named)
    if text is None:
        named = with_whole_numbers(named)
        text = quickly(named)
    return json.dumps(named, sort_keys=True, separators=(",", ":")).encode() if text is None else text


def quickly(named: dict[str, Any]) -> bytes | None:
    """The same by orjson; None where Python's own writer writes something else."""
    try:
        text = orjson.dumps(named, option=orjson.OPT_SORT_KEYS)
    except orjson.JSONEncodeError:
        # It holds a whole number of more than 64 bits.
        return None
    if any(piece in text for piece in OTHERWISE) or EXPONENT.search(text):
        return None
    for letter, escaped in USUAL.items():
        text = text.replace(letter, escaped)
    return text if text.isascii() else BEYOND_ASCII.sub(lambda found: escape(found[0]), text.decode()).encode()


def escape(letter: str) -> str:
    """A letter beyond ASCII as JSON may write it, in units of UTF-16.

    >>> print(escape("·"), escape("\U0001f527"))
    \\u00b7 \\ud83d\\udd27
    """
    units = letter.encode("utf-16-be").hex()
    return "".join(f"\\u{units[place : place + 4]}" for place in range(0, len(units), 4))


# Those that nearly every result has.
USUAL = {letter.encode(): escape(letter).encode() for letter in "·±"}


def make_receipt(identity: Identity, entry: dict[str, Any]) -> str:
    """The receipt of an entry, as it was stored or as a device kept it."""
    return hmac.digest(bytes.fromhex(identity.key), text_of(said(entry)), "sha256").hex()


def said(entry: dict[str, Any]) -> dict[str, Any]:
    """An entry without its receipt, and without the verdict of the server where that agrees with the one shown."""
    left_out = {RECEIPT, "judged"} if entry.get("agrees") else {RECEIPT}
    return {name: value for name, value in entry.items() if name not in left_out}


def with_receipt(identity: Identity, entry: dict[str, Any]) -> dict[str, Any]:
    """A stored entry as devices get it: a verdict that agrees with the one that was shown does not travel twice."""
    return {**said(entry), RECEIPT: make_receipt(identity, entry)}


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
