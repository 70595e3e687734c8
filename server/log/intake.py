"""Takes arriving entries into the log: each is checked, judged again, stored and answered on its own."""

import json
import logging
from datetime import datetime
from typing import Any, NamedTuple

from ..engine import BadInput
from ..engine.history.clocks import NEAR_S
from ..engine.records.kinds import in_words
from ..engine.request.errors import inside
from . import ADDED, REFUSED, STORED, Answer, Log
from .answer import from_device
from .clock import Reading
from .entry import FORM, UUID_TEXT, check, check_shown, find_refusals, is_sane, list_errors
from .erasing import ERASED
from .judging import judge
from .receipts import RECEIPT, as_it_was, is_own, make_receipt, with_receipt

# Characters of a result as JSON that are never too many; the largest of the kinds' samples has 3000.
ROOM_FOR_RESULT = 20_000

SWOLLEN = "The result is far larger than one of this kind can be: update Slipbook on the device, then enter this again."
SAME_ID = "Another entry with this id is in the log, with other content: enter this again, as a correction."
ENGINE_FAILED = "The server's engine failed on this entry: keep it, and tell whoever looks after the server."


class Sender(NamedTuple):
    """The device that entries come from.

    Attributes
    ----------
    sent : str or None
        What its clock showed as it sent them.
    device : str or None
        Its own id; None from devices that do not say it, and from files.
    fell_s : float
        By how many seconds it has seen its clock fall, in all.
    vouches : bool
        Whether its clock is certainly another than this PC's.
    """

    sent: str | None = None
    device: str | None = None
    fell_s: float = 0.0
    vouches: bool = False


def receive(
    log: Log,
    arrivals: list[Any],
    sender: Sender | None = None,
    barred: frozenset[str] = frozenset(),
    source: str = "",
) -> list[dict[str, Any]]:
    """Take entries into the log.

    Parameters
    ----------
    log : Log
        The log.
    arrivals : list
        Entries as devices made them, not checked yet.
    sender : Sender, optional
        Which device sends them, and how its clock is; one that is off by more than five minutes is noted.
    barred : frozenset of str
        Kinds of entry that the sender may neither write nor replace; what carries this log's receipt comes back
        whoever brings it, as it was.
    source : str
        What people call the sender, for the book of what came back.

    Returns
    -------
    list of dict
        In order, for each entry: {"id", "answer": "stored" or "already_there", "seq", "agrees", "receipt", and "judged"
        if it differs from the result that was shown} or {"id", "answer": "refused", "errors": [{"field", "reason"}]}.

    Raises
    ------
    LogFault
        The log could not write; sending all of them again is safe.
    """
    sender = sender or Sender()
    if sender.sent and sender.vouches:
        log.clock.compare(datetime.fromisoformat(sender.sent))
    reading = log.clock.look()
    answers: dict[int, dict[str, Any]] = {}
    accepted: dict[int, dict[str, Any]] = {}
    own: set[int] = set()
    known = find_known(log, arrivals)
    for index, arrival in enumerate(arrivals):
        entry = arrival
        try:
            if is_among(entry, known):
                accepted[index] = entry
            elif is_own(log.identity, entry):
                accepted[index] = as_it_was(entry)
                own.add(index)
            else:
                entry = without_receipt(entry)
                refuse_barred(log, entry, barred)
                accepted[index] = add_verdict(entry) | receipt_facts(entry, sender, reading)
        except Refused as failure:
            answers[index] = answer_refused(entry, failure.refusals)
        except Exception:
            # One entry that makes the program fail must not keep the rest of a phone's outbox from the log.
            logging.getLogger("slipbook").exception("The server failed on an entry.")
            answers[index] = answer_refused(entry, [BadInput("body", ENGINE_FAILED)])
    for index, added in zip(accepted, log.add(list(accepted.values()))):
        answers[index] = answer_added(added, log)
    came_back = sum(answers[index]["answer"] == STORED for index in own)
    if came_back:
        log.note_returned(source, entries=came_back)
    return [answers[index] for index in range(len(arrivals))]


def answer_refused(entry: Any, refusals: list[BadInput]) -> dict[str, Any]:
    """The answer to an entry that is not stored; an arrival without a readable id is answered without one."""
    entry_id = entry.get("id") if isinstance(entry, dict) else None
    return {
        "id": entry_id if isinstance(entry_id, str) else None,
        "answer": REFUSED,
        "errors": list_errors(refusals),
    }


def without_receipt(entry: Any) -> Any:
    """An arriving entry without what another log added to it."""
    return from_device(entry) if isinstance(entry, dict) and RECEIPT in entry else entry


def answer_added(added: Answer, log: Log) -> dict[str, Any]:
    """The answer to an entry that was handed to the log; a verdict that differs from the one shown is logged."""
    answer, entry = added
    if answer == REFUSED:
        return answer_refused(entry, [BadInput("id", SAME_ID)])
    # Where the server agrees, the device has the same verdict already.
    names_returned = [name for name in ADDED if name in entry and not (name == "judged" and entry["agrees"])]
    if answer == STORED and entry.get("agrees") is False:
        logging.getLogger("slipbook").warning("Entry %s got a different verdict here.", entry["id"])
    added_here = {name: entry[name] for name in names_returned}
    if ERASED in entry:
        # The device has what was taken out: it keeps this in its place.
        added_here["entry"] = with_receipt(log.identity, entry)
    return {"id": entry["id"], "answer": answer, **added_here, RECEIPT: make_receipt(log.identity, entry)}


def receipt_facts(entry: dict[str, Any], sender: Sender, reading: Reading) -> dict[str, Any]:
    """The entry's fields for when it came, and for how its device's clock was then: see `engine.history.clocks`.

    Where the PC's own clock may not be gone by, or another device brings the entry, nothing is said of that clock.
    """
    facts: dict[str, Any] = {"received": reading.at.isoformat(timespec="milliseconds")}
    if not reading.is_sound:
        return facts | {"received_unsure": True}
    if not sender.sent or sender.device not in (None, entry.get("device")):
        return facts
    clock_off_s = round((reading.at - datetime.fromisoformat(sender.sent)).total_seconds())
    if abs(clock_off_s) > NEAR_S:
        facts["clock_off_s"] = clock_off_s
    if sender.device and entry.get("clock"):
        facts["clock_checked"] = True
        fell_since_s = round(sender.fell_s - entry["clock"]["fell_s"])
        if fell_since_s > 0:
            facts["clock_fell_s"] = fell_since_s
    return facts


class Refused(Exception):
    """An entry cannot be stored; `refusals` says why, at each field."""

    def __init__(self, refusals: list[BadInput]) -> None:
        super().__init__(*map(str, refusals))
        self.refusals = refusals


def find_known(log: Log, arrivals: list[Any]) -> set[str]:
    """The ids of those arrivals that the log has entries for, so that the two only have to be compared."""
    ids = [arrival.get("id") for arrival in arrivals if isinstance(arrival, dict)]
    return log.known(name for name in ids if isinstance(name, str) and UUID_TEXT.fullmatch(name))


def is_among(entry: object, known: set[str]) -> bool:
    """Whether an arrival's id is one of these."""
    entry_id = entry.get("id") if isinstance(entry, dict) else None
    return isinstance(entry_id, str) and entry_id in known


def refuse_barred(log: Log, entry: Any, barred: frozenset[str]) -> None:
    """Refuse an entry that is of a barred kind, or replaces one of a barred kind.

    Raises
    ------
    Refused
        The sender may not write it.
    """
    if not barred or not isinstance(entry, dict):
        return
    kind, replaced_id = entry.get("kind"), entry.get("replaces")
    if isinstance(kind, str) and kind in barred:
        raise Refused([BadInput("kind", explain_barred(barred))])
    if isinstance(replaced_id, str) and UUID_TEXT.fullmatch(replaced_id):
        replaced = log.find(replaced_id)
        if replaced is not None and replaced["kind"] in barred:
            raise Refused([BadInput("replaces", explain_barred(barred))])


def explain_barred(barred: frozenset[str]) -> str:
    """Why an entry from a trackside device is refused, and what to do."""
    return (
        f"A device that is paired for trackside writes all but {in_words(sorted(barred))}: do this at the bench, "
        "or have this device paired for the bench and send it again."
    )


def is_swollen(shown: dict[str, Any], ours: dict[str, Any]) -> bool:
    """Whether a shown result is far larger than an engine of any version can have made of the same request."""
    size = len(json.dumps(shown))
    return size > ROOM_FOR_RESULT and size > ROOM_FOR_RESULT + 4 * len(json.dumps(ours))


def add_verdict(entry: Any) -> dict[str, Any]:
    """Check an entry, and add the server's own verdict.

    Raises
    ------
    Refused
        Some of its fields cannot be used.
    """
    refusals = find_refusals(FORM, entry)
    if refusals:
        raise Refused(refusals)
    try:
        check(entry)
        result, agrees = judged(entry)
    except BadInput as refusal:
        raise Refused([refusal]) from None
    # What agrees is of the same size.
    if not agrees and is_swollen(entry["shown"], result):
        raise Refused([BadInput("shown", SWOLLEN)])
    return {**entry, "unit": entry.get("unit") or "", "judged": result, "agrees": agrees}


def judged(entry: dict[str, Any]) -> tuple[dict[str, Any], bool]:
    """An entry's result by this engine, and whether it agrees with the one shown, which holds what it must.

    Raises
    ------
    BadInput
        At a field of the result that was shown, or else of the body.
    """
    try:
        result, agrees = judge(entry)
    except BadInput as refusal:
        check_shown(entry)
        raise BadInput(inside("body", refusal.field).rstrip("."), refusal.reason) from None
    if not agrees:
        # What agrees holds all that this engine's own result does, and figures that JSON can hold.
        check_shown(entry)
        if not is_sane(result):
            raise ArithmeticError("The engine's result holds a figure that is none.")
    return result, agrees
