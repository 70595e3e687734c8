"""What is done with entries that arrive: each is checked, judged again, stored and answered on its own."""

import logging
from datetime import UTC, datetime
from typing import Any

from ..engine import BadInput
from ..engine.records.kinds import in_words
from ..engine.request.errors import inside
from . import ADDED, REFUSED, STORED, Log
from .entry import FORM, UUID_TEXT, check, faults, refusals
from .judging import judge

# A clock that is off by less than this is of no concern.
CLOCK_OFF_S = 300

SAME_ID = "Another entry with this id is in the log, with other content: enter this one anew, as a correction."
ENGINE_FAILED = "The server's engine failed on this entry; keep it, and tell whoever looks after the server."


def receive(
    log: Log, arrived: list[Any], sent: str | None = None, barred: frozenset[str] = frozenset()
) -> list[dict[str, Any]]:
    """Take entries into the log.

    Parameters
    ----------
    log : Log
        The log.
    arrived : list
        Entries as devices made them, checked by nobody yet.
    sent : str, optional
        What the device's clock said when it sent them: a clock that is off by more than five minutes is noted.
    barred : frozenset of str
        Kinds of entry that whoever sends them may neither write nor replace.

    Returns
    -------
    list of dict
        In order: {"id", "answer": "stored" or "already_there", "seq", "agrees", and "judged" where it differs from what
        was shown} or {"id", "answer": "refused", "errors": [{"field", "reason"}]}.

    Raises
    ------
    LogFault
        The log could not write; sending all of them again is safe.
    """
    noted = clock_note(sent)
    errors: dict[int, list[BadInput]] = {}
    ready: dict[int, dict[str, Any]] = {}
    for place, entry in enumerate(arrived):
        try:
            if is_known(log, entry):
                ready[place] = entry
            else:
                refuse_barred(log, entry, barred)
                ready[place] = judged(entry) | noted
        except Refused as refused:
            errors[place] = refused.found
        except Exception:
            # One entry that trips the program must not keep the rest of a phone's outbox from the log.
            logging.getLogger("slipbook").exception("The server failed on an entry.")
            errors[place] = [BadInput("body", ENGINE_FAILED)]
    answers: dict[int, dict[str, Any]] = {}
    for place, (answer, entry) in zip(ready, log.add(list(ready.values()))):
        if answer == REFUSED:
            errors[place] = [BadInput("id", SAME_ID)]
        else:
            answers[place] = {"id": entry["id"], "answer": answer}
            # A verdict that the server shares is the one that the device has already.
            told = [name for name in ADDED if name in entry and not (name == "judged" and entry["agrees"])]
            answers[place].update({name: entry[name] for name in told})
            if answer == STORED and entry.get("agrees") is False:
                logging.getLogger("slipbook").warning("Entry %s was judged differently here.", entry["id"])
    for place, found in errors.items():
        name = arrived[place].get("id") if isinstance(arrived[place], dict) else None
        answers[place] = {
            "id": name if isinstance(name, str) else None,
            "answer": REFUSED,
            "errors": faults(found),
        }
    return [answers[place] for place in range(len(arrived))]


def clock_note(sent: str | None) -> dict[str, Any]:
    """How far a device's clock is off, in seconds, more than 0 for a slow one; nothing where it is near enough.

    >>> clock_note(None)
    {}
    """
    if sent is None:
        return {}
    off = (datetime.now(UTC) - datetime.fromisoformat(sent)).total_seconds()
    return {"clock_off_s": round(off)} if abs(off) > CLOCK_OFF_S else {}


class Refused(Exception):
    """One entry cannot be taken in; `found` says why at each field."""

    def __init__(self, found: list[BadInput]) -> None:
        super().__init__(*map(str, found))
        self.found = found


def is_known(log: Log, entry: object) -> bool:
    """Whether the log has an entry with this id, which then only has to be compared."""
    if not isinstance(entry, dict):
        return False
    name = entry.get("id")
    return isinstance(name, str) and UUID_TEXT.fullmatch(name) is not None and log.find(name) is not None


def refuse_barred(log: Log, entry: Any, barred: frozenset[str]) -> None:
    """Refuse an entry that is, or puts out of force, one of a barred kind.

    Raises
    ------
    Refused
        Whoever sends it may not write it.
    """
    if not barred or not isinstance(entry, dict):
        return
    kind, replaced = entry.get("kind"), entry.get("replaces")
    if isinstance(kind, str) and kind in barred:
        raise Refused([BadInput("kind", not_trackside(barred))])
    if isinstance(replaced, str) and UUID_TEXT.fullmatch(replaced):
        found = log.find(replaced)
        if found is not None and found["kind"] in barred:
            raise Refused([BadInput("replaces", not_trackside(barred))])


def not_trackside(barred: frozenset[str]) -> str:
    """Why a device that is paired for trackside is refused, and what to do."""
    kept = in_words(sorted(barred))
    return (
        f"A device that is paired for trackside writes all but {kept}: do this at the bench, or have this device "
        "paired for the bench and send it again."
    )


def judged(entry: Any) -> dict[str, Any]:
    """An entry with the server's own verdict beside the one that was shown.

    Raises
    ------
    Refused
        Some of its fields cannot be used.
    """
    found = refusals(FORM, entry)
    if found:
        raise Refused(found)
    try:
        check(entry)
    except BadInput as refusal:
        raise Refused([refusal]) from None
    try:
        verdict, agrees = judge(entry)
    except BadInput as refusal:
        raise Refused([BadInput(inside("body", refusal.field).rstrip("."), refusal.reason)]) from None
    received = datetime.now(UTC).isoformat(timespec="milliseconds")
    return {**entry, "unit": entry.get("unit") or "", "received": received, "judged": verdict, "agrees": agrees}
