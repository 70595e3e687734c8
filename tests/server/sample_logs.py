"""Entries as devices make them, logs that hold some, and an operating system that fails."""

import json
import os
import time
import uuid
from collections.abc import Callable
from pathlib import Path
from typing import Any

from server.engine import ENGINE_VERSION, KINDS, calc
from server.log import Log
from server.log.files import FolderLog
from tests.engine.checks import BREAKAWAY, PLATES, UNIT

UNIT_ID = "01930000-0000-7000-8000-00000000a001"
OTHER_UNIT = "01930000-0000-7000-8000-00000000a002"
DEVICE = "6f1c3f0e-5a4b-4c1d-8e2f-3a4b5c6d7e8f"
BODIES: dict[str, dict[str, Any]] = {
    "unit": UNIT,
    "torque_check": BREAKAWAY,
    "plate_check": PLATES,
    "note": {"text": "Oil changed."},
    "kit": {"tool": "wrench", "wrench": BREAKAWAY["wrench"]},
}


def new_id() -> str:
    """A UUID of version 7 for now."""
    number = int(time.time() * 1000) << 80 | int.from_bytes(os.urandom(10), "big")
    number = number & ~(0xF << 76) | 7 << 76
    return str(uuid.UUID(int=number & ~(0x3 << 62) | 2 << 62))


def entry(kind: str = "torque_check", unit: str = UNIT_ID, **changes: Any) -> dict[str, Any]:
    """An entry whose result is the engine's own, unless changed."""
    body = changes["body"] if "body" in changes else BODIES[kind]
    own_entry = {
        "id": new_id(),
        "at": "2026-05-09T10:30:00+02:00",
        "who": "Mara",
        "device": DEVICE,
        "unit": "" if kind == "kit" else unit,
        "kind": kind,
        "version": 1,
        "engine": ENGINE_VERSION,
        "body": body,
        "shown": changes.get("shown") or json.loads(json.dumps(calc(KINDS[kind].calculation, body))),
    }
    return {**own_entry, **changes}


def failing_with(number: int) -> Callable[..., Any]:
    """A call to the operating system that fails with this error number."""

    def fail(*_: Any, **__: Any) -> Any:
        raise OSError(number, os.strerror(number))

    return fail


def stored(kind: str = "note", unit: str = UNIT_ID, **changes: Any) -> dict[str, Any]:
    """An entry as it is handed to the log, once it was judged."""
    sent = entry(kind, unit, **changes)
    return {**sent, "received": "2026-05-09T09:00:00.000+00:00", "judged": sent["shown"], "agrees": True}


def read_all(log: Log) -> list[dict[str, Any]]:
    """Every entry of a log, in several pages."""
    entries: list[dict[str, Any]] = []
    has_more = True
    while has_more:
        page, has_more = log.after(entries[-1]["seq"] if entries else 0, 7)
        entries += page
    return entries


def fill(folder: Path, count: int = 6) -> list[dict[str, Any]]:
    """Fill a folder with entries of two units and the shop, written one by one; returns them as stored."""
    with FolderLog(folder) as log:
        return fill_log(log, count)


def fill_log(log: Log, count: int = 6) -> list[dict[str, Any]]:
    """Fill a log with entries of two units and the shop, written one by one; returns them as stored."""
    for index in range(count):
        log.add([stored(unit=(UNIT_ID, OTHER_UNIT, "")[index % 3])])
    return read_all(log)


def unit_file(folder: Path) -> Path:
    """The file of the unit that most entries are about."""
    return folder / "units" / f"{UNIT_ID}.json"
