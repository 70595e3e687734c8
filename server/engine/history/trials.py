"""Changes to try: which were made and when, what ran since, and whether they helped; and what was felt of a unit."""

from typing import Any

from ..records.outing import CORNERS, FELT, HELPED, WHEN, complaint_in_words
from ..records.trial import COAST_RAMP, DRIVE_RAMP, FACES, FIGURES, FORM, PAIR, PRELOAD, TURNED_OVER, change_in_words
from ..request.errors import BadInput
from ..request.sorting import in_order
from ..request.units import say
from ..unit.stack import SPRING, packs, sliding_faces
from .built_now import definition_of
from .timeline import by_arrival, first_of, of_kind
from .used import day_of, place_of

CHOSEN, MADE, RUN, ANSWERED = "chosen", "made", "run", "answered"
STATES = {
    CHOSEN: "chosen, and not made yet",
    MADE: "made, and not run since",
    RUN: "made and run, and nobody said whether it helped",
    ANSWERED: "made, and answered",
}

# So many outings with complaints are told of, the newest first.
MOST_FELT = 5

# What a complaint may say of when and where; None is at any time, and everywhere.
ANY_TIME, EVERYWHERE = [None] + list(WHEN), [None] + list(CORNERS)


def is_before(first: dict[str, Any], second: dict[str, Any]) -> bool:
    """Whether something was done before something else."""
    return place_of(first) < place_of(second)


class EntryIds:
    """Entries by the ids that others name them by: each keeps those of what it corrected.

    Parameters
    ----------
    entries : list of dict
        All of the unit's.
    """

    def __init__(self, entries: list[dict[str, Any]]) -> None:
        by_id = {entry["id"]: entry for entry in entries}
        self.firsts = {entry["id"]: first_of(entry, by_id)["id"] for entry in entries}

    def same(self, name: str, other: str) -> bool:
        """Whether two ids are of one entry and its corrections."""
        return bool(self.firsts.get(name, name) == self.firsts.get(other, other))

    def is_among(self, name: str, others: list[str] | None) -> bool:
        """Whether one of them names an entry."""
        return any(self.same(name, other) for other in others or [])

    def now(self, live: list[dict[str, Any]], name: str) -> str:
        """The id of what stands now of an entry; the same where nothing does."""
        ids = [entry["id"] for entry in live if self.same(entry["id"], name)]
        return ids[0] if ids else name


def made_with(live: list[dict[str, Any]], trial: str, ids: EntryIds) -> dict[str, Any] | None:
    """The entry that says that a change was made, the first where several do."""
    rows = [entry for entry in live if ids.is_among(trial, entry["body"].get("trials"))]
    return in_order(rows, place_of)[0] if rows else None


def answers_to(
    outings: list[dict[str, Any]], trial: str, making: dict[str, Any] | None, ids: EntryIds
) -> tuple[list[dict[str, Any]], list[str]]:
    """What was said of a change since it was made, by outing, and the days on which it was said before.

    An outing of the very day on which it was made may have been run after that, so its answer counts.
    """
    rows, early = [], []
    for outing in outings:
        for row in outing["shown"].get("helped") or []:
            if not (ids.same(row["trial"], trial) and row["answer"] in HELPED):
                continue
            if making is None or day_of(outing) < day_of(making):
                early.append(day_of(outing))
                continue
            rows.append(
                {"id": outing["id"], "at": outing["at"], "answer": row["answer"], "text": HELPED[row["answer"]]}
            )
    return rows, early


def count_in_words(count: int) -> str:
    """So many outings."""
    return "1 outing" if count == 1 else f"{count} outings"


def faces_in(definition: dict[str, Any]) -> int | None:
    """Sliding faces of both packs of a definition; None where it does not tell them."""
    try:
        both = packs(definition["chain"] or [])
        return sum(sliding_faces([item["part"] for item in pack if item["part"] != SPRING]) for pack in both)
    except BadInput:
        return None


def in_use(definition: dict[str, Any] | None, then: dict[str, Any] | None, change: dict[str, Any]) -> bool:
    """Whether the unit's definition has a change, as far as it tells; `then` is that by which the change was chosen."""
    if definition is None:
        return True
    ramps, order, lever = definition.get("ramps"), definition.get("order"), change["lever"]
    if lever == PRELOAD:
        return order is not None and abs(order["torque_nm"] - change["torque_nm"]) < 0.05
    if lever == FACES:
        return faces_in(definition) in (None, change["faces"])
    if ramps is None:
        return True
    if lever == PAIR:
        # The pair that is in use now is none of the others any more.
        return change["pair"] not in [pair["name"] for pair in definition.get("other_ramps") or []]
    if lever == TURNED_OVER:
        before = None if then is None else then.get("ramps")
        drive, coast = ramps["drive_deg"], ramps["coast_deg"]
        return before is None or drive == coast or (drive, coast) != (before["drive_deg"], before["coast_deg"])
    if lever in (DRIVE_RAMP, COAST_RAMP):
        name = "drive_deg" if lever == DRIVE_RAMP else "coast_deg"
        return bool(abs(ramps[name] - change[name]) < 0.05)
    return True


def definition_at(live: list[dict[str, Any]], trial: dict[str, Any]) -> dict[str, Any] | None:
    """The definition in SI by which a change was chosen; None where there was none."""
    units = [entry for entry in of_kind(live, "unit") if is_before(entry, trial)]
    return definition_of(in_order(units, by_arrival)[-1]) if units else None


def text_of(state: str, making: dict[str, Any] | None, ran: int, answers: list[dict[str, Any]]) -> str:
    """How it is about a change, in one sentence."""
    if making is None:
        return "Chosen, not made yet."
    done = f"Made with the {making['kind']} of {making['at'][:10]}"
    if state == MADE:
        return f"{done}, not run since. The next outing asks whether it helped."
    if state == RUN:
        return f"{done}, {count_in_words(ran)} since: did it help?"
    return f"{done}. Did it help: {answers[-1]['text']}."


def too_soon(early: list[str], is_made: bool) -> list[str]:
    """What to know of answers from days before a change was made."""
    if not early:
        return []
    sentence = f"The outing of {early[-1]} says whether it helped"
    if is_made:
        return [f"{sentence}, before it was made: that answer is not counted."]
    return [f"{sentence}, and nothing says that it was made: correct the rebuild or the service that made it."]


def notes_on(
    live: list[dict[str, Any]],
    trial: dict[str, Any],
    making: dict[str, Any] | None,
    together: list[str],
    early: list[str],
) -> list[str]:
    """What to know of a change: what else was changed with it, that a rebuild went by without it, early answers."""
    rows = too_soon(early, making is not None)
    rebuilds = [entry for entry in of_kind(live, "rebuild") if is_before(trial, entry)]
    if making is None:
        if not rebuilds:
            return rows
        return rows + [
            f"The unit was rebuilt on {rebuilds[-1]['at'][:10]}, and that rebuild does not say that this was made. "
            "Correct it if it was; else look whether the complaint is still there."
        ]
    if together:
        rows.append(
            f"Made together with: {', '.join(together)}. Nobody can tell which of them did what, so the answer is one "
            "for all."
        )
    parts, lever = making["body"].get("fitted") or [], trial["body"]["lever"]
    if parts and lever != PRELOAD:
        rows.append("Plates were exchanged with it, so preload may be other as well: check the torque.")
    return rows


def read_again(body: dict[str, Any]) -> dict[str, Any] | None:
    """A change in SI; None where an entry cannot be read."""
    try:
        checked: dict[str, Any] = FORM.read(body, "")
    except BadInput:
        return None
    return checked


def words_of(change: dict[str, Any], torque_unit: str) -> str:
    """A change in words, with the torque of a preload."""
    if change["lever"] == PRELOAD:
        return f"breakaway torque {say(change['torque_nm'], 'nm', torque_unit)}"
    return change_in_words(change)


def trial_row(
    live: list[dict[str, Any]],
    trial: dict[str, Any],
    change: dict[str, Any],
    changes: dict[str, str],
    definition: dict[str, Any] | None,
    ids: EntryIds,
) -> dict[str, Any]:
    """One change to try as `standing` answers it; `changes` are all of them in words, by id."""
    outings = in_order(of_kind(live, "outing"), place_of)
    making = made_with(live, trial["id"], ids)
    answers, early = answers_to(outings, trial["id"], making, ids)
    ran = 0 if making is None else len([outing for outing in outings if is_before(making, outing)])
    state = CHOSEN if making is None else ANSWERED if answers else RUN if ran else MADE
    with_it = [] if making is None else making["body"].get("trials") or []
    others = [other for other in sorted(changes) if other != trial["id"]]
    together = [changes[other] for other in others if ids.is_among(other, with_it)]
    rebuilds = in_order(of_kind(live, "rebuild"), place_of)
    is_of_now = making is not None and not [entry for entry in rebuilds if is_before(making, entry)]
    row = {
        "id": trial["id"],
        "at": trial["at"],
        "who": trial.get("who", ""),
        "lever": change["lever"],
        "change": changes[trial["id"]],
        "felt": "" if change["complaint"] is None else complaint_in_words(change["complaint"]),
        "outing": ids.now(outings, change["outing"]),
        "reason": change["reason"],
        "state": state,
        "asks": making is not None and not answers,
        "made": None if making is None else {"id": making["id"], "at": making["at"]},
        "outings": ran,
        "answers": answers,
        "stays": state != ANSWERED or is_of_now,
        "defined": not is_of_now or in_use(definition, definition_at(live, trial), change),
        "text": text_of(state, making, ran, answers),
        "notes": notes_on(live, trial, making, together, early),
    }
    for name in FIGURES:
        row[name] = change[name]
    return row


def trials_now(
    entries: list[dict[str, Any]], live: list[dict[str, Any]], definition: dict[str, Any] | None, torque_unit: str
) -> list[dict[str, Any]]:
    """Changes to try that stand for a unit, the newest first.

    Parameters
    ----------
    entries : list of dict
        All of the unit's entries.
    live : list of dict
        The unit's entries that stand, by time.
    definition : dict or None
        Its definition in SI.
    torque_unit : str
        Unit of torque of sentences.

    Returns
    -------
    list of dict
        id, at, who; lever, pair, torque_nm, drive_deg, coast_deg and faces as they were chosen, in SI; change, felt,
        outing and reason; state, a key of `STATES`; asks, whether the next outing asks about it: it was made and nobody
        said whether it helped; made, the rebuild or service that says so (id, at); outings since; answers since then,
        by outing: id, at, answer and text; stays, whether it belongs on the unit's page: all but those that were
        answered and that another rebuild has followed; defined, False where it is in the unit as built now and the
        definition tells otherwise; text; notes. Entries that name one that was corrected mean the correction.
    """
    known, ids = [], EntryIds(entries)
    for trial in of_kind(live, "trial"):
        change = read_again(trial["body"])
        if change is not None:
            known.append((trial, change))
    changes = {trial["id"]: words_of(change, torque_unit) for trial, change in known}
    rows = [trial_row(live, trial, change, changes, definition, ids) for trial, change in known]
    rows.reverse()
    return rows


def complaints_of(outing: dict[str, Any]) -> list[dict[str, Any]]:
    """What was felt at an outing; a complaint that only a newer engine knows is left out."""
    rows = []
    for row in outing["shown"].get("felt") or []:
        kept = {"what": row.get("what"), "when": row.get("when"), "corners": row.get("corners")}
        if kept["what"] in FELT and kept["when"] in ANY_TIME and kept["corners"] in EVERYWHERE:
            kept["text"] = complaint_in_words(kept)
            rows.append(kept)
    return rows


def felt_now(live: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What was felt of a unit, the newest outing first: id, at, felt, conditions, and whether it was rebuilt since."""
    rows = []
    rebuilds = of_kind(live, "rebuild")
    for outing in in_order(of_kind(live, "outing"), place_of):
        felt = complaints_of(outing)
        if felt:
            rebuilt = [entry["at"] for entry in rebuilds if is_before(outing, entry)]
            rows.append(
                {
                    "id": outing["id"],
                    "at": outing["at"],
                    "felt": felt,
                    "conditions": outing["body"].get("conditions") or None,
                    "rebuilt": rebuilt[-1] if rebuilt else None,
                }
            )
    rows.reverse()
    return rows[:MOST_FELT]
