"""Entries as the log holds them, for tests of what is derived from them."""

from typing import Any

from server.engine import KINDS, calc

from ..checks import BREAKAWAY, changed


def entry(number: int, kind: str, body: dict[str, Any], at: str, **more: Any) -> dict[str, Any]:
    """An entry as the log holds it."""
    shown = calc(KINDS[kind].calculation, body)
    return {
        "id": f"id-{number}",
        "unit": "u",
        "kind": kind,
        "at": at,
        "who": "Ilse",
        "body": body,
        "shown": shown,
    } | more


def check_near(low: float, **circumstances: Any) -> dict[str, Any]:
    """A check in which every reading lies about `low`."""
    steady = {"forward": [low, low + 1, low], "reverse": [low, low + 1, low]}
    body = changed(BREAKAWAY, steady_nm=steady)
    return body | ({"circumstances": circumstances} if circumstances else {})
