"""Putting the unit back into its axle: backlash, turning torque of the bearings, screws, contact, and what to move."""

import math
from typing import Any

from ..doubt.budget import Part, guard_of, mean, scatter
from ..doubt.verdict import REWORK
from ..request.errors import BadInput
from ..request.fields import Choice, Day, Group, Listing, Number
from ..request.units import say, unit_labels
from .bands import AT_LEAST, AT_MOST, band_row, check_band, summed_up, with_uneven
from .contact_pattern import contact_row
from .gauges import DIFFERENCE, GAUGE_MM, gauge, gauge_guard, torque_parts, torque_tool, unfit_tool
from .setting import setting
from .setting_form import contact, gears, shims, tries

NOTHING = "Give backlash, turning torque of the bearings, torque of the screws or the contact pattern."
# Difference from tooth to tooth where the user gives no limit: common practice, no source.
USUAL_UNEVEN_MM = 0.05


def torque_band(most: float, meaning: str) -> dict[str, Any]:
    """A band of torque, of which at least one end has to be given."""
    return {
        "low_nm": Number(0, most, "nm", f"lowest {meaning} allowed", default=None, label=AT_LEAST),
        "high_nm": Number(0, most, "nm", f"highest {meaning} allowed", default=None, label=AT_MOST),
    }


def torque_group(most: float, least: int, reading: str, meaning: str, label: str, reading_label: str) -> Group:
    """Readings of a torque, their band and the tool."""
    fields = torque_band(most, reading)
    fields["readings_nm"] = Listing(
        Number(0, most, "nm", reading, label=reading_label), least, 60, meaning, nouns="readings"
    )
    fields["tool"] = torque_tool("the wrench it is read on")
    return Group(fields, meaning, default=None, label=label)


def bearing_group() -> Group:
    """Turning torque of the carrier bearings, and what a shim does to it."""
    label = "Turning torque of the bearings"
    group = torque_group(100, 2, "turning torque", "turning torque of the carrier bearings, repeated", label, "reading")
    fields = dict(group.fields)
    fields["wanted_nm"] = Number(
        0.01,
        100,
        "nm",
        "turning torque that is wanted; the middle of the limits if empty",
        default=None,
        label="Wanted",
    )
    fields["rise_nm"] = Number(
        0.001,
        100,
        "nm",
        "how much turning torque rises for a shim, as the maker states it",
        default=None,
        label="Torque rises by",
    )
    fields["for_mm"] = Number(
        0.001, 5, "mm", "the shim, both sides together, for which it rises so much", default=None, label="For a shim of"
    )
    return Group(fields, group.meaning, default=None, label=label)


FORM = Group(
    {
        "backlash": Group(
            {
                "points_mm": Listing(
                    Number(0, 5, "mm", "backlash at one tooth", label="tooth"),
                    3,
                    60,
                    "backlash at several teeth",
                    nouns="teeth",
                ),
                "low_mm": Number(0, 5, "mm", "lowest backlash allowed", default=None, label=AT_LEAST),
                "high_mm": Number(0, 5, "mm", "highest backlash allowed", default=None, label=AT_MOST),
                "wanted_mm": Number(
                    0.01,
                    5,
                    "mm",
                    "backlash that is wanted; the middle of the limits if empty",
                    default=None,
                    label="Wanted",
                ),
                "uneven_mm": Number(
                    0.001,
                    5,
                    "mm",
                    "largest difference from tooth to tooth",
                    default=USUAL_UNEVEN_MM,
                    label="From tooth to tooth at most",
                ),
                "gauge": gauge(
                    "the dial gauge on the crown wheel", 0.01, GAUGE_MM, label="One division of the dial gauge"
                ),
            },
            "backlash of crown wheel and pinion",
            default=None,
            label="Backlash",
        ),
        "bearings": bearing_group(),
        "screws": torque_group(
            1000, 1, "screw torque", "torque of each crown-wheel screw", "Crown-wheel screws", "screw"
        ),
        "contact": contact(),
        "shims": shims(),
        "gears": gears(),
        "tries": tries(),
        "day": Day("day of the check", default=None),
        "write_in": Choice(unit_labels("nm"), "unit of torque that sentences are written in", default="nm"),
        "write_lengths_in": Choice(unit_labels("mm"), "unit of length that sentences are written in", default="mm"),
    },
    "putting the unit back into its axle",
)


def backlash_row(given: dict[str, Any], unit: str) -> dict[str, Any]:
    """Backlash: the tightest and the loosest tooth, and the difference between them."""
    check_band(given["low_mm"], given["high_mm"], "backlash", "_mm")
    points, most = given["points_mm"], given["uneven_mm"]
    guard = gauge_guard(given["gauge"], DIFFERENCE)
    row = band_row("backlash", "Backlash", points, guard, given["low_mm"], given["high_mm"], "mm", unit, REWORK)
    row["uneven_mm"] = max(points) - min(points)
    text = (
        f"Backlash differs by {say(row['uneven_mm'], 'mm', unit)} from tooth to tooth; at most "
        f"{say(most, 'mm', unit)} is allowed: look for dirt or a burr under the crown wheel, and for run-out."
    )
    with_uneven(row, most, REWORK, text)
    return row


def bearing_row(given: dict[str, Any], unit: str) -> dict[str, Any]:
    """Turning torque: the mean of the repeats, with their scatter in the doubt."""
    check_band(given["low_nm"], given["high_nm"], "bearings", "_nm")
    readings = given["readings_nm"]
    value = mean(readings)
    repeats = Part("repeats", "scatter of the repeats", scatter(readings) / math.sqrt(len(readings)), len(readings) - 1)
    guard = guard_of([repeats] + torque_parts(given["tool"], value))
    subject = "Turning torque of the bearings"
    return band_row("bearings", subject, [value], guard, given["low_nm"], given["high_nm"], "nm", unit, REWORK)


def screw_row(given: dict[str, Any], unit: str) -> dict[str, Any]:
    """Screw torque: the loosest and the tightest screw."""
    check_band(given["low_nm"], given["high_nm"], "screws", "_nm")
    readings = given["readings_nm"]
    guard = guard_of(torque_parts(given["tool"], max(readings)))
    subject = "Torque of the crown-wheel screws"
    return band_row("screws", subject, readings, guard, given["low_nm"], given["high_nm"], "nm", unit, REWORK)


def refit(request: dict[str, Any]) -> dict[str, Any]:
    """Judge what is checked when a unit goes back into its axle.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; at least one of backlash, bearings, screws and contact.

    Returns
    -------
    dict
        verdict and reason for all; checks, a row each with verdict, reason, lowest, highest, guard, low and high (names
        end in the unit) and findings; setting, what to move, see `setting`, None for screws alone.

    Raises
    ------
    BadInput
        Nothing to judge, or a band that is missing or upside down.

    References
    ----------
    1. ISO 6789-1:2017, permitted deviation of hand torque tools, from memory, where the user gives none.
    """
    rows = []
    day = request["day"]
    for name, judge, tool, unit in (
        ("backlash", backlash_row, "gauge", "write_lengths_in"),
        ("bearings", bearing_row, "tool", "write_in"),
        ("screws", screw_row, "tool", "write_in"),
    ):
        given = request[name]
        if given is not None:
            row = judge(given, request[unit])
            unfit_tool(row, given[tool], day, "gauge" if tool == "gauge" else "wrench", request["write_lengths_in"])
            rows.append(row)
    if request["contact"] is not None:
        rows.append(contact_row(request["contact"]))
    if not rows:
        raise BadInput("backlash", NOTHING)
    good = "Backlash, bearings and screws are inside their limits, as far as they were checked."
    answer = summed_up(rows, good if request["contact"] is None else good + " The contact pattern is good.")
    answer["checks"] = rows
    answer["setting"] = setting(request)
    return answer
