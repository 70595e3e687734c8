"""A note about a unit or the shop."""

from typing import Any

from ..request.fields import Group, Text

NOTE_FORM = Group({"text": Text(4000, "what is to be remembered")}, "a note")


def note(_: dict[str, Any]) -> dict[str, Any]:
    """A note needs no judging."""
    return {"verdict": None}
