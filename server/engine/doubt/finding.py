"""A finding: something seen in the readings or the kit, with its number and a sentence."""

from typing import Any

NOTE = "note"
DOUBT = "doubt"


def finding(name: str, weight: str, number: float, text: str) -> dict[str, Any]:
    """A finding as results hold it."""
    return {"name": name, "weight": weight, "number": number, "text": text}


def expired(tool: dict[str, Any], day: str | None, name: str) -> str:
    """What to do about a tool whose calibration had run out on the day of the check; empty where it holds."""
    due = tool["calibration_due"]
    if due is None or day is None or day <= due:
        return ""
    return f"The calibration of this {name} ran out on {due}: use another, or have it checked first."
