"""Plates measured with a micrometer: a verdict for each against its limit, and the worst for all.

The verdict goes by the lowest point, since that is where a plate wears through first.
"""

from typing import Any

from ..doubt.budget import mean
from ..doubt.finding import DOUBT, NOTE, finding
from ..doubt.verdict import GO, MEASURE_AGAIN, REPLACE, judge_limit, worst
from ..request.errors import BadInput, inside, once_each
from ..request.fields import Choice, Day, Group, Listing, Number, Text, YesNo
from ..request.units import say, unit_labels
from ..unit.usual_limits import USUAL_WEAR, plate_limits
from .bands import MARKS, with_marks
from .gauges import gauge, gauge_guard, unfit_tool

PLATES = {"friction": "friction plate", "separator": "separator plate", "shim": "shim"}

# Largest permitted error of an external micrometer from 0 to 25 mm: ISO 3611, from memory.
MICROMETER_MM = 0.004


USUAL_LIMIT = f"only {USUAL_WEAR} of new, by common practice: use the maker's figure"

MICROMETER = gauge("the micrometer", 0.01, MICROMETER_MM, coarsest=0.1)

PLATE = Group(
    {
        "slot": Text(20, "place of the plate in the stack"),
        "part": Choice(PLATES, "what kind of plate"),
        "new_mm": Number(0.05, 50, "mm", "thickness when new"),
        "minimum_mm": Number(0.02, 50, "mm", "thickness at which it has to be replaced", label="Limit"),
        "usual_minimum": YesNo("whether that limit is only common practice", default=False),
        "points_mm": Listing(
            Number(0.01, 60, "mm", "thickness at one clock point", label="point"),
            3,
            24,
            "thickness round the plate",
            nouns="points",
        ),
        "same_all_round": YesNo("whether one figure was taken and said to hold at every point", default=False),
        "gap_mm": Number(
            0,
            5,
            "mm",
            "thickest feeler that passes under its rim on a surface plate, the larger of both sides",
            default=None,
            label="Thickest feeler that passes under its rim",
        ),
        "marks": Choice(MARKS, "signs of heat or scoring", default="none", label="Heat or scoring"),
    },
    "a measured plate",
)

FORM = Group(
    {
        "micrometer": MICROMETER,
        "day": Day("day of the measurement", default=None),
        "write_in": Choice(unit_labels("mm"), "unit of length that sentences are written in", default="mm"),
        "limits": plate_limits(),
        "plates": Listing(PLATE, 1, 80, "the measured plates", nouns="plates"),
    },
    "a measurement of plates",
)


def plate_row(plate: dict[str, Any], limits: dict[str, Any], guard: float, path: str, unit: str) -> dict[str, Any]:
    """One plate's verdict with its reason and figures."""
    points, minimum = plate["points_mm"], plate["minimum_mm"]
    if minimum >= plate["new_mm"]:
        raise BadInput(
            inside(path, "minimum_mm"),
            f"The limit must be below the thickness when new, {say(plate['new_mm'], 'mm', unit)}.",
        )
    for place, point in enumerate(points):
        if not 0.4 * plate["new_mm"] <= point <= 1.3 * plate["new_mm"]:
            raise BadInput(
                inside(inside(path, "points_mm"), place),
                f"A plate of {say(plate['new_mm'], 'mm', unit)} new cannot measure {say(point, 'mm', unit)}: "
                "read again, or check the unit.",
            )
    lowest, taper = min(points), max(points) - min(points)
    if plate["same_all_round"] and taper > 0:
        raise BadInput(
            inside(path, "points_mm"),
            "One figure is said to hold all round, and these differ: measure this plate point by point.",
        )
    measured = "The one figure" if plate["same_all_round"] else "The lowest point"
    findings = []
    if plate["same_all_round"]:
        text = f"{plate['slot']}: one figure for all round, so its taper was not measured."
        findings.append(finding("same_all_round", NOTE, lowest, text))
    verdicts = [judge_limit(lowest, guard, minimum, True, REPLACE)]
    shown, limit = say(lowest, "mm", unit), say(minimum, "mm", unit)
    if plate["usual_minimum"]:
        limit += f", which is {USUAL_LIMIT}"
    reasons = {
        GO: f"{measured}, {shown}, is above its limit of {limit}.",
        REPLACE: f"{measured}, {shown}, is below its limit of {limit}.",
        MEASURE_AGAIN: f"{measured}, {shown}, is too close to its limit of {limit} for this micrometer.",
    }
    reason = reasons[verdicts[0]]
    # Both ends of a taper are read with the same tool, so its constant error drops out.
    for name, value, most, words in (
        ("taper", taper, limits["taper_mm"], "thickness differs round the plate by"),
        ("flatness", plate["gap_mm"], limits["flatness_mm"], "out of flat by"),
    ):
        if value is not None and value > most * (1 + 1e-9):
            text = f"{plate['slot']}: {words} {say(value, 'mm', unit)}; at most {say(most, 'mm', unit)} is allowed."
            findings.append(finding(name, DOUBT, value, text))
            verdicts.append(REPLACE)
            reason = text if verdicts[0] != REPLACE else reason
    if max(points) > plate["new_mm"] + guard:
        text = (
            f"{plate['slot']}: thicker than when new: clean it and measure again, or check that it is the right plate."
        )
        findings.append(finding("thicker_than_new", NOTE, max(points) - plate["new_mm"], text))
    row = {
        "slot": plate["slot"],
        "part": plate["part"],
        "verdict": worst(verdicts),
        "reason": reason,
        "lowest_mm": lowest,
        "mean_mm": mean(points),
        "taper_mm": taper,
        "guard_mm": guard,
        "minimum_mm": minimum,
        "usual_minimum": plate["usual_minimum"],
        "new_mm": plate["new_mm"],
        "points_mm": points,
        "findings": findings,
    }
    with_marks(row, plate["slot"], plate["marks"], REPLACE)
    return row


def plates(request: dict[str, Any]) -> dict[str, Any]:
    """Judge measured plates.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        verdict and reason for all of them; plates, a row each with verdict, reason, lowest_mm, mean_mm, taper_mm,
        guard_mm, minimum_mm, findings.

    Raises
    ------
    BadInput
        A limit above the new thickness, a point that cannot belong to the plate, a slot named twice, points that differ
        where one figure is said to hold all round.

    References
    ----------
    1. ISO 3611, largest permitted error of an external micrometer, from memory.
    2. ISO 14253-1:2017, guard bands, as in `verdict`.
    """
    micrometer, unit = request["micrometer"], request["write_in"]
    guard = gauge_guard(micrometer)
    once_each(request["plates"], "plates", "slot", "is measured twice here: keep one of them.")
    rows = [
        plate_row(plate, request["limits"], guard, inside("plates", place), unit)
        for place, plate in enumerate(request["plates"])
    ]
    for row in rows:
        unfit_tool(row, micrometer, request["day"], "micrometer", unit)
    verdict = worst([row["verdict"] for row in rows])
    bad = [row for row in rows if row["verdict"] == verdict]
    if verdict == GO:
        usual = [row["slot"] for row in rows if row["usual_minimum"]]
        reason = f"All {len(rows)} measured plates are above their limits." if len(rows) > 1 else bad[0]["reason"]
        if usual and len(rows) > 1:
            whose = "These limits are" if len(usual) == len(rows) else f"The limit of {', '.join(usual)} is"
            reason += f" {whose} {USUAL_LIMIT}."
    else:
        reason = (
            bad[0]["reason"]
            if len(bad) == 1
            else f"{len(bad)} plates need attention: {', '.join(row['slot'] for row in bad)}."
        )
        if len(bad) == 1 and not reason.startswith(bad[0]["slot"]):
            reason = f"{bad[0]['slot']}: {reason[0].lower()}{reason[1:]}"
    return {"verdict": verdict, "reason": reason, "guard_mm": guard, "plates": rows}
