"""Backups from the screen: the whole log as a file, and what a backup would bring back into the log."""

import json
import re
import tempfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from flask import Response, current_app, jsonify, request
from marshmallow import Schema, fields, validate

from ..log.backups import backup
from ..log.backups.bring_back import LARGEST_BACKUP, BackupPreview, IncomingBackup, WrongBackup, describe_preview
from .current import current_log
from .gate import name_sender
from .problems import problem
from .strict import Subject

subject = Subject("backup", __name__, url_prefix="/api/backup", description="Backups of the whole log.")

ZIP = "application/zip"
CHUNK = 256 * 1024
# How long one request goes on bringing back, so that a screen can tell how far it is.
AT_ONCE_S = 1.0
MOST_UNITS, MOST_FAULTS = 200, 20
ABOUT = "Slipbook-Backup"
BY_COMMAND = (
    "This server keeps several workshops: have whoever looks after it bring the backup back, by `slipbook bring-back`."
)


class PieceQuerySchema(Schema):
    """Where in the file a piece belongs."""

    at = fields.Integer(required=True, validate=validate.Range(0, LARGEST_BACKUP))


class SizeSchema(Schema):
    """How much of a backup has come."""

    size = fields.Integer(required=True, metadata={"description": "How many bytes have come: go on from there."})


class UnitLookSchema(Schema):
    """A unit in which backup and log differ; the shop has a blank id."""

    unit = fields.String(required=True)
    name = fields.String(required=True)
    new = fields.Integer(required=True, metadata={"description": "Entries that would come."})
    there = fields.Integer(required=True, metadata={"description": "Entries that both have."})
    only_here = fields.Integer(required=True, metadata={"description": "Entries that the log alone has; they stay."})


class BackupLookSchema(Schema):
    """What a backup would change; nothing was changed."""

    accepted = fields.String(required=True, metadata={"description": "To be sent to bring it back."})
    may = fields.Boolean(required=True, metadata={"description": "Whether it can be brought back here."})
    says = fields.List(fields.String(), required=True, metadata={"description": "The same in sentences."})
    entries = fields.Integer(required=True)
    new = fields.Integer(required=True)
    there = fields.Integer(required=True)
    only_here = fields.Integer(required=True)
    photos = fields.Integer(required=True)
    new_photos = fields.Integer(required=True)
    units = fields.List(fields.Nested(UnitLookSchema), required=True)
    more_units = fields.Integer(required=True, metadata={"description": "How many units are not listed."})


class BringBackSchema(Schema):
    """That it is wanted."""

    accepted = fields.String(required=True, validate=validate.Length(max=64))
    yes = fields.String(
        required=True,
        validate=validate.OneOf(["yes"], error="Type yes to bring it back."),
        metadata={"description": "The word, as a person typed it."},
    )


class DoneSchema(Schema):
    """How far it is; to be sent again until it is finished."""

    stored = fields.Integer(required=True, metadata={"description": "Entries that came."})
    there = fields.Integer(required=True, metadata={"description": "Entries that were there already."})
    refused = fields.Integer(required=True, metadata={"description": "Entries whose id here is another entry's."})
    photos = fields.Integer(required=True, metadata={"description": "Photos that came."})
    looked_at = fields.Integer(required=True, metadata={"description": "Entries and photos so far."})
    all = fields.Integer(required=True, metadata={"description": "Entries and photos in all."})
    finished = fields.Boolean(required=True)


def current_incoming() -> IncomingBackup:
    """The backup that has come to the folder that is served."""
    incoming: IncomingBackup | None = current_app.extensions["slipbook_incoming"]
    if incoming is None:
        raise WrongBackup(BY_COMMAND)
    return incoming


def explain_wrong(refusal: WrongBackup) -> Response:
    """The answer to what cannot be brought back."""
    return problem(422, refusal.reason)


subject.register_error_handler(WrongBackup, explain_wrong)


def file_name(name: str) -> str:
    """What a backup of a log is called.

    >>> file_name("Mill Lane / 2")[:21]
    'slipbook-Mill-Lane-2-'
    """
    plain = re.sub(r"[^A-Za-z0-9]+", "-", name).strip("-") or "log"
    return f"slipbook-{plain}-{date.today().isoformat()}.zip"


@subject.route("", methods=["GET"])
@subject.response(
    200,
    {"type": "string", "format": "binary"},
    content_type=ZIP,
    description=f"As `slipbook backup` writes it; the header {ABOUT} has its numbers and what was found damaged.",
)
def whole_backup() -> Response:
    """The whole log as a file."""
    log = current_log()
    scratch = tempfile.TemporaryDirectory(prefix="slipbook-backup-")
    file = Path(scratch.name) / "backup.zip"
    try:
        contents = backup.back_up_log(log, file)
    except BaseException:
        scratch.cleanup()
        raise

    def chunks() -> Iterator[bytes]:
        with scratch, open(file, "rb") as whole:
            while chunk := whole.read(CHUNK):
                yield chunk

    answer = Response(chunks(), content_type=ZIP)
    answer.call_on_close(scratch.cleanup)
    answer.content_length = file.stat().st_size
    answer.headers["Content-Disposition"] = f'attachment; filename="{file_name(log.identity.name)}"'
    about = {"entries": contents.entries, "last": contents.last, "faults": contents.faults[:MOST_FAULTS]}
    answer.headers[ABOUT] = json.dumps(about)
    return answer


@subject.route("/pieces", methods=["POST"])
@subject.arguments(PieceQuerySchema, location="query")
@subject.response(200, SizeSchema, description="How much has come; a piece that begins elsewhere is not kept.")
def piece(query: dict[str, Any]) -> Response:
    """Keep a piece of a backup, which is the body; the first one begins at 0."""
    return jsonify({"size": current_incoming().add_piece(query["at"], request.get_data())})


@subject.route("/look", methods=["POST"])
@subject.response(200, BackupLookSchema, description="What the backup that has come would change.")
def look() -> Response:
    """Check the backup that has come, and say what it would change."""
    log = current_log()
    return jsonify(as_answer(current_incoming().look(), log.identity.name))


@subject.route("/bring-back", methods=["POST"])
@subject.arguments(BringBackSchema, description="That what was looked at is wanted.")
@subject.response(200, DoneSchema, description="How far it is: send the same again until it is finished.")
def bring_back(body: dict[str, Any]) -> Response:
    """Add to the log what it lacks of the backup."""
    done = current_incoming().go_on(body["accepted"], AT_ONCE_S, f"a backup, by {name_sender()}")
    return jsonify({**done._asdict(), "finished": done.finished})


def as_answer(look: BackupPreview, here: str) -> dict[str, Any]:
    """A look as it is answered."""
    names = ("accepted", "entries", "new", "there", "only_here", "photos", "new_photos")
    return {
        **{name: getattr(look, name) for name in names},
        "may": not look.refusal,
        "says": describe_preview(look, here),
        "units": [row._asdict() for row in look.units[:MOST_UNITS]],
        "more_units": max(0, len(look.units) - MOST_UNITS),
    }
