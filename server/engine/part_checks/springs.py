"""Disc springs measured free: how far they have set, and whether they may go back in."""

from typing import Any

from ..doubt.budget import mean
from ..doubt.finding import NOTE, finding
from ..doubt.verdict import REPLACE
from ..request.errors import BadInput, inside, once_each
from ..request.fields import Choice, Day, Group, Listing, Number, Text
from ..request.units import say, unit_labels
from ..unit.spring import FIELDS, Disc, cone_height, disc_of, load, with_free_height
from ..unit.spring_tolerance import height_tolerance
from .bands import MARKS, band_row, summed_up, with_marks, with_uneven
from .gauges import gauge, gauge_guard, unfit_tool

# A height gauge on a surface plate: common practice, no source.
HEIGHT_GAUGE_MM = 0.03

# A disc whose height differs round it by more is bent or cracked: common practice, no source; the maker's figures come
# first.
USUAL_UNEVEN_MM = 0.10

SPRING = Group(
    {
        "slot": Text(20, "place of the disc in the stack"),
        "spring": Group(FIELDS.fields, "the disc when new"),
        "points_mm": Listing(
            Number(0.1, 60, "mm", "free height at one clock point", label="point"),
            3,
            24,
            "free height round the disc",
            nouns="points",
            label="Free height",
        ),
        "minimum_mm": Number(
            0.1, 60, "mm", "free height below which it has to be replaced; a new one's tolerance if empty", default=None
        ),
        "fitted_mm": Number(0.1, 60, "mm", "height of this disc in the closed unit", default=None),
        "marks": Choice(MARKS, "signs of heat, scoring or cracks", default="none", label="Heat, scoring or cracks"),
    },
    "a measured disc spring",
)

FORM = Group(
    {
        "gauge": gauge("the gauge for the free height", 0.01, HEIGHT_GAUGE_MM),
        "day": Day("day of the measurement", default=None),
        "write_in": Choice(unit_labels("mm"), "unit of length that sentences are written in", default="mm"),
        "uneven_mm": Number(0.001, 5, "mm", "largest difference round a disc", default=USUAL_UNEVEN_MM),
        "springs": Listing(SPRING, 1, 16, "the measured discs", nouns="springs"),
    },
    "a measurement of disc springs",
)


def load_lost(disc: Disc, height: float, fitted: float) -> tuple[float, float]:
    """Load of the disc as new and with its measured free height, N, at its height in the closed unit."""
    now = with_free_height(disc, height)
    return load(disc, disc.l0 - fitted), load(now, max(0.0, height - fitted))


def spring_row(measured: dict[str, Any], uneven: float, guard: float, path: str, unit: str) -> dict[str, Any]:
    """One disc's verdict with its reason and figures."""
    disc, points, name = disc_of(measured["spring"], inside(path, "spring")), measured["points_mm"], measured["slot"]
    for place, point in enumerate(points):
        if not disc.reduced < point <= disc.l0 + cone_height(disc):
            raise BadInput(
                inside(inside(path, "points_mm"), place),
                f"A disc of {say(disc.l0, 'mm', unit)} new and {say(disc.reduced, 'mm', unit)} thick cannot stand "
                f"{say(point, 'mm', unit)} high: read again, or check the unit.",
            )
    minimum = measured["minimum_mm"]
    if minimum is None:
        minimum = disc.l0 - height_tolerance(disc.t)[1]
    if not disc.reduced < minimum <= disc.l0:
        raise BadInput(
            inside(path, "minimum_mm"), "The limit must lie between the disc's thickness and its free height when new."
        )
    row = band_row(name, f"{name}, free height", points, guard, minimum, None, "mm", unit, REPLACE)
    height = mean(points)
    row.update({"mean_mm": height, "set_mm": disc.l0 - height, "uneven_mm": max(points) - min(points)})
    text = (
        f"{name}: its height differs round the disc by {say(row['uneven_mm'], 'mm', unit)}; at most "
        f"{say(uneven, 'mm', unit)} is allowed."
    )
    with_uneven(row, uneven, REPLACE, text)
    with_marks(row, name, measured["marks"], REPLACE)
    fitted = measured["fitted_mm"]
    if fitted is not None:
        if not disc.reduced <= fitted <= disc.l0:
            raise BadInput(
                inside(path, "fitted_mm"), "In the closed unit the disc lies between flat and its free height."
            )
        new, now = load_lost(disc, height, fitted)
        row.update({"load_new_n": new, "load_now_n": now})
        if now < new:
            text = f"{name}: in the closed unit it gives {say(now, 'n')}; new it gave {say(new, 'n')}."
            row["findings"].append(finding("load", NOTE, now / new, text))
    return row


def spring_check(request: dict[str, Any]) -> dict[str, Any]:
    """Judge measured disc springs.

    Parameters
    ----------
    request : dict
        Checked by `FORM`.

    Returns
    -------
    dict
        verdict and reason for all; springs, a row each with verdict, reason, lowest_mm, mean_mm, set_mm, uneven_mm,
        guard_mm, low_mm (the limit) and findings, and with its height in the closed unit load_new_n and load_now_n.

    Raises
    ------
    BadInput
        A disc that cannot exist, a height it cannot have, a limit outside thickness and free height.

    References
    ----------
    1. DIN EN 16983:2017, tolerance on the free height of a new disc, where no limit is given.
    """
    once_each(request["springs"], "springs", "slot", "is measured twice here: keep one of them.")
    guard = gauge_guard(request["gauge"])
    rows: list[dict[str, Any]] = []
    for place, given in enumerate(request["springs"]):
        row = spring_row(given, request["uneven_mm"], guard, inside("springs", place), request["write_in"])
        unfit_tool(row, request["gauge"], request["day"], "gauge", request["write_in"])
        rows.append(row)
    answer = summed_up(rows, f"All {len(rows)} measured springs are above their limits.")
    answer.update({"guard_mm": guard, "springs": rows})
    return answer
