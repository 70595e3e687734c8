"""Says that the server is there, which version it runs and how far its log has come."""

from datetime import datetime
from importlib.metadata import PackageNotFoundError, version
from typing import Any

from flask import current_app, g
from marshmallow import Schema, fields

from ..engine import ENGINE_VERSION
from ..engine.history.clock_words import lag
from ..engine.history.clocks import NEAR_S
from ..lan import BENCH
from ..log.backups.daily import DailyBackups
from ..log.clock import Reading
from .current import current_log, has_no_log
from .gate import current_door, is_other_machine, is_stranger, own_addresses
from .strict import Subject

subject = Subject("health", __name__, url_prefix="/api/health", description="The server itself.")

GIVE_TIME = "Give the time with its offset, for example 2026-11-25T10:30:00+01:00."


PROGRAM = {"name": "slipbook", "engine": ENGINE_VERSION}
# What a device is told that no workshop knows, where a server has several.
NO_LOG: dict[str, Any] = {
    **{"log": 0, "last": 0, "log_id": None, "generation": None, "log_name": "", "demo": False, "came_back": 0},
    **{"returned": [], "problems": [], "pc_clock": "", "clock": None, "address": "", "role": None, "backup": None},
}


class BackupSchema(Schema):
    """The backups that are made by themselves."""

    made = fields.String(required=True, allow_none=True, metadata={"description": "When the last good one was made."})
    days = fields.Integer(required=True, allow_none=True, metadata={"description": "How many whole days ago that was."})
    problem = fields.String(required=True, metadata={"description": "Why there is no newer one; empty if all is well."})


class ReturnedSchema(Schema):
    """What one device brought back to a log that had lost it."""

    generation = fields.UUID(required=True)
    source = fields.String(required=True, metadata={"description": "What people call the device."})
    entries = fields.Integer(required=True)
    photos = fields.Integer(required=True)
    at = fields.String(required=True, metadata={"description": "When the last of it came."})


class ClockSchema(Schema):
    """How a device's clock is beside the PC's."""

    off_s = fields.Integer(required=True, metadata={"description": "By how many seconds it is slow; below 0 if fast."})
    text = fields.String(required=True, metadata={"description": "What is wrong with it; empty if it is near enough."})


class HealthQuerySchema(Schema):
    """What a device may tell of itself as it asks."""

    sent = fields.AwareDateTime(
        load_default=None,
        error_messages={"invalid": GIVE_TIME, "invalid_awareness": GIVE_TIME},
        metadata={"description": "What the device's clock shows."},
    )


class HealthSchema(Schema):
    """The server's state."""

    name = fields.String(required=True, metadata={"description": "Always slipbook."})
    version = fields.String(required=True, metadata={"description": "Version of the program."})
    engine = fields.String(required=True, metadata={"description": "Version of the engine."})
    log = fields.Integer(required=True, metadata={"description": "Number of the newest entry; 0 in an empty log."})
    last = fields.Integer(required=True, metadata={"description": "The same number."})
    log_id = fields.UUID(
        required=True,
        allow_none=True,
        metadata={"description": "Which log it is; a restore keeps it. None where a server has several."},
    )
    generation = fields.UUID(
        required=True,
        allow_none=True,
        metadata={"description": "New after a restore, and when entries are found to be missing."},
    )
    log_name = fields.String(required=True, metadata={"description": "What people call the log."})
    demo = fields.Boolean(required=True, metadata={"description": "Whether it holds invented units."})
    returned = fields.List(
        fields.Nested(ReturnedSchema), required=True, metadata={"description": "What came back within a month."}
    )
    came_back = fields.Integer(required=True, metadata={"description": "How many entries came back in all."})
    problems = fields.List(fields.String(), required=True, metadata={"description": "Damage to the data folder."})
    pc_clock = fields.String(required=True, metadata={"description": "What is wrong with the PC's clock; or empty."})
    clock = fields.Nested(
        ClockSchema,
        required=True,
        allow_none=True,
        metadata={"description": "None if the device said nothing of its clock, or the PC's cannot be relied on."},
    )
    address = fields.String(
        required=True, metadata={"description": "Where phones find it; empty if it serves its own PC only."}
    )
    role = fields.String(
        required=True,
        allow_none=True,
        metadata={"description": "What the device that asks may do; None if not let in."},
    )
    backup = fields.Nested(
        BackupSchema, required=True, allow_none=True, metadata={"description": "None if no folder for them is named."}
    )


def program_version() -> str:
    """The installed version, or "0" in a checkout that was never installed."""
    try:
        return version("slipbook")
    except PackageNotFoundError:
        return "0"


def compare_clocks(sent: datetime, here: Reading) -> dict[str, Any]:
    """How a device's clock is beside the PC's, in figures and in words."""
    off = round((here.at - sent).total_seconds())
    text = f"This device's clock is {lag(off)} beside the workshop's PC. Look at a third clock, and set the wrong one."
    return {"off_s": off, "text": text if abs(off) > NEAR_S else ""}


@subject.route("", methods=["GET"])
@subject.arguments(HealthQuerySchema, location="query")
@subject.response(200, HealthSchema, description="The server's state.")
def health(query: dict[str, Any]) -> dict[str, Any]:
    """Whether the server is there, and how far its log has come."""
    if has_no_log():
        return {**PROGRAM, "version": program_version(), **NO_LOG}
    log = current_log()
    last = log.last
    sent: datetime | None = query["sent"]
    if sent is not None and is_other_machine():
        log.clock.compare(sent)
    here = log.clock.look()
    door = current_door()
    backups: DailyBackups | None = current_app.extensions.get("slipbook_backups")
    return {
        **PROGRAM,
        "version": program_version(),
        "log": last,
        "last": last,
        "log_id": log.identity.log_id,
        "generation": log.identity.generation,
        "log_name": "" if is_stranger() else log.identity.name,
        "demo": log.identity.demo,
        # A device that is not paired learns nothing about the log, and a problem names files.
        "returned": [] if is_stranger() else log.returned.recent(),
        "came_back": log.returned.total,
        "problems": [] if is_stranger() else log.problems,
        "pc_clock": log.clock.problem,
        "clock": compare_clocks(sent, here) if sent is not None and here.is_sound else None,
        "address": "" if door is None else own_addresses()[0],
        "role": BENCH if door is None else g.get("role"),
        "backup": backups.as_answer() if backups and not is_stranger() else None,
    }
