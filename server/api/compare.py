"""What the log has, in short: phones that may hold more, or less, compare it with their own."""

from flask import Response, jsonify
from marshmallow import Schema, fields, validate

from ..log.entry import UUID_TEXT
from .current import current_log
from .strict import Subject

subject = Subject("compare", __name__, url_prefix="/api/compare", description="What the log has, to be compared.")

GIVE_UNIT = "Name a unit by its id; leave it empty for the shop."


class DigestSchema(Schema):
    """One unit's entries, or the shop's."""

    unit = fields.String(required=True, metadata={"description": "Empty for the shop."})
    digest = fields.String(
        required=True, metadata={"description": "SHA-256 of a line `id number` for each entry, in the order of ids."}
    )


class DigestsSchema(Schema):
    """Every unit that has entries."""

    last = fields.Integer(required=True, metadata={"description": "Number of the newest entry; 0 in an empty log."})
    units = fields.List(fields.Nested(DigestSchema), required=True)


class UnitQuerySchema(Schema):
    """Which unit."""

    unit = fields.String(
        load_default="",
        validate=lambda unit: validate.Regexp(UUID_TEXT, error=GIVE_UNIT)(unit) if unit else unit,
    )


class KnownSchema(Schema):
    """One entry's id and its number."""

    id = fields.UUID(required=True)
    seq = fields.Integer(required=True)


class IdsSchema(Schema):
    """The entries of one unit."""

    entries = fields.List(fields.Nested(KnownSchema), required=True)


@subject.route("", methods=["GET"])
@subject.response(200, DigestsSchema, description="A digest of each unit's entries.")
def digests() -> Response:
    """A digest of each unit's entries."""
    log = current_log()
    # First: what is added meanwhile is newer, and every device reads it in any case.
    last = log.last
    return jsonify({"last": last, "units": [{"unit": unit, "digest": text} for unit, text in log.digests().items()]})


@subject.route("/ids", methods=["GET"])
@subject.arguments(UnitQuerySchema, location="query")
@subject.response(200, IdsSchema, description="The unit's entries.")
def ids(query: dict[str, str]) -> Response:
    """Id and number of each of a unit's entries."""
    return jsonify({"entries": [{"id": entry_id, "seq": seq} for entry_id, seq in current_log().ids_of(query["unit"])]})
