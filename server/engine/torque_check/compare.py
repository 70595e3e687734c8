"""Two torque checks side by side: how far apart they are, and whether they are like with like."""

from typing import Any

from ..request.fields import Choice, Group, Number, Text, Whole
from ..request.letters import folded, trimmed
from ..request.units import say
from ..request.written_in import with_written_in
from .form import TEMPERATURES
from .shared_doubt import PARTS, are_shared, combined, sources_of

# In the first outings after a rebuild the plates bed in: common practice, no source.
BEDDING_OUTINGS = 1

# The part of the doubt that is a tool's own.
TOOL = "tool"


def check(meaning: str) -> Group:
    """What has to be known of one check to compare it."""
    return Group(
        {
            "value_nm": Number(0.1, 5000, "nm", "breakaway torque, as the limits are stated"),
            "u_nm": Number(0, 1000, "nm", "its standard uncertainty", default=0.0),
            "parts": PARTS,
            "tool": Text(60, "what the tool is called", default=""),
            "oil": Text(60, "oil in the unit", default=""),
            "temperature": Choice(TEMPERATURES, "how warm the unit was", default=None),
            "outings": Whole(0, 1000, "outings since the rebuild", default=None),
        },
        meaning,
    )


FORM = Group(
    with_written_in({"before": check("the earlier check"), "now": check("the later check")}, "write_in"),
    "two torque checks side by side",
)


def marks_of(before: dict[str, Any], now: dict[str, Any]) -> list[dict[str, Any]]:
    """In what the two checks are not alike, each with what it does to the reading."""
    marks = []

    def mark(name: str, text: str) -> None:
        marks.append({"name": name, "text": text})

    if folded(before["oil"]) != folded(now["oil"]):
        was, is_ = trimmed(before["oil"]) or "not noted", trimmed(now["oil"]) or "not noted"
        mark("oil", f"Other oil (then {was}, now {is_}): friction differs with it.")
    tools = (trimmed(before["tool"]), trimmed(now["tool"]))
    if all(tools) and not are_shared(before, now, TOOL):
        if folded(tools[0]) == folded(tools[1]):
            mark("tool", f"The {tools[1]} was calibrated or changed in between: what it may be off by counts in full.")
        else:
            mark("tool", f"Another tool (then {tools[0]}, now {tools[1]}): what each may be off by counts in full.")
    if before["temperature"] != now["temperature"]:
        was, is_ = before["temperature"] or "not noted", now["temperature"] or "not noted"
        mark("temperature", f"Not equally warm (then {was}, now {is_}): warm oil reads lower than cold.")
    if before["outings"] is None or now["outings"] is None:
        if before["outings"] != now["outings"]:
            mark("outings", "The outings since the rebuild were noted for one of them only.")
        return marks
    fresh = (before["outings"] < BEDDING_OUTINGS, now["outings"] < BEDDING_OUTINGS)
    if fresh[0] != fresh[1]:
        which = "first" if fresh[0] else "second"
        mark("bedding", f"The {which} was taken fresh from a rebuild: the torque drops while the plates bed in.")
    if now["outings"] < before["outings"]:
        mark("rebuilt", "It was rebuilt in between: these are two different settings.")
    return marks


def say_same_tool(name: str) -> str:
    """That both checks share their tool."""
    tool = f"the {trimmed(name)}" if trimmed(name) else "the same tool"
    return f" Both were read with {tool}, so what it may be off by cancels."


def compare(request: dict[str, Any]) -> dict[str, Any]:
    """Compare two torque checks.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        change_nm and change_percent, expanded_nm of the change (95 %), certain (whether it is more than that), marks (a
        name and a sentence for each thing that was not alike), alike (no mark), same_tool (whether what the tool may be
        off by cancels), text.

    Examples
    --------
    >>> result = compare(FORM.read({"before": {"value_nm": 100, "u_nm": 2}, "now": {"value_nm": 90, "u_nm": 2}}, ""))
    >>> result["change_percent"], result["certain"], result["alike"]
    (-10.0, True, True)
    """
    before, now, unit = request["before"], request["now"], request["write_in"]
    change = now["value_nm"] - before["value_nm"]
    _, expanded = combined(sources_of(before, now), -1.0, 1.0)
    certain = abs(change) > expanded
    marks = marks_of(before, now)
    word = "up" if change > 0 else "down"
    if certain:
        text = f"It went {word} by {say(abs(change), 'nm', unit)}, which is more than the readings' doubt"
    else:
        text = f"It changed by {say(abs(change), 'nm', unit)}, which is within the readings' doubt"
    same = are_shared(before, now, TOOL)
    end = "." if not marks else f", but the two are not like with like: {', '.join(mark['name'] for mark in marks)}."
    return {
        "change_nm": change,
        "change_percent": 100.0 * change / before["value_nm"],
        "expanded_nm": expanded,
        "certain": certain,
        "marks": marks,
        "alike": not marks,
        "same_tool": same,
        "text": text + end + (say_same_tool(now["tool"]) if same else ""),
    }
