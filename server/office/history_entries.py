"""Makes entries of what the rows of a spreadsheet say.

An entry's id is made of what the entry is about, its day and its figures. So the same history imported twice, from
another file or with other columns chosen, finds its entries in the log and adds none.
"""

import hashlib
import json
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, NamedTuple
from uuid import UUID

from ..engine import ENGINE_VERSION, KINDS, BadInput, calc
from ..engine.request.units import UNITS, factor
from ..engine.unit.usual_limits import usual_minimum
from ..log import Log
from .history_form import MEANINGS
from .history_rows import Done, LeftOut, Mistake, Plate

# Fewest readings of a check, and points of a plate, that can be judged.
FEWEST_READINGS, FEWEST_POINTS = 2, 3

ONE_READING = "one reading, which cannot be judged"

# Which column a refusal of the engine is about, by the field at which it refuses.
COLUMNS = {"steady_nm": "torque", "plates": "thickness", "limits": "unit", "circumstances": "outings", "text": "note"}


class Found(NamedTuple):
    """An entry that a file holds.

    Attributes
    ----------
    entry : dict
        As a device would make it.
    row : int
        The row that it begins in.
    name : str
        Its unit's name.
    there : bool
        Whether the log has it already.
    says : str
        What it says, in words.
    """

    entry: dict[str, Any]
    row: int
    name: str
    there: bool
    says: str


def judgeable(done: Done) -> bool:
    """Whether a row has the readings of a torque check."""
    return len(done.forward) >= FEWEST_READINGS and len(done.reverse) != 1


class Units:
    """The units of a log, found by their names, and what stands for each."""

    def __init__(self, log: Log, names: list[dict[str, str]], today: date) -> None:
        self.log = log
        self.today = today
        self.standings: dict[str, dict[str, Any]] = {}
        self.ids = log.units()
        self.by_name: dict[str, list[str]] = {}
        for unit in self.ids:
            self.by_name.setdefault(plain_name(self.name(unit)), []).append(unit)
        self.called = {plain_name(row["called"]): row["unit"] for row in names}

    def standing(self, unit: str) -> dict[str, Any]:
        """What stands for a unit today."""
        if unit not in self.standings:
            request = {"entries": self.log.of_unit(unit), "today": self.today.isoformat()}
            self.standings[unit] = calc("standing", request)
        return self.standings[unit]

    def name(self, unit: str) -> str:
        """A unit's name; its id where its definition has not arrived."""
        return str((self.standing(unit)["unit"] or {}).get("name") or unit)

    def find(self, name: str) -> str | None:
        """The unit that a file calls so; None where there is none, or more than one."""
        plain = plain_name(name)
        if self.called.get(plain) in self.ids:
            return self.called[plain]
        if name in self.ids:
            return name
        units = self.by_name.get(plain, [])
        return units[0] if len(units) == 1 else None


def plain_name(name: str) -> str:
    """A name without what people write differently.

    >>> plain_name("  Bramble  1 ")
    'bramble 1'
    """
    return " ".join(name.casefold().split())


class Maker:
    """Makes entries of what rows say."""

    def __init__(
        self, log: Log, request: dict[str, Any], units: Units, now: datetime, spoiled: dict[tuple[str, date], int]
    ) -> None:
        self.log = log
        self.spoiled = spoiled
        self.request = request
        self.units = units
        self.now = now
        self.mistakes: list[Mistake] = []
        self.left_out: list[LeftOut] = []
        # The row of each entry by its id, and how many a unit has on a day.
        self.rows: dict[str, int] = {}
        self.on_day: dict[tuple[str, date], int] = {}

    def make(self, rows: list[Done]) -> Iterator[Found]:
        """The entries of all rows; plates of one unit, day and person are one measurement."""
        measured: dict[tuple[str, date, str], list[tuple[Done, Plate]]] = {}
        for done in rows:
            for plate in done.plates:
                measured.setdefault((done.unit, done.day, done.who), []).append((done, plate))
        for done in rows:
            if not self.units.name(done.unit) or done.unit not in self.units.ids:
                self.mistakes.append(Mistake(done.row, MEANINGS["unit"], "There is no such unit in this log."))
                continue
            yield from self.of_row(done)
            plates = measured.pop((done.unit, done.day, done.who), None)
            if plates:
                yield from self.plate_check(plates)

    def of_row(self, done: Done) -> Iterator[Found]:
        """The torque check and the note of a row."""
        note = done.note
        if judgeable(done):
            yield from self.found("torque_check", done, self.torque_body(done), torque_key(done))
        elif done.forward or done.reverse:
            both = (("forward", done.forward), ("reverse", done.reverse))
            kept = "; ".join(f"{words} {in_words(figures)}" for words, figures in both if figures)
            note = f"Breakaway torque {kept} ({ONE_READING}). {note}".strip()
        if note:
            yield from self.found("note", done, {"text": note}, [plain_name(note)])

    def torque_body(self, done: Done) -> dict[str, Any]:
        """The request of a torque check."""
        standing, request = self.units.standing(done.unit), self.request
        checked = (standing["derived"] or {}).get("checked") or {}
        limits = standing["limits"] or {}
        circumstances = {"oil": done.oil, **({"outings": done.outings} if done.outings else {})}
        body = {
            "held": request["held"],
            "wrench": request["wrench"],
            "steady_nm": {"forward": done.forward, **({"reverse": done.reverse} if done.reverse else {})},
            "judged_on": checked.get("judged_on", "steady"),
            "stated_for": checked.get("stated_for", "one_output_held"),
            "hub_ratio": checked.get("hub_ratio", 1.0) if request["held"].startswith("car") else 1.0,
            "limits": limits.get("service") or limits.get("order") or {},
            "sure_of_unit": True,
            "day": done.day.isoformat(),
            "write_in": done.forward[0]["unit"],
        }
        return {**body, **({"circumstances": circumstances} if done.oil or done.outings else {})}

    def plate_check(self, plates: list[tuple[Done, Plate]]) -> Iterator[Found]:
        """The measurement of the plates of a unit on a day: all of them, or with a mistake in one none.

        What is corrected and imported later would else be a second measurement of that day.
        """
        done = plates[0][0]
        spoiled = self.spoiled.get((done.unit, done.day))
        places = {place["slot"]: place for place in self.units.standing(done.unit)["built"]["places"]}
        by_slot: dict[str, tuple[int, dict[str, Any]]] = {}
        for row, plate in plates:
            if plate.slot in by_slot:
                self.left_out.append(LeftOut(row.row, f"{plate.slot} is measured on that day already, further up."))
                continue
            try:
                by_slot[plate.slot] = row.row, plate_body(plate, places.get(plate.slot))
            except BadInput as refusal:
                self.mistakes.append(Mistake(row.row, MEANINGS["thickness"], refusal.reason))
                spoiled = spoiled or row.row
        if spoiled:
            reason = f"Correct row {spoiled} first: the plates of one day stay together."
            self.left_out.extend(LeftOut(row, reason) for row in sorted({row.row for row, _ in plates} - {spoiled}))
            return
        slots = sorted(by_slot)
        body = {
            "micrometer": self.request["micrometer"],
            "day": done.day.isoformat(),
            "write_in": plates[0][1].points[0]["unit"],
            "plates": [by_slot[slot][1] for slot in slots],
        }
        key = [[slot, [in_si(figure, "mm") for figure in by_slot[slot][1]["points_mm"]]] for slot in slots]

        def row_of(field: str) -> int:
            place = field.split(".")[1] if field.startswith("plates.") else ""
            return by_slot[slots[int(place)]][0] if place.isdigit() else done.row

        yield from self.found("plate_check", done, body, key, row_of)

    def found(
        self,
        kind: str,
        done: Done,
        body: dict[str, Any],
        key: list[Any],
        row_of: Callable[[str], int] | None = None,
    ) -> Iterator[Found]:
        """An entry, unless its row holds a mistake or an earlier row says the same; `row_of` knows a field's row."""
        entry_id = make_id(done, kind, key)
        if entry_id in self.rows:
            self.left_out.append(LeftOut(done.row, f"It says the same as row {self.rows[entry_id]}."))
            return
        try:
            shown = calc(KINDS[kind].calculation, body)
        except BadInput as refusal:
            column = MEANINGS[COLUMNS.get(refusal.field.partition(".")[0], "day")]
            row = row_of(refusal.field) if row_of else done.row
            self.mistakes.append(Mistake(row, column, refusal.reason))
            return
        self.rows[entry_id] = done.row
        turn = self.on_day[done.unit, done.day] = self.on_day.get((done.unit, done.day), -1) + 1
        # Only the day is known: noon, and a second for each entry of the day, so that they stay in their order.
        at = datetime.combine(done.day, time(12), UTC) + timedelta(seconds=turn)
        entry = {
            "id": entry_id,
            "at": at.isoformat(timespec="seconds"),
            "who": done.who,
            "device": self.log.identity.log_id,
            "unit": done.unit,
            "kind": kind,
            "version": KINDS[kind].version,
            "engine": ENGINE_VERSION,
            "body": body,
            "shown": json.loads(json.dumps(shown)),
            "imported": {
                "file": self.request["file"],
                "row": done.row,
                "at": self.now.isoformat(timespec="seconds"),
                "by": self.request["who"].strip(),
            },
        }
        there = self.log.find(entry_id) is not None
        says = body["text"] if kind == "note" else f"{KINDS[kind].meaning}: {shown['verdict']}. {shown['reason']}"
        yield Found(entry, done.row, self.units.name(done.unit), there, says)


def plate_body(plate: Plate, place: dict[str, Any] | None) -> dict[str, Any]:
    """A plate of a measurement; its limits as the file has them, else as its unit has them.

    Raises
    ------
    BadInput
        Neither says what the plate was when new, or there are too few points.
    """
    if place is None and not plate.new:
        raise BadInput("", f"The unit has no place “{plate.slot}”: choose the column of the thickness when new.")
    if 1 < len(plate.points) < FEWEST_POINTS:
        raise BadInput("", f"{plate.slot} has two points: a plate takes one for all round, or three and more.")
    place = place or {}
    body: dict[str, Any] = {"slot": plate.slot, "part": place.get("part", "friction"), "points_mm": plate.points}
    body["new_mm"] = plate.new[0] if plate.new else place.get("new_mm")
    body["minimum_mm"] = plate.minimum[0] if plate.minimum else place.get("minimum_mm")
    body["usual_minimum"] = not plate.minimum and bool(place.get("usual_minimum"))
    if body["new_mm"] is None:
        raise BadInput("", f"Nobody said how thick {plate.slot} is when new: choose its column, or add it to the unit.")
    if body["minimum_mm"] is None:
        new = body["new_mm"]
        body["minimum_mm"] = usual_minimum(in_si(new, "mm") if isinstance(new, dict) else float(new))
        body["usual_minimum"] = True
    if len(plate.points) == 1:
        body["points_mm"], body["same_all_round"] = plate.points * FEWEST_POINTS, True
    return body


def in_si(figure: dict[str, str], si: str) -> float:
    """A figure in SI, to so many places that its unit makes no difference."""
    return float(f"{float(figure['typed']) * factor(figure['unit'], si):.6g}")


def in_words(figures: list[dict[str, str]]) -> str:
    """Torques as they were read.

    >>> in_words([{"typed": "62", "unit": "lbf_ft"}])
    '62 lbf·ft'
    """
    signs = {name: sign for name, sign, _ in UNITS["nm"]}
    return ", ".join(f"{figure['typed']} {signs[figure['unit']]}" for figure in figures)


def torque_key(done: Done) -> list[Any]:
    """What tells a torque check from another of the same day."""
    return [[in_si(figure, "nm") for figure in figures] for figures in (done.forward, done.reverse)]


def make_id(done: Done, kind: str, key: list[Any]) -> str:
    """A UUID of version 7 that is the same for the same thing done on the same day."""
    noon_ms = int(datetime.combine(done.day, time(12), UTC).timestamp() * 1000)
    text = json.dumps([done.unit, kind, done.day.isoformat(), key], sort_keys=True)
    number = noon_ms << 80 | int.from_bytes(hashlib.sha256(text.encode()).digest()[:10], "big")
    number = number & ~(0xF << 76) | 7 << 76
    return str(UUID(int=number & ~(0x3 << 62) | 2 << 62))
