"""The invented units that the demonstration starts with, put into the log by the ordinary way in."""

import hashlib
import json
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

from .engine import CALCULATIONS, ENGINE_VERSION, KINDS, calc
from .log import STORED, Log
from .log.intake import receive

UNITS = Path(__file__).resolve().parent.parent / "demo_units"
BATCH = 100


def load(log: Log, folder: Path = UNITS, now: datetime | None = None) -> int:
    """Enter every demonstration unit's season.

    Parameters
    ----------
    log : Log
        Where to.
    folder : Path
        Holds {"unit": uuid, "entries": [{"days_ago", "clock", "who", "kind", "body"}, ...]} in each *.json.
    now : datetime, optional
        What "days_ago" counts from, with its zone; by default the present.

    Returns
    -------
    int
        How many entries there are.

    Raises
    ------
    ValueError
        An entry was refused: the units and the engine do not fit together.
    """
    today = now or datetime.now().astimezone()
    entries: list[dict[str, Any]] = []
    for path in sorted(folder.glob("*.json")):
        season = json.loads(path.read_text("utf-8"))
        entries += [entered(season["unit"], place, told, today) for place, told in enumerate(season["entries"])]
    entries.sort(key=lambda entry: (datetime.fromisoformat(entry["at"]), entry["id"]))
    for start in range(0, len(entries), BATCH):
        for answer in receive(log, entries[start : start + BATCH]):
            if answer["answer"] != STORED:
                raise ValueError(f"A demonstration entry was not stored: {answer}")
    return len(entries)


def entered(unit: str, place: int, told: dict[str, Any], today: datetime) -> dict[str, Any]:
    """One entry of a season as a device would have made it."""
    hour, minute = (int(part) for part in told["clock"].split(":"))
    at = (today - timedelta(days=told["days_ago"])).replace(hour=hour, minute=minute, second=0, microsecond=0)
    kind = KINDS[told["kind"]]
    body = told["body"]
    if "day" in CALCULATIONS[kind.calculation].form.fields:
        body = {**body, "day": at.date().isoformat()}
    return {
        "id": entry_id(at, f"{unit} {place}"),
        "at": at.isoformat(timespec="seconds"),
        "who": told["who"],
        "device": str(UUID(bytes=hashlib.blake2b(told["who"].encode(), digest_size=16).digest(), version=4)),
        "unit": unit,
        "kind": told["kind"],
        "version": kind.version,
        "engine": ENGINE_VERSION,
        "body": body,
        "shown": calc(kind.calculation, body),
    }


def entry_id(at: datetime, name: str) -> str:
    """A UUID of version 7 (RFC 9562) that is the same for the same time and name.

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
