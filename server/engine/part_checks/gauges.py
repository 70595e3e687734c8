"""Gauges and wrenches that parts are checked with: their fields, their doubt, and what follows from an expired one."""

from typing import Any

from ..doubt.budget import INFINITE, Part, even, guard_of
from ..doubt.finding import expired
from ..doubt.verdict import GO, MEASURE_AGAIN
from ..request.fields import Day, Group, Number, Text

# What a dial gauge or a depth gauge may be off by: common practice, no source.
GAUGE_MM = 0.02


def gauge(meaning: str, division: float, deviation: float, coarsest: float = 1.0) -> Group:
    """The fields of a gauge that measures lengths, with what is usual for its kind, mm."""
    return Group(
        {
            "name": Text(60, "what the gauge is called", default=""),
            "division_mm": Number(0.0001, coarsest, "mm", "one division of its scale", default=division),
            "deviation_mm": Number(0, 1, "mm", "largest permitted error", default=deviation),
            "certificate_mm": Number(0, 1, "mm", "expanded uncertainty (k = 2) from its certificate", default=None),
            "calibration_due": Day("last day on which its calibration holds", default=None),
        },
        meaning,
    )


def torque_tool(meaning: str) -> Group:
    """The fields of a torque wrench that a small torque or a screw is checked with."""
    return Group(
        {
            "name": Text(60, "what the wrench is called", default=""),
            "division_nm": Number(0.0001, 50, "nm", "one division of its scale"),
            # ISO 6789-1:2017, from memory: indicating tools with a bending or torsion bar.
            "deviation_percent": Number(
                0, 50, "percent", "largest permitted deviation, in percent of the reading", default=6.0
            ),
            "certificate_percent": Number(
                0, 50, "percent", "expanded uncertainty (k = 2) from its certificate, in percent", default=None
            ),
            "calibration_due": Day("last day on which its calibration holds", default=None),
        },
        meaning,
    )


def gauge_u(tool: dict[str, Any]) -> float:
    """Standard uncertainty of what a gauge of lengths is off by, mm."""
    certificate = tool["certificate_mm"]
    return even(tool["deviation_mm"]) if certificate is None else float(certificate) / 2


def gauge_guard(tool: dict[str, Any]) -> float:
    """Guard band of one reading of a length, mm."""
    division = Part("division", "", even(tool["division_mm"] / 2), INFINITE)
    return guard_of([Part("tool", "", gauge_u(tool), INFINITE), division])


def torque_parts(tool: dict[str, Any], torque: float) -> list[Part]:
    """The parts of doubt of one reading of a torque, N·m."""
    certificate = tool["certificate_percent"]
    u = even(tool["deviation_percent"] / 100 * torque) if certificate is None else certificate / 200 * torque
    return [
        Part("tool", "what the tool may be off by", u, INFINITE),
        Part("division", "one division of the scale", even(tool["division_nm"] / 2), INFINITE),
    ]


def unfit_tool(row: dict[str, Any], tool: dict[str, Any], day: str | None, name: str = "gauge") -> None:
    """Turn a go into measure again where the tool's calibration had run out."""
    text = expired(tool, day, name)
    if text and row["verdict"] == GO:
        row["verdict"], row["reason"] = MEASURE_AGAIN, text
