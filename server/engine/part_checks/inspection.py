"""Inspection of the parts that are neither plates, springs nor ramp faces, feature by feature.

A unit's definition lists its features (`unit.features`). What has a length is judged by its lowest and highest value
against its band, with the guard band of the gauge; what is looked at or tested passes or fails; what is used up is
counted.
"""

from typing import Any

from ..doubt.finding import NOTE, finding
from ..doubt.verdict import GO, MEASURE_AGAIN, REPLACE
from ..request.errors import BadInput, inside, once_each
from ..request.fields import Choice, Day, Group, Listing, Number, Whole
from ..request.units import say, unit_labels
from ..unit.features import (
    BORE_GAUGE,
    CRACK,
    DEPTH_GAUGE,
    DIAL_GAUGE,
    FEELER,
    FIELDS,
    GAUGES,
    MEASURES,
    MICROMETER,
    SIZE,
    SURFACE,
    USED,
    band_of,
    check_feature,
    gauge_of,
    outside_of,
)
from .bands import MARKS, band_row, summed_up, with_marks
from .gauges import DIFFERENCE, GAUGE_MM, any_gauge, gauge_guard, unfit_tool

# Kinds of gauge, as sentences call them.
GAUGE_WORDS: dict[str, str] = GAUGES

# One division and largest permitted error, mm, where the user gives none: an external micrometer to 25 mm by ISO 3611,
# a dial gauge of 10 mm by ISO 463 (0.017 as makers state it, rounded up), thin leaves by DIN 2275, a depth gauge by
# ISO 13385-2, each from memory; a bore gauge as set with a micrometer by common practice, no source.
USUAL_GAUGES = {
    MICROMETER: (0.01, 0.004),
    DIAL_GAUGE: (0.01, GAUGE_MM),
    FEELER: (0.05, 0.005),
    BORE_GAUGE: (0.01, 0.015),
    DEPTH_GAUGE: (0.01, 0.03),
}

# A dial gauge tells a difference and a bore gauge is set before it measures: both are read twice for one value.
READS = {DIAL_GAUGE: DIFFERENCE, BORE_GAUGE: DIFFERENCE}

CRACKS = {"none": "no crack found", "unclear": "not clear", "crack": "crack found"}

# Larger or smaller than when new by this share, a size is another part's or in another unit: common practice.
OFF_NEW = 0.5


def inspected_feature() -> Group:
    """A feature of the definition with what was found, made so that what was found comes last on the form."""
    fields = FIELDS.fields.copy()
    fields["tool"] = any_gauge("the gauge that it was measured with; the usual one of its kind if empty")
    fields["points_mm"] = Listing(
        Number(0, 600, "mm", "what was measured in one place"),
        0,
        24,
        "what was measured in each place; with a feeler gauge the thickest leaf that passes",
        default=[],
        nouns="places",
    )
    fields["marks"] = Choice(MARKS, "what the surface looks like", default=None)
    fields["crack"] = Choice(CRACKS, "what the crack test found", default=None)
    fields["uses"] = Whole(0, 1000, "how often it has been used", default=None)
    return Group(fields, "an inspected feature with what was found")


FORM = Group(
    {
        "day": Day("day of the inspection", default=None),
        "write_in": Choice(unit_labels("mm"), "unit of length that sentences are written in", default="mm"),
        "features": Listing(inspected_feature(), 1, 60, "what was inspected", nouns="features"),
    },
    "an inspection of other parts",
)

# What is found of each measure: the field that holds it.
FOUND = {SURFACE: "marks", CRACK: "crack", USED: "uses"}


def refuse_other_findings(feature: dict[str, Any], path: str) -> None:
    """Refuse a feature without what was found of it, and one with what another measure finds."""
    found = FOUND.get(feature["measure"], "points_mm")
    for name in ("points_mm", "marks", "crack", "uses"):
        given = feature[name] not in (None, [])
        if name == found and not given:
            raise BadInput(inside(path, name), f"Say what was found here: {MEASURES[feature['measure']]}.")
        if name != found and given:
            raise BadInput(
                inside(path, name), f"Leave this empty: what counts here is the {MEASURES[feature['measure']]}."
            )


def with_usual(tool: dict[str, Any] | None, kind: str) -> dict[str, Any]:
    """A gauge, with what is usual for its kind where it was left empty."""
    division, deviation = USUAL_GAUGES[kind]
    usual = {"division_mm": division, "deviation_mm": deviation, "certificate_mm": None, "calibration_due": None}
    usual["zero_mm"] = None
    for name in usual:
        if tool is not None and tool[name] is not None:
            usual[name] = tool[name]
    return usual


def values_of(feature: dict[str, Any], kind: str, tool: dict[str, Any]) -> list[float]:
    """What each place comes to, mm: as read, but half a step more than the thickest leaf that passes."""
    points: list[float] = feature["points_mm"]
    return [point + tool["division_mm"] / 2 for point in points] if kind == FEELER else points


def refuse_other_part(feature: dict[str, Any], path: str, unit: str) -> None:
    """Refuse a size that cannot be that of the part, which is a slip or another unit."""
    new = feature["new_mm"]
    if feature["measure"] != SIZE or not new:
        return
    for place, point in enumerate(feature["points_mm"]):
        if abs(point - new) > OFF_NEW * new:
            raise BadInput(
                inside(inside(path, "points_mm"), place),
                f"What is {say(new, 'mm', unit)} new cannot measure {say(point, 'mm', unit)}: read again, or check "
                "the unit.",
            )


def not_judged(name: str, least: float, most: float, guard: float, unit: str, why: str) -> dict[str, Any]:
    """The row of a feature that was measured and that nothing limits."""
    span = say(least, "mm", unit)
    if most > least:
        span += f" to {say(most, 'mm', unit)}"
    return {
        "name": name,
        "verdict": None,
        "reason": f"{name}: {span}. Not judged: {why}",
        "lowest_mm": least,
        "highest_mm": most,
        "guard_mm": guard,
        "low_mm": None,
        "high_mm": None,
        "findings": [],
    }


def too_coarse(guard: float, least: float, low: float | None, high: float | None) -> bool:
    """Whether nothing that a gauge can read, from `least` on, is inside both limits by its guard band."""
    if high is None:
        return False
    # A band of just twice the guard band is wide enough, whatever rounding leaves of it.
    return max(least, 0.0 if low is None else low + guard) > high - guard + 1e-9


def add_notes(row: dict[str, Any], feature: dict[str, Any]) -> None:
    """Say on which limits a feature was judged, where these are not all that it should have, or nobody's own."""
    if feature["usual_limits"]:
        row["reason"] += " These limits are only common practice: use the maker's."
    if feature["change_mm"] is not None and feature["new_mm"] is None:
        row["reason"] += " Its change against new is not judged: its figure when new is not known."


def leaf_finding(name: str, leaf: float, value: float, unit: str) -> dict[str, Any]:
    """What the thickest leaf that passes is taken as."""
    text = f"{name}: the gap lies between the leaf that passes and the next, so {say(leaf, 'mm', unit)} counts as "
    return finding("leaf", NOTE, value, f"{text}{say(value, 'mm', unit)}.")


def measured_row(feature: dict[str, Any], day: str | None, path: str, unit: str) -> dict[str, Any]:
    """The row of a feature that has a length."""
    name, places = feature["name"], feature["places"]
    kind = gauge_of(feature) or MICROMETER
    tool = with_usual(feature["tool"], kind)
    refuse_other_part(feature, path, unit)
    values, (low, high) = values_of(feature, kind, tool), band_of(feature)
    guard = gauge_guard(tool, READS.get(kind, 1))
    if low is None and high is None:
        why = "it has no limit."
        if feature["change_mm"] is not None:
            why = "its figure when new is not known."
        row = not_judged(name, min(values), max(values), guard, unit, why)
    else:
        row = band_row(name, name, values, guard, low, high, "mm", unit, outside_of(feature))
        least = tool["division_mm"] / 2 if kind == FEELER else 0.0
        if row["verdict"] == MEASURE_AGAIN and too_coarse(guard, least, low, high):
            row["reason"] += f" With this {GAUGES[kind]} no value can be far enough inside: use a finer one."
        add_notes(row, feature)
        unfit_tool(row, tool, day, GAUGES[kind], unit)
    if kind == FEELER:
        row["findings"].append(leaf_finding(name, max(feature["points_mm"]), max(values), unit))
    if row["verdict"] == GO and len(values) < places:
        row["verdict"] = MEASURE_AGAIN
        row["reason"] = f"{name}: measured in {len(values)} of {places} places. Measure the others too."
    return row


def bare_row(name: str, verdict: str | None, reason: str) -> dict[str, Any]:
    """The row of a feature that has no length."""
    row: dict[str, Any] = dict.fromkeys(("lowest_mm", "highest_mm", "guard_mm", "low_mm", "high_mm"))
    row.update({"name": name, "verdict": verdict, "reason": reason, "findings": []})
    return row


def surface_row(feature: dict[str, Any]) -> dict[str, Any]:
    """The row of a surface: go, or what the definition says where it is deeply scored, blue or cracked."""
    name = feature["name"]
    row = bare_row(name, GO, f"{name}: {MARKS[feature['marks']]}.")
    with_marks(row, name, feature["marks"], outside_of(feature))
    return row


def crack_row(feature: dict[str, Any]) -> dict[str, Any]:
    """The row of a crack test: no crack is go, a crack is replace whatever else, and what is not clear is no go."""
    name, found = feature["name"], feature["crack"]
    if found == "unclear":
        return bare_row(name, MEASURE_AGAIN, f"{name}: the crack test is not clear. Clean it and test again.")
    return bare_row(name, GO if found == "none" else REPLACE, f"{name}: {CRACKS[found]}.")


def used_row(feature: dict[str, Any]) -> dict[str, Any]:
    """The row of what is counted: go as long as it may be used once more."""
    name, uses, most = feature["name"], feature["uses"], feature["most_uses"]
    times = "once" if uses == 1 else f"{uses} times"
    if most is None:
        return bare_row(name, None, f"{name}: used {times}. Not judged: it has no limit.")
    allowed = "once" if most == 1 else f"{most} times"
    if uses < most:
        return bare_row(name, GO, f"{name}: used {times}, and may be used {allowed} in all.")
    return bare_row(name, outside_of(feature), f"{name}: used {times}, and may be used {allowed} in all: fit new ones.")


def change_of(feature: dict[str, Any], row: dict[str, Any]) -> float | None:
    """Largest change against new, mm, with its sign; None where one of them is not known."""
    new = feature["new_mm"]
    if new is None or row["lowest_mm"] is None:
        return None
    changes = [row["lowest_mm"] - new, row["highest_mm"] - new]
    return float(changes[0] if abs(changes[0]) >= abs(changes[1]) else changes[1])


def feature_row(feature: dict[str, Any], day: str | None, path: str, unit: str) -> dict[str, Any]:
    """One feature's verdict with its reason and figures."""
    check_feature(feature, path)
    refuse_other_findings(feature, path)
    if feature["measure"] == SURFACE:
        row = surface_row(feature)
    elif feature["measure"] == CRACK:
        row = crack_row(feature)
    elif feature["measure"] == USED:
        row = used_row(feature)
    else:
        row = measured_row(feature, day, path, unit)
    row.update(
        {
            "part": feature["part"],
            "measure": feature["measure"],
            "new_mm": feature["new_mm"],
            "change_mm": change_of(feature, row),
            "uses": feature["uses"],
            "most_uses": feature["most_uses"],
        }
    )
    return row


def whole_of(rows: list[dict[str, Any]]) -> dict[str, Any]:
    """The verdict of all rows that were judged, with its reason; None where none was."""
    judged = [row for row in rows if row["verdict"] is not None]
    if not judged:
        return {"verdict": None, "reason": "Nothing here has a limit, so nothing is judged."}
    whole = summed_up(judged, f"All {len(judged)} that have a limit are inside their limits.")
    others = [row["name"] for row in rows if row["verdict"] is None]
    if whole["verdict"] == GO and others:
        whole["reason"] += f" Not judged, without a limit: {', '.join(others)}."
    return whole


def inspection(request: dict[str, Any]) -> dict[str, Any]:
    """Judge an inspection of other parts.

    Parameters
    ----------
    request : dict
        Checked by `FORM`: features as the definition has them, each with what was found. Of a length that is
        points_mm, one value a place; of a surface marks, of a crack test crack, of times used uses.

    Returns
    -------
    dict
        verdict and reason, the worst of all that were judged, None where nothing has a limit; features, a row each, in
        the order given: name, part, measure; verdict, None where it has no limit; reason; lowest_mm and highest_mm of
        what was measured, guard_mm, low_mm and high_mm (the band, see `band_of`), new_mm, change_mm (that of lowest and
        highest which is further from new, less new), each None where there is none; uses, most_uses and findings.

    Raises
    ------
    BadInput
        A name given twice, limits that contradict each other, nothing found or what another measure finds, a size that
        differs from new by more than half of it.

    Notes
    -----
    *Value.* A place's value is what was read; with a feeler gauge, where the thickest leaf that passes was typed, the
    gap lies between that leaf and the next one, and its value is the leaf plus half a step (division_mm is the step).

    *Doubt of a value*, independent parts, each rectangular [1]_ 4.3.7 unless said otherwise: the gauge's permitted
    error a, u = a/sqrt(3), or with a certificate U (k = 2), u = U/2; one division d, u = d/(2 sqrt(3)) for each
    reading, of which a dial gauge and a bore gauge take two for one value (before and after, setting and measuring), so
    that it counts d/sqrt(6), and all others one; what zero was found off, z, u = z/sqrt(3), if it was checked. Their
    root sum of squares is u, and the guard band g = 1.6449 u (one-sided 95 %, known by statement).

    *Verdict* [2]_: the lowest value against the lower limit, the highest against the upper one. Inside both by g or
    more: go. Outside one by g or more: `outside` of the feature. Else measure again. A go becomes measure again where
    the calibration ended before `day`, where zero was off by more than the permitted error, and where fewer places
    were measured than the feature has. The figure when new counts as exact. A lower limit of 0 limits nothing. Where
    the band is so narrow that no value can be inside by g, the reason says so; a change is not judged, and the reason
    says so, as long as the figure when new is not known.

    Surface: no marks go, slight marks go with a finding, heavy marks `outside`. Crack test: none found go, not clear
    measure again, a crack replace. Times used: go below most_uses, else `outside`.

    References
    ----------
    1. JCGM 100:2008 (GUM), 4.3.7, 5.1.2, F.2.2.1.
    2. ISO 14253-1:2017, guard bands, as in `verdict`.
    3. Permitted errors where none are given: see `USUAL_GAUGES`.
    """
    once_each(request["features"], "features", "name", "is inspected twice here: keep one of them.")
    rows = [
        feature_row(feature, request["day"], inside("features", place), request["write_in"])
        for place, feature in enumerate(request["features"])
    ]
    answer = whole_of(rows)
    answer["features"] = rows
    return answer
