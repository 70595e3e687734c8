"""Says that the server is there, which version it runs and how far its log has come."""

from importlib.metadata import PackageNotFoundError, version
from typing import Any

from marshmallow import Schema, fields

from ..engine import ENGINE_VERSION
from ..log import Log
from .current import current_log
from .gate import is_stranger
from .strict import Subject

subject = Subject("health", __name__, url_prefix="/api/health", description="The server itself.")


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
    }
