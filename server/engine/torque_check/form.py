"""The form of a breakaway check: how the unit was held, with what, and what was read."""

from typing import Any

from ..request.errors import BadInput, inside
from ..request.field_names import quoted
from ..request.fields import Choice, Day, Group, Listing, Number, Text, Whole, YesNo, amount
from ..request.units import factor, unit_labels
from ..unit.form import FORM as UNIT_FORM
from ..unit.held import HELD, JUDGED_ON, STATED_FOR
from ..unit.ramp_lock import build_form
from .wrench import ADAPTER, BAR, FIRST_MOVE_ONLY, SCALE, WRENCH, quality_faults

FORWARD = "forward"
REVERSE = "reverse"
DIRECTIONS = (FORWARD, REVERSE)


TEMPERATURES = {"cold": "cold", "warm": "warm", "hot": "hot, straight after a run"}


# What stands above the readings on the screens.
STEADY = "Turning steadily"
FIRST_MOVE = "Peak at the first move"


def both_ways(unit: str, high: float, meaning: str, label: str) -> Group:
    """Repeated readings forward and, if taken, reverse."""
    reading = Number(0, high, unit, "one reading", label="reading")
    few = Listing(reading, 2, 50, f"{meaning}, turned forward", nouns="readings", label=f"{label}, forward")
    return Group(
        {
            FORWARD: few,
            REVERSE: Listing(
                reading,
                2,
                50,
                f"{meaning}, turned in reverse",
                default=None,
                nouns="readings",
                label=f"{label}, reverse",
            ),
        },
        meaning,
        default=None,
    )


FORM = Group(
    {
        "held": Choice(
            {held: meaning for held, (_, meaning) in HELD.items()}, "how the unit is held", label="How is it held?"
        ),
        "wrench": WRENCH,
        "scale": SCALE,
        "adapter": ADAPTER,
        "bar": BAR,
        "steady_nm": both_ways("nm", 5000, "steady turning, read on a wrench", STEADY),
        "first_nm": both_ways("nm", 5000, "peak at the first move, read on a wrench", FIRST_MOVE),
        "steady_n": both_ways("n", 20000, "steady turning, read on a scale", STEADY),
        "first_n": both_ways("n", 20000, "peak at the first move, read on a scale", FIRST_MOVE),
        "judged_on": Choice(JUDGED_ON, "which of the two the limits are for", default="steady"),
        "stated_for": Choice(STATED_FOR, "way of holding that the limits are stated for", default="one_output_held"),
        "hub_ratio": Number(0.2, 10, "", "turns of the output for one turn of the wheel", default=1.0),
        "drag": Group(
            {
                "case_nm": Number(
                    0, 500, "nm", "drag on the case: crown wheel, pinion, shaft", default=0.0, label="On the case"
                ),
                "wheel_nm": Number(
                    0,
                    500,
                    "nm",
                    "drag on the turned wheel: bearing, brake, seal; with both wheels up, on each where one is given",
                    default=None,
                    label="On the turned wheel",
                ),
                "other_wheel_nm": Number(
                    0,
                    500,
                    "nm",
                    "drag on the other wheel, which turns backwards with both wheels up",
                    default=None,
                    label="On the other wheel",
                ),
                "doubt_nm": Number(
                    0,
                    500,
                    "nm",
                    "how far off each may be; a quarter of it if empty",
                    default=None,
                    label="May be off by",
                ),
            },
            "drag that the wrench feels beside the packs",
            default=None,
            label="Drag of other parts",
        ),
        "build": build_form(UNIT_FORM.fields["ramps"]),
        "limits": Group(
            {
                "low_nm": Number(0, 5000, "nm", "lowest torque allowed", default=None),
                "high_nm": Number(0, 5000, "nm", "highest torque allowed", default=None),
            },
            "limits for the breakaway torque",
        ),
        "last_nm": Number(0.1, 5000, "nm", "torque at the last check of this build, as stated", default=None),
        "sure_of_unit": YesNo("whether somebody has said that the unit of the readings is right", default=False),
        "day": Day("day of the check", default=None),
        "write_in": Choice(unit_labels("nm"), "unit of torque that sentences are written in", default="nm"),
        "write_forces_in": Choice(unit_labels("n"), "unit of force that sentences are written in", default="n"),
        "circumstances": Group(
            {
                "oil": Text(60, "oil in the unit", default="", label="Oil"),
                "temperature": Choice(
                    TEMPERATURES, "how warm the unit is", default="cold", label="How warm is the unit?"
                ),
                "outings": Whole(0, 1000, "outings since the rebuild", default=None, label="Outings since rebuild"),
            },
            "what the reading was taken in",
            default=None,
        ),
    },
    "a breakaway torque check",
)


OTHERS_READINGS = {
    "wrench": "These readings are forces, and a wrench reads torques: give them as torques.",
    "scale": "These readings are torques, and a scale or weight reads forces: give them as forces.",
}


def tool_of(request: dict[str, Any]) -> tuple[dict[str, Any], str, str]:
    """The tool of a check, its unit and the name that its fields have.

    Returns
    -------
    tuple
        (tool's fields, "nm" or "n", "wrench" or "scale").

    Raises
    ------
    BadInput
        No tool, both tools, parts that do not go with it, or figures that contradict each other.
    """
    wrench, scale = request["wrench"], request["scale"]
    if (wrench is None) == (scale is None):
        raise BadInput("wrench", "Choose one tool: a wrench, or a scale or weight on a bar.")
    name, unit, other = ("wrench", "nm", "n") if scale is None else ("scale", "n", "nm")
    for left in ("steady_", "first_"):
        if request[left + other] is not None:
            raise BadInput(left + other, OTHERS_READINGS[name])
    if unit == "nm" and request["bar"] is not None:
        raise BadInput("bar", "A bar goes with a scale or weight: with a wrench, leave it out.")
    if unit == "n" and request["bar"] is None:
        raise BadInput("bar", f"Give {quoted(BAR, 'length_mm')}: a pull or a weight has no torque without it.")
    if unit == "n" and request["adapter"] is not None:
        raise BadInput("adapter", f"An adapter goes with a wrench: with a scale, give {quoted(BAR, 'length_mm')}.")
    tool = wrench if scale is None else scale
    quality_faults(tool, unit, name)
    return tool, unit, name


def in_words(value: float, request: dict[str, Any], si: str) -> str:
    """A torque ("nm") or a force ("n") as sentences at a field give it, in the unit that the check is read in."""
    shown = request["write_in" if si == "nm" else "write_forces_in"]
    return amount(value / factor(shown, si), shown, si)


def check_limits(request: dict[str, Any]) -> tuple[float | None, float | None]:
    """The low and the high limit of a check, of which one has to be given."""
    low, high = request["limits"]["low_nm"], request["limits"]["high_nm"]
    if not low and high is None:
        raise BadInput("limits.low_nm", "Give at least one limit: without it there is nothing to judge.")
    if low is not None and high is not None and low >= high:
        raise BadInput(
            "limits.high_nm",
            f"The highest torque allowed must be above the lowest, {in_words(low, request, 'nm')}.",
        )
    return low, high


def is_inside(torque: float, low: float | None, high: float | None) -> bool:
    """Whether a torque is within limits, of which either may be open.

    >>> is_inside(84.0, 70.0, None), is_inside(60.0, 70.0, 130.0)
    (True, False)
    """
    return (low is None or torque >= low) and (high is None or torque <= high)


def check_drag(request: dict[str, Any]) -> None:
    """Refuse the drag of a wheel that does not turn."""
    drag, held = request["drag"], request["held"]
    if drag is not None and drag["other_wheel_nm"] is not None and held != "car_both_wheels_up":
        raise BadInput(
            "drag.other_wheel_nm", "The other wheel turns only with both wheels up, in gear: leave this empty."
        )


def judged_readings(request: dict[str, Any], tool: dict[str, Any], unit: str) -> tuple[str, dict[str, Any]]:
    """The readings that are judged, with their field.

    A tool that reads the first move alone has read it, wherever that was typed.

    Raises
    ------
    BadInput
        They were not typed.
    """
    fields = ["steady_" + unit, "first_" + unit]
    if request["judged_on"] != "steady":
        fields.reverse()
    given = [field for field in fields if request[field] is not None]
    if given and (given[0] == fields[0] or tool["kind"] in FIRST_MOVE_ONLY):
        return given[0], request[given[0]]
    raise BadInput(
        inside(fields[0], FORWARD), f"The limits are for {JUDGED_ON[request['judged_on']]}: type these readings."
    )


def check_range(request: dict[str, Any], tool: dict[str, Any], unit: str, field: str) -> None:
    """Refuse a reading in `field` that the tool's scale does not have."""
    high = tool["high_" + unit]
    for direction in DIRECTIONS:
        for place, value in enumerate(request[field][direction] or []):
            path = inside(inside(field, direction), place)
            if value > high * (1 + 1e-9):
                end, got = in_words(high, request, unit), in_words(value, request, unit)
                raise BadInput(
                    path, f"The tool ends at {end}; got {got}. Read again, or choose the tool that was used."
                )
            if value <= 0:
                raise BadInput(path, "A reading must be above 0: the unit does turn against it.")
