"""What is done with entries that arrive: each is checked, judged again, stored and answered on its own."""

import logging
from datetime import UTC, datetime
from typing import Any

from server.engine import BadInput
from server.engine.errors import inside
from server.log import REFUSED, STORED, Log
from server.log.judging import judge

from .envelope import FORM, UUID_TEXT, check
from .forms import refusals
from .problems import faults

SAME_ID = "Another entry with this id is in the log, with other content: enter this one anew, as a correction."
ENGINE_FAILED = "The server's engine failed on this entry; keep it, and tell whoever looks after the server."


def receive(log: Log, arrived: list[Any]) -> list[dict[str, Any]]:
    """Take entries into the log.

    Parameters
    ----------
    log : Log
        The log.
    arrived : list
        Entries as devices made them, checked by nobody yet.

    Returns
    -------
    list of dict
        In order: {"id", "answer": "stored" or "already_there", "seq", "judged", "agrees"} or {"id", "answer":
        "refused", "errors": [{"field", "reason"}]}.

    Raises
    ------
    LogFault
        The log could not write; sending all of them again is safe.
    """
    errors: dict[int, list[BadInput]] = {}
    ready: dict[int, dict[str, Any]] = {}
    for place, entry in enumerate(arrived):
        try:
            ready[place] = entry if is_known(log, entry) else judged(entry)
        except Refused as refused:
            errors[place] = refused.found
    answers: dict[int, dict[str, Any]] = {}
    for place, (answer, entry) in zip(ready, log.add(list(ready.values()))):
        if answer == REFUSED:
            errors[place] = [BadInput("id", SAME_ID)]
        else:
            answers[place] = {"id": entry["id"], "answer": answer}
            answers[place].update({name: entry[name] for name in ("seq", "judged", "agrees") if name in entry})
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
    except Exception:
        # One entry that trips the engine must not keep the rest of a phone's outbox from the log.
        logging.getLogger("slipbook").exception("The engine failed on entry %s.", entry["id"])
        raise Refused([BadInput("body", ENGINE_FAILED)]) from None
    received = datetime.now(UTC).isoformat(timespec="milliseconds")
    return {**entry, "unit": entry.get("unit") or "", "received": received, "judged": verdict, "agrees": agrees}
