"""Gauges and wrenches that parts are checked with: their fields, their doubt, and what follows from an expired one."""

from typing import Any

from ..doubt.budget import INFINITE, Part, even, guard_of
from ..doubt.finding import expired
from ..doubt.verdict import GO, MEASURE_AGAIN
from ..request.fields import Day, Group, Number, Text
from ..request.units import say

# What a dial gauge or a depth gauge may be off by: common practice, no source.
GAUGE_MM = 0.02

# How often a scale is read for a difference. A backlash, a play or a run-out is how far the needle goes from one end to
# the other, and each end is rounded to a mark; a scale that is turned to zero at the first end is set to a mark just
# so. JCGM 100:2008, 4.3.7 and F.2.2.1 for each end, 5.1.2 for both, which are independent on two places of the scale.
# The permitted error counts once, since it is one of the difference (ISO 463, from memory).
DIFFERENCE = 2


def gauge(meaning: str, division: float, deviation: float, coarsest: float = 1.0, label: str = "One division") -> Group:
    """The fields of a gauge that measures lengths, with what is usual for its kind, mm, and its division's label."""
    return Group(
        {
            "name": Text(60, "what the gauge is called", default="", label="Name"),
            "division_mm": Number(0.0001, coarsest, "mm", "one division of its scale", default=division, label=label),
            "deviation_mm": Number(
                0, 1, "mm", "largest permitted error", default=deviation, label="Largest permitted error"
            ),
            "certificate_mm": Number(
                0,
                1,
                "mm",
                "expanded uncertainty (k = 2) from its certificate",
                default=None,
                label="From its certificate, U",
            ),
            "calibration_due": Day("last day on which its calibration holds", default=None, label="Calibrated until"),
            "zero_mm": zero_field(),
        },
        meaning,
    )


def zero_field() -> Number:
    """What the last check of zero found, either way; not checked if empty."""
    return Number(
        0,
        5,
        "mm",
        "how far from zero it stood when zero was last checked, either way",
        default=None,
        label="Off zero at its last check",
    )


def any_gauge(meaning: str) -> Group:
    """The fields of a gauge of any kind, each with what is usual for its kind where it is left empty."""
    return Group(
        {
            "name": Text(60, "what the gauge is called", default=""),
            "division_mm": Number(
                0.0001, 1, "mm", "one division of its scale, or the step from leaf to leaf", default=None
            ),
            "deviation_mm": Number(0, 1, "mm", "largest permitted error", default=None),
            "certificate_mm": Number(0, 1, "mm", "expanded uncertainty (k = 2) from its certificate", default=None),
            "calibration_due": Day("last day on which its calibration holds", default=None),
            "zero_mm": zero_field(),
        },
        meaning,
        default=None,
    )


def torque_tool(meaning: str) -> Group:
    """The fields of a torque wrench that a small torque or a screw is checked with."""
    return Group(
        {
            "name": Text(60, "what the wrench is called", default="", label="Name"),
            "division_nm": Number(0.0001, 50, "nm", "one division of its scale", label="One division of the wrench"),
            # ISO 6789-1:2017, from memory: indicating tools with a bending or torsion bar.
            "deviation_percent": Number(
                0,
                50,
                "percent",
                "largest permitted deviation, in percent of the reading",
                default=6.0,
                label="Permitted deviation, %",
            ),
            "certificate_percent": Number(
                0,
                50,
                "percent",
                "expanded uncertainty (k = 2) from its certificate, in percent",
                default=None,
                label="From its certificate, U in %",
            ),
            "calibration_due": Day("last day on which its calibration holds", default=None, label="Calibrated until"),
        },
        meaning,
    )


def gauge_u(tool: dict[str, Any]) -> float:
    """Standard uncertainty of what a gauge of lengths is off by, mm."""
    certificate = tool["certificate_mm"]
    return even(tool["deviation_mm"]) if certificate is None else float(certificate) / 2


def gauge_parts(tool: dict[str, Any], reads: int = 1) -> list[Part]:
    """The parts of doubt of a length, mm, [1]_ 4.3.7 each.

    Parameters
    ----------
    tool : dict
        The gauge, in SI.
    reads : int
        How often its scale is read for one value: twice where the value is a difference.

    References
    ----------
    1. JCGM 100:2008 (GUM), 4.3.7, F.2.2.1 (a division of the scale), 5.1.2 (the sum).
    """
    parts = [
        Part("tool", "what the gauge may be off by", gauge_u(tool), INFINITE),
        Part("division", "one division of its scale", reads**0.5 * even(tool["division_mm"] / 2), INFINITE),
    ]
    # Entries of engines before 1.48 say nothing of zero.
    zero = tool.get("zero_mm")
    if zero:
        parts.append(Part("zero", "what it was off zero", even(zero), INFINITE))
    return parts


def gauge_guard(tool: dict[str, Any], reads: int = 1) -> float:
    """Guard band of one value of a length, mm: see `gauge_parts`."""
    return guard_of(gauge_parts(tool, reads))


def torque_parts(tool: dict[str, Any], torque: float) -> list[Part]:
    """The parts of doubt of one reading of a torque, N·m."""
    certificate = tool["certificate_percent"]
    u = even(tool["deviation_percent"] / 100 * torque) if certificate is None else certificate / 200 * torque
    return [
        Part("tool", "what the tool may be off by", u, INFINITE),
        Part("division", "one division of the scale", even(tool["division_nm"] / 2), INFINITE),
    ]


def moved(tool: dict[str, Any], name: str, unit: str) -> str:
    """What to do about a gauge that stood further from zero than its permitted error; empty where it did not."""
    zero = tool.get("zero_mm")
    if not zero or zero <= tool["deviation_mm"] * (1 + 1e-9):
        return ""
    return (
        f"This {name} stood {say(zero, 'mm', unit)} from zero, more than its permitted error of "
        f"{say(tool['deviation_mm'], 'mm', unit)}: clamp it firmly, set it to zero and measure again."
    )


def unfit_tool(row: dict[str, Any], tool: dict[str, Any], day: str | None, name: str, unit: str) -> None:
    """Turn a go into measure again where the tool's calibration had run out, or its zero had moved too far.

    `name` is what sentences call it, `unit` the unit of length that they are written in.
    """
    text = expired(tool, day, name) or moved(tool, name, unit)
    if text and row["verdict"] == GO:
        row["verdict"], row["reason"] = MEASURE_AGAIN, text
