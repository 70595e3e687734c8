"""The log over HTTP: entries in, and all that is new out."""

from typing import Any, ClassVar

from flask import Response, jsonify
from marshmallow import INCLUDE, Schema, fields, validate

from ..engine.request.fields import Field, Group, Listing
from ..log.entry import FORM, Instant
from ..log.intake import receive
from .current import current_log
from .forms import FormSchema, schema_of
from .gate import barred_kinds
from .problems import FaultSchema
from .strict import Subject

MOST_IN = 100
MOST_OUT = 500

subject = Subject("log", __name__, url_prefix="/api/log", description="The log, which only grows.")

EntrySchema = schema_of(FORM, "Entry")


class Anything(Field):
    """A value that is looked at later, on its own."""

    def read(self, value: object, path: str) -> object:  # noqa: D102
        return value


class BatchSchema(FormSchema):
    """Entries as devices made them."""

    form: ClassVar[Group] = Group(
        {
            "entries": Listing(Anything("an entry"), 0, MOST_IN, "entries to store", nouns="entries"),
            "sent": Instant("what the device's clock says as it sends this", default=None),
        },
        "entries to store",
    )
    entries = fields.List(fields.Nested(EntrySchema), required=True, validate=validate.Length(max=MOST_IN))
    sent = fields.DateTime(metadata={"description": "What the device's clock says as it sends this."})


class AnswerSchema(Schema):
    """What became of one entry."""

    id = fields.String(required=True, allow_none=True)
    answer = fields.String(required=True, validate=validate.OneOf(["stored", "already_there", "refused"]))
    seq = fields.Integer(metadata={"description": "The entry's number in the log."})
    judged = fields.Dict(metadata={"description": "The server's own result, where it is not the one that was shown."})
    agrees = fields.Boolean(metadata={"description": "Whether that is the result that was shown."})
    received = fields.DateTime(metadata={"description": "When the log received it."})
    clock_off_s = fields.Integer(metadata={"description": "How far the device's clock is off; more than 0: slow."})
    errors = fields.List(fields.Nested(FaultSchema), metadata={"description": "Why it was refused."})


class AnswersSchema(Schema):
    """What became of each entry, in order."""

    answers = fields.List(fields.Nested(AnswerSchema), required=True)


class PageQuerySchema(Schema):
    """Which entries are asked for."""

    after = fields.Integer(
        load_default=0,
        validate=validate.Range(0, 10**12, error="Give the number of the last entry you have, 0 or more."),
        error_messages={"invalid": "Give the number of the last entry you have, 0 or more."},
        metadata={"description": "Number of the last entry that the asker has."},
    )
    most = fields.Integer(
        load_default=100,
        validate=validate.Range(1, MOST_OUT, error=f"Ask for 1 to {MOST_OUT} entries at a time."),
        error_messages={"invalid": f"Ask for 1 to {MOST_OUT} entries at a time."},
        metadata={"description": "How many entries at most."},
    )


class StoredSchema(Schema):
    """An entry as the log has it: all that the device made, and what the server added."""

    class Meta:
        """The device's other fields are in Entry."""

        unknown = INCLUDE

    seq = fields.Integer(required=True)
    received = fields.DateTime(required=True)
    judged = fields.Dict(required=True)
    agrees = fields.Boolean(required=True)
    id = fields.UUID(required=True)
    unit = fields.String(required=True)
    kind = fields.String(required=True)
    body = fields.Dict(required=True)
    shown = fields.Dict(required=True)


class PageSchema(Schema):
    """A page of the log."""

    entries = fields.List(fields.Nested(StoredSchema), required=True)
    next = fields.Integer(required=True, metadata={"description": "What to ask `after` for the next page."})
    more = fields.Boolean(required=True)


@subject.route("", methods=["POST"])
@subject.arguments(BatchSchema(), description=f"At most {MOST_IN} entries.")
@subject.response(200, AnswersSchema, description="What became of each entry, in order.")
def add(batch: dict[str, Any]) -> Response:
    """Store entries; each is answered on its own, and stored only means durable."""
    return jsonify({"answers": receive(current_log(), batch["entries"], batch.get("sent"), barred_kinds())})


@subject.route("", methods=["GET"])
@subject.arguments(PageQuerySchema, location="query")
@subject.response(200, PageSchema, description="Entries in the order in which they arrived.")
def page(asked: dict[str, int]) -> Response:
    """What is new since an entry."""
    entries, more = current_log().after(asked["after"], asked["most"])
    last = entries[-1]["seq"] if entries else asked["after"]
    return jsonify({"entries": entries, "next": last, "more": more})
