"""Ramp rings and cross pins: how far the ramps are worn in and the pins worn flat."""

from typing import Any

from ..doubt.verdict import REPLACE
from ..request.errors import BadInput, inside
from ..request.fields import Choice, Day, Group, Listing, Number, Text
from ..request.units import say, unit_labels
from .bands import MARKS, band_row, summed_up, with_marks
from .gauges import DIFFERENCE, GAUGE_MM, gauge, gauge_guard, unfit_tool

# Limits where the user gives none: common practice, no source; the maker's figures come first.
USUAL_STEP_MM = 0.05
USUAL_FLAT_MM = 0.05

RING = Group(
    {
        "slot": Text(20, "place of the ring in the stack"),
        "steps_mm": Listing(
            Number(0, 5, "mm", "depth of the step that the pin has worn into one ramp", label="point"),
            1,
            24,
            "depth worn into each ramp",
            nouns="ramps",
            label="Step worn into a ramp",
        ),
        "limit_mm": Number(0.001, 5, "mm", "deepest step allowed", default=USUAL_STEP_MM),
        "marks": Choice(MARKS, "signs of heat or scoring", default="none", label="Heat, scoring or cracks"),
    },
    "a ramp ring",
)

PIN = Group(
    {
        "slot": Text(20, "what the pin is called"),
        "new_mm": Number(3, 80, "mm", "thickness across its bearing faces when new"),
        "points_mm": Listing(
            Number(1, 90, "mm", "thickness across the bearing faces at one end"), 1, 16, "each end", nouns="ends"
        ),
        "limit_mm": Number(0.001, 5, "mm", "deepest flat allowed", default=USUAL_FLAT_MM),
        "marks": Choice(MARKS, "signs of heat or scoring", default="none", label="Heat, scoring or cracks"),
    },
    "a cross pin",
)

FORM = Group(
    {
        "gauge": gauge("the gauge for steps and pins", 0.01, GAUGE_MM),
        "day": Day("day of the measurement", default=None),
        "write_in": Choice(unit_labels("mm"), "unit of length that sentences are written in", default="mm"),
        "rings": Listing(RING, 1, 4, "the ramp rings", nouns="rings"),
        "pins": Listing(PIN, 0, 8, "the cross pins", default=[], nouns="pins"),
    },
    "a check of ramp rings and cross pins",
)


def pin_flats(pin: dict[str, Any], path: str, unit: str) -> list[float]:
    """How deep each end of a pin is worn flat, mm."""
    for place, point in enumerate(pin["points_mm"]):
        if not 0.7 * pin["new_mm"] <= point <= 1.02 * pin["new_mm"]:
            raise BadInput(
                inside(inside(path, "points_mm"), place),
                f"A pin of {say(pin['new_mm'], 'mm', unit)} new cannot measure {say(point, 'mm', unit)}: "
                "read again, or check the unit.",
            )
    return [max(0.0, pin["new_mm"] - point) for point in pin["points_mm"]]


def ring_check(request: dict[str, Any]) -> dict[str, Any]:
    """Judge ramp rings and cross pins.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        verdict and reason for all; rings and pins, a row each with verdict, reason, highest_mm (the deepest step or
        flat), guard_mm, high_mm (the limit) and findings.

    Raises
    ------
    BadInput
        A part given twice, or a pin that cannot measure what was typed.
    """
    tool, day, unit = request["gauge"], request["day"], request["write_in"]
    # A step is the ramp's sound face read, and its worn one; a pin's end is read once.
    step_guard, pin_guard = gauge_guard(tool, DIFFERENCE), gauge_guard(tool)
    seen: set[str] = set()

    def judge(part: dict[str, Any], path: str, subject: str, depths: list[float], guard: float) -> dict[str, Any]:
        if part["slot"] in seen:
            raise BadInput(inside(path, "slot"), f"{part['slot']} is given twice here: keep one of them.")
        seen.add(part["slot"])
        row = band_row(part["slot"], subject, depths, guard, None, part["limit_mm"], "mm", unit, REPLACE)
        with_marks(row, part["slot"], part["marks"], REPLACE)
        unfit_tool(row, tool, day, "gauge", unit)
        return row

    rings = [
        judge(ring, inside("rings", place), f"{ring['slot']}, worn into the ramps", ring["steps_mm"], step_guard)
        for place, ring in enumerate(request["rings"])
    ]
    pins = []
    for place, pin in enumerate(request["pins"]):
        path = inside("pins", place)
        pins.append(judge(pin, path, f"{pin['slot']}, worn flat", pin_flats(pin, path, unit), pin_guard))
    answer = summed_up(rings + pins, "Ramps and pins are inside their limits.")
    answer.update({"guard_mm": step_guard, "rings": rings, "pins": pins})
    return answer
