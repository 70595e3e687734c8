"""Says that the server is there, which version it runs and how far its log has come."""

from importlib.metadata import PackageNotFoundError, version
from typing import Any

from flask import current_app
from marshmallow import Schema, fields

from ..engine import ENGINE_VERSION
from ..log import Log
from ..log.daily import DailyBackups
from .current import current_log
from .gate import is_stranger
from .strict import Subject

subject = Subject("health", __name__, url_prefix="/api/health", description="The server itself.")


class BackupSchema(Schema):
    """The backups that are made by themselves."""

    made = fields.String(required=True, allow_none=True, metadata={"description": "When the last good one was made."})
    days = fields.Integer(required=True, allow_none=True, metadata={"description": "How many whole days ago that was."})
    problem = fields.String(required=True, metadata={"description": "Why there is no newer one; empty if all is well."})


class HealthSchema(Schema):
    """The server's state."""

    name = fields.String(required=True, metadata={"description": "Always slipbook."})
    version = fields.String(required=True, metadata={"description": "Version of the program."})
    engine = fields.String(required=True, metadata={"description": "Version of the engine."})
    log = fields.Integer(required=True, metadata={"description": "Number of the newest entry; 0 in an empty log."})
    last = fields.Integer(required=True, metadata={"description": "The same number."})
    log_id = fields.UUID(required=True, metadata={"description": "Which log it is; a restore keeps it."})
    generation = fields.UUID(
        required=True, metadata={"description": "New after a restore, and when entries are found to be missing."}
    )
    log_name = fields.String(required=True, metadata={"description": "What people call the log."})
    demo = fields.Boolean(required=True, metadata={"description": "Whether it holds invented units."})
    problems = fields.List(fields.String(), required=True, metadata={"description": "Damage to the data folder."})
    backup = fields.Nested(
        BackupSchema, required=True, allow_none=True, metadata={"description": "None if no folder for them is named."}
    )


def program_version() -> str:
    """The installed version, or "0" in a checkout that was never installed."""
    try:
        return version("slipbook")
    except PackageNotFoundError:
        return "0"


@subject.route("", methods=["GET"])
@subject.response(200, HealthSchema, description="The server's state.")
def health() -> dict[str, Any]:
    """Whether the server is there, and how far its log has come."""
    log: Log = current_log()
    backups: DailyBackups | None = current_app.extensions.get("slipbook_backups")
    return {
        "name": "slipbook",
        "version": program_version(),
        "engine": ENGINE_VERSION,
        "log": log.last,
        "last": log.last,
        "log_id": log.identity.log_id,
        "generation": log.identity.generation,
        "log_name": "" if is_stranger() else log.identity.name,
        "demo": log.identity.demo,
        # A device that is not paired learns nothing about the log, and a problem names files.
        "problems": [] if is_stranger() else log.problems,
        "backup": backups.as_answer() if backups and not is_stranger() else None,
    }
