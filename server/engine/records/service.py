"""Service between rebuilds: oil changed, run-in done, washed."""

from typing import Any

from ..request.errors import BadInput
from ..request.field_names import quoted
from ..request.fields import Day, Group, Number, Text, YesNo
from ..request.letters import trimmed, with_capital
from .trial import MADE

FORM = Group(
    {
        "day": Day("day on which it was done; that on which it is written if empty", default=None, label="Day"),
        "today": Day("day on which it is written: nothing was done later", default=None),
        "oil_changed": YesNo("whether the oil was changed", default=False, label="Oil changed"),
        "oil": Text(60, "which oil was filled in", default="", label="Which oil"),
        "litres": Number(0.02, 50, "", "how much of it, litres", default=None, label="How much, litres"),
        "run_in": YesNo("whether it was run in", default=False, label="Run in"),
        "washed": YesNo("whether it was washed out", default=False, label="Washed out"),
        "trials": MADE,
        "note": Text(2000, "anything else that was done", default="", label="Anything else that was done"),
    },
    "service done",
)


def service(request: dict[str, Any]) -> dict[str, Any]:
    """Check what service was done.

    Parameters
    ----------
    request : dict
        Checked by `FORM`; one thing done at least, or a note.

    Returns
    -------
    dict
        verdict, always None; text, what was done in one line; trials, where it says that changes to try were made.

    Raises
    ------
    BadInput
        Nothing done, an oil although it was not changed, or a day that is still to come.

    Examples
    --------
    >>> service(FORM.read({"oil_changed": True, "oil": "75W-140", "litres": "1,2"}, ""))["text"]
    'Oil changed: 75W-140 1.2 l'
    """
    day, today, oil, litres = request["day"], request["today"], trimmed(request["oil"]), request["litres"]
    if day is not None and today is not None and day > today:
        raise BadInput("day", "This day is still to come: write the day on which it was done.")
    if (oil or litres is not None) and not request["oil_changed"]:
        raise BadInput(
            "oil_changed",
            f"Mark {quoted(FORM, 'oil_changed')}, or leave {quoted(FORM, 'oil')} and {quoted(FORM, 'litres')} empty.",
        )
    parts = [oil] if oil else []
    parts += [f"{litres:g} l"] if litres is not None else []
    done = ["oil changed"] if request["oil_changed"] else []
    done += [words for name, words in (("run_in", "run in"), ("washed", "washed out")) if request[name]]
    if not done and not trimmed(request["note"]):
        raise BadInput("oil_changed", f"Mark what was done, or write it under {quoted(FORM, 'note')}.")
    if parts:
        # The oil stands beside the words that it belongs to.
        done[0] += ": " + " ".join(parts)
    line = ", ".join(done)
    sentences = [line, trimmed(request["note"])]
    answer = {"verdict": None, "text": ". ".join(with_capital(text) for text in sentences if text)}
    if request["trials"]:
        answer["trials"] = request["trials"]
    return answer
