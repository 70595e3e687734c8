"""An outing: one session in which the unit ran, and what the driver felt."""

from typing import Any

from ..request.errors import BadInput, inside, once_each
from ..request.fields import Choice, Day, Group, Listing, Number, Text, YesNo
from ..request.letters import trimmed, with_capital

CONDITIONS = {
    "dry": "dry",
    "damp": "damp",
    "wet": "wet",
    "loose": "loose: gravel, dust or grass",
    "snow": "snow or ice",
}

# What drivers say of a driven axle, in their own plain words: common practice, no source.
FELT = {
    "pushes": "pushes wide at the front",
    "loose": "rear steps out",
    "spins": "inside wheel spins",
    "snaps": "lets go all at once",
    "hops": "clicks or hops in tight turns",
    "judders": "judders or chatters",
    "bangs": "bangs or clunks",
    "whines": "whines or rumbles",
    "pulls": "pulls to one side",
}
WHEN = {
    "power": "on power",
    "lift": "on lift-off",
    "braking": "under braking",
    "entry": "turning in",
    "straight": "in a straight line",
}
CORNERS = {"slow": "slow corners", "fast": "fast corners"}

# So many minutes are one day.
DAY_MINUTES = 1440

COMPLAINT = Group(
    {
        "what": Choice(FELT, "what the driver felt"),
        "when": Choice(WHEN, "when it shows; at any time if empty", default=None),
        "corners": Choice(CORNERS, "where it shows; everywhere if empty", default=None),
    },
    "a complaint",
)

# What became of a change that was tried.
GONE, BETTER, SAME, WORSE, UNCLEAR = "gone", "better", "same", "worse", "unclear"
HELPED = {
    GONE: "it is gone",
    BETTER: "it is better",
    SAME: "no change",
    WORSE: "it is worse",
    UNCLEAR: "cannot tell",
}

ANSWER = Group(
    {
        "trial": Text(40, "id of the change that was tried"),
        "answer": Choice(HELPED, "whether it helped"),
    },
    "whether a change helped",
)

FORM = Group(
    {
        "day": Day("day of the outing; that on which it is written if empty", default=None, label="Day"),
        "today": Day("day on which it is written: an outing cannot be later", default=None),
        "where": Text(80, "where it was", default="", label="Where"),
        "session": Text(60, "which session, such as practice or race 2", default="", label="Session"),
        "minutes": Number(0.5, DAY_MINUTES, "", "minutes that it ran", default=None, label="Minutes"),
        "km": Number(0.1, 5000, "", "kilometres that it ran", default=None, label="Kilometres"),
        "conditions": Choice(CONDITIONS, "what it ran on", default=None, label="Conditions"),
        "nothing_felt": YesNo("whether the driver says that nothing was wrong", default=False, label="Nothing wrong"),
        "felt": Listing(
            COMPLAINT, 0, 12, "what the driver felt", default=None, nouns="complaints", label="What the driver felt"
        ),
        "note": Text(
            2000, "anything else about it, in the driver's own words", default="", label="In the driver's own words"
        ),
        "helped": Listing(ANSWER, 0, 12, "whether changes that were made helped", default=None, nouns="answers"),
        "oil_c": Number(
            -40, 300, "", "hottest that the unit's oil became, degrees Celsius", default=None, label="Hottest oil, °C"
        ),
    },
    "an outing",
)


def complaint_in_words(complaint: dict[str, Any]) -> str:
    """A complaint as one line.

    >>> complaint_in_words({"what": "spins", "when": "power", "corners": "slow"})
    'inside wheel spins, on power, slow corners'
    """
    words = [FELT[complaint["what"]]]
    words += [WHEN[complaint["when"]]] if complaint["when"] else []
    words += [CORNERS[complaint["corners"]]] if complaint["corners"] else []
    return ", ".join(words)


def outing_in_words(request: dict[str, Any], complaints: list[str]) -> str:
    """A checked outing as a history shows it; empty where only that it ran is known."""
    figures = [(request["minutes"], "min"), (request["km"], "km"), (request["oil_c"], "°C oil")]
    words = [trimmed(request["where"]), trimmed(request["session"])]
    words += [f"{value:g} {sign}" for value, sign in figures if value is not None]
    words += [CONDITIONS[request["conditions"]]] if request["conditions"] else []
    felt = complaints or (["nothing wrong felt"] if request["nothing_felt"] else [])
    sentences = [", ".join(word for word in words if word), "; ".join(felt), trimmed(request["note"])]
    return ". ".join(with_capital(text) for text in sentences if text)


def outing(request: dict[str, Any]) -> dict[str, Any]:
    """Check an outing.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; all of it may be missing: that it ran is enough to count it.

    Returns
    -------
    dict
        verdict, always None; text, the outing in one line, empty where nothing of it is known; felt, a row for each
        complaint: what, when and corners as they were chosen, and text; hours that it ran, and km, each None where it
        is not known; helped, where it was asked: for each change that was tried its trial and the answer.

    Raises
    ------
    BadInput
        A day that is still to come, one complaint or one answer twice, or complaints although nothing was wrong.

    Examples
    --------
    >>> outing(FORM.read({"where": "Airfield", "minutes": 20, "conditions": "wet"}, ""))["text"]
    'Airfield, 20 min, wet'
    """
    day, today, rows = request["day"], request["today"], request["felt"] or []
    if day is not None and today is not None and day > today:
        raise BadInput("day", "This day is still to come: write the day on which it ran.")
    if rows and request["nothing_felt"]:
        raise BadInput("nothing_felt", "Something was felt, as marked here: take that away, or this.")
    complaints = [complaint_in_words(row) for row in rows]
    for place, text in enumerate(complaints):
        if text in complaints[:place]:
            raise BadInput(inside("felt", place), f"This is marked already: {text}. Leave one of them out.")
    felt = [
        {"what": row["what"], "when": row["when"], "corners": row["corners"], "text": text}
        for row, text in zip(rows, complaints)
    ]
    answers = request["helped"] or []
    once_each(answers, "helped", "trial", "is answered twice here: keep one of the answers.")
    minutes = request["minutes"]
    answer = {
        "verdict": None,
        "text": outing_in_words(request, complaints),
        "felt": felt,
        "hours": None if minutes is None else minutes / 60.0,
        "km": request["km"],
    }
    if answers:
        answer["helped"] = answers
    return answer
