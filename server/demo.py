"""Puts the demonstration's invented units into a log, in the same way as entries that arrive from a phone.

Phones get the same seasons as sample units, in a file that says no day: they make a book of their own of it.
"""

import base64
import hashlib
import json
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

from .engine import CALCULATIONS, ENGINE_VERSION, KINDS, calc
from .log import STORED, Log
from .log.intake import receive

UNITS = Path(__file__).resolve().parent.parent / "demo_units"
PICTURES = "photos"
BATCH = 100


def load(log: Log, folder: Path = UNITS, now: datetime | None = None) -> int:
    """Enter the season of every demonstration unit.

    Parameters
    ----------
    log : Log
        The log to fill.
    folder : Path
        Holds {"unit": uuid, "entries": [{"days_ago", "clock", "who", "kind", "body"}, ...]} in each *.json. A row that
        a later one corrects has a "name" of its own in the file, and the later one says it in "replaces"; one of a
        photo names the "picture" in the folder's `photos`; a day in a body may be {"in_days": from now}.
    now : datetime, optional
        The time from which "days_ago" counts, with its zone; by default the present.

    Returns
    -------
    int
        How many entries were stored.

    Raises
    ------
    ValueError
        An entry was refused: the engine does not accept it. Or a correction names no earlier row.
    """
    today = now or datetime.now().astimezone()
    entries: list[dict[str, Any]] = []
    for season in read_seasons(folder, today):
        entries += make_season(season, today)
        for row in season["entries"]:
            if "picture" in row:
                data = (folder / PICTURES / row["picture"]).read_bytes()
                log.photos.add(row["body"]["sha256"], 0, data, len(data))
    entries.sort(key=lambda entry: (datetime.fromisoformat(entry["at"]), entry["id"]))
    for start in range(0, len(entries), BATCH):
        for answer in receive(log, entries[start : start + BATCH]):
            if answer["answer"] != STORED:
                raise ValueError(f"A demonstration entry was not stored: {answer}")
    return len(entries)


def read_seasons(folder: Path, today: datetime) -> Iterator[dict[str, Any]]:
    """The seasons of a folder as `load` takes them, each row's body as it would have been typed."""
    for season in read_files(folder):
        for row in season["entries"]:
            row["body"] = with_days(row["body"], today)
        yield season


def read_files(folder: Path) -> Iterator[dict[str, Any]]:
    """The seasons of a folder as they are written, each photo's row with what the picture is known by."""
    for path in sorted(folder.glob("*.json")):
        season = json.loads(path.read_text("utf-8"))
        for row in season["entries"]:
            if "picture" in row:
                data = (folder / PICTURES / row["picture"]).read_bytes()
                row["body"].update(sha256=hashlib.sha256(data).hexdigest(), bytes=len(data))
        yield season


def sample_book(folder: Path = UNITS) -> bytes:
    """The seasons as phones take them, in JSON and without a day: {"rows": [...], "photos": {sha256: base64}}.

    A row is {"unit", "days_ago", "clock", "who", "kind", "body"}, oldest first; a day in a body is {"in_days": from
    now}. "replaces" is the place of the row that it corrects. The same seasons always make the same bytes.
    """
    rows: list[dict[str, Any]] = []
    photos = {}
    for number, season in enumerate(read_files(folder)):
        for row in season["entries"]:
            body = row["body"]
            if "picture" in row:
                data = (folder / PICTURES / row["picture"]).read_bytes()
                photos[body["sha256"]] = base64.b64encode(data).decode()
            if "day" in CALCULATIONS[KINDS[row["kind"]].calculation].form.fields:
                body = {**body, "day": {"in_days": -row["days_ago"]}}
            names = {name: f"{number} {row[name]}" for name in ("name", "replaces") if name in row}
            whole = {**{name: row[name] for name in ("days_ago", "clock", "who", "kind")}, **names}
            rows.append({"unit": season["unit"], **whole, "body": body})
    rows.sort(key=lambda row: (-row["days_ago"], row["clock"]))
    places = {row.pop("name"): place for place, row in enumerate(rows) if "name" in row}
    for row in rows:
        if "replaces" in row:
            row["replaces"] = places[row["replaces"]]
    return json.dumps({"rows": rows, "photos": photos}, ensure_ascii=False).encode()


def with_days(value: Any, today: datetime) -> Any:
    """A body, or a part of it, in which each {"in_days": from now} is the day that it is.

    >>> with_days({"due": {"in_days": 30}, "limits": [1, 2]}, datetime(2026, 5, 3))
    {'due': '2026-06-02', 'limits': [1, 2]}
    """
    if isinstance(value, dict):
        if value.keys() == {"in_days"}:
            return (today + timedelta(days=value["in_days"])).date().isoformat()
        return {name: with_days(item, today) for name, item in value.items()}
    return [with_days(item, today) for item in value] if isinstance(value, list) else value


def make_season(season: dict[str, Any], today: datetime) -> list[dict[str, Any]]:
    """The entries of a season, in the order of its rows.

    Raises
    ------
    ValueError
        Two rows have the same name, or a correction names no earlier row.
    """
    entries: list[dict[str, Any]] = []
    ids: dict[str, str] = {}
    for index, row in enumerate(season["entries"]):
        entry = make_entry(season["unit"], index, row, today)
        if "replaces" in row:
            if row["replaces"] not in ids:
                raise ValueError(f"Row {index} corrects {row['replaces']!r}, and no earlier row has that name.")
            entry["replaces"] = ids[row["replaces"]]
        if "name" in row:
            if row["name"] in ids:
                raise ValueError(f"Row {index} has the name {row['name']!r} of an earlier row: give it another.")
            ids[row["name"]] = entry["id"]
        entries.append(entry)
    return entries


def make_entry(unit: str, index: int, row: dict[str, Any], today: datetime) -> dict[str, Any]:
    """An entry of a season as a device would have made it; `index` is its place in the season."""
    hour, minute = (int(part) for part in row["clock"].split(":"))
    at = (today - timedelta(days=row["days_ago"])).replace(hour=hour, minute=minute, second=0, microsecond=0)
    kind = KINDS[row["kind"]]
    body = row["body"]
    if "day" in CALCULATIONS[kind.calculation].form.fields:
        body = {**body, "day": at.date().isoformat()}
    return {
        "id": entry_id(at, f"{unit} {index}"),
        "at": at.isoformat(timespec="seconds"),
        "who": row["who"],
        "device": str(UUID(bytes=hashlib.blake2b(row["who"].encode(), digest_size=16).digest(), version=4)),
        "unit": unit,
        "kind": row["kind"],
        "version": kind.version,
        "engine": ENGINE_VERSION,
        "body": body,
        "shown": calc(kind.calculation, body),
    }


def entry_id(at: datetime, name: str) -> str:
    """A UUID of version 7 (RFC 9562), always the same for the same time and name.

    >>> from datetime import UTC
    >>> entry_id(datetime(2026, 5, 3, 8, 40, tzinfo=UTC), "a")[:13]
    '019decfe-9300'
    """
    hashed = int.from_bytes(hashlib.blake2b(name.encode(), digest_size=10).digest(), "big")
    milliseconds = int(at.timestamp() * 1000)
    number = milliseconds << 80 | hashed
    number = number & ~(0xF << 76) | 7 << 76
    number = number & ~(0x3 << 62) | 2 << 62
    return str(UUID(int=number))
