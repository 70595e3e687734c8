"""Which of several entries stands where it is not certain which was made last: the worse one, and a sentence why."""

from typing import Any

from ..doubt.verdict import GO, ORDER, WORDS
from ..records.kinds import KINDS
from .timeline import is_certainly_before


def badness(verdict: str | None) -> int:
    """How bad a verdict is: 0 for go and for none, more for a worse one.

    >>> [badness(verdict) for verdict in (None, "go", "measure_again", "replace")]
    [0, 0, 1, 3]
    """
    return ORDER.index(verdict) if verdict in ORDER else 0


class Look:
    """One look at something that later looks replace: a check, or a part's row in a measurement.

    Attributes
    ----------
    entry : dict
        The entry that holds it, placed in time.
    verdict : str or None
        What it was judged as.
    """

    def __init__(self, entry: dict[str, Any], verdict: str | None) -> None:
        self.entry = entry
        self.verdict = verdict


def looks_of(entries: list[dict[str, Any]]) -> list[Look]:
    """Each entry as a look with its own verdict."""
    return [Look(entry, entry["shown"].get("verdict")) for entry in entries]


def last_of(looks: list[Look]) -> list[int]:
    """Places of those looks that may be the last one; the looks are in order of time, and so are the places."""
    last: list[int] = []
    for place in range(len(looks) - 1, -1, -1):
        entry = looks[place].entry
        if not any(is_certainly_before(entry, looks[other].entry) for other in last):
            last.append(place)
    return last[::-1]


def stands(looks: list[Look], rebuilds: list[dict[str, Any]]) -> tuple[int | None, list[str]]:
    """The look that stands since some rebuilds, and why where that is not certain.

    Of the looks that may be the last one the worst stands, and of equals the latest. A go stands only where some look
    was certainly made after each rebuild; anything worse stands also where it may be older.

    Parameters
    ----------
    looks : list of Look
        In order of time, of one thing.
    rebuilds : list of dict
        Entries after which older looks no longer count, in order of time.

    Returns
    -------
    tuple
        (its place among the looks, None where none counts; sentences why, empty where the order is certain or makes no
        difference).
    """
    possible = [
        place
        for place, look in enumerate(looks)
        if not any(is_certainly_before(look.entry, rebuild) for rebuild in rebuilds)
    ]
    last = [possible[place] for place in last_of([looks[place] for place in possible])]
    if not last:
        return None, []
    chosen = max(last, key=lambda place: (badness(looks[place].verdict), place))
    look = looks[chosen]
    if not badness(look.verdict):
        unsure = [rebuild for rebuild in rebuilds if not any(is_certainly_before(rebuild, row.entry) for row in looks)]
        return (None, [explain(Look(unsure[-1], None), look, True)]) if unsure else (chosen, [])
    others = [looks[place] for place in last if badness(looks[place].verdict) != badness(look.verdict)]
    others += [Look(rebuild, None) for rebuild in rebuilds if not is_certainly_before(rebuild, look.entry)][-1:]
    return chosen, [explain(look, other, False) for other in others]


def name_of(look: Look) -> str:
    """A look in a sentence: what it is, its verdict, by whom and when."""
    entry = look.entry
    who = f" by {entry['who']}" if entry.get("who") else ""
    verdict = f" ({WORDS[look.verdict]})" if look.verdict in WORDS else ""
    return f"{KINDS[entry['kind']].meaning}{verdict}{who}, {entry['at'][:10]} {entry['at'][11:16]}"


def explain(look: Look, other: Look, go_left_out: bool) -> str:
    """Why of two looks, or of a look and a rebuild, the worse counts, and how to settle it."""
    kinds = (look.entry["kind"], other.entry["kind"])
    again = "Read the torque" if "torque_check" in kinds else "Check the refit" if "refit" in kinds else "Measure"
    counts = f"the {WORDS[GO]} does not count" if go_left_out else "the worse counts"
    return (
        f"Nobody can tell which was last: {name_of(look)}, or {name_of(other)}. Neither knew of the other, and the "
        f"clocks leave it open, so {counts}. {again} again to settle it."
    )
