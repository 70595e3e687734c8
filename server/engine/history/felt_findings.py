"""What a driver felt beside what was measured: findings that name a measured cause.

Which cause goes with which complaint is common practice, no source. Only what was measured on this unit is named here;
what the axle does in a corner is the affair of `complaint`.
"""

from typing import Any

from ..doubt.verdict import GO, MEASURE_AGAIN
from ..records.outing import FELT, complaint_in_words
from ..request.sorting import in_order
from ..request.units import say
from .timeline import of_kind
from .trials import complaints_of
from .upkeep import OIL
from .used import day_of, place_of

LOW, HIGH, OLD_OIL, PLATES, REFIT = "torque_low", "torque_high", "oil_due", "plates", "refit"

# The causes of each complaint that can be measured on a bench, the likeliest first.
CAUSES = {
    "spins": [LOW],
    "loose": [LOW],
    "pushes": [HIGH],
    "hops": [HIGH, OLD_OIL],
    "judders": [OLD_OIL, PLATES],
    "snaps": [HIGH],
    "bangs": [REFIT],
    "whines": [REFIT],
}

# With the throttle open a rear that steps out is no sign of too little lock.
NOT_WHEN = {"loose": ["power"]}


def felt_since(live: list[dict[str, Any]], rebuilt: dict[str, Any] | None) -> tuple[str, list[dict[str, Any]]]:
    """The day of the newest outing since the rebuild at which somebody said what was felt, and what that was."""
    outings = [row for row in of_kind(live, "outing") if rebuilt is None or place_of(row) > place_of(rebuilt)]
    for outing in in_order(outings, place_of, reverse=True):
        felt = complaints_of(outing)
        if felt or outing["body"].get("nothing_felt"):
            return day_of(outing), felt
    return "", []


def torque_causes(torque: dict[str, Any], limits: dict[str, Any], written: str) -> dict[str, tuple[str, str]]:
    """A torque off what was ordered, or off its limits where nothing was: by cause, in short and as a clause.

    Where the guard band reaches over both limits it may be either.
    """
    found: dict[str, tuple[str, str]] = {}
    band = limits["order"] or limits["service"]
    value, guard = torque["value_nm"], torque["guard_nm"] or 0.0
    if band is None or value is None:
        return found
    low, high = band["low_nm"], band["high_nm"]
    what = "was ordered" if limits["order"] else "its limits allow"
    for cause, word, over, end in (
        (LOW, "below", None if not low else low - value, low),
        (HIGH, "above", None if high is None else value - high, high),
    ):
        if over is not None and over > -guard:
            sure = "is" if over > guard else "may be"
            text = (
                f"the torque {sure} {word} what {what} ({say(value, 'nm', written)}, limit {say(end, 'nm', written)})"
            )
            found[cause] = (f"torque {sure} {word} what {what}", text)
    return found


def measured_causes(
    torque: dict[str, Any] | None,
    limits: dict[str, Any] | None,
    plates: list[dict[str, Any]],
    refit: list[dict[str, Any]],
    upkeep: list[dict[str, Any]],
    written: str,
) -> dict[str, tuple[str, str]]:
    """What was measured or is due that can be felt: by cause, in short and as a clause."""
    found = {} if torque is None or limits is None else torque_causes(torque, limits, written)
    if any(row["name"] == OIL and row["due"] for row in upkeep):
        found[OLD_OIL] = ("oil overdue", "its oil is due to be changed")
    bad, unsure = of_verdict(plates)
    clauses = [f"{are(bad)} not good"] if bad else []
    clauses += [f"{are(unsure)} to be measured again, and may not be good"] if unsure else []
    if clauses:
        found[PLATES] = ("plates not good" if bad else "plates may not be good", f"of its plates {'; '.join(clauses)}")
    bad, unsure = of_verdict(refit)
    what = "what was measured as it was put back into the axle"
    if bad:
        found[REFIT] = ("refit not good", f"{what} is not good")
    elif unsure:
        found[REFIT] = ("refit may not be good", f"{what} is to be measured again, and may not be good")
    return found


def of_verdict(rows: list[dict[str, Any]]) -> tuple[list[str], list[str]]:
    """Names of parts that are not good, and of those that are to be measured again."""
    judged = [(row.get("slot", ""), row["verdict"]) for row in rows if row["verdict"] not in (None, GO)]
    return (
        [name for name, verdict in judged if verdict != MEASURE_AGAIN],
        [name for name, verdict in judged if verdict == MEASURE_AGAIN],
    )


def are(names: list[str]) -> str:
    """Some parts as a sentence begins.

    >>> are(["A2"]), are(["A2", "B4"])
    ('A2 is', 'A2, B4 are')
    """
    return f"{', '.join(names)} {'is' if len(names) == 1 else 'are'}"


def felt_findings(
    live: list[dict[str, Any]],
    rebuilt: dict[str, Any] | None,
    torque: dict[str, Any] | None,
    limits: dict[str, Any] | None,
    plates: list[dict[str, Any]],
    refit: list[dict[str, Any]],
    upkeep: list[dict[str, Any]],
    written: str,
) -> list[dict[str, Any]]:
    """What was felt last, each complaint with the likeliest cause that was measured.

    Parameters
    ----------
    live : list of dict
        The unit's entries that stand.
    rebuilt : dict or None
        The last rebuild.
    torque : dict or None
        The row of the last torque check since then.
    limits : dict or None
        As `limits_of` gives them.
    plates, refit : list of dict
        Rows of the last measurements.
    upkeep : list of dict
        As `upkeep_of` gives it.
    written : str
        Unit of torque of sentences.

    Returns
    -------
    list of dict
        name, `felt_` and the complaint; title; text; verdict, always None: what is felt judges nothing. None for a
        complaint that nothing measured goes with.
    """
    day, felt = felt_since(live, rebuilt)
    causes = measured_causes(torque, limits, plates, refit, upkeep, written) if felt else {}
    rows: dict[str, dict[str, Any]] = {}
    for complaint in felt:
        what = complaint["what"]
        if what in rows or complaint["when"] in NOT_WHEN.get(what, []):
            continue
        cause = next((cause for cause in CAUSES.get(what, []) if cause in causes), None)
        if cause is not None:
            short, clause = causes[cause]
            rows[what] = {
                "name": f"felt_{what}",
                "title": f"{FELT[what][0].upper()}{FELT[what][1:]}: {short}",
                "text": f"Felt on {day}: {complaint_in_words(complaint)}. Measured: {clause}, which is a "
                "usual cause of it (common practice, no source). Look at that first.",
                "verdict": None,
            }
    return list(rows.values())
