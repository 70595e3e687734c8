"""Pictures over HTTP: sent in pieces after their entry, by the hash of their content."""

from typing import Any

from flask import Response, current_app, jsonify, request
from marshmallow import Schema, fields, validate

from ..engine.records.photo import is_sha256
from ..log.photos import MOST_BYTES, Photos, WrongPhoto
from .problems import problem
from .strict import Subject

subject = Subject("photos", __name__, url_prefix="/api/photos", description="Pictures that photo entries name.")

NAME = "Name the picture by its SHA-256, 64 hexadecimal digits in lower case."


class PieceQuerySchema(Schema):
    """Where a piece belongs."""

    at = fields.Integer(required=True, validate=validate.Range(0, MOST_BYTES))
    total = fields.Integer(required=True, validate=validate.Range(1, MOST_BYTES))


class ProgressSchema(Schema):
    """How much of a picture has arrived."""

    size = fields.Integer(required=True, metadata={"description": "Bytes that are here."})
    whole = fields.Boolean(required=True, metadata={"description": "Whether that is all of it."})


def photos() -> Photos:
    """The pictures of the folder that is served."""
    found: Photos = current_app.extensions["slipbook_photos"]
    return found


@subject.route("/<sha256>/progress", methods=["GET"])
@subject.response(200, ProgressSchema, description="How much of it is here.")
def progress(sha256: str) -> Response:
    """How much of a picture has arrived."""
    if not is_sha256(sha256):
        return problem(404, NAME)
    return jsonify(photos().progress(sha256)._asdict())


@subject.route("/<sha256>", methods=["PUT"])
@subject.arguments(PieceQuerySchema, location="query")
@subject.response(200, ProgressSchema, description="How much of it is here now.")
def piece(asked: dict[str, Any], sha256: str) -> Response:
    """Take in a piece of a picture, JPEG, in the body."""
    if not is_sha256(sha256):
        return problem(404, NAME)
    try:
        return jsonify(photos().add(sha256, asked["at"], request.get_data(), asked["total"])._asdict())
    except WrongPhoto as refusal:
        return problem(422, str(refusal))


@subject.route("/<sha256>", methods=["GET"])
@subject.response(200, {"type": "string", "format": "binary"}, content_type="image/jpeg", description="The picture.")
def picture(sha256: str) -> Response:
    """A picture."""
    data = photos().read(sha256) if is_sha256(sha256) else None
    if data is None:
        return problem(404, "This picture has not arrived here.")
    answer = Response(data, content_type="image/jpeg")
    # A name by content can never mean another picture.
    answer.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    return answer
