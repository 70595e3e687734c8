"""An invented workshop of any size: the engine's own results for some hundred entries, spread over many units.

The files are written in the log's own format without its durable writes, which would take hours.
"""

import json
import random
import uuid
from collections import defaultdict
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from server.demo import UNITS, entry_id, read_seasons
from server.engine import ENGINE_VERSION, KINDS, calc
from server.log.files.folder import Folder
from server.log.layout import encode_file, encode_line

NAMES = ("Bramble", "Sorrel", "Thistle", "Clover", "Teasel", "Yarrow", "Campion", "Burdock", "Fennel", "Lovage")
PEOPLE = ("Mara Quill", "Joss Tarn", "Ilse Marrow", "Odette Farrow", "Piet Hollow")
NOTES = ("Oil changed.", "Chatters in slow corners when cold.", "Drains dark.", "Back from the hill climb.")
# Of a hundred entries in a unit's history, after its definition.
SHARES = {"torque_check": 65, "plate_check": 20, "note": 15}
FIRST = datetime(2023, 3, 1, 8, 0, tzinfo=UTC)
DAYS = 1350
LAST = FIRST + timedelta(days=DAYS)
VARIANTS = 40


def season() -> list[tuple[str, dict[str, Any]]]:
    """Kind and body of every entry of the demonstration, which the workshop's own are varied from."""
    return [(row["kind"], row["body"]) for season in read_seasons(UNITS, LAST) for row in season["entries"]]


def varied(value: Any, factor: float) -> Any:
    """A reading that is another by this factor, written as it was written before."""
    if isinstance(value, dict):
        return {**value, "typed": varied(value["typed"], factor)}
    number = float(str(value).replace(",", ".")) * factor
    text = f"{number:.2f}" if number < 10 else f"{number:.1f}"
    return text.replace(".", ",") if "," in str(value) else text


def vary(kind: str, body: dict[str, Any], chance: random.Random, day: date) -> dict[str, Any]:
    """Another check like this one, on another day."""
    body = {**body, "day": day.isoformat()}
    for name in ("steady_nm", "steady_n"):
        if name in body:
            drift = chance.uniform(0.85, 1.02)
            body[name] = {
                way: [varied(reading, drift * chance.uniform(0.99, 1.01)) for reading in values]
                for way, values in body[name].items()
            }
    if kind == "plate_check":
        body["plates"] = [
            {**plate, "points_mm": [varied(point, chance.uniform(0.996, 1.004)) for point in plate["points_mm"]]}
            for plate in body["plates"]
        ]
    return body


def judged(kind: str, body: dict[str, Any]) -> dict[str, Any]:
    """What an entry of this kind holds beside its envelope."""
    shown = json.loads(json.dumps(calc(KINDS[kind].calculation, body)))
    return {
        "kind": kind,
        "version": KINDS[kind].version,
        "engine": ENGINE_VERSION,
        "body": body,
        "shown": shown,
    }


class Workshop:
    """Makes entries of an invented workshop; the same ones for the same seed.

    Parameters
    ----------
    units : int
        How many units it looks after.
    seed : int
        What everything is drawn from.
    """

    def __init__(self, units: int, seed: int = 1) -> None:
        self.chance = random.Random(seed)
        self.units = [entry_id(FIRST - timedelta(days=1), f"workshop {seed}, unit {number}") for number in range(units)]
        self.devices = {who: str(uuid.UUID(int=self.chance.getrandbits(128), version=4)) for who in PEOPLE}
        bodies_by_kind = season()
        self.definitions = [body for kind, body in bodies_by_kind if kind == "unit"]
        self.kit = [judged(kind, body) for kind, body in bodies_by_kind if kind in ("kit", "shelf")]
        self.kinds: dict[str, list[dict[str, Any]]] = {kind: [] for kind in SHARES}
        for kind, judged_checks in self.kinds.items():
            bodies = [body for season_kind, body in bodies_by_kind if season_kind == kind]
            for _ in range(VARIANTS if kind != "note" else 0):
                day = (FIRST + timedelta(days=self.chance.randrange(DAYS))).date()
                judged_checks.append(judged(kind, vary(kind, self.chance.choice(bodies), self.chance, day)))
        self.kinds["note"] = [judged("note", {"text": text}) for text in NOTES]

    def definition(self, number: int) -> dict[str, Any]:
        """What the unit with this number is."""
        body = self.definitions[number % len(self.definitions)]
        return judged("unit", {**body, "name": f"{NAMES[number % len(NAMES)]} {number // len(NAMES) + 1}"})

    def drawn(self) -> dict[str, Any]:
        """Some later entry's content."""
        kind = self.chance.choices(list(SHARES), list(SHARES.values()))[0]
        return self.chance.choice(self.kinds[kind])

    def entry(self, number: int, unit: str, content: dict[str, Any], at: datetime) -> dict[str, Any]:
        """An entry as a device makes it."""
        who = PEOPLE[number % len(PEOPLE)]
        return {
            "id": entry_id(at, f"{unit} {number}"),
            "at": at.isoformat(timespec="milliseconds"),
            "who": who,
            "device": self.devices[who],
            "unit": unit,
            **content,
        }

    def fresh(self, count: int) -> list[dict[str, Any]]:
        """Entries that are new today, over all units in turn."""
        now = datetime.now(UTC)
        return [
            self.entry(
                10**9 + number, self.units[number % len(self.units)], self.drawn(), now + timedelta(number / 1e9)
            )
            for number in range(count)
        ]

    def contents(self, entries: int) -> Iterator[tuple[str, dict[str, Any]]]:
        """Unit and content of each entry: the kit, every unit's definition, then all units in turn."""
        for content in self.kit:
            yield "", content
        for number, unit in enumerate(self.units):
            yield unit, self.definition(number)
        for place in range(entries - len(self.kit) - len(self.units)):
            yield self.units[place % len(self.units)], self.drawn()

    def write(self, root: Path, entries: int) -> None:
        """Write a log of `entries` entries."""
        folder = Folder(root)
        root.mkdir(parents=True, exist_ok=True)
        folder.make()
        repeated = {id(check): inner(check) for judged_checks in self.kinds.values() for check in judged_checks}
        lines: dict[str, list[bytes | memoryview]] = defaultdict(list)
        step = timedelta(days=DAYS) / entries
        for seq, (unit, content) in enumerate(self.contents(entries), 1):
            at = FIRST + seq * step
            envelope = {"seq": seq, "id": "", "unit": unit, **self.entry(seq, unit, {}, at)}
            text = repeated.get(id(content)) or inner(content)
            received = (at + timedelta(hours=3)).isoformat(timespec="milliseconds")
            whole = f'{json.dumps(envelope)[:-1]}, {text}, "received": "{received}", "agrees": true}}'
            lines[unit].append(encode_line(seq, whole.encode()))
        for unit, written in lines.items():
            folder.file(unit).write_bytes(encode_file(written))


def inner(content: dict[str, Any]) -> str:
    """The text of an object without its braces."""
    return json.dumps(content, ensure_ascii=False)[1:-1]


def as_stored(entry: dict[str, Any]) -> dict[str, Any]:
    """A device's entry as it is handed to the log once the server has judged it."""
    received = datetime.now(UTC).isoformat(timespec="milliseconds")
    return {**entry, "received": received, "judged": entry["shown"], "agrees": True}
