"""What the wrench feels: from the raw number on the tool to the breakaway torque of the unit.

With the case free and one output held, the gears turn the case at half the speed of the turned output, so each pack
slips at half speed and the wrench feels the mean of the two pack torques. With the case held and the other output
free, both packs slip at the full speed and the wrench feels their sum: twice as much. Both follow from equating the
work done by the wrench with the work lost in the packs over a small turn.
"""

import math
from typing import Any

from ..request.errors import BadInput, inside
from ..request.field_names import quoted
from ..request.fields import Choice, Day, Field, Group, Number, Text

WRENCH_KINDS = {
    "beam": "beam wrench",
    "dial": "dial wrench",
    "electronic": "electronic wrench",
    "click": "click wrench",
}

# Largest permitted deviation in percent of the reading, where neither the user's figure nor a certificate is known.
# ISO 6789-1:2017, from memory: 6 % for a bending or torsion bar and for any wrench up to 10 N·m; 4 % for dial,
# electronic and setting wrenches above that. A pull scale or weight: common practice, no source.
PERMITTED_PERCENT = {
    "beam": 6.0,
    "dial": 4.0,
    "electronic": 4.0,
    "click": 4.0,
    "pull_scale": 2.0,
    "weight": 1.0,
}

# What these tools are called that let go, or are loaded, until the unit moves: they read no steady turning.
FIRST_MOVE_ONLY = {"click": "click wrench", "weight": "hung weight"}

SCALE_KINDS = {"pull_scale": "pull scale", "weight": "known weight hung on the bar"}


def with_quality(fields: dict[str, Field]) -> dict[str, Field]:
    """A tool's own fields, followed by those that say how good it is."""
    fields["deviation_percent"] = Number(
        0,
        50,
        "percent",
        "largest permitted deviation, in percent of the reading",
        default=None,
        label="Permitted deviation, %",
    )
    fields["certificate_percent"] = Number(
        0,
        50,
        "percent",
        "expanded uncertainty (k = 2) from its certificate, in percent of the reading",
        default=None,
        label="From its certificate, U in %",
    )
    fields["calibration_due"] = Day("last day on which its calibration holds", default=None, label="Calibrated until")
    return fields


WRENCH = Group(
    with_quality(
        {
            "name": Text(60, "what the wrench is called", default="", label="Name"),
            "kind": Choice(WRENCH_KINDS, "how the wrench works", label="Kind"),
            "low_nm": Number(0, 5000, "nm", "lowest torque on its scale", default=0.0, label="Scale starts at"),
            "high_nm": Number(1, 5000, "nm", "highest torque on its scale", label="Scale ends at"),
            "division_nm": Number(0.001, 500, "nm", "one division of its scale", label="One division"),
        }
    ),
    "a torque wrench",
    default=None,
)

SCALE = Group(
    with_quality(
        {
            "name": Text(60, "what the scale is called", default="", label="Name"),
            "kind": Choice(SCALE_KINDS, "how the force is known", label="Kind"),
            "low_n": Number(0, 20000, "n", "lowest force on its scale", default=0.0, label="Scale starts at"),
            "high_n": Number(1, 20000, "n", "highest force on its scale", label="Scale ends at"),
            "division_n": Number(0.001, 2000, "n", "one division of its scale", label="One division"),
        }
    ),
    "a pull scale or weight, used on a bar",
    default=None,
)

ADAPTER = Group(
    {
        "wrench_mm": Number(
            50, 3000, "mm", "from the middle of the grip to the drive of the wrench", label="Grip to drive"
        ),
        "adapter_mm": Number(
            0, 1000, "mm", "from the drive of the wrench to the middle of the nut or shaft", label="Drive to shaft"
        ),
        "angle_deg": Number(
            0,
            180,
            "deg",
            "angle of the adapter to the line of the wrench, 0 straight on",
            default=0.0,
            label="Angle, degrees",
        ),
        "doubt_mm": Number(0, 50, "mm", "how far off either length may be", default=2.0, label="Lengths may be off by"),
        # Set by eye against the line of the wrench: common practice, no source.
        "doubt_deg": Number(
            0, 45, "deg", "how far off the angle may be", default=3.0, label="Angle may be off by, degrees"
        ),
    },
    "an adapter between wrench and shaft",
    default=None,
    label="Adapter on the wrench",
)

BAR = Group(
    {
        "length_mm": Number(
            50, 5000, "mm", "from the shaft's middle to where the force pulls, square to the bar", label="Shaft to pull"
        ),
        "moment_nm": Number(
            -200,
            200,
            "nm",
            "torque of the bar's own weight, in the direction of the pull",
            default=0.0,
            label="The bar's own torque",
        ),
        "doubt_mm": Number(0, 50, "mm", "how far off the length may be", default=2.0, label="Length may be off by"),
    },
    "a bar that is pulled or loaded",
    default=None,
)


def quality_faults(tool: dict[str, Any], unit: str, field: str) -> None:
    """Refuse a tool whose figures contradict each other.

    Parameters
    ----------
    tool : dict
        A checked `WRENCH` or `SCALE`.
    unit : str
        "nm" or "n".
    field : str
        Path of the tool in the request.
    """
    low, high, division = tool["low_" + unit], tool["high_" + unit], tool["division_" + unit]
    form = WRENCH if unit == "nm" else SCALE
    if low >= high:
        raise BadInput(
            inside(field, "high_" + unit),
            f"This must be above {quoted(form, 'low_' + unit)}.",
        )
    if division > high / 4:
        raise BadInput(inside(field, "division_" + unit), "One division must be less than a quarter of the scale.")


def permitted_percent(tool: dict[str, Any]) -> float:
    """Largest permitted deviation of a tool in percent of the reading: its own, else its kind's."""
    given = tool["deviation_percent"]
    return PERMITTED_PERCENT[tool["kind"]] if given is None else float(given)


def leverage(length: float, arm: float, angle: float) -> float:
    """Torque at the shaft for each unit of torque on a wrench `length` long, with an adapter `arm` long at `angle` deg.

    >>> leverage(400.0, 100.0, 0.0)
    1.25
    """
    return (length + arm * math.cos(math.radians(angle))) / length


def wrench_factor(adapter: dict[str, Any] | None) -> float:
    """Torque at the shaft for each unit of torque on the wrench's scale.

    Parameters
    ----------
    adapter : dict or None
        {"wrench_mm": L, "adapter_mm": A, "angle_deg": a}; None for no adapter.

    Returns
    -------
    float
        (L + A cos a) / L; above 1 for an adapter that makes the wrench longer, and 1 for one square to it.

    Raises
    ------
    BadInput
        An adapter that is turned back as far as the wrench is long.

    Examples
    --------
    An adapter straight on: 135 lbf·in are wanted, so the wrench has to read 117.39 [1]_.

    >>> round(135 / wrench_factor({"wrench_mm": 10, "adapter_mm": 1.5, "angle_deg": 0}), 2)
    117.39

    References
    ----------
    1. FAA Advisory Circular 43.13-1B, figure 7-2.
    """
    if adapter is None:
        return 1.0
    factor = leverage(adapter["wrench_mm"], adapter["adapter_mm"], adapter["angle_deg"])
    if factor < 0.1:
        raise BadInput(
            inside("adapter", "adapter_mm"),
            "An adapter turned back this far takes all leverage away: use a shorter one.",
        )
    return factor
