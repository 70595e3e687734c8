"""What a unit was used since its last rebuild, in words, and where its log and its torque checks disagree."""

from typing import Any

from ..experience.torque_line import in_count
from ..request.rounded import fixed
from .used import Life, place_of, used_since


def outings_in_words(count: int) -> str:
    """A count of outings.

    >>> outings_in_words(1), outings_in_words(4)
    ('1 outing', '4 outings')
    """
    return in_count(count, "outing")


def verb(count: int, single: str, several: str) -> str:
    """The verb that goes with a count."""
    return single if count == 1 else several


def contradiction_of(check: dict[str, Any], typed: int, count: int, more: list[Any]) -> str:
    """The sentence for a check that says fewer outings than are counted; `more` are the checks that said more."""
    before = [row for row in more if place_of(row[0]) < place_of(check)]
    logged, advice = (
        f"{count} {verb(count, 'is', 'are')} logged by then",
        "correct the check, or undo an outing that was not run.",
    )
    if before:
        logged = f"an earlier check and the log make it {count}"
        advice = "correct the one that is wrong."
    claim = f"The check of {check['at'][:10]} says {outings_in_words(typed)} since the rebuild, but {logged}"
    return f"{claim}: {count} {verb(count, 'is', 'are')} counted until you {advice}"


def used_text(life: Life, rebuilt: dict[str, Any] | None) -> str:
    """What it was used, in one or two sentences; empty where nothing was logged."""
    if not life.logged:
        return ""
    start = "since it was added" if rebuilt is None else f"since the rebuild on {rebuilt['at'][:10]}"
    text = f"{outings_in_words(life.outings)} {start}"
    text += f", {life.logged} of them logged." if life.unlogged else ", all logged."
    if life.unlogged:
        check, typed, _ = life.more[-1]
        missing = f"{life.unlogged} {verb(life.unlogged, 'was', 'were')} not logged"
        text += f" The check of {check['at'][:10]} says {typed}, so {missing}."
    amounts = [f"{fixed(life.hours, 1)} h"] if life.timed else []
    amounts += [f"{fixed(life.km, 0)} km"] if life.km else []
    if amounts:
        text += f" Logged: {', '.join(amounts)}"
        untimed = life.logged - life.timed
        text += f"; {outings_in_words(untimed)} without a time." if untimed and life.timed else "."
    return text


def used_now(life: Life, rebuilt: dict[str, Any] | None) -> dict[str, Any]:
    """What a unit was used since its last rebuild.

    Parameters
    ----------
    life : Life
        Its last life, as `used_lives` gives it.
    rebuilt : dict or None
        The rebuild with which it began.

    Returns
    -------
    dict
        outings, the least number that explains what was logged and what checks say, None where neither tells; logged
        and unlogged, which make it up; hours and km, of those that were logged, as far as they say; every_hour,
        whether each outing that is counted says how long it was; text, empty where nothing was logged; contradictions,
        checks that say fewer outings than are counted: id and text.
    """
    return {
        "outings": life.outings if life.telling else None,
        "logged": life.logged,
        "unlogged": life.unlogged,
        "hours": life.hours,
        "km": life.km,
        "every_hour": life.every_hour,
        "text": used_text(life, rebuilt),
        "contradictions": [
            {"id": check["id"], "text": contradiction_of(check, typed, count, life.more)}
            for check, typed, count in life.less
        ],
    }


def run_since(live: list[dict[str, Any]], lives: list[Life]) -> int:
    """Outings that were counted since the last torque check."""
    checks = [place_of(entry) for entry in live if entry["kind"] == "torque_check"]
    if not checks:
        return 0
    last = max(checks)
    return used_since(lives, lambda entry: place_of(entry) > last)["outings"] or 0


def taken_in(entries: list[dict[str, Any]]) -> str:
    """The day of the first of a unit's placed entries; empty without any."""
    days = [(entry["when"].at, entry["id"], entry["at"][:10]) for entry in entries]
    day: str = min(days)[2] if days else ""
    return day


# What one outing usually has in common with the next; what was felt is asked anew.
LIKE = ("where", "minutes", "km", "conditions")


def last_outing(live: list[dict[str, Any]]) -> dict[str, Any] | None:
    """The outing that was logged last: its id, and what another like it begins with; None where there is none."""
    outings = [entry for entry in live if entry["kind"] == "outing"]
    if not outings:
        return None
    body = outings[-1]["body"]
    return {"id": outings[-1]["id"], "like": {name: body[name] for name in LIKE if name in body}}
