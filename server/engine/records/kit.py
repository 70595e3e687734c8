"""A tool of the kit: a wrench, a scale, a micrometer or another gauge."""

from typing import Any

from ..part_checks.gauges import gauge
from ..part_checks.inspection import GAUGE_WORDS, USUAL_GAUGES
from ..part_checks.plates import MICROMETER
from ..request.errors import BadInput
from ..request.fields import Choice, Group, Text
from ..request.letters import trimmed
from ..torque_check.wrench import SCALE, WRENCH, quality_faults

TOOLS = {"wrench": "torque wrench", "scale": "pull scale or weight"}
TOOLS.update(GAUGE_WORDS)


def of_kit(kind: str) -> Group:
    """The fields of a gauge of the kit, with what is usual for its kind; None where the tool is another."""
    group = gauge(f"the {GAUGE_WORDS[kind]}", *USUAL_GAUGES[kind])
    return Group(group.fields, group.meaning, default=None)


KIT_FORM = Group(
    {
        "tool": Choice(TOOLS, "what kind of tool"),
        "wrench": WRENCH,
        "scale": SCALE,
        "micrometer": Group(MICROMETER.fields, MICROMETER.meaning, default=None),
        "dial_gauge": of_kit("dial_gauge"),
        "feeler": of_kit("feeler"),
        "bore_gauge": of_kit("bore_gauge"),
        "depth_gauge": of_kit("depth_gauge"),
        "id": Text(40, "the tool that this entry changes", default=""),
        "gone": Choice({"no": "in use", "yes": "no longer in use"}, "whether it is still used", default="no"),
    },
    "a tool of the kit",
)


def kit(request: dict[str, Any]) -> dict[str, Any]:
    """Check a tool of the kit.

    Parameters
    ----------
    request : dict
        Checked by `KIT_FORM`.

    Returns
    -------
    dict
        verdict, always None.

    Raises
    ------
    BadInput
        Figures for another tool than the one named, no name, or figures that contradict each other.

    References
    ----------
    Permitted errors of gauges where none are given: see `USUAL_GAUGES`.
    """
    chosen = request["tool"]
    for other in sorted(TOOLS):
        if other != chosen and request[other] is not None:
            raise BadInput(other, f"This is a {TOOLS[chosen]}: leave the figures of a {TOOLS[other]} out.")
    tool = request[chosen]
    if tool is None:
        raise BadInput(chosen, f"Give the figures of the {TOOLS[chosen]}.")
    if not trimmed(tool["name"]):
        raise BadInput(chosen + ".name", "Give the tool a name, so that it can be told from the others.")
    if chosen not in GAUGE_WORDS:
        quality_faults(tool, "nm" if chosen == "wrench" else "n", chosen)
    return {"verdict": None}
