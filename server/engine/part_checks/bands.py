"""Measured values against a band or a limit, with the doubt of the gauge: what all part checks share.

The verdict goes by the lowest and the highest value, since that is where a part fails first.
"""

from typing import Any

from ..doubt.finding import DOUBT, NOTE, finding
from ..doubt.verdict import GO, MEASURE_AGAIN, REWORK, judge_limit, worst, written_band
from ..request.errors import BadInput, inside
from ..request.units import say

MARKS = {
    "none": "no marks",
    "slight": "slight scoring or colour",
    "heavy": "deep scoring, blue from heat, cracks",
}


# What stands beside both ends of a band on the screens.
AT_LEAST = "At least"
AT_MOST = "At most"


def check_band(low: float | None, high: float | None, path: str, ending: str) -> None:
    """Refuse a band that is missing or upside down; `ending` is the unit at the end of its fields' names."""
    if not low and high is None:
        raise BadInput(inside(path, "low" + ending), "Give at least one limit: without it there is nothing to judge.")
    if low is not None and high is not None and low >= high:
        raise BadInput(inside(path, "high" + ending), f"This must be above “{AT_LEAST}”.")


def aim_of(given: dict[str, Any], ending: str, path: str) -> float | None:
    """What a figure is set to: as wanted, else the middle of its limits, else nothing; refuses one beyond them.

    `ending` is the unit at the end of its fields' names, `path` where they stand.
    """
    aim: float | None = given["wanted" + ending]
    low, high = given["low" + ending], given["high" + ending]
    if aim is None:
        return (low + high) / 2 if low and high is not None else None
    if (low is not None and aim < low) or (high is not None and aim > high):
        raise BadInput(inside(path, "wanted" + ending), f"This must lie within “{AT_LEAST}” and “{AT_MOST}”.")
    return aim


def is_inside(low: float | None, high: float | None, least: float, most: float, guard: float) -> bool:
    """Whether both ends of what was measured are inside the limits by the guard band, whatever else is wrong."""
    below = low is not None and judge_limit(least, guard, low, True, REWORK) != GO
    return not below and (high is None or judge_limit(most, guard, high, False, REWORK) == GO)


def band_row(
    name: str,
    subject: str,
    values: list[float],
    guard: float,
    low: float | None,
    high: float | None,
    si: str,
    unit: str,
    outside: str,
) -> dict[str, Any]:
    """A measured part or figure against its band.

    Parameters
    ----------
    name, subject : str
        Its name in the result, and what sentences about it begin with.
    values : list of float
        What was measured; the verdict goes by the lowest and the highest.
    guard : float
        Guard band.
    low, high : float or None
        The band.
    si, unit : str
        Unit of all values, and the one that sentences are written in.
    outside : str
        Verdict beyond a limit.

    Returns
    -------
    dict
        name, verdict, reason, lowest, highest, guard, low, high (names end in the unit); findings, empty.
    """
    least, most = min(values), max(values)
    judged = []
    if low is not None:
        judged.append((judge_limit(least, guard, low, True, outside), least))
    if high is not None:
        judged.append((judge_limit(most, guard, high, False, outside), most))
    verdict = worst([limit_verdict for limit_verdict, _ in judged])
    value = next(measured for limit_verdict, measured in judged if limit_verdict == verdict)
    shown, band = say(value, si, unit), written_band(low, high, si, unit)
    if verdict == GO:
        span = shown if least == most else f"{say(least, si, unit)} to {say(most, si, unit)}"
        reason = f"{subject}: {span}, inside the limits ({band})."
    elif verdict == MEASURE_AGAIN:
        reason = f"{subject}: {shown}, closer to a limit ({band}) than the guard band of {say(guard, si, unit)}."
    else:
        reason = f"{subject}: {shown}, outside the limits ({band})."
    ending = "_" + si
    return {
        "name": name,
        "verdict": verdict,
        "reason": reason,
        "lowest" + ending: least,
        "highest" + ending: most,
        "guard" + ending: guard,
        "low" + ending: low,
        "high" + ending: high,
        "findings": [],
    }


def with_marks(row: dict[str, Any], name: str, marks: str, outside: str) -> None:
    """Add signs of heat or scoring to a row: heavy ones mean replace or rework, slight ones are noted."""
    if marks == "heavy":
        row["findings"].append(finding("marks", DOUBT, 2.0, f"{name}: {MARKS['heavy']}."))
        if row["verdict"] != outside:
            row["reason"] = f"{name}: {MARKS['heavy']}."
        row["verdict"] = outside
    elif marks == "slight":
        text = f"{name}: {MARKS['slight']}. Look at it again next time."
        row["findings"].append(finding("marks", NOTE, 1.0, text))


def with_uneven(row: dict[str, Any], most: float, outside: str, text: str) -> None:
    """Add to a row that its values differ among each other, uneven_mm, by more than `most` mm, as `text` says."""
    if row["uneven_mm"] > most * (1 + 1e-9):
        row["findings"].append(finding("uneven", DOUBT, row["uneven_mm"], text))
        row["reason"] = text if row["verdict"] != outside else row["reason"]
        row["verdict"] = outside


def summed_up(rows: list[dict[str, Any]], all_good: str) -> dict[str, Any]:
    """The verdict of all rows together, with its reason."""
    verdict = worst([row["verdict"] for row in rows])
    bad = [row for row in rows if row["verdict"] == verdict]
    if verdict == GO:
        reason = all_good if len(rows) > 1 else bad[0]["reason"]
    else:
        reason = (
            bad[0]["reason"]
            if len(bad) == 1
            else f"{len(bad)} need attention: {', '.join(row['name'] for row in bad)}."
        )
    return {"verdict": verdict, "reason": reason}
