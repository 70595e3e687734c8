"""What is due to be done about a unit: a spring left in a vice, a check, plates to measure."""

from typing import Any

from ..records import guided_steps
from .stale import Stale
from .timeline import is_certainly_before
from .used_now import outings_in_words

# What is due in a few words, as a table and a calendar show it.
TITLES = {
    "held": "finish it, a vice holds the spring",
    "open": "close it",
    "definition": "its definition contradicts itself",
    "torque": "check the torque",
    "recheck": "check the torque again",
    "plates": "measure the plates",
    "oil": "change the oil",
    "check": "check the torque",
}


def left_open(live: list[dict[str, Any]]) -> dict[str, Any] | None:
    """The strip that undid the cover's screws, if the unit was not certainly closed or its torque read since."""
    strips: list[dict[str, Any]] = []
    closings: list[dict[str, Any]] = []
    for entry in live:
        screws = "screws" in entry["body"].get("done", [])
        if entry["kind"] == "strip" and screws:
            strips.append(entry)
        elif entry["kind"] == "torque_check" or (entry["kind"] == "close" and screws):
            closings.append(entry)
    return newest_not_ended(strips, closings)


def held_by_vice(live: list[dict[str, Any]]) -> dict[str, Any] | None:
    """The strip or closing that was left while a vice alone holds the spring, if nothing was certainly done since."""
    left: list[dict[str, Any]] = []
    ends: list[dict[str, Any]] = []
    for entry in live:
        if entry["kind"] in guided_steps.ENDS_HOLDING:
            ends.append(entry)
            if guided_steps.held_by_vice(entry["kind"], entry["body"].get("done", [])):
                left.append(entry)
        elif entry["kind"] == "torque_check":
            ends.append(entry)
    return newest_not_ended(left, ends)


def newest_not_ended(begun: list[dict[str, Any]], ends: list[dict[str, Any]]) -> dict[str, Any] | None:
    """The newest of some entries in order of time that no other was certainly made after; None if there is none."""
    entry: dict[str, Any]
    for entry in reversed(begun):
        if not any(is_certainly_before(entry, end) for end in ends):
            return entry
    return None


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
    stale: Stale | None,
    fault: dict[str, str] | None,
    upkeep: list[dict[str, Any]],
    run: int,
) -> list[dict[str, Any]]:
    """What is due to be done, most pressing first: name, title and text of each.

    `run` is how many outings were logged since the last check.
    """
    dues = []

    def due(name: str, text: str) -> None:
        dues.append({"name": name, "title": TITLES[name], "text": text})

    if held is not None:
        due("held", warn_of_vice(held))
    if stripped is not None:
        due("open", f"Stripped on {stripped['at'][:10]} and not closed since: close it, and check it before it runs.")
    if fault is not None:
        due("definition", f"Its definition contradicts itself. {fault['text']}")
    if torque is None and rebuilt is None:
        due("torque", "Never torque-checked: check it before it runs.")
    elif torque is None and rebuilt is not None:
        due("torque", f"Rebuilt on {rebuilt['at'][:10]} and not torque-checked since: check it before it runs.")
    elif torque is not None and any(row["name"] == "fresh" for row in torque["findings"]):
        now = (
            f", and {outings_in_words(run)} since: check it again now."
            if run
            else ": check again after the first outing."
        )
        due("recheck", f"Checked fresh from a rebuild{now}")
    if not rows and rebuilt is None:
        due("plates", "Plates never measured: open it once a season and measure them.")
    elif stale is not None:
        due("plates", stale.due)
    names = {row["name"] for row in dues}
    for row in upkeep:
        repeated = names & ({"torque", "recheck"} if row["name"] == "check" else {row["name"]})
        if row["due"] and not repeated:
            due(row["name"], row["text"])
    return dues
