"""A note about a unit or the shop."""

from typing import Any

from ..request.fields import Group, Text

NOTE_FORM = Group({"text": Text(4000, "the note", label="Note")}, "a note")


def note(_: dict[str, Any]) -> dict[str, Any]:
    """A note needs no judging."""
    return {"verdict": None}
