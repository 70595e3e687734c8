"""What is due to be done about a unit: a spring left in a vice, a check, plates to measure."""

from typing import Any

from ..records import guided_steps


def left_open(live: list[dict[str, Any]]) -> dict[str, Any] | None:
    """The strip that undid the cover's screws, if the unit was not closed and its torque not read since."""
    strip = None
    for entry in live:
        screws = "screws" in entry["body"].get("done", [])
        if entry["kind"] == "strip" and screws:
            strip = entry
        elif entry["kind"] == "torque_check" or (entry["kind"] == "close" and screws):
            strip = None
    return strip


def held_by_vice(live: list[dict[str, Any]]) -> dict[str, Any] | None:
    """The strip or closing that was left while a vice alone holds the spring, if nothing was done since."""
    left = None
    for entry in live:
        if entry["kind"] in guided_steps.ENDS_HOLDING:
            left = entry if guided_steps.held_by_vice(entry["kind"], entry["body"].get("done", [])) else None
        elif entry["kind"] == "torque_check":
            left = None
    return left


def warn_of_vice(entry: dict[str, Any]) -> str:
    """The warning for a unit whose spring only a vice holds."""
    screws = "screws are out" if entry["kind"] == "strip" and "screws" in entry["body"]["done"] else "screws not tight"
    who = f" by {entry['who']}" if entry.get("who") else ""
    since_when = f"left so{who} on {entry['at'][:10]} at {entry['at'][11:16]}"
    return f"Spring held by a vice: {screws}, {since_when}. Finish it now, or put the screws back."


def due_list(
    held: dict[str, Any] | None,
    torque: dict[str, Any] | None,
    rows: list[dict[str, Any]],
    rebuilt: dict[str, Any] | None,
    stripped: dict[str, Any] | None,
    stale: str,
) -> list[dict[str, Any]]:
    """What is due to be done, most pressing first."""
    dues = []

    def due(name: str, text: str) -> None:
        dues.append({"name": name, "text": text})

    if held is not None:
        due("held", warn_of_vice(held))
    if stripped is not None:
        due("open", f"Stripped on {stripped['at'][:10]} and not closed since: close it, and check it before it runs.")
    if torque is None and rebuilt is None:
        due("torque", "Never torque-checked: check it before it runs.")
    elif torque is None and rebuilt is not None:
        due("torque", f"Rebuilt on {rebuilt['at'][:10]} and not torque-checked since: check it before it runs.")
    elif torque is not None and any(row["name"] == "fresh" for row in torque["findings"]):
        due("recheck", "Checked fresh from a rebuild: check again after the first outing.")
    if not rows and rebuilt is None:
        due("plates", "Plates never measured: open it once a season and measure them.")
    elif stale:
        due("plates", stale)
    return dues
