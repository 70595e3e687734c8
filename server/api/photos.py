"""Photos over HTTP: sent in pieces after their entry, under the hash of their content."""

from typing import Any

from flask import Response, jsonify, request
from marshmallow import Schema, fields, validate

from ..engine.records.photo import is_sha256
from ..log.photos import MOST_BYTES, Photos, WrongPhoto
from .current import current_log
from .gate import name_sender
from .problems import problem
from .strict import Subject

subject = Subject("photos", __name__, url_prefix="/api/photos", description="Photos that entries name.")

GIVE_SHA256 = "Name the photo by its SHA-256, 64 hexadecimal digits in lower case."


class PieceQuerySchema(Schema):
    """Where in the photo a piece belongs."""

    at = fields.Integer(required=True, validate=validate.Range(0, MOST_BYTES))
    total = fields.Integer(required=True, validate=validate.Range(1, MOST_BYTES))
    back = fields.Boolean(load_default=False, metadata={"description": "Whether the log had it before."})


class ProgressSchema(Schema):
    """How much of a photo has arrived."""

    size = fields.Integer(required=True, metadata={"description": "How many bytes have arrived."})
    whole = fields.Boolean(required=True, metadata={"description": "Whether that is the whole photo."})


def current_photos() -> Photos:
    """The photos of the log that a request is about."""
    return current_log().photos


@subject.route("/<sha256>/progress", methods=["GET"])
@subject.response(200, ProgressSchema, description="How much of it has arrived.")
def progress(sha256: str) -> Response:
    """How much of a photo has arrived."""
    if not is_sha256(sha256):
        return problem(404, GIVE_SHA256)
    return jsonify(current_photos().progress(sha256)._asdict())


@subject.route("/<sha256>", methods=["PUT"])
@subject.arguments(PieceQuerySchema, location="query")
@subject.response(200, ProgressSchema, description="How much of it has arrived now.")
def piece(query: dict[str, Any], sha256: str) -> Response:
    """Store a piece of a JPEG photo; the piece is the body."""
    if not is_sha256(sha256):
        return problem(404, GIVE_SHA256)
    try:
        before = current_photos().progress(sha256).whole
        now = current_photos().add(sha256, query["at"], request.get_data(), query["total"])
    except WrongPhoto as refusal:
        return problem(422, str(refusal))
    if query["back"] and now.whole and not before:
        current_log().note_returned(name_sender(), photos=1)
    return jsonify(now._asdict())


@subject.route("/<sha256>", methods=["GET"])
@subject.response(200, {"type": "string", "format": "binary"}, content_type="image/jpeg", description="The photo.")
def photo(sha256: str) -> Response:
    """A photo."""
    data = current_photos().read(sha256) if is_sha256(sha256) else None
    if data is None:
        return problem(404, "This photo has not arrived here.")
    answer = Response(data, content_type="image/jpeg")
    # The content under such a name never changes.
    answer.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    return answer
