"""Where a verdict on a torque leads: the one thing to do next."""

from typing import Any

from ..doubt.verdict import GO, REWORK

# What may come next.
NEXT = {
    "run": "it may run",
    "recheck": "check it again after the first outing",
    "plan": "plan the rebuild",
    "unit": "say in which unit it was read",
    "correct": "correct the marked readings, or read again",
    "afresh": "put right what was found, then read it all again",
    "more": "three more readings each way",
    "better": "measure again, with a better tool or held the other way",
}


def lead(
    verdict: str, findings: list[dict[str, Any]], marked: list[str], helps: list[dict[str, Any]]
) -> dict[str, str]:
    """What comes next after a check.

    Parameters
    ----------
    verdict : str
        Of the check.
    findings : list of dict
        What was found, as results hold it.
    marked : list of str
        Fields of readings in question.
    helps : list of dict
        What would help a check that is too close to a limit, best first.

    Returns
    -------
    dict
        name, a key of `NEXT`; text, as a key says it.
    """
    names = [row["name"] for row in findings]
    if verdict == GO:
        if "fresh" in names:
            return {"name": "recheck", "text": "Good to run: check again after the first outing"}
        return {"name": "run", "text": "Good to run"}
    if verdict == REWORK:
        return {"name": "plan", "text": "Rework: plan the rebuild"}
    if marked:
        return {"name": "correct", "text": "Correct the marked reading, or read again"}
    if any(row["name"] == "unit" and row["weight"] == "doubt" for row in findings):
        return {"name": "unit", "text": "Say which scale was read"}
    if any(row["weight"] == "doubt" for row in findings):
        return {"name": "afresh", "text": "Measure again from the start"}
    deciding = [row["text"].split(":")[0] for row in helps if row["decides"]]
    if not helps or any(row["name"] == "more_repeats" and row["decides"] for row in helps):
        return {"name": "more", "text": "Measure again: three more each way"}
    if deciding:
        return {"name": "better", "text": f"Measure again: {deciding[0][0].lower()}{deciding[0][1:]}"}
    return {"name": "better", "text": "It lies at the limit: re-set it, or measure it better, as below"}
